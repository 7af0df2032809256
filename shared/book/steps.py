"""Steps of a job: stages of work, gates where segments wait for one event, and the journey.

A step follows, for each of its segments, the nearest earlier step in the job's list that
touches the segment; where `after` is given, it follows exactly the steps named there.
"""

from dataclasses import dataclass
from datetime import date, datetime, time
from decimal import Decimal
from enum import StrEnum

from shared.book.acts import Act
from shared.book.after import After
from shared.book.client import Client
from shared.book.journeys import Journey
from shared.book.materials import MaterialNeed
from shared.book.workshop import PlaceKind
from shared.ids import EquipmentId, PersonId, PlaceId, RouteId, SegmentId, SkillId, StepId
from shared.value import Value


class Kind(StrEnum):
    """The seven kinds of work; there is no eighth."""

    FOAM = "foam"
    LAMINATE = "laminate"
    COAT = "coat"
    FILL = "fill"
    PAINT = "paint"
    LACQUER = "lacquer"
    PACK = "pack"


class GateKind(StrEnum):
    """What several segments wait for."""

    ANSWER = "answer"
    TRIAL_FIT = "trial_fit"
    LOADING = "loading"
    SITE = "site"


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Hours(Value):
    """Person-hours of a stage: low, likely, high. Plans use the likely."""

    low: Decimal
    likely: Decimal
    high: Decimal


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Need(Value):
    """So many who can do a skill, and so many more who can or help."""

    skill: SkillId
    can: int = 1
    helps: int = 0


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class EquipmentNeed(Value):
    """So many of an equipment, held from start to end of the stage."""

    equipment: EquipmentId
    count: int = 1


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Way(Value):
    """One of several ways to do a stage.

    The hands are the sum over `needs`. Without needs the stage runs by the workshop's hours
    with nobody held, as if by one pair of hands of usual pace. places: any one of these, or
    none where empty; place_kinds: or any place of these kinds. whole_place: takes all of it.
    area_m2: room it takes, else the pieces' length x width with working room on every side,
    added up over its segments. setup_hours: person-hours among `hours` that do not grow with the
    number of pieces (masking the booth, mixing, cleaning the gun). materials: what it takes when
    done this way.
    """

    id: str
    needs: tuple[Need, ...] = ()
    hours: Hours = Hours(low=Decimal(0), likely=Decimal(0), high=Decimal(0))
    places: tuple[PlaceId, ...] = ()
    whole_place: bool = False
    area_m2: Decimal | None = None
    equipment: tuple[EquipmentNeed, ...] = ()
    cost: Decimal = Decimal(0)
    place_kinds: tuple[PlaceKind, ...] = ()
    setup_hours: Decimal | None = None
    materials: tuple[MaterialNeed, ...] = ()

    @property
    def hands_count(self) -> int:
        """Return how many people work together."""
        return sum(need.can + need.helps for need in self.needs)


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Pin(Value):
    """What the foreman has nailed down: an exact start, a day, people, or not before."""

    start: datetime | None = None
    day: date | None = None
    people: tuple[PersonId, ...] = ()
    not_before: datetime | None = None


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Abrade(Value):
    """The work that a recoat time which ran out calls for, or an answer that asks for changes.

    Of several coats right before a step, the ways of one id are one way: their hours add up.
    """

    ways: tuple[Way, ...]


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class RecoatBand(Value):
    """The greatest wait for a coat whose hottest hour was no warmer than so much.

    Of all hours that the wait touches, by the hottest that is expected. An hour warmer than the
    last band ends the wait as it begins.
    """

    upto_celsius: Decimal
    most_hours: Decimal


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Stage(Value):
    """One step of work on one segment, on some, or (no segments named) on the whole job.

    in_one_go: start and end lie in one shift. stays: the place is held through the cure.
    cure_hours: least elapsed hours after it before the next step. recoat_hours: greatest
    elapsed hours before the next step starts. people: asked for by name. watch_minutes and
    longest_pause_days: None means the workshop's (the watch only after laminating).
    coldest_celsius, warmest_celsius: limits of its material, from its start to the end of its
    cure. certificates: everybody on it holds them. same_people_as: the same people as another
    stage. does: its acts; None means those usual for its kind. cure_celsius: the temperature
    that `cure_hours` is for, so that the cure goes by the temperature of the place; None means
    the same at any. recoat_bands: by rising temperature; they take the place of `recoat_hours`.
    most_humidity_percent, dew_point_margin_celsius: limits of its material. wet_hours: how long
    dust spoils it; None means the usual for its kind. product: coats of one product can be
    sprayed in one load. moves_to: the standing place where its segments stand from its end on.
    takes_off: it takes off or roughens what is there (strip, grind out, sand back), so that no
    recoat time runs up to it. materials: what it takes whichever way it is done. learned_factor:
    by what its hours were multiplied, from the workshop's own records, when they were written;
    None means by nothing.
    """

    id: StepId
    name: str
    kind: Kind
    segments: tuple[SegmentId, ...] = ()
    ways: tuple[Way, ...]
    in_one_go: bool = False
    stays: bool = False
    cure_hours: Decimal = Decimal(0)
    recoat_hours: Decimal | None = None
    abrade: Abrade | None = None
    coldest_celsius: Decimal | None = None
    warmest_celsius: Decimal | None = None
    watch_minutes: int | None = None
    longest_pause_days: int | None = None
    people: tuple[PersonId, ...] = ()
    same_people_as: StepId | None = None
    certificates: tuple[str, ...] = ()
    not_before: date | None = None
    pin: Pin | None = None
    after: tuple[After, ...] | None = None
    does: tuple[Act, ...] | None = None
    cure_celsius: Decimal | None = None
    recoat_bands: tuple[RecoatBand, ...] = ()
    most_humidity_percent: Decimal | None = None
    dew_point_margin_celsius: Decimal | None = None
    wet_hours: Decimal | None = None
    product: str | None = None
    moves_to: PlaceId | None = None
    takes_off: bool | None = None
    materials: tuple[MaterialNeed, ...] = ()
    learned_factor: Decimal | None = None


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Gate(Value):
    """Several segments (none named: all of the job) wait for one event.

    answer: pictures go out when all it follows is done; the answer is due at `answer_by` on
    the `answer_days`-th of the client's working days (None: the client's usual). Planned
    rounds are 1 + allow_no; between rounds lies `rework`. trial_fit, loading: may take work
    (`ways`). site: a door at the site. cure_hours as for a stage. changes: the work that a yes
    with changes calls for before anything else. Rework and changes have the acts of the stages
    right before the gate. chance_no_percent, chance_changes_percent: how often such an answer
    comes. answered_by: who answers, on their own working days (an engineer, an inspector); None
    means the job's client.
    """

    id: StepId
    name: str
    gate: GateKind
    segments: tuple[SegmentId, ...] = ()
    ways: tuple[Way, ...] = ()
    in_one_go: bool = False
    cure_hours: Decimal = Decimal(0)
    answer_days: int | None = None
    answer_by: time = time(17)
    allow_no: int = 0
    rework: Abrade | None = None
    not_before: date | None = None
    pin: Pin | None = None
    after: tuple[After, ...] | None = None
    changes: Abrade | None = None
    chance_no_percent: int | None = None
    chance_changes_percent: int | None = None
    answered_by: Client | None = None


