"""The workshop: its hours, places, equipment and the figures it plans by."""

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from enum import StrEnum

from shared.book.acts import Act
from shared.ids import EquipmentId, PersonId, PlaceId
from shared.value import Value
from shared.worktime import Shift


class PlaceKind(StrEnum):
    """What sort of place."""

    BAY = "bay"
    BOOTH = "booth"
    FLOOR = "floor"
    STORE = "store"
    YARD = "yard"


class EquipmentKind(StrEnum):
    """What sort of equipment."""

    TOOL = "tool"
    VEHICLE = "vehicle"
    CRANE = "crane"


class Body(StrEnum):
    """What a vehicle carries pieces in: a van, a closed trailer, a container, an open bed."""

    VAN = "van"
    TRAILER = "trailer"
    CONTAINER_20 = "container_20"
    CONTAINER_40 = "container_40"
    OPEN = "open"


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Closure(Value):
    """Whole days shut, first and last included."""

    first: date
    last: date
    name: str = ""


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Booking(Value):
    """A stretch of time in which a place or a thing is taken by something outside the plan.

    area_m2: so much of a place that has an area (foam stock, a packed piece); None means all.
    """

    start: datetime
    end: datetime
    name: str = ""
    area_m2: Decimal | None = None


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Temperature(Value):
    """How warm a place is expected to be in some months, by day and by night.

    place: None means every place. months: 1 to 12. Day is from 8 to 20 o'clock. In the hours
    `heated` it is `heated_celsius` warm where that is given; where it is not, it is the day's
    temperature in those hours and the night's in all others. spread_celsius: how far it may be
    colder or warmer than expected; None means not at all. humidity_percent: None means unknown.
    Breaks in hours that are heated do not count; an hour heated in part is as cold as its cold
    part and as warm as its warm one. Of several for one place and month the first counts.
    """

    months: tuple[int, ...]
    day_celsius: Decimal
    night_celsius: Decimal
    place: PlaceId | None = None
    heated: tuple[Shift, ...] = ()
    heated_celsius: Decimal | None = None
    spread_celsius: Decimal | None = None
    humidity_percent: Decimal | None = None


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Reading(Value):
    """A measured temperature (and humidity): it holds for its hour instead of what was expected.

    Also instead of heating. place: None means every place that has no reading of its own.
    """

    at: datetime
    celsius: Decimal
    place: PlaceId | None = None
    humidity_percent: Decimal | None = None


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Opening(Value):
    """A door, gate or lift that pieces must pass.

    length_m: the room to turn behind it, or the depth of a lift; None means enough. measured:
    somebody measured it; what nobody measured keeps no piece back.
    """

    name: str
    width_m: Decimal
    height_m: Decimal
    length_m: Decimal | None = None
    measured: bool = True


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Place(Value):
    """A bay, booth, floor, store or yard.

    Its room is `area_m2` or a number of `slots` (one slot where neither is given).
    whole: every stage takes all of it. clear_out_minutes: after a stage, before the next.
    air: name of the air it shares with other places of the same name. standing: pieces wait
    here from the start of their first stage to the end of loading. enclosed: screened, extracted
    and cleared, so that isocyanates may be sprayed there by a stage that takes all of it; None
    means that a booth is, and nothing else.
    """

    id: PlaceId
    name: str
    kind: PlaceKind
    area_m2: Decimal | None = None
    slots: int | None = None
    whole: bool = False
    clear_out_minutes: int = 0
    air: str | None = None
    standing: bool = False
    usable_from: date | None = None
    usable_until: date | None = None
    closures: tuple[Closure, ...] = ()
    bookings: tuple[Booking, ...] = ()
    enclosed: bool | None = None

    @property
    def is_enclosed(self) -> bool:
        """Return whether isocyanates may be sprayed here."""
        return self.kind is PlaceKind.BOOTH if self.enclosed is None else self.enclosed


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Apart(Value):
    """Two acts that are kept apart in time where they share air.

    minutes: so long must pass besides from the end of the first to the start of the second.
    """

    first: Act
    second: Act
    minutes: int = 0


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Equipment(Value):
    """A tool, vehicle or crane; `count` of them alike.

    usable_until and test_due: the last day on which it may be used. Of a vehicle: its sizes
    inside (of an open bed its length and width), its door where that is smaller, its body;
    what is not given is as usual for its body: a container's by its standard, others unmeasured.
    gross_t: greatest mass on the road in tonnes, without trailer; trailer_t: of the trailer it
    draws, None means none.
    """

    id: EquipmentId
    name: str
    kind: EquipmentKind
    count: int = 1
    usable_from: date | None = None
    usable_until: date | None = None
    test_due: date | None = None
    bookings: tuple[Booking, ...] = ()
    inside_length_m: Decimal | None = None
    inside_width_m: Decimal | None = None
    inside_height_m: Decimal | None = None
    payload_kg: Decimal | None = None
    body: Body | None = None
    door_width_m: Decimal | None = None
    door_height_m: Decimal | None = None
    gross_t: Decimal | None = None
    trailer_t: Decimal | None = None


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class OwnFigure(Value):
    """A figure of the trade as this workshop knows it, by the figure's id.

    value takes the place of the figure's own; low and high those of its range, None: as value.
    """

    figure: str
    value: Decimal
    low: Decimal | None = None
    high: Decimal | None = None
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Workshop(Value):
    """The workshop and the figures it plans by.

    Bench hours of a stage that pauses are stretched by shift_hours / useful_hours.
    pair_loss_percent: time lost per further pair of hands. longest_pause_days: elapsed days a
    stage may stand still, closures not counted. bridged_break_minutes: breaks up to this
    length are bridged in turns by work in one go. watch_minutes: how long the shift must run
    on after laminating. working_room_m, standing_room_m: added on every side of a piece at
    work, or waiting. rest_hours: off the bench after driving, site work or late work. wrap_m:
    wrapping on every side of a piece that is moved; skates_m: what it stands on then; spare_m: an
    opening that leaves less is measured again; None means the usual (figures CP400 to CP402).
    figures: what this workshop knows better than the tables, for estimates and ways of making.
    """

    name: str
    zone: str
    country: str
    shifts: tuple[Shift, ...]
    subdivision: str | None = None
    holiday_categories: tuple[str, ...] = ()
    currency: str = "EUR"
    closures: tuple[Closure, ...] = ()
    temperatures: tuple[Temperature, ...] = ()
    readings: tuple[Reading, ...] = ()
    openings: tuple[Opening, ...] = ()
    shift_hours: Decimal = Decimal(8)
    useful_hours: Decimal = Decimal("6.5")
    pair_loss_percent: Decimal = Decimal(5)
    longest_pause_days: int = 4
    bridged_break_minutes: int = 60
    watch_minutes: int = 60
    working_room_m: Decimal = Decimal("0.8")
    standing_room_m: Decimal = Decimal("0.2")
    wished_buffer_days: Decimal = Decimal(2)
    rest_hours: Decimal = Decimal(11)
    apart: tuple[Apart, ...] | None = None
    never_alone: tuple[Act, ...] | None = None
    pieces_per_half_day: int | None = None
    sanding_hours_per_day: Decimal | None = None
    wrap_m: Decimal | None = None
    skates_m: Decimal | None = None
    spare_m: Decimal | None = None
    figures: tuple[OwnFigure, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class OtherWork(Value):
    """Work that belongs to no job (repair, course, cleaning): it holds people and things."""

    id: str
    name: str
    start: datetime
    end: datetime
    people: tuple[PersonId, ...] = ()
    places: tuple[PlaceId, ...] = ()
    equipment: tuple[EquipmentId, ...] = ()
