"""The integer problem: what every way of solving reads, and nothing else.

Time is counted in steps from 0 (a quarter of an hour each for a book; any unit for a plain
instance). Spans are half-open pairs of steps, sorted and disjoint. Things are named by their
position in the problem's tuples. A published instance is a plain problem: no calendars, no
people or people without calendars, and a makespan instead of jobs.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from scheduler.sorted_ints import row_left

Span = tuple[int, int]
Spans = tuple[Span, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Calendar:
    """When somebody works: open stretches, and shifts that bridge short breaks.

    Work in one go starts and ends inside one of `shifts`; only open steps count as work. Every
    open step lies in a shift.
    """

    open: Spans
    shifts: Spans


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A monotone step function of time, by knots (upto, value), both strictly or weakly rising.

    The value at t is that of the first knot with t <= upto; past the last knot nothing is
    allowed (there is no value). Kept as two rows of numbers: pairs by the ten thousand keep the
    collector of garbage busy.
    """

    uptos: tuple[int, ...]
    values: tuple[int, ...]

    @staticmethod
    def of(*knots: tuple[int, int]) -> "Table":
        """Return the table of some knots."""
        return Table(
            uptos=tuple(upto for upto, _ in knots), values=tuple(value for _, value in knots)
        )

    @property
    def knots(self) -> Iterator[tuple[int, int]]:
        """Return the knots."""
        return zip(self.uptos, self.values, strict=True)

    def value(self, t: int) -> int | None:
        """Return the value at t, None past the last knot."""
        at = row_left(self.uptos, t)
        return None if at == len(self.uptos) else self.values[at]


