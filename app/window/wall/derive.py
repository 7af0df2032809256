"""A book and its plan to what stands on the wall; pure, once per plan."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from functools import cache
from typing import TYPE_CHECKING

from app.window.wall.causes import Causes
from app.window.wall.describe import Teller
from app.window.wall.hours import Hours
from app.window.wall.items import (
    NO_ROW,
    SEAMS,
    Band,
    Item,
    Later,
    Role,
    Row,
    Wall,
    minute_of,
)
from app.window.wall.memory import Facts, Made, Memory, common
from app.window.wall.parts import (
    access_pieces,
    governing,
    id_suffix,
    initials,
    is_held,
    is_work,
    kind_of,
    late_part,
    loading_bar,
    reach,
    remaining,
    shapes_of,
    stands,
    tail_of,
    waits_of,
    window_of,
    window_order,
)
from app.window.wall.since import changes_since, marked, told
from app.words import Words
from app.words import window as say
from scheduler.dues import dues
from scheduler.outcome import JobOutcome, Outcome
from shared.as_told import as_told
from shared.book import (
    Book,
    Fact,
    FactKind,
    Gate,
    GateKind,
    Job,
    Journey,
    Stage,
    Standing,
    Step,
)
from shared.ids import SegmentId, StepId
from shared.plan import Placement, Plan, Trip

if TYPE_CHECKING:
    from scheduler.cured import Cured

_Key = tuple[StepId, int, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """What the wall is made of: the book, the plan on show, and what the engine said of it.

    before: the book that the plan on show was made of, where it is another one.
    """

    book: Book
    now: datetime
    plan: Plan | None = None
    outcome: Outcome | None = None
    is_stale: bool = False
    before: Book | None = None


def derive(shown: Shown, words: Words, memory: Memory | None = None) -> Wall:
    """Return all that stands on the wall, jobs in the order of their windows."""
    *_, wall = derive_in_slices(shown, words, memory)
    assert wall is not None
    return wall


def derive_in_slices(
    shown: Shown, words: Words, memory: Memory | None = None
) -> Iterator[Wall | None]:
    """Make the same, giving None after each job, and last the wall. memory: of walls before."""
    memory = memory or Memory()
    book, plan = shown.book, shown.plan
    first, last = reach(book, plan, shown.now)
    hours = memory.hours_of(book, first, last)
    cured = _cured(shown, memory)
    yield None
    made = _Maker(shown, hours, words, cured, memory)
    for job in sorted(book.jobs, key=window_order):
        made.add(job)
        yield None
    items = tuple(made.items)
    memory.made(book, made.teller)
    changes = changes_since(shown.before, book) if shown.is_stale and shown.before else ()
    yield Wall(
        now=minute_of(shown.now),
        zone=book.workshop.zone,
        bands=tuple(made.bands),
        rows=tuple(made.rows),
        items=items,
        days=hours.days(),
        shift_hours=hours.shop_pieces(),
        first=minute_of(first),
        last=minute_of(last),
        governing=governing(shown.outcome),
        is_stale=shown.is_stale,
        by_id={item.id: item for item in items},
        dues=made.running(),
        since=marked(changes, items, words),
        changes=told(changes, words),
    )


def _cured(shown: Shown, memory: Memory) -> "Mapping[StepId, Cured]":
    if shown.plan is None:
        return {}
    # It brings in all that reads books for the engine; a window without a plan waits for none.
    from scheduler.cured import Cures

    memory.cures = Cures(shown.book, memory.cures)
    return memory.cures.of(shown.plan)


class _Maker:
    """Makes the items of one job after the other."""

    def __init__(
        self,
        shown: Shown,
        hours: Hours,
        words: Words,
        cured: "Mapping[StepId, Cured]",
        memory: Memory,
    ) -> None:
        self.shown, self.hours, self.words, self.memory = shown, hours, words, memory
        self.outcomes = {o.id: o for o in shown.outcome.jobs} if shown.outcome else {}
        self.placed: dict[StepId, list[Placement]] = defaultdict(list)
        self.trips: dict[StepId, Trip] = {}
        self.told: dict[_Key, Placement] = {}
        self.facts: dict[StepId, list[Fact]] = defaultdict(list)
        self.bands: list[Band] = []
        self.rows: list[Row] = []
        self.items: list[Item] = []
        self._sort_out()
        plan, self.cured = shown.plan, cured
        self.dues = dues(shown.book, plan, shown.now, self.cured) if plan else ()
        self.teller = Teller(
            shown.book,
            words,
            self.told,
            hours,
            self.outcomes,
            cured=self.cured,
            dues=self.dues,
            unplaced=plan.unplaced if plan else (),
        )
        self.teller.as_told = self.as_told
        self.teller.causes = cache(lambda: Causes(shown.book, plan, cured, hours, shown.now))
        self.common = common(shown.book, words, shown.now)

    def _sort_out(self) -> None:
        if plan := self.shown.plan:
            for placement in plan.placements:
                self.placed[placement.step].append(placement)
            self.trips = {trip.step: trip for trip in plan.trips}
        if told := self.shown.book.told:
            self.told = {(p.step, p.round, p.part): p for p in told.plan.placements}
        for fact in self.shown.book.facts:
            self.facts[fact.step].append(fact)
        counted = as_told(self.shown.book, self.shown.now) if self.shown.plan else ()
        self.as_told = frozenset(fact.step for fact in counted)

    def add(self, job: Job) -> None:
        """Add a job's band, rows and items, as they are remembered if they would be the same."""
        made_from = self._made_from(job)
        made = self.memory.of(job.id, made_from)
        if made is None:
            made = self._made(job)
            self.memory.keep(job.id, made_from, made)
        self.bands.append(made.band)
        self.rows += made.rows
        self.items += made.items

    def _made_from(self, job: Job) -> Facts:
        """Return all that a job's items are made from."""
        steps = [step.id for step in job.steps]
        placed = [placement for step in steps for placement in self.placed[step]]
        people = {person for placement in placed for person in placement.people}
        mine = frozenset(steps)
        plan = self.shown.plan
        return (
            *(job, len(self.bands), len(self.rows), self.outcomes.get(job.id), tuple(placed)),
            tuple(person for person in self.shown.book.people if person.id in people),
            tuple(self.trips.get(step) for step in steps),
            tuple(self.told.get((p.step, p.round, p.part)) for p in placed),
            tuple(fact for step in steps for fact in self.facts[step]),
            tuple(self.cured.get(step) for step in steps),
            self.as_told & mine,
            tuple(due for due in self.dues if due.job == job.id),
            tuple(each for each in plan.unplaced if each.job == job.id) if plan else (),
            self.common,
        )

    def _made(self, job: Job) -> Made:
        band, first = len(self.bands), len(self.rows)
        outcome = self.outcomes.get(job.id)
        places = {s.id: first + index for index, s in enumerate(job.segments)}
        blocks = [item for step in job.steps for item in self._blocks(job, step, band, places)]
        whole = band, first, first + len(job.segments) - 1
        if not job.segments:
            whole = band, NO_ROW, NO_ROW
        seams = [item for step in job.steps for item in self._seams(job, step, whole)]
        legs = [item for step in job.steps for item in self._legs(job, step, whole)]
        bar = loading_bar(job, outcome, seams)
        rows = [
            self._row(job, segment.id, places[segment.id], band, blocks, [*seams, *legs], bar)
            for segment in job.segments
        ]
        made = self._band(job, outcome, whole, seams, legs, bar, blocks)
        return Made(band=made, rows=tuple(rows), items=tuple(self._list(made, rows)))

    def _list(self, band: Band, rows: list[Row]) -> Iterator[Item]:
        """Give a band's items in the order of the one list: job, window, then row by row."""
        yield band.header
        yield from [band.window] if band.window else []
        for index, row in enumerate(rows, start=band.first_row):
            yield self._segment(band, row, index)
            yield from [*row.blocks, *row.cures, *row.waits]
            yield from [row.spare] if row.spare else []
        yield from [*band.seams, *band.legs]
        yield from [band.late] if band.late else []

    def running(self) -> tuple[tuple[int, str], ...]:
        """Return for coats that are over what must follow, and the last minute of its last day."""
        found: list[tuple[int, str]] = []
        for due in self.dues:
            if due.is_over and not due.is_abraded:
                until = self.hours.night(due.last_day)
                found.append((min(minute_of(due.runs_out), until - 1), self.teller.due(due)))
        return tuple(found)

    def _segment(self, band: Band, row: Row, index: int) -> Item:
        name, description = self.teller.segment(band.job, row.segment)
        times = [(item.start, item.end) for item in row.blocks]
        first = min((start for start, _ in times), default=self._now)
        last = max((end for _, end in times), default=first)
        return Item(
            id=f"segment {row.segment}",
            role=Role.SEGMENT,
            job=band.job,
            band=row.band,
            row=index,
            last_row=index,
            start=first,
            end=last,
            segment=row.segment,
            name=name,
            told=description,
        )

    @property
    def _now(self) -> int:
        return minute_of(self.shown.now)

    def _blocks(
        self, job: Job, step: Step, band: int, places: dict[SegmentId, int]
    ) -> Iterable[Item]:
        if isinstance(step, Journey):
            return
        over = step.segments or tuple(places)
        for placement in self.placed[step.id]:
            if not is_work(step, placement):
                continue
            base = self._block(job, step, placement, band)
            for segment in over:
                if segment in places:
                    yield replace(
                        base,
                        id=f"{base.id} @{segment}",
                        segment=segment,
                        row=places[segment],
                        last_row=places[segment],
                        name=self.teller.block_name(segment, step, placement),
                        told=self._later(segment, job, step, placement),
                    )

    def _later(
        self, segment: SegmentId, job: Job, step: Stage | Gate, placement: Placement
    ) -> Later:
        return Later(self.memory, lambda teller: teller.block(segment, job, step, placement))

    def _block(self, job: Job, step: Stage | Gate, placed: Placement, band: int) -> Item:
        rough, fine = self.hours.pieces(placed.people, placed.start, placed.end)
        one_go = step.in_one_go and placed.part == ""
        whole = ((minute_of(placed.start), minute_of(placed.end)),)
        return Item(
            id=f"{step.id}{id_suffix(placed)}",
            role=Role.BLOCK,
            job=job.id,
            band=band,
            row=NO_ROW,
            last_row=NO_ROW,
            start=minute_of(placed.start),
            end=minute_of(placed.end),
            step=step.id,
            part=placed.part,
            round=placed.round,
            kind=kind_of(step, placed),
            hands=max(1, len(placed.people)),
            rough=whole if one_go else rough,
            fine=whole if one_go else fine,
            beyond=self.hours.beyond(placed.people, fine),
            label=say.part(self.words, placed.part) if placed.part else step.name,
            owner="" if isinstance(step, Stage) or placed.part else f"gate {step.id}",
            is_one_go=one_go,
            is_pinned=step.pin is not None,
            is_anew=self.teller.is_anew(placed),
            holds_place=isinstance(step, Stage) and step.stays and placed.place is not None,
            people=placed.people,
            initials=initials(self.words.names.of("person", each) for each in placed.people),
            place=placed.place,
            stands=stands(placed, self.facts[step.id], is_told=step.id in self.as_told),
            remaining=remaining(self.facts[step.id]),
        )

    def _seams(self, job: Job, step: Step, whole: tuple[int, int, int]) -> Iterable[Item]:
        if not isinstance(step, Gate):
            return
        band, first, last = whole
        for placement in self.placed[step.id]:
            if placement.part:
                continue
            name, description = self.teller.gate(job, step, placement)
            yield Item(
                id=f"gate {step.id}{id_suffix(placement)}",
                role=SEAMS[step.gate],
                job=job.id,
                band=band,
                row=first,
                last_row=last,
                start=minute_of(placement.start),
                end=minute_of(placement.end),
                step=step.id,
                round=placement.round,
                name=name,
                told=description,
                label=self.teller.seam_label(job, step, placement),
                short=self.teller.seam_label(job, step, placement, is_short=True),
                state=self._seam_state(step, placement),
                is_pinned=step.pin is not None,
                people=placement.people,
                place=placement.place,
            )

    def _seam_state(self, step: Gate, placement: Placement) -> str:
        kinds = {fact.kind for fact in self.facts[step.id]}
        if FactKind.ANSWER in kinds or FactKind.DONE in kinds or FactKind.GONE in kinds:
            return "done"
        is_overdue = step.gate is GateKind.ANSWER and placement.end < self.shown.now
        return "late" if is_overdue else "open"

    def _legs(self, job: Job, step: Step, whole: tuple[int, int, int]) -> Iterable[Item]:
        trip = self.trips.get(step.id)
        if not isinstance(step, Journey) or trip is None:
            return
        band, first, last = whole
        for index, (leg, time) in enumerate(zip(step.legs, trip.legs, strict=False)):
            name, description = self.teller.leg(job, leg, time)
            yield Item(
                id=f"leg {step.id} {index}",
                role=Role.LEG,
                job=job.id,
                band=band,
                row=first,
                last_row=last,
                start=minute_of(time.start),
                end=minute_of(time.end),
                step=step.id,
                leg=leg.kind,
                name=name,
                told=description,
                state="inside" if leg.inside else "",
            )

    def _row(
        self,
        job: Job,
        segment: SegmentId,
        row: int,
        band: int,
        blocks: list[Item],
        others: list[Item],
        bar: int | None,
    ) -> Row:
        mine = sorted((b for b in blocks if b.row == row), key=lambda b: (b.start, b.end))
        cures = [cure for block in mine if (cure := self._cure(block)) is not None]
        own = [block for block in mine if not block.owner]
        stops = sorted([*own, *others], key=lambda item: (item.start, item.end))
        return Row(
            segment=segment,
            band=band,
            name=next(s.name for s in job.segments if s.id == segment),
            stops=tuple(stops),
            blocks=tuple(mine),
            cures=tuple(cures),
            waits=tuple(waits_of(mine, cures)),
            spare=tail_of(mine, cures, bar, others),
        )

    def _cure(self, block: Item) -> Item | None:
        cured = self.cured.get(block.step) if block.step and not block.part else None
        if cured is None or minute_of(cured.ready) <= block.end:
            return None
        ready, latest = minute_of(cured.ready), cured.coat_by
        return replace(
            block,
            id=f"cure {block.id}",
            role=Role.CURE,
            owner=block.owner or block.id,
            start=block.end,
            end=ready,
            label=self.teller.cure_label(block.kind, ready - block.end),
            short=self.teller.cure_label(None, ready - block.end),
            recoat=None if latest is None else (ready, minute_of(latest)),
            is_pinned=False,
            is_anew=False,
        )

    def _band(
        self,
        job: Job,
        outcome: JobOutcome | None,
        whole: tuple[int, int, int],
        seams: list[Item],
        legs: list[Item],
        bar: int | None,
        blocks: list[Item],
    ) -> Band:
        _, first, last = whole
        held = job.held_window
        done_by = max((leg.end for leg in legs), default=None)
        header = self._header(job, outcome, whole)
        late = late_part(header, held, done_by, outcome)
        return Band(
            job=job.id,
            name=job.name,
            header=header,
            window=window_of(header, held, self.teller.window(job)),
            window_text=self.teller.window_on(job),
            window_day=self.teller.window_day(job),
            verdict=outcome.verdict if outcome else None,
            is_enquiry=job.standing is Standing.ENQUIRY,
            first_row=first,
            row_count=last - first + 1 if job.segments else 0,
            seams=tuple(seams),
            legs=tuple(legs),
            late=late,
            access=access_pieces(job, held),
            spare_text=self.teller.spare_text(outcome),
            late_text=self.teller.late_text(outcome) if late else "",
            bar=bar,
            done_by=done_by,
            is_held=is_held(blocks, self._now),
            site_zone=job.site.zone,
            shapes=shapes_of(job, self.facts),
        )

    def _header(self, job: Job, outcome: JobOutcome | None, whole: tuple[int, int, int]) -> Item:
        band, first, last = whole
        name, description = self.teller.job(job, outcome, self.shown.now)
        held = job.held_window
        start = minute_of(held.start) if held else self._now
        end = minute_of(held.end) if held else self._now
        return Item(
            id=f"job {job.id}",
            role=Role.JOB,
            job=job.id,
            band=band,
            row=first,
            last_row=last,
            start=start,
            end=end,
            name=name,
            told=description,
        )
