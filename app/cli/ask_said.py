"""A first answer as people read it, and as programs do."""

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from pathlib import Path

from app.cli.arguments import Asked
from app.cli.assume import Line, values_text
from app.cli.books import Json
from app.cli.console import Console
from app.cli.estimate_object import estimate_object
from app.words import Words
from app.words import ask as say
from app.words import estimate as estimate_words
from app.words.template import Template
from scheduler.latest_order import latest_orders
from scheduler.outcome import JobOutcome, Outcome, Verdict
from shared.asking import Answered, Country, Question
from shared.asking.assumed import waiting_m2
from shared.book import Journey, LegKind, Segment
from shared.estimate import Estimate, estimate_of_job
from shared.orders import Order
from shared.routes import Names, unknown_words
from shared.trade import figure
from shared.worktime.zones import local_date

_INDENT = "    "
_GAP = "  "


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """An answer with all that it is made of. home: of the workshop, where it was assumed."""

    asked: Asked
    question: Question
    made: Answered
    line: Line
    home: Country | None
    names: Names
    before: Outcome | None
    after: Outcome
    seconds: float
    out: Path | None

    @property
    def told(self) -> JobOutcome:
        """Return how the job that is asked for stands."""
        return next(job for job in self.after.jobs if job.id == self.made.job.id)

    @property
    def orders(self) -> tuple[Order, ...]:
        """Return what to buy for it, counted back."""
        return latest_orders(self.made.book, self.after, self.made.job.id)

    @property
    def first_order(self) -> Order | None:
        """Return the order that must go out first; None where none has a day or all is late."""
        if self.told.latest_start is None:
            return None
        dated = [order for order in self.orders if order.dates.order_by is not None]
        return min(dated, key=lambda order: order.day, default=None)

    @property
    def estimate(self) -> Estimate:
        """Return hours and quantities of it."""
        return estimate_of_job(self.made.book, self.made.job)


def say_answer(console: Console, words: Words, answer: Answer) -> None:
    """Write the answer: the verdict first, the latest dates, what it rests on, who loses."""
    told, now = answer.told, answer.after.now
    today = local_date(now, words.zone)
    line = words.verdict_line(told, seconds=max(1, round(answer.seconds)), now=now)
    console.wrapped(console.strong(line))
    console.wrapped(say.found_line(words, told))
    reasons = told.reasons[1:] if told.verdict is Verdict.CANNOT else told.reasons
    for clash in reasons:
        console.wrapped(words.clash(clash), indent=_INDENT)
    if answer.asked.quiet:
        return
    console.say()
    console.wrapped(_head(words, answer, today))
    for title, moment in _latest(words, answer, today):
        name = words.say(title).ljust(say.TITLE_WIDTH)
        console.say(_GAP + words.say(say.ROW, name=name, moment=moment))
    console.wrapped(words.say(say.COUNTED_BACK))
    console.say()
    for text in _grounds(words, answer):
        console.wrapped(text)
    _say_others(console, words, answer)
    if answer.out is not None:
        template = say.KEPT if answer.home is not None else say.KEPT_BESIDE
        console.wrapped(words.say(template, path=answer.out, job=answer.made.job.id))


def _head(words: Words, answer: Answer, today: date) -> str:
    whole, question = answer.question.whole, answer.question
    return words.say(
        say.HEAD,
        what=question.what,
        size=_size(whole),
        day=words.day(question.by, after=today),
        country=question.country.name,
    )


def _size(segment: Segment) -> str:
    sides = (segment.length_m, segment.width_m, segment.height_m)
    return " × ".join(estimate_words.number(side or Decimal(0), 3) for side in sides)


def _latest(words: Words, answer: Answer, today: date) -> list[tuple[Template, str]]:
    told = answer.told
    return [
        (say.LATEST_START, _moment(words, answer, told.latest_start, today)),
        (say.LATEST_ORDER, _order(words, answer, today)),
        (say.LATEST_ANSWER, _moment(words, answer, told.latest_answer, today)),
        (say.LATEST_LOADING, _moment(words, answer, told.latest_loading, today)),
    ]


def _moment(words: Words, answer: Answer, when: datetime | None, today: date) -> str:
    return _no_moment(words, answer) if when is None else words.moment(when, after=today)


def _no_moment(words: Words, answer: Answer) -> str:
    """Give why there is no moment: all of it is past, or nothing could be counted back."""
    is_counted = answer.told.latest_loading is not None and any(
        times.latest_start is not None for times in answer.told.steps
    )
    return words.say(say.TOO_LATE if is_counted else say.UNKNOWN)


def _order(words: Words, answer: Answer, today: date) -> str:
    first = answer.first_order
    if first is None:
        is_known = answer.told.latest_start is not None
        return words.say(say.NOTHING_TO_ORDER) if is_known else _no_moment(words, answer)
    names = {material.id: material.name for material in answer.made.book.materials}
    day = words.day(first.day, after=today)
    return words.say(say.ORDER, day=day, material=names[first.material])


