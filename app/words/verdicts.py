"""Verdicts in words: one sentence for a job, one for the whole book."""

from collections.abc import Sequence

from app.words import amounts
from app.words.amounts import Role
from app.words.template import Phrase, Template, counted, within
from app.words.voice import Voice, capital
from scheduler.outcome import JobOutcome, Verdict

MARKS: dict[Verdict, Phrase] = {
    Verdict.FITS: within("verdict", "fits"),
    Verdict.TIGHT: within("verdict", "fits, but only just"),
    Verdict.MISSES: within("verdict", "misses"),
    Verdict.CANNOT: within("verdict", "cannot"),
    Verdict.NOT_FOUND: within("verdict", "not found in time"),
}
_FITS = "{job} fits, with {spare} to spare."
_FITS_EXACTLY = "{job} fits, with nothing to spare."
_FITS_ASIDE = "{job} fits."
_TIGHT_AND_WISHED = "{job} fits, but only just: {spare} to spare, and you asked for {wish}."
_TIGHT_BY_CHANCE = "{job} fits, but only just: in time {chance} times in 100."
_TIGHT = "{job} fits, but only just: {spare} to spare."
_MISSES = "{job} misses its window by {late}."
_CANNOT = "{job}: cannot. {reason}"
_CANNOT_AS_WRITTEN = "{job}: cannot as written. {reason}"
_CANNOT_BARE = "{job}: cannot."
_NOT_FOUND = (
    "{job}: not found in {seconds} s. Best so far misses by {late}; one in time may still exist."
)
_NOT_FOUND_IN_TIME = (
    "{job}: not found in time. Best so far misses by {late}; one in time may still exist."
)
_NOT_FOUND_AT_ALL = (
    "{job}: not found in {seconds} s, nor any plan of all its steps; one in time may still exist."
)
_NOT_FOUND_AT_ALL_IN_TIME = (
    "{job}: not found in time, nor any plan of all its steps; one in time may still exist."
)
_ANSWER_BY = "Its client must answer by {day}."
_ANSWER_OF_OTHER_BY = "{who} must answer by {day}."

_NO_JOB = "No job is planned."
_ALL_FIT = counted(
    "count",
    "All {jobs} jobs fit their windows; the nearest is {job}, with {spare} to spare.",
    "All {jobs} jobs fit their windows; the nearest is {job}, with {spare} to spare.",
)
_ONE_JUST = counted(
    "count",
    "All {jobs} jobs fit their windows; {job} only just: {spare} to spare.",
    "All {jobs} jobs fit their windows; {job} only just: {spare} to spare.",
)
_SOME_JUST = counted(
    "count",
    "All {jobs} jobs fit their windows, {just} of them only just; "
    "the nearest is {job}, with {spare} to spare.",
    "All {jobs} jobs fit their windows, {just} of them only just; "
    "the nearest is {job}, with {spare} to spare.",
)
_ALL_MET: tuple[Template, ...] = (_ALL_FIT, _ONE_JUST, _SOME_JUST)
_BOTH_FIT = "Both jobs fit their windows; the nearest is {job}, with {spare} to spare."
_BOTH_ONE_JUST = "Both jobs fit their windows; {job} only just: {spare} to spare."
_BOTH_JUST = (
    "Both jobs fit their windows, but only just; the nearest is {job}, with {spare} to spare."
)
_OTHERS_FIT = counted("count", "The other one fits.", "The other {others} fit.")
_SOME_MISS = counted(
    "count",
    "{missing} of {jobs} jobs misses: {list}.",
    "{missing} of {jobs} jobs miss: {list}.",
)
_SOME_DO_NOT_FIT = counted(
    "count",
    "{missing} of {jobs} jobs does not fit: {list}.",
    "{missing} of {jobs} jobs do not fit: {list}.",
)
_IN_LIST: dict[Verdict, Template] = {
    Verdict.MISSES: "{job} misses by {late}",
    Verdict.CANNOT: "{job} cannot",
    Verdict.NOT_FOUND: "{job} is not found in time",
}
_LATE_BY = within("column", "late by {late}")
_IN_LIST_OF_MISSES = "{job} by {late}"
_AND_MORE = counted("count", "{more} more", "{more} more", "jobs")
_NAMED_COUNT = 4


def is_met(outcome: JobOutcome) -> bool:
    """Say whether the job keeps its window."""
    return outcome.verdict in {Verdict.FITS, Verdict.TIGHT}


def mark(voice: Voice, verdict: Verdict) -> str:
    """Give the verdict as one word or a few."""
    return voice.say(MARKS[verdict])


def spare(voice: Voice, outcome: JobOutcome, day_minutes: int) -> str:
    """Give what is to spare."""
    return amounts.days(voice, outcome.slack_minutes or 0, day_minutes, Role.SPARE)


def late(voice: Voice, outcome: JobOutcome, day_minutes: int) -> str:
    """Give the lateness: in working days, or elapsed where no working time is lost."""
    if outcome.missed_by_working_minutes:
        return amounts.days(voice, outcome.missed_by_working_minutes, day_minutes, Role.LATE)
    return amounts.elapsed(voice, outcome.missed_by_minutes, Role.LATE)


def margin(voice: Voice, outcome: JobOutcome, day_minutes: int) -> str:
    """Give what is to spare, or by how much it is late, to stand in a column."""
    if is_met(outcome):
        return spare(voice, outcome, day_minutes)
    if not outcome.missed_by_minutes:
        return ""
    return voice.say(_LATE_BY, late=late(voice, outcome, day_minutes))


