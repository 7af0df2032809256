"""Jobs: client, site, windows, segments and their steps."""

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from enum import StrEnum

from shared.book.client import Client
from shared.book.journeys import Arrangement, Notice
from shared.book.steps import Step
from shared.book.workshop import Booking, Opening
from shared.ids import JobId, PlaceId, RouteId, SegmentId, WindowId
from shared.value import Value
from shared.worktime import Shift


class Standing(StrEnum):
    """How far a job is agreed."""

    ENQUIRY = "enquiry"
    PENCILLED = "pencilled"
    FIRM = "firm"


class Purpose(StrEnum):
    """What a piece is for, as far as an inspection or a test goes by it.

    fire_tested: its build-up has to stand a fire test.
    """

    PLAYGROUND = "playground"
    SLIDE = "slide"
    FIRE_TESTED = "fire_tested"


class Invoice(StrEnum):
    """When an invoice goes out: at the client's last yes, at the hand-over."""

    AT_YES = "at_yes"
    AT_HAND_OVER = "at_hand_over"


class Face(StrEnum):
    """A face of a piece as it is made: front and back end its width, left and right its length."""

    TOP = "top"
    BOTTOM = "bottom"
    FRONT = "front"
    BACK = "back"
    LEFT = "left"
    RIGHT = "right"


class Detail(StrEnum):
    """How much is carved into a piece; hours of carving go by it (figures CP501 to CP504)."""

    PLAIN = "plain"
    USUAL = "usual"
    FINE = "fine"
    VERY_FINE = "very_fine"


class Finish(StrEnum):
    """How smooth a piece has to be; hours of fairing and sanding go by it (CP511 to CP514)."""

    PLAIN = "plain"
    USUAL = "usual"
    FINE = "fine"
    MIRROR = "mirror"


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Site(Value):
    """Where the piece will stand."""

    name: str
    zone: str
    country: str
    subdivision: str | None = None
    openings: tuple[Opening, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Window(Value):
    """When the site can be had: half-open, with daily access hours in the site's zone.

    access: none named means at any hour. price: what this window costs more. blocked: stretches
    in which other trades have the site.
    """

    id: WindowId
    start: datetime
    end: datetime
    access: tuple[Shift, ...] = ()
    price: Decimal = Decimal(0)
    blocked: tuple[Booking, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Segment(Value):
    """A piece of a job that is made, moved and lifted as one.

    turns: ways round it may be stood and moved: "upright", "on_side" (its width upright),
    "on_end" (its length upright), "lying" (either of these); none named means any.
    finished_faces: it is never put down on these. stands: the standing place where
    it waits; None means the first standing place of the workshop. stored_elsewhere: it takes
    no standing floor here. route: the way of making it was written from. joints_m: length of
    the seams where it meets others. finish: as somebody describes it. detail, finish_class: the
    hours that are written from a way of making go by them; None means usual. outline: its shape
    from the front as path data of SVG 2, all of a job in one drawing; None: drawn as a box.
    """

    id: SegmentId
    name: str
    length_m: Decimal | None = None
    width_m: Decimal | None = None
    height_m: Decimal | None = None
    mass_low_kg: Decimal | None = None
    mass_high_kg: Decimal | None = None
    surface_m2: Decimal | None = None
    finish: str = ""
    turns: tuple[str, ...] = ()
    stands: PlaceId | None = None
    stored_elsewhere: bool = False
    route: RouteId | None = None
    volume_m3: Decimal | None = None
    joints_m: Decimal | None = None
    finished_faces: tuple[Face, ...] = ()
    detail: Detail | None = None
    finish_class: Finish | None = None
    outline: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Job(Value):
    """One commission for one client and one site.

    segments: in the order in which they are needed at the site, so that the last is loaded first.
    window: which of `windows` is held; None means the first. not_before: the earliest day
    work may start. wished_buffer_days: None means the workshop's. chance_wanted_percent: None
    means the book's rule. quote_good_until: the last day on which the quote may be taken up.
    deposit_due, deposit_paid: nothing is ordered for the job before its deposit is paid. survey_on,
    concept_due: days on the way to the quote. purposes: inspections and tests go by them.
    arrangements: what is arranged with others. notices: besides those its journeys call for, or in
    the place of one of those with the same id. picture: of the piece, PNG or JPEG in base64; None
    where there is none.
    """

    id: JobId
    name: str
    client: Client
    site: Site
    windows: tuple[Window, ...]
    segments: tuple[Segment, ...]
    steps: tuple[Step, ...]
    standing: Standing = Standing.FIRM
    pencilled_until: date | None = None
    window: WindowId | None = None
    not_before: date | None = None
    wished_buffer_days: Decimal | None = None
    chance_wanted_percent: int | None = None
    price: Decimal | None = None
    late_cost_per_day: Decimal | None = None
    asked_at: datetime | None = None
    survey_on: date | None = None
    concept_due: date | None = None
    quote_good_until: date | None = None
    deposit_due: date | None = None
    deposit_paid: date | None = None
    invoices: tuple[Invoice, ...] = ()
    purposes: tuple[Purpose, ...] = ()
    arrangements: tuple[Arrangement, ...] = ()
    notices: tuple[Notice, ...] = ()
    picture: str | None = None

    @property
    def held_window(self) -> Window | None:
        """Return the window that is held, or None when the job has none of that name."""
        wanted = self.window
        fitting = (w for w in self.windows if wanted is None or w.id == wanted)
        return next(fitting, None)
