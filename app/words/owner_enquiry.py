"""The money of an enquiry as a table, for the owner's eyes only.

It stands in the window's view of an enquiry and nowhere else: never in words for a client, nor in
a picture that is saved or printed.
"""

from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from app.words.amounts import money
from app.words.template import Template

if TYPE_CHECKING:
    from app.words import Words
    from scheduler.price import Pricing

MATERIALS: Template = "material"
BESIDES: Template = "freight, hired and overtime hours"
LEVERS: Template = "ways out"
LATENESS: Template = "other jobs later"
OWN_LATENESS: Template = "its own lateness"
OWN_LATENESS_OF: Template = "its own lateness, {late} in 100"
LEAST: Template = "least price"
LEAST_IF_ON_TIME: Template = "least price if paid only on time"
LEAVES: Template = "the price asked, {price}, leaves"
LACKS: Template = "the price asked, {price}, is short by"
NOTHING: Template = "costs that are known"
HOURS: Template = "About {hours} hours at the bench; hours that are paid anyway count as nothing."
HOURS_UNKNOWN: Template = "Hours that are paid anyway count as nothing."
AMOUNT: Template = "{amount} {currency}"


@dataclass(frozen=True, slots=True, kw_only=True)
class MoneyRow:
    """One line of the table. is_answer: it stands out. is_short: it is a loss."""

    what: str
    amount: str
    is_answer: bool = False
    is_short: bool = False

    @property
    def line(self) -> str:
        """Return it as it is read out."""
        return f"{self.what}: {self.amount}"


def hours_note(words: "Words", hours: Decimal) -> str:
    """Return how much bench work it is, and that it costs nothing beside what is paid anyway."""
    if not hours:
        return words.say(HOURS_UNKNOWN)
    return words.say(HOURS, hours=words.number(round(hours)))


def money_rows(words: "Words", found: "Pricing", asked: Decimal | None) -> tuple[MoneyRow, ...]:
    """Return what an enquiry costs for one date, line by line, and what a price leaves."""
    costs = found.costs
    own = words.say(OWN_LATENESS)
    if found.late_percent is not None:
        own = words.say(OWN_LATENESS_OF, late=found.late_percent)
    spent = (
        (words.say(MATERIALS), costs.materials),
        (words.say(BESIDES), costs.besides),
        (words.say(LEVERS), costs.levers),
        (words.say(LATENESS), costs.lateness),
        (own, found.missed),
    )
    rows = [MoneyRow(what=what, amount=_amount(words, sum_)) for what, sum_ in spent if sum_]
    if not rows:
        rows = [MoneyRow(what=words.say(NOTHING), amount=_amount(words, costs.total))]
    rows.append(MoneyRow(what=words.say(LEAST), amount=_amount(words, found.least), is_answer=True))
    if found.least_if_on_time is not None and found.missed:
        on_time = _amount(words, found.least_if_on_time)
        rows.append(MoneyRow(what=words.say(LEAST_IF_ON_TIME), amount=on_time))
    if asked is not None:
        rows.append(_left(words, asked, asked - found.least))
    return tuple(rows)


def _left(words: "Words", asked: Decimal, left: Decimal) -> MoneyRow:
    template = LEAVES if left >= 0 else LACKS
    what = words.say(template, price=money(words, asked))
    return MoneyRow(what=what, amount=_amount(words, abs(left)), is_short=left < 0)


def _amount(words: "Words", amount: Decimal) -> str:
    return words.say(AMOUNT, amount=money(words, amount), currency=words.currency)
