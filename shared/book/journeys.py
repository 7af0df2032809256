"""Journeys: from the loaded lorry leaving to the sign-off at the site, leg after leg."""

from dataclasses import dataclass
from datetime import date, datetime, time
from decimal import Decimal
from enum import StrEnum

from shared.book.after import After
from shared.book.workshop import Booking
from shared.ids import EquipmentId, PersonId, SegmentId, StepId
from shared.value import Value
from shared.worktime import Shift


class LegKind(StrEnum):
    """A part of the journey. On the road: drive, sailing, train, border, wait, load, return.

    arrive: signing in, unsheeting, slinging. take_away: the old piece. snags: and photographs.
    return: the way home, after everything else.
    """

    LOAD = "load"
    DRIVE = "drive"
    SAILING = "sailing"
    TRAIN = "train"
    BORDER = "border"
    WAIT = "wait"
    ARRIVE = "arrive"
    UNLOAD = "unload"
    LIFT = "lift"
    CARRY = "carry"
    ASSEMBLE = "assemble"
    SEAL = "seal"
    INSPECT = "inspect"
    SIGN_OFF = "sign_off"
    TAKE_AWAY = "take_away"
    SNAGS = "snags"
    RETURN = "return"


ON_SITE = frozenset(
    {
        LegKind.ARRIVE,
        LegKind.UNLOAD,
        LegKind.LIFT,
        LegKind.CARRY,
        LegKind.ASSEMBLE,
        LegKind.SEAL,
        LegKind.INSPECT,
        LegKind.SIGN_OFF,
        LegKind.TAKE_AWAY,
        LegKind.SNAGS,
    }
)
"""What is done at the site."""