Step = Stage | Gate | Journey


class Measure(StrEnum):
    """What hours of a route grow with: a size of the segment, or nothing but its number."""

    VOLUME = "m3"
    SURFACE = "m2"
    JOINTS = "m"
    PIECE = "piece"


class ClassOf(StrEnum):
    """A class of a segment that hours of a route go by."""

    DETAIL = "detail"
    FINISH = "finish"


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class RouteRule(Value):
    """How a step of a route is copied into a job.

    per: its hours are for one of these. only_if: it is copied only with one of these options of
    the route; unless: it is left out with any of these. session_hours: it is cut into sessions of
    no more person-hours each; the last has the step's own cure and recoat time, the others
    `session_recoat_hours` to the next. together: one step for all the segments; None means that
    gates and journeys are, stages not. classes: its hours go by these classes of a segment.
    """

    step: StepId
    per: Measure | None = None
    only_if: tuple[str, ...] = ()
    unless: tuple[str, ...] = ()
    session_hours: Decimal | None = None
    together: bool | None = None
    session_recoat_hours: Decimal | None = None
    classes: tuple[ClassOf, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Route(Value):
    """A way of making: steps to copy into a job, and how. options: what may be asked for."""

    id: RouteId
    name: str
    steps: tuple[Step, ...]
    rules: tuple[RouteRule, ...] = ()
    options: tuple[str, ...] = ()
