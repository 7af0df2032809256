"""People: what they can do, when they are there, what they cost, and what is only offered."""

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from enum import StrEnum

from shared.book.journeys import Departure, Means
from shared.ids import OfferId, PersonId, SkillId
from shared.value import Value
from shared.worktime import Shift


class SkillLevel(StrEnum):
    """How well: `leads` and `can` do the work and may also help; `helps` may only help."""

    CAN = "can"
    HELPS = "helps"
    LEADS = "leads"


class EngagementState(StrEnum):
    """How far a freelancer's days are agreed; only confirmed days are planned with."""

    OFFERED = "offered"
    PENCILLED = "pencilled"
    CONFIRMED = "confirmed"


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Skill(Value):
    """One skill of a person."""

    skill: SkillId
    level: SkillLevel = SkillLevel.CAN


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Leave(Value):
    """A person is away; the reason is the foreman's to know."""

    start: datetime
    end: datetime
    reason: str = ""


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class ExtraHours(Value):
    """Hours beyond the shift: overtime or a Saturday."""

    start: datetime
    end: datetime
    premium_per_hour: Decimal = Decimal(0)


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Certificate(Value):
    """A certificate or training; valid to the end of the day `expires`."""

    certificate: str
    expires: date | None = None


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Engaged(Value):
    """A stretch of whole days of a freelancer, first and last included."""

    first: date
    last: date
    state: EngagementState = EngagementState.OFFERED


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Person(Value):
    """Somebody who works at the bench, on the road or on site.

    pace: 1 is usual, 0.8 is slower. hours: own shifts; empty means the workshop's.
    works_from, works_until: first and last day. freelance: works only on confirmed `engaged`
    days. overtime_offered is a way out; overtime_taken is worked. sanding_hours_per_day: with
    power tools; None means the workshop's.
    """

    id: PersonId
    name: str
    skills: tuple[Skill, ...] = ()
    pace: Decimal = Decimal(1)
    hours: tuple[Shift, ...] = ()
    works_from: date | None = None
    works_until: date | None = None
    leave: tuple[Leave, ...] = ()
    rate_per_hour: Decimal | None = None
    overtime_offered: tuple[ExtraHours, ...] = ()
    overtime_taken: tuple[ExtraHours, ...] = ()
    certificates: tuple[Certificate, ...] = ()
    freelance: bool = False
    engaged: tuple[Engaged, ...] = ()
    day_rate: Decimal | None = None
    least_days: int | None = None
    cancel_by: date | None = None
    under_18: bool = False
    sanding_hours_per_day: Decimal | None = None


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Offer(Value):
    """A way out that somebody holds out: not used by any plan until it is taken.

    about: ids it speaks of, as its kind asks for. price: in the workshop's currency, for all of
    it. notice_days: working days before it can begin. agrees: who must agree. first, last: the
    days on which it is to be had. By `kind`, once it is taken:
    "heating": the places in `about` (none: all) are `celsius` warm in the hours `heated`.
    "hired hand": somebody with `skills` and `certificates` comes, for `day_rate` a day besides.
    "fast cure": the stages in `about`, or those of the jobs there, cure in `cure_hours` at most.
    "subcontract": the stages in `about` are done elsewhere and back `away_days` days later.
    "answer": whoever answers the gates in `about` does so in `answer_days` working days.
    "sailing": the journeys in `about` may take `departures` as well. "means": they may go by
    `means` as well. "courier": the steps in `about` need not wait longer than to `first`.
    "store": the segments in `about`, or those of the jobs there, stand elsewhere. "screen": the
    places in `about` have an air of their own. "room": they have `area_m2` or `slots` more.
    "equipment": there is one more of the things in `about`. "training": the people in `about`
    get `certificates`, valid to `last`.
    """

    id: OfferId
    name: str
    kind: str
    about: tuple[str, ...] = ()
    price: Decimal = Decimal(0)
    notice_days: int = 0
    limit_hours: Decimal | None = None
    agrees: str = ""
    taken: bool = False
    heated: tuple[Shift, ...] = ()
    celsius: Decimal | None = None
    first: date | None = None
    last: date | None = None
    skills: tuple[Skill, ...] = ()
    certificates: tuple[str, ...] = ()
    day_rate: Decimal | None = None
    cure_hours: Decimal | None = None
    away_days: int | None = None
    answer_days: int | None = None
    departures: tuple[Departure, ...] = ()
    means: tuple[Means, ...] = ()
    area_m2: Decimal | None = None
    slots: int | None = None
