"""How sure a plan is, in words: of each job how often it is in time, and what carries the risk."""

from collections.abc import Iterable
from datetime import date, datetime
from typing import TYPE_CHECKING

from app.words.template import Template, counted
from app.words.voice import Voice, capital

if TYPE_CHECKING:
    from app.words.words import Words
    from scheduler.chance import Chances, JobChance, Risk

RISKS_NAMED = 3
"""So many of the steps that carry a risk are said."""
NO_JOBS: Template = "No job is planned, so there is nothing to be sure of."
NONE_KNOWN: Template = "Of none of these jobs can be said how often it would be in time."
ALL_SURE = counted(
    "count",
    "The job is as sure as was asked for: in time {chance} times in 100.",
    "All {jobs} jobs are as sure as was asked for; the least sure is {job}: in time {chance} times "
    "in 100.",
)
SOME_SHORT = counted(
    "short",
    "{one} of {jobs} is less sure than was asked for: {job}, in time {chance} times in 100.",
    "{one} of {jobs} are less sure than was asked for; the least sure is {job}: in time {chance} "
    "times in 100.",
)
BOTH_SURE: Template = (
    "Both jobs are as sure as was asked for; the less sure is {job}: in time {chance} times in 100."
)
BOTH_SHORT: Template = (
    "Both jobs are less sure than was asked for; the less sure is {job}: in time {chance} times in "
    "100."
)
ALL_SHORT: Template = (
    "All {jobs} jobs are less sure than was asked for; the least sure is {job}: in time {chance} "
    "times in 100."
)
ONLY_SHORT: Template = "{job} is less sure than was asked for: in time {chance} times in 100."

IN_TIME = counted(
    "chance",
    "{job}: in time once in 100; you asked for {wanted}.",
    "{job}: in time {chance} times in 100; you asked for {wanted}.",
)
IN_TIME_AND_USUAL = counted(
    "chance",
    "{job}: in time once in 100, {usual} if hours turn out longer as usual; you asked for "
    "{wanted}.",
    "{job}: in time {chance} times in 100, {usual} if hours turn out longer as usual; you asked "
    "for {wanted}.",
)
NOT_SAID: Template = "{job}: nothing makes its window, so there is nothing to be sure of."
GONE: Template = "{job}: its lorry has gone."
LOADED: Template = (
    "Loaded by {half} in half of the draws and by {most} in 80 of 100; planned for {planned}, "
    "{latest} at the latest."
)
LOADED_LATE: Template = (
    "Loaded by {half} in half of the draws, and in some later than any plan reaches; planned for "
    "{planned}, {latest} at the latest."
)
RISKS: Template = "It hangs most on {risks}."
RISK: Template = "{step} (decides {share} of 100 draws, moves the end by {pull} %)"
RISK_OF_OTHER: Template = (
    "{step} of {job} (decides {share} of 100 draws, moves the end by {pull} %)"
)

AS_WRITTEN = counted(
    "count",
    "Hours are taken as written; {count} finished stage is on record, and from {least} on the "
    "workshop’s own record counts. The second figure is for hours {percent} % longer, as is usual.",
    "Hours are taken as written; {count} finished stages are on record, and from {least} on the "
    "workshop’s own record counts. The second figure is for hours {percent} % longer, as is usual.",
)
BY_RECORD: Template = (
    "Hours are corrected by the workshop’s own record of {count} finished stages: they took "
    "{percent} % longer than written, on the whole."
)
BY_RECORD_SHORTER: Template = (
    "Hours are corrected by the workshop’s own record of {count} finished stages: they took "
    "{percent} % less than written, on the whole."
)
LEFT_OUT = counted(
    "count",
    "{count} recorded time is so far off that it was left out: more than three times or less than "
    "a third of the hours as written.",
    "{count} recorded times are so far off that they were left out: more than three times or less "
    "than a third of the hours as written.",
)
DRAWN: Template = (
    "By {draws} draws of hours, answers and cures, each replayed with whoever is free first. "
    "Nothing is sure: no more than 99 in 100 is said, and no less than 1."
)


def head_line(words: "Words", found: "Chances") -> str:
    """Give the sentence for all jobs."""
    known = [job for job in found.jobs if job.chance is not None]
    if not known:
        return words.say(NONE_KNOWN if found.jobs else NO_JOBS)
    short = [job for job in known if job.is_short]
    least = min(short or known, key=lambda job: (job.chance or 0, job.id))
    facts = {"job": least.name, "chance": least.chance}
    if not short:
        number = words.number_word(len(known))
        if len(known) == 2:
            return words.say(BOTH_SURE, **facts)
        return words.say(ALL_SURE, count=len(known), jobs=number, **facts)
    if len(known) == 1:
        return words.say(ONLY_SHORT, **facts)
    jobs = words.number_word(len(known))
    if len(short) == len(known):
        return words.say(BOTH_SHORT if len(known) == 2 else ALL_SHORT, jobs=jobs, **facts)
    one = capital(words.number_word(len(short)))
    return words.say(SOME_SHORT, short=len(short), one=one, jobs=jobs, **facts)


def job_lines(words: "Words", job: "JobChance", *, today: date) -> list[str]:
    """Give how often a job is in time, when it is loaded, and what carries its risk."""
    if job.chance is None:
        return [
            words.say(
                GONE if job.planned is None and job.latest is None else NOT_SAID, job=job.name
            )
        ]
    facts = {"job": job.name, "chance": job.chance, "wanted": job.threshold}
    template = IN_TIME if job.at_usual_overrun is None else IN_TIME_AND_USUAL
    lines = [words.say(template, usual=job.at_usual_overrun, **facts)]
    if job.ready_50 is not None and job.planned is not None and job.latest is not None:
        lines.append(_loaded(words, job, today))
    if job.risks:
        risks = words.both(_risk(words, risk, job) for risk in job.risks[:RISKS_NAMED])
        lines.append(words.say(RISKS, risks=risks))
    return lines


def _loaded(words: "Words", job: "JobChance", today: date) -> str:
    def when(instant: datetime | None) -> str:
        return "" if instant is None else words.moment(instant, after=today)

    return words.say(
        LOADED if job.ready_80 is not None else LOADED_LATE,
        half=when(job.ready_50),
        most=when(job.ready_80),
        planned=when(job.planned),
        latest=when(job.latest),
    )


def _risk(words: "Words", risk: "Risk", job: "JobChance") -> str:
    step = words.names.of("step", risk.step)
    is_own = risk.job == job.id
    return words.say(
        RISK if is_own else RISK_OF_OTHER,
        step=step,
        job=words.names.of("job", risk.job),
        share=risk.share_percent,
        pull=risk.pull_percent,
    )


def note_lines(voice: Voice, found: "Chances", record_least: int) -> Iterable[str]:
    """Give what the figures go by."""
    if not found.is_own_record:
        yield voice.say(
            AS_WRITTEN,
            count=found.finished_count,
            least=record_least,
            percent=found.overrun_percent,
        )
    else:
        longer = found.overrun_percent >= 0
        yield voice.say(
            BY_RECORD if longer else BY_RECORD_SHORTER,
            count=found.finished_count,
            percent=abs(found.overrun_percent),
        )
    if found.left_out_count:
        yield voice.say(LEFT_OUT, count=found.left_out_count)
    yield voice.say(DRAWN, draws=voice.number(found.draws))