def job_line(
    voice: Voice,
    outcome: JobOutcome,
    day_minutes: int,
    *,
    seconds: int | None = None,
    answer_by: str = "",
    reason: str = "",
) -> str:
    """Give a job's sentence; what follows from it (the answer, the reason) comes last."""
    match outcome.verdict:
        case Verdict.FITS:
            text = _fits(voice, outcome, day_minutes)
        case Verdict.TIGHT:
            text = _tight(voice, outcome, day_minutes)
        case Verdict.MISSES:
            lateness = late(voice, outcome, day_minutes)
            return voice.say(_MISSES, job=outcome.name, late=lateness)
        case Verdict.CANNOT:
            return _cannot(voice, outcome, reason)
        case Verdict.NOT_FOUND:
            return _not_found(voice, outcome, day_minutes, seconds)
    if not answer_by:
        return text
    template = _ANSWER_OF_OTHER_BY if outcome.answered_by else _ANSWER_BY
    return f"{text} {voice.say(template, who=outcome.answered_by, day=answer_by)}"


def _fits(voice: Voice, outcome: JobOutcome, day_minutes: int) -> str:
    if outcome.slack_minutes is None:
        return voice.say(_FITS_ASIDE, job=outcome.name)
    template = _FITS if outcome.slack_minutes else _FITS_EXACTLY
    return voice.say(template, job=outcome.name, spare=spare(voice, outcome, day_minutes))


def _tight(voice: Voice, outcome: JobOutcome, day_minutes: int) -> str:
    amount = spare(voice, outcome, day_minutes)
    if (outcome.slack_minutes or 0) < outcome.wished_buffer_minutes:
        wish = amounts.bare_days(voice, outcome.wished_buffer_minutes, day_minutes)
        return voice.say(_TIGHT_AND_WISHED, job=outcome.name, spare=amount, wish=wish)
    if outcome.chance is not None:
        return voice.say(_TIGHT_BY_CHANCE, job=outcome.name, chance=outcome.chance)
    return voice.say(_TIGHT, job=outcome.name, spare=amount)


def _cannot(voice: Voice, outcome: JobOutcome, reason: str) -> str:
    if not reason:
        return voice.say(_CANNOT_BARE, job=outcome.name)
    is_fact = bool(outcome.reasons) and outcome.reasons[0].kind == "fact"
    return voice.say(_CANNOT_AS_WRITTEN if is_fact else _CANNOT, job=outcome.name, reason=reason)


def _not_found(voice: Voice, outcome: JobOutcome, day_minutes: int, seconds: int | None) -> str:
    if not outcome.missed_by_minutes:
        template = _NOT_FOUND_AT_ALL_IN_TIME if seconds is None else _NOT_FOUND_AT_ALL
        return voice.say(template, job=outcome.name, seconds=seconds)
    lateness = late(voice, outcome, day_minutes)
    template = _NOT_FOUND_IN_TIME if seconds is None else _NOT_FOUND
    return voice.say(template, job=outcome.name, seconds=seconds, late=lateness)


def book_line(
    voice: Voice,
    outcomes: Sequence[JobOutcome],
    day_minutes: int,
    *,
    seconds: int | None = None,
    reason: str = "",
    next_window: str = "",
) -> str:
    """Give the book's sentence: a lone job's own, else what holds and what doesn't.

    reason, next_window: of the one job that doesn't keep its window, where there is one.
    """
    if not outcomes:
        return voice.say(_NO_JOB)
    failing = [outcome for outcome in outcomes if not is_met(outcome)]
    if len(outcomes) == 1 or len(failing) == 1:
        only = failing[0] if failing else outcomes[0]
        own = job_line(voice, only, day_minutes, seconds=seconds, reason=reason)
        own = f"{own} {next_window}" if next_window else own
        return _with_others(voice, own, len(outcomes) - 1)
    if failing:
        return _some_fail(voice, outcomes, failing, day_minutes)
    return _all_met(voice, outcomes, day_minutes)


def _with_others(voice: Voice, own: str, others_count: int) -> str:
    if not others_count:
        return own
    others = voice.number_word(others_count)
    return f"{own} {voice.say(_OTHERS_FIT, count=others_count, others=others)}"


def _all_met(voice: Voice, outcomes: Sequence[JobOutcome], day_minutes: int) -> str:
    just = [outcome for outcome in outcomes if outcome.verdict is Verdict.TIGHT]
    nearest = min(just or outcomes, key=lambda outcome: outcome.slack_minutes or 0)
    both = len(outcomes) == 2
    templates = (_BOTH_FIT, _BOTH_ONE_JUST, _BOTH_JUST) if both else _ALL_MET
    template = templates[min(len(just), 2)]
    return voice.say(
        template,
        count=len(outcomes),
        jobs=voice.number_word(len(outcomes)),
        just=voice.number_word(len(just)),
        job=nearest.name,
        spare=spare(voice, nearest, day_minutes),
    )


def _some_fail(
    voice: Voice,
    outcomes: Sequence[JobOutcome],
    failing: list[JobOutcome],
    day_minutes: int,
) -> str:
    only_misses = all(outcome.verdict is Verdict.MISSES for outcome in failing)
    named = [
        voice.say(
            _IN_LIST_OF_MISSES if only_misses else _IN_LIST[outcome.verdict],
            job=outcome.name,
            late=late(voice, outcome, day_minutes),
        )
        for outcome in failing[:_NAMED_COUNT]
    ]
    more_count = len(failing) - _NAMED_COUNT
    if more_count > 0:
        more = voice.number_word(more_count)
        named.append(voice.say(_AND_MORE, count=more_count, more=more))
    return capital(
        voice.say(
            _SOME_MISS if only_misses else _SOME_DO_NOT_FIT,
            count=len(failing),
            missing=voice.number_word(len(failing)),
            jobs=voice.number_word(len(outcomes)),
            list=voice.series(named) if only_misses and more_count <= 0 else voice.both(named),
        )
    )