AT_SEA = frozenset({LegKind.SAILING, LegKind.TRAIN})
"""What goes by a timetable."""


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Departure(Value):
    """A sailing or train: it leaves and arrives; be there `check_in_minutes` before.

    price: what it costs. reference: of its booking.
    """

    leaves: datetime
    arrives: datetime
    check_in_minutes: int = 0
    price: Decimal | None = None
    reference: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Timetable(Value):
    """Departures that recur on weekdays of a season.

    weekdays: 1 is Monday. first, last: of the season, both included, by the day it leaves; None
    means always. leaves, arrives: by the clock of `zone` and of `arrives_zone` (None: the same),
    `days_later` days after. check_in_minutes: None means as usual for the load (TR15).
    """

    weekdays: tuple[int, ...]
    leaves: time
    arrives: time
    zone: str
    arrives_zone: str | None = None
    days_later: int = 0
    first: date | None = None
    last: date | None = None
    check_in_minutes: int | None = None
    price: Decimal = Decimal(0)


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class RoadShare(Value):
    """So much of a drive lies in a country; shares of a leg are driven in their order.

    listed: on roads listed for a ban of their own (summer Saturdays in Germany); None means not
    known. area: a part with bans of its own, "london" or "auvergne-rhone-alpes", "" for none;
    None means not known.
    """

    country: str
    percent: Decimal
    subdivision: str | None = None
    listed: bool | None = None
    area: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Leg(Value):
    """A part of the journey.

    minutes: of a drive without `driving_minutes` or `distance_km`, elapsed on the road as the
    planner states it, breaks and rests included; of anything else as it takes, inside the opening
    hours. inside: counts against the window's end and happens inside its access hours. opens:
    when a border, gate or inspector is there, in `zone`, not on public holidays of `country`.
    slots: booked stretches; it happens in one of them. departures, timetable: of a sailing or
    train; bunk: the driver has one on board. rules: a set of drivers' hours to hold it against.
    driving_minutes: at the wheel, breaks not included. distance_km: instead, at `speed_kmh`
    (None: TR22b). shares: the countries of the road; none means `country`. hands, person_hours:
    so many people do so many person-hours, instead of `minutes`. cure_hours: elapsed after it,
    before the next leg. by: who does it, who comes. driver_helps: the driver works on it.
    equipment: held during it (a crane).
    """

    kind: LegKind
    name: str = ""
    minutes: int = 0
    inside: bool = False
    departures: tuple[Departure, ...] = ()
    opens: tuple[Shift, ...] = ()
    zone: str | None = None
    country: str | None = None
    rules: str | None = None
    driving_minutes: int | None = None
    distance_km: Decimal | None = None
    speed_kmh: Decimal | None = None
    shares: tuple[RoadShare, ...] = ()
    timetable: tuple[Timetable, ...] = ()
    bunk: bool | None = None
    slots: tuple[Booking, ...] = ()
    hands: int | None = None
    person_hours: Decimal | None = None
    cure_hours: Decimal | None = None
    by: str | None = None
    driver_helps: bool | None = None
    equipment: tuple[EquipmentId, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Driving(Value):
    """How far a driver's hours are used up, at `as_of`, at the end of a daily rest.

    reduced_rests: since the last weekly rest. long_days, week_hours: extended days and hours at
    the wheel in the fixed week of `as_of`; week_before_hours: in the one before.
    """

    as_of: datetime
    reduced_rests: int = 0
    long_days: int = 0
    week_hours: Decimal = Decimal(0)
    week_before_hours: Decimal = Decimal(0)
    weekly_rest_ended: datetime | None = None


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Means(Value):
    """One of several means to go: other vehicles, one or two drivers, another price.

    driven_by: people of the workshop at the wheel; none named means hired drivers, `drivers` of
    them. driving: as their hours stand, in the same order; none given means fresh from a weekly
    rest at the departure. rules: a set of drivers' hours; None means those that the vehicles,
    countries and dates call for, the stricter where that is not known. own_account: the
    workshop's own goods, driving not the main job; None means not known. event_on: the day of the
    event that it builds or strikes, to which lorry bans give way in France (DR19). abnormal: the
    load is so large that the police is told (TR03); London keeps it out by day (TR09).
    """

    id: str
    name: str = ""
    vehicles: tuple[EquipmentId, ...] = ()
    drivers: int = 1
    driven_by: tuple[PersonId, ...] = ()
    driving: tuple[Driving, ...] = ()
    rules: str | None = None
    own_account: bool | None = None
    price: Decimal = Decimal(0)
    event_on: date | None = None
    abnormal: bool | None = None


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Journey(Value):
    """The delivery: legs from the loaded lorry leaving to the sign-off at the site.

    crew: people who travel with it and work on site, held from the departure until the
    last leg ends, `back_minutes` of travel home and the workshop's rest have passed. vehicles: held
    from the departure until they are back. means: to choose from; none means one, with `vehicles`.
    travel: the crew's own way to the site in `travel_vehicles`, driven by one of them; none means
    they ride along. reserve_minutes: kept of every daily limit of drivers' hours; None means 45.
    stands_most_minutes: the loaded lorry stands so long before it leaves; 0 is load and go; None
    means any time. longest_days: from departure to the site; None means 7.
    """

    id: StepId
    name: str
    segments: tuple[SegmentId, ...] = ()
    legs: tuple[Leg, ...] = ()
    crew: tuple[PersonId, ...] = ()
    vehicles: tuple[EquipmentId, ...] = ()
    back_minutes: int = 0
    after: tuple[After, ...] | None = None
    means: tuple[Means, ...] = ()
    travel: tuple[Leg, ...] = ()
    travel_vehicles: tuple[EquipmentId, ...] = ()
    reserve_minutes: int | None = None
    stands_most_minutes: int | None = None
    longest_days: Decimal | None = None


class ArrangementState(StrEnum):
    """How far something with others is arranged."""

    TO_ASK = "to_ask"
    ASKED = "asked"
    BOOKED = "booked"


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Arrangement(Value):
    """What is arranged with others for a job: a crane, a sailing, a hotel, an escort, a person.

    what: "crane", "sailing", "hotel", "escort", "freelancer" or another. with_whom, call: whom to
    call, at which number or address. start, end: what it is for. leg: the number of the leg of
    `journey` that it serves, from 1. free_until: it can be changed at no cost; then `cost_after`.
    """

    id: str
    what: str
    name: str = ""
    state: ArrangementState = ArrangementState.TO_ASK
    reference: str = ""
    with_whom: str = ""
    call: str = ""
    journey: StepId | None = None
    leg: int | None = None
    start: datetime | None = None
    end: datetime | None = None
    price: Decimal = Decimal(0)
    free_until: datetime | None = None
    cost_after: Decimal = Decimal(0)


class Counted(StrEnum):
    """How the time before something is counted."""

    CLEAR_WORKING_DAYS = "clear_working_days"
    WORKING_DAYS = "working_days"
    DAYS = "days"
    WEEKS = "weeks"
    HOURS = "hours"


class Before(StrEnum):
    """What a notice or a paper has to be ahead of."""

    DEPARTURE = "departure"
    BORDER = "border"
    SAILING = "sailing"
    SITE = "site"
    LIFT = "lift"
    INSPECTION = "inspection"


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Notice(Value):
    """A notice or paper that somebody has to have before a journey goes on.

    lead, counted: so long before, on the working days of the office that receives it (`country`,
    `subdivision`, `zone`; None: the site's). office_closes: what comes later counts as the next
    day. done: the day it was given.
    """

    id: str
    name: str
    lead: int
    counted: Counted
    before: Before = Before.DEPARTURE
    journey: StepId | None = None
    office: str = ""
    country: str | None = None
    subdivision: str | None = None
    zone: str | None = None
    office_closes: time = time(17)
    done: date | None = None
