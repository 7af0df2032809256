"""Weekly rests inside a journey, bans of one country only, and nights on which clocks change."""

from dataclasses import replace
from datetime import date, datetime, timedelta
from decimal import Decimal

import pytest

from scheduler.check.road.replay import Wrong
from scheduler.rules import Limit
from shared.plan import Doing, Stretch
from shared.road.bans import Lorry, Road
from shared.road.driver import Driver
from shared.road.itinerary import Itinerary
from shared.road.legs import Drive
from tests.scheduler.check.road.itineraries import (
    FRESH,
    QUARTER,
    SIX,
    Part,
    breaches,
    itinerary,
    limits,
    wrongs,
)
from tests.shared.road.trips import AMSTERDAM, BERLIN, HEAVY, LONDON, PARIS, at, drive, ferry

FROM_WEEKLY_REST = replace(FRESH, weekly_rest_ended=SIX)


def days(*rests: int, wheel: int = 18) -> Itinerary:
    """Four and a half hours at the wheel, a rest, and so on; the last is at the wheel."""
    parts: list[Part] = [(Doing.DRIVE, 0, wheel)]
    for rest in rests:
        parts += [(Doing.REST, 0, rest), (Doing.DRIVE, 0, wheel)]
    return itinerary(*parts)


def test_a_weekly_rest_begins_within_six_days_of_the_last() -> None:
    """Art. 8(6): six times 24 hours."""
    week = days(*[78] * 6)

    found = breaches(week, drive(126), drivers=(FROM_WEEKLY_REST,))

    assert [(each.limit, each.at, each.rule) for each in found] == [
        (Limit.WEEKLY_REST, SIX + timedelta(hours=144), "DR07c")
    ]
    assert limits(week, FRESH) == [Limit.WEEKLY_REST], "fresh from one at the departure"


@pytest.mark.parametrize(("rest", "broken"), [(180, []), (179, [Limit.WEEKLY_REST])])
def test_forty_five_hours_are_a_weekly_rest(rest: int, broken: list[Limit | None]) -> None:
    assert limits(days(78, 78, rest, 78, 78), FROM_WEEKLY_REST) == broken


def test_shorter_rests_are_counted_anew_after_a_weekly_rest() -> None:
    spent = replace(FROM_WEEKLY_REST, reductions=3)
    reduced = 36

    assert limits(days(180, reduced, wheel=18), spent) == []
    assert limits(days(44, reduced, wheel=18), spent) == [Limit.DAILY_REST]


def _between(first: datetime, doing: Doing, last: datetime) -> Stretch:
    return Stretch(doing=doing, leg=0, start=first, end=last)


def night(zone: str, day: str, next_day: str, until: str, driver: Driver) -> list[Limit | None]:
    """Nine hours at the wheel up to 21:00, a rest to some time on the next day, three hours."""
    off, on = at(zone, f"{day}T21:00"), at(zone, f"{next_day}T{until}")
    parts = ((18, Doing.DRIVE), (3, Doing.REST), (18, Doing.DRIVE))
    now = at(zone, f"{day}T11:15")
    found = []
    for quarters, doing in parts:
        found.append(_between(now, doing, now + quarters * QUARTER))
        now += quarters * QUARTER
    end = on + timedelta(hours=3)
    found += [_between(off, Doing.REST, on), _between(on, Doing.DRIVE, end)]
    return limits(Itinerary(stretches=tuple(found)), driver)


@pytest.mark.parametrize("zone", [PARIS, LONDON])
@pytest.mark.parametrize(
    ("day", "next_day", "until", "earlier"),
    [
        ("2027-03-20", "2027-03-21", "08:00", "07:45"),
        ("2027-03-27", "2027-03-28", "09:00", "08:45"),
        ("2027-10-30", "2027-10-31", "07:00", "06:45"),
    ],
)
def test_eleven_hours_of_rest_on_nights_on_which_the_clock_changes(
    zone: str, day: str, next_day: str, until: str, earlier: str
) -> None:
    """Directive 2000/84/EC: an hour is missing on 28 March 2027 and doubled on 31 October."""
    as_of = at(zone, f"{day}T00:00")
    spent = Driver(as_of=as_of, reductions=3, extensions=2)

    assert night(zone, day, next_day, until, spent) == []
    assert night(zone, day, next_day, earlier, spent) == [Limit.DAILY_REST]


def test_a_sailing_over_a_clock_change_is_an_hour_shorter_or_longer() -> None:
    """London to Amsterdam: both clocks change in the same night."""
    for day, next_day, hours in (
        ("2027-03-20", "2027-03-21", 9.5),
        ("2027-03-27", "2027-03-28", 8.5),
        ("2027-10-30", "2027-10-31", 10.5),
    ):
        ship = (at(LONDON, f"{day}T22:00"), at(AMSTERDAM, f"{next_day}T08:30"))
        parts: list[Part] = [
            (Doing.DRIVE, 0, 4),
            (Doing.REST, 1, 1),
            (Doing.BOARD, 1, 1),
            (Doing.SEA_REST, 1, int(hours * 4)),
            (Doing.LAND, 1, 1),
        ]
        crossing = itinerary(*parts, start=ship[0].astimezone(SIX.tzinfo) - 6 * QUARTER)
        legs = (drive(4), ferry(ship, cut_off=30))

        assert not wrongs(crossing, *legs)
        longer = [*parts[:3], (Doing.SEA_REST, 1, int(hours * 4) + 1), parts[4]]
        late = itinerary(*longer, start=ship[0] - 6 * QUARTER)
        assert wrongs(late, *legs) == {Wrong.SAILING}