def _grounds(words: Words, answer: Answer) -> list[str]:
    """Give what the answer rests on, a sentence each."""
    lines = [_pieces(words, answer)]
    question, total = answer.question, answer.estimate.hours
    ends = {"low": total.low, "likely": total.likely, "high": total.high}
    numbers = {key: estimate_words.number(end, 0) for key, end in ends.items()}
    lines.append(words.say(say.HOURS, **numbers))
    if question.past is not None:
        times = estimate_words.number(question.times or Decimal(1), 3)
        lines.append(words.say(say.LIKE, past=question.past.name, times=times))
        if answer.made.left:
            stages = words.both(answer.made.left)
            lines.append(words.say(say.LEFT, past=question.past.name, stages=stages))
    lines.append(_assumed(words, answer))
    drive = sum(
        leg.minutes
        for step in answer.made.job.steps
        if isinstance(step, Journey)
        for leg in step.legs
        if leg.kind is LegKind.DRIVE
    )
    lines.append(words.say(say.ROAD, drive=words.elapsed(drive)))
    if not answer.made.job.site.openings:
        lines.append(words.say(say.MEASURED))
    if answer.home is None:
        return [*lines, *_of_the_book(words, answer)]
    need, have = waiting_m2(answer.made.book, answer.made.job.segments)
    if need > have:
        told = {"need": estimate_words.number(need, 0), "have": estimate_words.number(have, 0)}
        lines.append(words.say(say.WAITING, **told))
    return lines


def _of_the_book(words: Words, answer: Answer) -> list[str]:
    """Give what is not known of a book that the job comes into."""
    lines = []
    if not answer.names.crew:
        lines.append(words.say(say.NO_CREW))
    if answer.made.materials_assumed:
        lead = words.number(int(figure("CP575").amount))
        lines.append(words.say(say.MATERIAL, lead=lead))
    strange = unknown_words(answer.made.book, answer.question.route, answer.names)
    if strange:
        lines.append(words.say(say.LEFT_OUT, words=words.both(strange)))
    return lines


def _pieces(words: Words, answer: Answer) -> str:
    segments = answer.made.job.segments
    question = answer.question
    template = say.PIECES
    if question.count is not None:
        template = say.PIECES_AS_SAID
    elif answer.made.proposal is None:
        template = say.PASSES_NOT
    return words.say(
        template,
        count=len(segments),
        number=words.number_word(len(segments)),
        size=_size(segments[0]),
        route=question.route.name,
    )


def _assumed(words: Words, answer: Answer) -> str:
    assumed, home = answer.line.assumed, answer.home
    values = values_text(assumed, home, has_book=home is None)
    if home is None:
        return say.client_line(words, assumed, values)
    return say.assumed_line(words, assumed, home.name, values)


def _say_others(console: Console, words: Words, answer: Answer) -> None:
    """Say how others stood without it and stand with it, where that is worse."""
    if answer.home is not None:
        return
    console.say()
    others = _others(answer)
    if not others:
        console.wrapped(words.say(say.NO_OTHERS))
        return
    worse = [pair for pair in others if _room(pair[1]) < _room(pair[0])]
    if not worse:
        console.wrapped(words.say(say.TAKES_NOTHING))
        return
    console.wrapped(words.say(say.OTHERS))
    for before, after in worse:
        seconds = round(answer.seconds)
        first, then = (words.verdict_line(job, seconds=seconds) for job in (before, after))
        line = words.say(say.OTHER, before=first, after=then)
        console.wrapped(line, indent=_INDENT, first=_GAP)


def _others(answer: Answer) -> list[tuple[JobOutcome, JobOutcome]]:
    """Give the other jobs without and with the one that is asked for."""
    if answer.before is None:
        return []
    befores = {job.id: job for job in answer.before.jobs}
    return [(befores[job.id], job) for job in answer.after.jobs if job.id in befores]


def _room(told: JobOutcome) -> int:
    """Return the minutes that a job has to spare; below 0 by how many it is late."""
    return -told.missed_by_minutes if told.slack_minutes is None else told.slack_minutes


def answer_object(words: Words, answer: Answer) -> Json:
    """Give what an answer has besides the plan; jobs of it are as those of a plan."""
    first = answer.first_order
    order = None
    if first is not None:
        order = {"day": first.day.isoformat(), "material": first.material}
    question = answer.question
    return {
        "asked": answer.made.job.id,
        "what": question.what,
        "by": question.by.isoformat(),
        "country": question.country.code,
        "latest_order": order,
        "known": say.found_line(words, answer.told),
        "assumed": _assumed_object(answer),
        "segments": [
            {
                "id": segment.id,
                "name": segment.name,
                "size_m": [
                    float(side or 0)
                    for side in (segment.length_m, segment.width_m, segment.height_m)
                ],
            }
            for segment in answer.made.job.segments
        ],
        "estimate": estimate_object(words, answer.estimate),
        "others": [
            {"id": after.id, "before": _stand(before), "after": _stand(after)}
            for before, after in _others(answer)
        ],
        "left": list(answer.made.left),
        "out": None if answer.out is None else str(answer.out),
    }


def _assumed_object(answer: Answer) -> Json:
    home = answer.home
    text = values_text(answer.line.assumed, home, has_book=home is None)
    return {"line": text, "values": dict(pair.split("=", 1) for pair in text.split(","))}


def _stand(told: JobOutcome) -> Json:
    return {
        "verdict": told.verdict.value,
        "slack_minutes": told.slack_minutes,
        "missed_by_minutes": told.missed_by_minutes,
    }
