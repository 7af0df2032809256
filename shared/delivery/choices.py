"""The ways to go on a journey: each means, by each kind of sailing, with its rules and price."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from decimal import Decimal
from itertools import product

from shared.book import Equipment, Leg, LegKind, Means, Timetable
from shared.delivery.asked import BEFORE_WINDOW, Asked
from shared.delivery.codes import Note
from shared.delivery.judged import AT_SEA
from shared.delivery.timetables import listed_of
from shared.road.bans import Lorry
from shared.road.regime import Errand, Regime, crew_rules_of, regime_of, told
from shared.road.rules import HoursRules, rule_set, with_reserve
from shared.trade.own import looked_up
from shared.units import minutes_up
from shared.worktime.zones import local_date, local_instant

AFTER_WINDOW = timedelta(days=28)
"""How long after a window sailings are still looked for, for who is late."""

# A crossing between Great Britain and the mainland as short as this has border controls at the
# quay, and its check-in is that of TR15c.
_SHORT_CROSSING = timedelta(hours=2, minutes=30)
_MEASURED_ON = date(2027, 6, 1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """The sailings of a leg that cost the same and ask to be there as long before.

    leg: its number in the book.
    """

    leg: int
    price: Decimal
    check_in_minutes: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """One way to go.

    means: as in the book; where the journey names none, one of its `vehicles` with id "".
    offers: which sailings it takes, one for each leg that has some. regime: why its rules apply.
    rules: of whoever drives, the reserve already taken off. law: the same without reserve.
    crew_rules: of the people on site; None where whoever drives works on site as well. lorry: as
    bans see it. price: of the means and its sailings. notes: what it rests on.
    """

    means: Means
    offers: tuple[Offer, ...]
    regime: Regime
    rules: HoursRules
    law: HoursRules
    crew_rules: HoursRules | None
    lorry: Lorry
    price: Decimal
    notes: tuple[Note, ...] = ()

    @property
    def means_id(self) -> str | None:
        """Return the id that a plan keeps: None where the journey has no means to choose from."""
        return self.means.id or None

    def offer_of(self, leg: int) -> Offer | None:
        """Return which sailings are taken on a leg of the book, None where it has none."""
        return next((each for each in self.offers if each.leg == leg), None)


def choices_of(asked: Asked) -> tuple[Choice, ...]:
    """Return every way to go: by means in their order, then by what the sailings cost.

    Raises
    ------
    UnknownRules
        If a means or drive names rules that there are none of.
    """
    return tuple(
        _choice(asked, means, offers)
        for means in means_of(asked)
        for offers in _offers(asked, means)
    )


def means_of(asked: Asked) -> tuple[Means, ...]:
    """Return the means of a journey: its own, or the one that it goes by without any."""
    return asked.journey.means or (Means(id="", vehicles=asked.journey.vehicles),)


def check_in_of(asked: Asked, at: int, means: Means) -> int:
    """Return the usual minutes before a sailing, by the kind of load (TR15, TR15b, TR15c).

    A trailer that nobody drives is dropped hours before; a short crossing with border controls
    takes the longer of its range.
    """
    look = looked_up(asked.workshop)
    if means.drivers == 0:
        return int(look("TR15b").amount * 60)
    leg = asked.journey.legs[at]
    around = {_country_before(asked, at), _country_after(asked, at)}
    crosses = len(around) == 2 and "GB" in around and None not in around
    if crosses and leg.timetable and all(_is_short(each) for each in leg.timetable):
        return int(look("TR15c").most)
    return int(look("TR15").amount)


def countries_of(legs: Iterable[Leg]) -> frozenset[str]:
    """Return the countries of the roads of some legs."""
    return frozenset(
        country
        for leg in legs
        if leg.kind is LegKind.DRIVE
        for country in (*(share.country for share in leg.shares), *_own(leg))
    )


def reserve_of(asked: Asked) -> int:
    """Return the quarters kept of every limit: the journey's reserve, None: figure CP611."""
    minutes = asked.journey.reserve_minutes
    if minutes is None:
        minutes = int(looked_up(asked.workshop)("CP611").amount)
    return minutes_up(minutes)


def site_rules_of(asked: Asked) -> HoursRules:
    """Return the rules of people on site and on their way; a reserve only where one is given."""
    countries = frozenset({asked.site.country, asked.workshop.country})
    rules = rule_set(crew_rules_of(countries), looked_up(asked.workshop))
    return (
        rules if asked.journey.reserve_minutes is None else with_reserve(rules, reserve_of(asked))
    )


def lorry_of(vehicles: tuple[Equipment, ...], asked: Asked, means: Means) -> Lorry:
    """Return the vehicles of a means as a ban sees them: the heaviest with its trailer.

    As heavy as any where a mass is not known.
    """
    known = [each.gross_t + (each.trailer_t or 0) for each in vehicles if each.gross_t is not None]
    is_known = bool(known) and len(known) == len(vehicles)
    return Lorry(
        tonnes=max(known) if is_known else looked_up(asked.workshop)("TR07b").amount,
        trailer=not is_known or any(each.trailer_t is not None for each in vehicles),
        abnormal=bool(means.abnormal),
        event_on=means.event_on,
    )


