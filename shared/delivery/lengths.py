"""How long a leg takes: as written, by person-hours, at the wheel, or as long as is usual."""

from fractions import Fraction
from typing import TYPE_CHECKING

from shared.book import Journey, Leg, LegKind, Workshop
from shared.delivery.judged import AT_SEA, home_from
from shared.trade.defaults import USUAL_LEG, USUAL_LEG_PER_PIECE
from shared.units import STEP_MINUTES, minutes_up, whole_up

if TYPE_CHECKING:
    from shared.road.bans import Road
    from shared.trade.own import Lookup


def minutes_of(leg: Leg, workshop: Workshop, pieces: int = 1) -> int:
    """Return the minutes of a leg that is not driven by judged hours, rounded up; judged or not.

    person_hours of `hands` (None: one) with the workshop's loss per further pair of hands; else
    its minutes; where neither is given, as usual for its kind and so many pieces (figures of the
    table "site"). A drive and a wait take their minutes, a sailing none.
    """
    if leg.person_hours is not None:
        return _shared_out(leg, workshop)
    if leg.minutes or leg.kind in AT_SEA:
        return leg.minutes
    if leg.kind not in USUAL_LEG and leg.kind not in USUAL_LEG_PER_PIECE:
        return 0
    return _usual(leg.kind, workshop, max(1, pieces))


def wheel_quarters(leg: Leg, workshop: Workshop) -> int:
    """Return the quarters at the wheel of a drive or way home, rounded up, at least one.

    driving_minutes, else distance by speed (None: figure TR22b), else minutes.
    """
    if leg.driving_minutes is not None:
        return max(1, minutes_up(leg.driving_minutes))
    if leg.distance_km is None:
        return max(1, minutes_up(leg.minutes))
    speed = leg.speed_kmh or _look(workshop)("TR22b").amount
    return max(1, whole_up(Fraction(leg.distance_km) * 60 / Fraction(speed) / STEP_MINUTES))


def shares_of(leg: Leg, quarters: int) -> tuple[tuple[int, str, str | None], ...]:
    """Cut quarters of a drive by country: (quarters, country, subdivision).

    Running sums are rounded up and the last takes the rest; a share that is left with none has
    quarters 0. A drive without shares or country gives ().
    """
    if not leg.shares:
        return () if leg.country is None else ((quarters, leg.country, None),)
    cut, done, percent = [], 0, Fraction(0)
    for share in leg.shares:
        percent += Fraction(share.percent)
        last = share is leg.shares[-1]
        upto = quarters if last else min(quarters, whole_up(percent * quarters / 100))
        cut.append((max(0, upto - done), share.country, share.subdivision))
        done = max(done, upto)
    return tuple(cut)


def roads_of(leg: Leg, quarters: int) -> "tuple[tuple[int, Road], ...]":
    """Cut quarters of a drive by road, as `shares_of` does, with all that bans ask of a road."""
    from shared.road.bans import Road

    cut = shares_of(leg, quarters)
    if not leg.shares:
        return tuple((each, Road(country=country)) for each, country, _ in cut)
    return tuple(
        (
            each,
            Road(
                country=share.country,
                subdivision=share.subdivision,
                listed=share.listed,
                area=share.area,
            ),
        )
        for (each, _, _), share in zip(cut, leg.shares, strict=True)
    )


def home_minutes(journey: Journey, workshop: Workshop) -> int:
    """Return the minutes of the way home: its return legs, else back_minutes.

    A return leg with driving_minutes or a distance takes these and the least breaks and daily
    rests of one driver (DR01, DR02, DR04); others take their minutes. Not judged.
    """
    legs = journey.legs[home_from(journey) :]
    if not legs:
        return journey.back_minutes
    return sum(home_leg_minutes(leg, workshop) for leg in legs)


def home_leg_minutes(leg: Leg, workshop: Workshop) -> int:
    """Return the minutes of one leg of the way home, see `home_minutes`."""
    if leg.driving_minutes is None and leg.distance_km is None:
        return leg.minutes
    from shared.road.rules import rule_set

    rules = rule_set("eu_one_driver")
    driving = wheel_quarters(leg, workshop)
    rests = (driving - 1) // rules.drive_daily
    breaks = (driving - 1) // rules.drive_unbroken - rests
    return STEP_MINUTES * (driving + rests * rules.rest + breaks * rules.break_length)


def _shared_out(leg: Leg, workshop: Workshop) -> int:
    hands = max(1, leg.hands or 1)
    loss = Fraction(workshop.pair_loss_percent) / 100
    hours = Fraction(leg.person_hours or 0) * (1 + loss * (hands - 1)) / hands
    return max(1, whole_up(hours * 60))


def _usual(kind: LegKind, workshop: Workshop, pieces: int) -> int:
    look = _look(workshop)
    if kind not in USUAL_LEG_PER_PIECE:
        return whole_up(sum((Fraction(look(each).amount) for each in USUAL_LEG[kind]), Fraction(0)))
    row = look(USUAL_LEG_PER_PIECE[kind])
    return whole_up(Fraction(row.amount) * pieces * (1 if row.unit == "min" else 60))


def _look(workshop: Workshop) -> "Lookup":
    from shared.trade.own import looked_up

    return looked_up(workshop)
