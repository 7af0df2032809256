"""The Orders view in words: its sentence, its columns, what is late and its cure."""

from typing import TYPE_CHECKING

from app.words.template import Template, counted, within
from app.words.voice import capital

if TYPE_CHECKING:
    from datetime import date

    from app.words import Words

NO_MATERIALS: Template = "No material is written in this book, so nothing is to be ordered."
NO_MATERIALS_NEXT: Template = "W, what is bought, takes materials and who delivers them."
NO_PLAN: Template = "What to order goes by the plan, and there is none yet."
NOTHING: Template = "Nothing is to be ordered: all that the plan needs is here or on its way."
FIRST: Template = counted(
    "count",
    "One order, for {material}: it goes out by {day}.",
    "{number} orders; the first, for {material}, goes out by {day}.",
)
UNDATED_ONLY: Template = counted(
    "count", "One order, and it has no day.", "{number} orders, and none has a day."
)
OVERDUE: Template = counted(
    "late",
    "{material} should have gone out already; ordered today it still comes in time.",
    "{number} orders should have gone out already; ordered today all still comes in time.",
)
TOO_LATE: Template = counted(
    "late",
    "Too late, even if it is ordered today: {material} for {jobs}.",
    "{number} orders come too late, even if they go out today; first {material} for {jobs}.",
)
COMES_TOO_LATE: Template = "What is on order of {material} comes too late, for {jobs}."
NEXT_ORDER: Template = "{material} by"
NOT_ASKED: Template = "Not looked at: something in the book must be mended first."

TO_ORDER: Template = "To order"
ON_ORDER: Template = "On order"
NONE_ON_ORDER: Template = "Nothing is on its way."
DAYS_LEFT: Template = within("column", "days left")
WHAT: Template = within("column", "what")
ORDER_BY: Template = within("column", "order by")
NOT_BEFORE: Template = within("column", "not before")
HERE_BY: Template = within("column", "here by")
PRICE: Template = within("column", "price")
COMES: Template = within("column", "comes")
NO_DAY: Template = within("order by", "no day")
LATE_DAYS: Template = within("days left", "late")

AMOUNT_PACKS: Template = "{material}, {count} × {size} {unit}"
AMOUNT_BLOCKS: Template = counted(
    "count", "{material}, {count} block", "{material}, {count} blocks"
)
AMOUNT: Template = "{material}, {needed} {unit}"
NEEDED: Template = "{needed} {unit} needed"
FROM: Template = "from {supplier}"
FROM_NOBODY: Template = "nobody is named who delivers it"
FOR: Template = "for {jobs}"
FOR_STEP: Template = "for {step} of {job}, here by {day}"
COMES_LATE: Template = counted(
    "count", "A working day too late.", "{number} working days too late."
)
OVERDUE_HERE: Template = counted(
    "count",
    "Was expected a working day ago. Ring {supplier}, or mark that it has come.",
    "Was expected {number} working days ago. Ring {supplier}, or mark that it has come.",
)
WHOEVER: Template = within("ring", "whoever delivers it")

CURE_SPARE: Template = "{step} from {day}: {job} has {spare} to spare."
CURE_NO_SPARE: Template = (
    "{step} from {day}, or ask {supplier} for a faster way: {job} has {spare}."
)
CURE_UNKNOWN: Template = "{step} from {day}, or ask {supplier} for a faster way."
SPARE_ONLY: Template = "only {spare} to spare"
SPARE_NONE: Template = "nothing to spare"
CURE_AGED: Template = "Or ask for aged block."
CURE_SUPPLIER: Template = "Name somebody under W, what is bought."
CURE_NO_DAY: Template = "Ask somebody who delivers sooner."

DO_ORDERED: Template = "ordered"
DO_COME: Template = "it has come"
ROW_NAME: Template = "{what}, order by {day}"
ROW_COMING: Template = "{what}, comes {day}"
ENTER_ORDERS: Template = "Enter marks it as ordered."
ENTER_TAKES: Template = "Enter marks that it has come; plus and minus move its day."
TOTAL_HIDDEN: Template = "Money is hidden; H shows it."


def counted_line(words: "Words", template: Template, count: int, **facts: object) -> str:
    """Give a sentence that begins with a number, or has one in it, as a word."""
    by = getattr(template, "by", "count")
    facts = {**facts, by: count, "number": words.number_word(count)}
    return capital(words.say(template, **facts))


def short(words: "Words", day: "date", today: "date") -> str:
    """Give a day as it stands in a column: the year only where it is another."""
    return words.day(day, after=today)