@dataclass(frozen=True, slots=True, kw_only=True)
class Wait:
    """When a stage that ended at t is ready for what follows: max(t + least, table(t))."""

    least: int = 0
    table: Table | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Worker:
    """A person: calendar (None: always there), skills, pace, and stretches already booked.

    can: skills they do. helps: skills they may help with (a superset of `can`).
    certificates: (certificate, until) pairs; a stage that asks for it must end by `until`.
    sanding_max: working steps in any of Problem.days spent on stages that sand (None: any).
    away: out of the building although on shift, so that nobody has company of them.
    """

    calendar: int | None
    can: frozenset[int]
    helps: frozenset[int]
    pace: Fraction = Fraction(1)
    busy: Spans = ()
    certificates: tuple[tuple[int, int], ...] = ()
    sanding_max: int | None = None
    away: Spans = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """A place, a stock of equipment, or any renewable resource: capacity in whole units.

    busy: (start, end, units) already taken; units may exceed what is left free.
    """

    capacity: int
    busy: tuple[tuple[int, int, int], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Use:
    """Units of a room held from start - before to end + after of a stage.

    through_cure: held on to the moment the stage is ready (its cure), then `after`.
    against: rooms of which nothing may be taken by anybody else over the same stretch; said on
    both sides (who uses such a room is against this one), and only stages take any of them.
    """

    room: int
    units: int
    before: int = 0
    after: int = 0
    through_cure: bool = False
    against: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Need:
    """So many workers who can do a skill, and so many more who can or help."""

    skill: int
    can: int
    helps: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """One way to do a stage.

    work: working steps at a mean pace of 1; a team of mean pace p needs ceil(work / p) steps,
    0 stays 0. calendar: works only when this is open too (None: no such limit); a way without
    needs and calendar runs on elapsed time. consumes: (consumable, units) used up for good.
    clear: start and end must lie in one of these stretches, end included (None: anywhere).
    """

    needs: tuple[Need, ...] = ()
    work: Fraction = Fraction(0)
    uses: tuple[Use, ...] = ()
    consumes: tuple[tuple[int, int], ...] = ()
    calendar: int | None = None
    cost: int = 0
    clear: Spans | None = None

    @property
    def hands_count(self) -> int:
        """Return how many workers it takes."""
        return sum(need.can + need.helps for need in self.needs)


@dataclass(frozen=True, slots=True, kw_only=True)
class Stage:
    """A piece of work that is placed once, from start to end, with one way and one team.

    job: position in Problem.jobs, or -1. one_go: start and end in one shift of every member,
    and that shift runs on for `watch` steps after the end. release: earliest start.
    start_by: latest start. ends: spans in which the end must lie (None: anywhere).
    fixed_start: pinned. asked: workers who must be in the team. only_asked: the team is
    exactly `asked`. longest_pause: the longest standstill, shut days (Problem.shut) not
    counted (None: any). told_start, told_team: what people were told, or None.
    quickest: how soon it may have cured at best, for proofs (None: as `cure`).
    optional: placed only if an edge inserts it. same_team_as: another stage; where both take
    work, both are done by the same team. company: a team of one works only while another worker
    is on shift; in one go it does not break off for want of one, and in no working step are all
    others away. piece: what it works on, for Problem.pieces_max (None: it does not count). sands:
    its working steps count for Worker.sanding_max. under_way: a fact, with start and team; it
    counts for both limits without being held to them.
    """

    ways: tuple[Way, ...]
    job: int = -1
    one_go: bool = False
    watch: int = 0
    release: int = 0
    start_by: int | None = None
    ends: Spans | None = None
    fixed_start: int | None = None
    asked: tuple[int, ...] = ()
    only_asked: bool = False
    longest_pause: int | None = None
    cure: Wait = Wait()
    quickest: Wait | None = None
    certificates: tuple[int, ...] = ()
    told_start: int | None = None
    told_team: tuple[int, ...] | None = None
    optional: bool = False
    same_team_as: int | None = None
    company: bool = False
    piece: int | None = None
    sands: bool = False
    under_way: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Edge:
    """One stage comes after another.

    From the end (the usual): start(after) >= max(ready(end(before)), end(before) + least), where
    ready is the cure of `before`; and start(after) <= end(before) + most. From the start:
    start(after) >= start(before) + least, start(after) <= start(before) + most. least may be
    negative. most_table: start(after) <= most_table(end(before)) besides; it says nothing past
    its last knot. insert: an optional stage that may lie between when `most` or `most_table`
    runs out. in_doubt: a greatest wait may be longer than said, so that proofs leave it out.
    """

    before: int
    after: int
    least: int = 0
    most: int | None = None
    from_start: bool = False
    insert: int | None = None
    most_table: Table | None = None
    in_doubt: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Hold:
    """Units of a room taken from the start of one stage to the end of another.

    first None: from step 0 (it stands there already).
    """

    room: int
    units: int
    first: int | None
    last: int


Absence = tuple[int, int, int]
"""A worker, and from when to when."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Going:
    """One way and time to leave, with whom and what it takes from then on or before.

    leaves: loading must have ended by then. away: who is out of the building for it. rests: who
    has to have rested for it or rests after it; rests may lie over one another and over nothing
    else that somebody does. Stretches of one worker are apart. takes: (room, start, end, units).
    in_time: it makes the window.
    """

    leaves: int
    away: tuple[Absence, ...] = ()
    rests: tuple[Absence, ...] = ()
    takes: tuple[tuple[int, int, int, int], ...] = ()
    price: int = 0
    in_time: bool = True

    @property
    def absences(self) -> tuple[Absence, ...]:
        """Return who is neither at the bench nor in the building, and when."""
        return (*self.away, *self.rests) if self.rests else self.away


@dataclass(frozen=True, slots=True, kw_only=True)
class Trip:
    """A journey: the ways and times it may leave at, first those that make the window.

    options: those in time by departure, the latest first; then later ones that miss. One may be
    taken once every stage of JobAim.lasts has ended, and no more than `stands_most` after the
    last of JobAim.loads did (None: at any time).
    """

    options: tuple[Going, ...] = ()
    stands_most: int | None = None

    @property
    def makes_window(self) -> bool:
        """Return whether any option is in time."""
        return any(going.in_time for going in self.options)

    def may_leave(self, option: int, ready: int, loaded: int) -> bool:
        """Return whether an option fits the end of JobAim.lasts and that of JobAim.loads."""
        leaves = self.options[option].leaves
        stands = self.stands_most
        return leaves >= ready and (stands is None or leaves - loaded <= stands)

    def is_in_time(self, option: int) -> bool:
        """Return whether an option is one and makes the window."""
        return 0 <= option < len(self.options) and self.options[option].in_time

    @property
    def preferred(self) -> list[int]:
        """Return the options in the order to take them: in time and cheap first, then soon."""
        options = self.options
        return sorted(
            range(len(options)), key=lambda at: (not options[at].in_time, _dear(options[at]), at)
        )

    @property
    def dearest(self) -> int:
        """Return the price of the dearest option; a journey that stays counts as much."""
        return max((going.price for going in self.options), default=0)


def _dear(going: Going) -> int:
    return going.price if going.in_time else 0


@dataclass(frozen=True, slots=True, kw_only=True)
class JobAim:
    """What a job wants: its last stages end by `latest`, better by `wish`.

    lasts: stages whose end is the end of loading. loaded: those at whose end the lorry is loaded,
    where it may leave only later (none: lasts). latest: None when nothing makes the window.
    guessed: departures in time may have been passed over, so nothing is proved of `latest`.
    firm: counts in level 1 (else, an enquiry asked for, in level 2). floor: (first, last)
    stage of each segment, for floor time.
    """

    lasts: tuple[int, ...]
    latest: int | None
    wish: int | None = None
    firm: bool = True
    floor: tuple[tuple[int, int], ...] = ()
    trip: Trip | None = None
    loaded: tuple[int, ...] = ()
    guessed: bool = False

    @property
    def loads(self) -> tuple[int, ...]:
        """Return the stages at whose end the lorry is loaded."""
        return self.loaded or self.lasts


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """Everything to be placed, and what limits it.

    horizon: every end is at most this. makespan: for a plain instance, the stage whose start
    is to be least; None for a book (its aims are `jobs`). shut: whole days on which the
    workshop is closed. consumables: units of each that there are in all. days, half_days:
    stretches that limits of a day and of half a day count by. pieces_max: different pieces that
    one worker works on in one half day (None: any).
    """

    horizon: int
    stages: tuple[Stage, ...]
    edges: tuple[Edge, ...] = ()
    calendars: tuple[Calendar, ...] = ()
    workers: tuple[Worker, ...] = ()
    rooms: tuple[Room, ...] = ()
    consumables: tuple[int, ...] = ()
    holds: tuple[Hold, ...] = ()
    jobs: tuple[JobAim, ...] = ()
    shut: Spans = ()
    makespan: int | None = None
    days: Spans = ()
    half_days: Spans = ()
    pieces_max: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Schedule:
    """An answer to a problem, by stage: start, end, way and team; by job: the trip's option.

    A stage that is not placed (optional, not inserted) has start -1, end -1, way -1, ().
    trips: position in Trip.options, or -1 where the job has no trip or none could leave.
    """

    starts: tuple[int, ...]
    ends: tuple[int, ...]
    ways: tuple[int, ...]
    teams: tuple[tuple[int, ...], ...]
    trips: tuple[int, ...] = ()