def regime_for(
    asked: Asked, vehicles: tuple[Equipment, ...], legs: tuple[Leg, ...], means: Means
) -> Regime:
    """Return whose hours apply to whoever drives vehicles over some legs.

    Those that the means names, else those of the first drive that names some, else by mass,
    countries, day and whose goods.
    """
    named = [means.rules, *(leg.rules for leg in legs if leg.kind is LegKind.DRIVE)]
    rules_id = next((each for each in named if each is not None), None)
    if rules_id is not None:
        return told(rules_id)
    drives = [leg for leg in legs if leg.kind is LegKind.DRIVE]
    known = bool(drives) and all(leg.distance_km is not None for leg in drives)
    errand = Errand(
        vehicles=vehicles,
        countries=countries_of(legs) or frozenset({asked.workshop.country}),
        home=asked.workshop.country,
        day=local_date(asked.window.start, asked.site.zone),
        own_account=means.own_account if means.driven_by or means.own_account else False,
        km=sum((leg.distance_km or Decimal(0) for leg in drives), Decimal(0)) if known else None,
        drivers=max(means.drivers, len(means.driven_by)),
    )
    return regime_of(errand, looked_up(asked.workshop))


def _own(leg: Leg) -> tuple[str, ...]:
    return () if leg.shares or leg.country is None else (leg.country,)


def _choice(asked: Asked, means: Means, offers: tuple[Offer, ...]) -> Choice:
    vehicles = asked.vehicles(means.vehicles)
    legs = asked.journey.legs[: asked.home]
    regime = regime_for(asked, vehicles, legs, means)
    law = rule_set(regime.rules_id, looked_up(asked.workshop))
    rules = with_reserve(law, reserve_of(asked))
    lorry = lorry_of(vehicles, asked, means)
    return Choice(
        means=means,
        offers=offers,
        regime=regime,
        rules=rules,
        law=law,
        crew_rules=None if means.driven_by else site_rules_of(asked),
        lorry=lorry,
        price=means.price + sum((each.price for each in offers), Decimal(0)),
        notes=tuple(_notes(asked, regime, vehicles, rules)),
    )


def _notes(
    asked: Asked, regime: Regime, vehicles: tuple[Equipment, ...], rules: HoursRules
) -> Iterable[Note]:
    if regime.is_stricter:
        yield Note.STRICTER_RULES
    if not vehicles or any(each.gross_t is None for each in vehicles):
        yield Note.MASS_UNKNOWN
    if asked.home < len(asked.journey.legs) or asked.journey.back_minutes:
        yield Note.HOME_NOT_JUDGED
    if rules.reserve:
        yield Note.RESERVE_KEPT
    if any(table.check_in_minutes is None for leg in asked.journey.legs for table in leg.timetable):
        yield Note.CHECK_IN_USUAL


def _offers(asked: Asked, means: Means) -> Iterable[tuple[Offer, ...]]:
    """Give every way to take one kind of sailing on each leg that has some."""
    first = asked.window.start - asked.longest - BEFORE_WINDOW
    last = asked.window.end + AFTER_WINDOW
    kinds: list[list[Offer]] = []
    for at, leg in enumerate(asked.journey.legs[: asked.home]):
        if leg.kind in AT_SEA:
            found = _kinds(leg, first, last, check_in_of(asked, at, means))
            offers = [Offer(leg=at, price=price, check_in_minutes=ahead) for price, ahead in found]
            if offers:
                kinds.append(offers)
    return product(*kinds)


def _kinds(leg: Leg, first: datetime, last: datetime, check_in: int) -> list[tuple[Decimal, int]]:
    return sorted({each.offer for each in listed_of(leg, first, last, check_in)})


def _country_before(asked: Asked, at: int) -> str | None:
    for leg in reversed(asked.journey.legs[:at]):
        if leg.kind is LegKind.DRIVE:
            return leg.shares[-1].country if leg.shares else leg.country
    return asked.workshop.country


def _country_after(asked: Asked, at: int) -> str | None:
    for leg in asked.journey.legs[at + 1 :]:
        if leg.kind is LegKind.DRIVE:
            return leg.shares[0].country if leg.shares else leg.country
    return asked.site.country


def _is_short(table: Timetable) -> bool:
    lands = _MEASURED_ON + timedelta(days=table.days_later)
    there = table.arrives_zone or table.zone
    arrives = local_instant(lands, table.arrives, there, opening=True)
    leaves = local_instant(_MEASURED_ON, table.leaves, table.zone, opening=True)
    return arrives - leaves <= _SHORT_CROSSING
