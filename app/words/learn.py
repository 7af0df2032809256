"""What records say of estimates: by kind the factor, how many, how far apart, and what can't be."""

from typing import TYPE_CHECKING

from app.words.changes import work_of
from app.words.floor import plain
from app.words.template import Template, counted
from app.words.voice import capital
from app.words.window import KINDS
from shared.estimate.record import Odd

if TYPE_CHECKING:
    from app.words.words import Words
    from shared.book import Kind
    from shared.estimate.learning import Learned, Learning
    from shared.estimate.record import LeftOut
    from shared.ids import JobId

NOT_LEARNED: Template = "Nothing is learned before that is mended."
NOTHING: Template = (
    "Nothing is on record yet. A stage is on record when it was told as begun and as done, and by "
    "whom: countback done writes down all three where the sheet has them."
)
HEAD: Template = counted(
    "count",
    "One finished stage is on record; on the whole hours are {factor} times the estimate.",
    "{number} finished stages are on record; on the whole hours are {factor} times the estimate.",
)
USUAL: Template = (
    "Before there are records hours count as {usual} times the estimate, as is usual in the trade; "
    "each kind is drawn towards the workshop's figure, that one towards the trade's."
)
KIND_LINE: Template = counted(
    "count",
    "{kind}: {factor} times the estimate ({low} to {high}); one record alone says {ratio}.",
    "{kind}: {factor} times the estimate ({low} to {high}); {number} records alone say {ratio}, "
    "single ones spread by about {spread} %.",
)
OFFERED: Template = "Offered: countback learn {book} --take {word}"
TAKEN: Template = "Estimates use {taken}."
FEW: Template = counted(
    "least",
    "Nothing is offered before {least} record.",
    "Nothing is offered before {least} records.",
)
BY_CHANCE: Template = "That may be chance, so nothing is offered."
ODD_TITLE: Template = "Records that can't be, left out"
ODD: dict[Odd, Template] = {
    Odd.NO_HOURS: "{work}: no working time lies between its beginning and its end; {likely} h were "
    "estimated.",
    Odd.TOO_MANY: "{work}: {hours} h recorded, {likely} h estimated: over three times as many.",
    Odd.TOO_FEW: "{work}: {hours} h recorded, {likely} h estimated: under a third.",
    Odd.BACKWARDS: "{work}: it was done no later than it began.",
}
NEVER_SILENT: Template = (
    "Nothing is applied by itself, and hours that are written stay as they are: a factor counts "
    "for new estimates and new jobs once it is taken."
)
TOOK: Template = counted(
    "count",
    "New estimates of {kind} are multiplied by {factor} from now on, from one record.",
    "New estimates of {kind} are multiplied by {factor} from now on, from {number} records.",
)
SOURCE: Template = counted("count", "own records, one of them", "own records, {number} of them")


def kind_name(words: "Words", kind: "Kind") -> str:
    """Give a kind of work by its name."""
    return words.say(KINDS[kind])


def head_lines(words: "Words", found: "Learning") -> list[str]:
    """Give how many records there are, and what they say on the whole."""
    if not found.count:
        return [words.say(NOTHING)]
    facts = {"number": words.number(found.count), "factor": f"{found.whole:.2f}"}
    return [
        words.say(HEAD, count=found.count, **facts),
        words.say(USUAL, usual=f"{found.usual:.2f}"),
    ]


def kind_lines(words: "Words", found: "Learned", book: str, least: int) -> list[str]:
    """Give what is known of a kind, and what of it is offered or in use."""
    lines = [kind_line(words, found)]
    if found.taken is not None:
        lines.append(words.say(TAKEN, taken=f"{found.taken:.2f}"))
    if found.is_offered:
        lines.append(words.say(OFFERED, book=book, word=found.kind.value))
    elif found.count < least:
        lines.append(words.say(FEW, least=least))
    elif found.taken is None:
        lines.append(words.say(BY_CHANCE))
    return lines


def kind_line(words: "Words", found: "Learned") -> str:
    """Give what is known of a kind."""
    return words.say(
        KIND_LINE,
        count=found.count,
        number=words.number(found.count),
        kind=capital(kind_name(words, found.kind)),
        factor=f"{found.factor:.2f}",
        low=f"{found.low:.2f}",
        high=f"{found.high:.2f}",
        ratio=f"{found.ratio:.2f}",
        spread=round(100 * found.spread),
    )


def odd_line(words: "Words", found: "LeftOut", job: "JobId") -> str:
    """Give a record that can't be, and why."""
    facts = {"hours": plain(found.hours), "likely": plain(round(found.likely, 2))}
    return words.say(ODD[found.why], work=work_of(words, job, found.step), **facts)


def source(words: "Words", count: int) -> str:
    """Give the source of a factor from so many records."""
    return words.say(SOURCE, count=count, number=words.number(count))


def took_line(words: "Words", found: "Learned") -> str:
    """Give that a factor was taken."""
    facts = {"kind": kind_name(words, found.kind), "factor": f"{found.factor:.2f}"}
    return words.say(TOOK, count=found.count, number=words.number(found.count), **facts)
