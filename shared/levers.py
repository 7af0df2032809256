"""Levers: changes of a book that could dissolve a clash, each with its price."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from enum import StrEnum

from shared.book import Offer
from shared.findings import Fact
from shared.ids import OfferId


class LeverKind(StrEnum):
    """What a lever changes; `about` of the lever names the things.

    Of people: overtime (person): hours that were offered are worked. freelancer (person): days
    that were offered are confirmed. hired_hand: somebody comes. training (people).
    Of the workshop, all of them offers: heating (places). fast_cure, subcontract (stages). store
    (segments). screen, room (places). equipment. courier (steps). Not offers: put_off (other
    work): done later. free_place (place or equipment): what holds it from outside is moved.
    Of the client: answer_sooner (gates). one_round (gate). other_window (job, window).
    re_promise (job, window): the same for another job than the one spoken of.
    Of what was laid down: start_at_once (job, or step): no day before which it may not begin.
    lift_pin (step). lift_names (step): anybody may do it who can. lift_same (step): the team of
    another stage is not asked for.
    Of the way: crew (journey, who stays, who goes): somebody else goes with it. sailing, means
    (journeys), offers. no_reserve (journey): nothing is kept of drivers' hours.
    """

    OVERTIME = "overtime"
    FREELANCER = "freelancer"
    HIRED_HAND = "hired_hand"
    TRAINING = "training"
    HEATING = "heating"
    FAST_CURE = "fast_cure"
    SUBCONTRACT = "subcontract"
    STORE = "store"
    SCREEN = "screen"
    ROOM = "room"
    EQUIPMENT = "equipment"
    COURIER = "courier"
    PUT_OFF = "put_off"
    FREE_PLACE = "free_place"
    ANSWER_SOONER = "answer_sooner"
    ONE_ROUND = "one_round"
    OTHER_WINDOW = "other_window"
    RE_PROMISE = "re_promise"
    START_AT_ONCE = "start_at_once"
    LIFT_PIN = "lift_pin"
    LIFT_NAMES = "lift_names"
    LIFT_SAME = "lift_same"
    CREW = "crew"
    SAILING = "sailing"
    MEANS = "means"
    NO_RESERVE = "no_reserve"


@dataclass(frozen=True, slots=True, kw_only=True)
class Lever:
    """A change of a book that could dissolve a clash.

    id: of the lever, the same whenever the same book is asked. about: ids of what it changes.
    offer: which is taken by it. price: in the workshop's currency; once: besides, but only once
    for all levers of an offer; is_priced: nothing is missing (a rate that nobody wrote down).
    start, end: of hours, or where something is moved to. first, last: of days. days: working
    days of an answer. facts: what its sentence needs besides. agrees: who must.
    only_helps: it only adds freedom, so that what can be done without it can be done with it.
    """

    kind: LeverKind
    id: str
    about: tuple[str, ...] = ()
    offer: OfferId | None = None
    price: Decimal = Decimal(0)
    once: Decimal = Decimal(0)
    is_priced: bool = True
    start: datetime | None = None
    end: datetime | None = None
    first: date | None = None
    last: date | None = None
    days: int | None = None
    facts: tuple[tuple[str, Fact], ...] = ()
    agrees: str = ""
    only_helps: bool = True

    def fact(self, key: str) -> Fact:
        """Return the fact of that name, or None."""
        return dict(self.facts).get(key)


def price_of(levers: Iterable[Lever]) -> Decimal:
    """Return what levers cost together: what is paid once for an offer counts once."""
    taken = tuple(levers)
    once = {lever.offer: lever.once for lever in taken if lever.once}
    return sum((lever.price for lever in taken), sum(once.values(), Decimal(0)))


WRITTEN = frozenset(
    {
        "heating",
        "hired hand",
        "fast cure",
        "subcontract",
        "answer",
        "sailing",
        "means",
        "courier",
        "store",
        "screen",
        "room",
        "equipment",
        "training",
    }
)
"""Kinds of offers of which all is written into the book once they are taken.

What is only marked as taken and not written changes no plan but its price.
"""


def is_written(offer: Offer) -> bool:
    """Return whether nothing about an offer is left to be understood once it is taken."""
    return " ".join(offer.kind.replace("_", " ").lower().split()) in WRITTEN