def _is_banned(zone: str, wall: str, road: Road) -> bool:
    found = itinerary((Doing.DRIVE, 0, 1), start=at(zone, wall))
    told = wrongs(found, Drive(quarters=1, road=road), lorry=HEAVY)
    assert told <= {Wrong.BAN}
    return bool(told)


@pytest.mark.parametrize(
    ("zone", "wall", "country", "subdivision", "banned"),
    [
        (BERLIN, "2027-03-13T23:45", "DE", None, False),
        (BERLIN, "2027-03-14T00:00", "DE", None, True),
        (BERLIN, "2027-03-14T21:45", "DE", None, True),
        (BERLIN, "2027-03-14T22:00", "DE", None, False),
        (PARIS, "2027-03-13T21:45", "FR", None, False),
        (PARIS, "2027-03-13T22:00", "FR", None, True),
        (PARIS, "2027-03-14T21:45", "FR", None, True),
        (PARIS, "2027-03-14T22:00", "FR", None, False),
        (LONDON, "2027-03-14T12:00", "GB", None, False),
        # 8 May 2026 is kept in France, 3 October 2026 in Germany.
        (PARIS, "2026-05-08T12:00", "FR", None, True),
        (BERLIN, "2026-05-08T12:00", "DE", None, False),
        (PARIS, "2026-10-03T12:00", "FR", None, False),
        (BERLIN, "2026-10-03T12:00", "DE", None, True),
        # 6 January is kept in Bavaria.
        (BERLIN, "2027-01-06T12:00", "DE", None, False),
        (BERLIN, "2027-01-06T12:00", "DE", "BY", True),
        # The ban of the Sunday on which the clock changes begins and ends by the clock.
        (PARIS, "2027-03-27T21:45", "FR", None, False),
        (PARIS, "2027-03-28T21:45", "FR", None, True),
        (BERLIN, "2027-03-28T22:00", "DE", None, False),
        # and goes on at once, for Easter Monday.
        (PARIS, "2027-03-28T22:00", "FR", None, True),
        (BERLIN, "2027-10-31T21:45", "DE", None, True),
        (BERLIN, "2027-10-31T22:00", "DE", None, False),
    ],
)
def test_a_ban_is_that_of_the_country_of_the_road(
    zone: str, wall: str, country: str, subdivision: str | None, banned: bool
) -> None:
    """German road traffic regulations (StVO) section 30(3); French order of 16 April 2021."""
    assert _is_banned(zone, wall, Road(country=country, subdivision=subdivision)) is banned


def _one_quarter(zone: str, wall: str, road: Road, lorry: Lorry) -> list[str]:
    """The figures behind the bans of a quarter at the wheel."""
    found = itinerary((Doing.DRIVE, 0, 1), start=at(zone, wall))
    told = breaches(found, Drive(quarters=1, road=road), lorry=lorry)
    return [each.rule for each in told]


@pytest.mark.parametrize(
    ("wall", "listed", "found"),
    [
        ("2027-07-03T06:45", True, []),
        ("2027-07-03T07:00", True, ["DR17c"]),
        ("2027-08-28T19:45", True, ["DR17c"]),
        ("2027-08-28T20:00", True, []),
        ("2027-09-04T12:00", True, []),
        ("2027-07-02T12:00", True, []),
        ("2027-07-03T12:00", False, []),
        ("2027-07-03T12:00", None, []),
    ],
)
def test_summer_saturdays_on_listed_roads(wall: str, listed: bool | None, found: list[str]) -> None:
    """German holiday travel ordinance: 7:00 to 20:00 on Saturdays of July and August."""
    assert _one_quarter(BERLIN, wall, Road(country="DE", listed=listed), HEAVY) == found


@pytest.mark.parametrize(
    ("wall", "event_on", "found"),
    [
        ("2026-07-11T07:00", None, ["DR18d"]),
        ("2026-07-11T18:45", None, ["DR18d"]),
        ("2026-07-11T19:00", None, []),
        ("2026-07-04T12:00", None, []),
        ("2026-07-11T12:00", date(2026, 7, 12), []),
        ("2026-07-11T12:00", date(2026, 9, 12), ["DR18d"]),
    ],
)
def test_saturdays_that_an_order_names_and_the_event_they_give_way_to(
    wall: str, event_on: date | None, found: list[str]
) -> None:
    lorry = replace(HEAVY, event_on=event_on)

    assert _one_quarter(PARIS, wall, Road(country="FR"), lorry) == found


@pytest.mark.parametrize(
    ("wall", "abnormal", "found"),
    [
        ("2027-03-15T06:45", True, []),
        ("2027-03-15T07:00", True, ["TR09a"]),
        ("2027-03-15T07:00", False, []),
        ("2027-03-20T09:45", True, []),
        ("2027-03-20T10:00", True, ["TR09b"]),
        ("2027-03-21T12:00", True, []),
    ],
)
def test_abnormal_loads_in_london(wall: str, abnormal: bool, found: list[str]) -> None:
    """Movement hours of the notification tables."""
    lorry = replace(HEAVY, abnormal=abnormal)

    assert _one_quarter(LONDON, wall, Road(country="GB", area="london"), lorry) == found
    assert _one_quarter(LONDON, wall, Road(country="GB", area=""), lorry) == []


@pytest.mark.parametrize(
    ("lorry", "banned"),
    [
        (Lorry(tonnes=Decimal("7.5")), []),
        (Lorry(tonnes=Decimal("7.51")), ["DR17a"]),
        (Lorry(tonnes=Decimal("3.5"), trailer=True), ["DR17a"]),
    ],
)
def test_only_heavy_lorries_and_trailers_are_banned(lorry: Lorry, banned: list[str]) -> None:
    assert _one_quarter(BERLIN, "2027-03-14T12:00", Road(country="DE"), lorry) == banned
