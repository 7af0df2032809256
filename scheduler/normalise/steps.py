"""The steps of one job as stages of the problem, in an order in which each finds those before."""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import timedelta

from scheduler.grid import DAY_STEPS
from scheduler.normalise.abrading import Abrading, abrading, without_abrading
from scheduler.normalise.acts import clear_out_minutes
from scheduler.normalise.answers import answerer, due_at, overdue_until
from scheduler.normalise.climate import Places
from scheduler.normalise.climate_ways import limited, too_late
from scheduler.normalise.facts import told_placements
from scheduler.normalise.frame import Frame
from scheduler.normalise.limits import Limits, Link, Missing, Placed, Reached, Waits
from scheduler.normalise.names import StageName, WayName
from scheduler.normalise.never import Never
from scheduler.normalise.order import JobOrder, all_behind, is_answer, packed_before
from scheduler.normalise.over import over_elsewhere, over_of
from scheduler.normalise.pairing import asked_with_mates
from scheduler.normalise.running import running_stage
from scheduler.normalise.settings import Settings, common_settings, stage_settings
from scheduler.normalise.ways import Asked, Expanded, clash, expand
from scheduler.problem import Edge, Stage, Wait, Way
from scheduler.reasons import Reason
from shared import book
from shared.book import Fact, Gate, Job, Journey, Step
from shared.findings import Clash
from shared.ids import JobId, SegmentId, StepId
from shared.plan import Unplaced
from shared.units import hours_up


class Steps:
    """The stages of a problem as they are made, job by job."""

    def __init__(
        self,
        frame: Frame,
        planned: Iterable[Job],
        left_out: Mapping[StepId, Clash | None],
    ) -> None:
        """Start with none; planned: the jobs that will be added.

        left_out: steps to leave out, each with what forbids it for good, if that is known.
        """
        self.frame = frame
        self.left_out = left_out
        self.stages: list[Stage] = []
        self.names: list[StageName] = []
        self.ways: list[tuple[WayName, ...]] = []
        self.edges: list[Edge] = []
        self.clashes: list[tuple[JobId, Clash]] = []
        self.unplaced: list[Unplaced] = []
        self.told_placements = told_placements(frame.book)
        self._steps = {step.id: (job, step) for job in frame.book.jobs for step in job.steps}
        by_id = {step: found for step, (_, found) in self._steps.items()}
        self.never = Never(frame)
        self.by_id: Mapping[StepId, Step] = by_id
        self.reached = over_elsewhere(frame, planned)
        self.waits = Waits(self.reached, by_id, frame.grid, frame.climates)

    def add_job(
        self, job: Job, position: int, blocked: Mapping[SegmentId, Clash]
    ) -> dict[StepId, Reached]:
        """Make the stages of a job; return where each step, journeys apart, came to stand.

        blocked: segments that can't be worked on here, and why.
        """
        order = self.frame.order_of(job)
        is_loose = self._is_loose(job)
        reached: dict[StepId, Reached] = {}
        for step in order.steps:
            if isinstance(step, Journey) or step.id in order.behind:
                continue
            packed = packed_before(job, step, order.afters) if is_loose else ()
            limits = self.waits.limits(
                order.afters[step.id],
                packed,
                abrades=not is_answer(step),
                takes_off=isinstance(step, book.Stage) and bool(step.takes_off),
            )
            one = _Step(self, order, position, step, limits)
            clashes = []
            if blocked:
                pieces = sorted(order.touched[step.id])
                clashes = [blocked[piece] for piece in pieces if piece in blocked]
            reached[step.id] = one.blocked(tuple(clashes)) if clashes else one.make()
            self.reached[step.id] = reached[step.id]
        return reached

    def owner(self, step: StepId) -> JobId | None:
        """Return the job of a step, None where the book has no such step."""
        found = self._steps.get(step)
        return None if found is None else found[0].id

    def _is_loose(self, job: Job) -> bool:
        """Return whether the order of the list may not see to it that a loading comes last.

        A step may name what it comes after, or begin before what it should have waited for.
        """
        return any(
            step.after is not None or self.frame.told(step.id).has_begun for step in job.steps
        )

    def add_moment(self, job: Job, position: int, step: StepId, part: str, limits: Limits) -> int:
        """Add a moment that is no step of the book, beside one that is."""
        name = StageName(job=job.id, step=step, part=part)
        stage = Stage(ways=(Way(),), job=position, release=limits.release)
        return self.add(stage, name, (WayName(),), limits)

    def add(
        self,
        stage: Stage,
        name: StageName,
        ways: tuple[WayName, ...],
        limits: Limits,
        *,
        is_bound: bool = False,
    ) -> int:
        """Add a stage with its edges; return its position. is_bound: as `bind` returns it."""
        at = len(self.stages)
        if name.is_told and not is_bound:
            stage = self.bind(stage, name)
        self.stages.append(self._as_told(stage, name))
        self.names.append(name)
        self.ways.append(ways)
        self.edges += [
            Edge(
                before=link.before,
                after=at,
                least=link.least,
                most=link.most,
                from_start=link.from_start,
                most_table=link.most_table,
                in_doubt=link.in_doubt,
            )
            for link in limits.links
        ]
        return at

    def bind(self, stage: Stage, name: StageName) -> Stage:
        """Return a stage with what company and the limits of a day ask of it."""
        job, step = self._steps[name.step]
        return self.frame.laws.bind(self.frame.order_of(job), step, name.part, stage)

    def bound(self) -> tuple[Stage, ...]:
        """Return the stages, those of the same people bound to each other."""
        if not self.frame.mates.are_any:
            return tuple(self.stages)
        places = {
            name.step: at for at, name in enumerate(self.names) if not name.part and not name.round
        }
        return self.frame.mates.bound(self.stages, places)

    def clashing(self, job: Job, step: StepId, clashes: tuple[Clash, ...]) -> Missing:
        """Note that a step stands in no plan, and why."""
        self.clashes += [(job.id, each) for each in clashes]
        code = Reason(clashes[0].code)
        self.leave_out(job, step, code)
        return Missing(code=code)

    def leave_out(self, job: Job, step: StepId, code: Reason) -> None:
        """Note that a step stands in no plan."""
        self.unplaced.append(Unplaced(job=job.id, step=step, code=code.value))

    def _as_told(self, stage: Stage, name: StageName) -> Stage:
        if not self.told_placements:
            return stage
        told = self.told_placements.get((name.step, name.round, name.part))
        if told is None or not name.is_told or name.begun is not None:
            return stage
        team = self.frame.positions_of(told.people)
        start = self.frame.grid.down(told.start)
        return replace(stage, told_start=start, told_team=team)


_NO_WAIT = Wait()


class _Step:
    """One step on its way into the problem."""

    def __init__(
        self, steps: Steps, order: JobOrder, position: int, step: book.Stage | Gate, limits: Limits
    ) -> None:
        self._steps, self._frame = steps, steps.frame
        self._order, self._job, self._position = order, order.job, position
        self._step, self._limits = step, limits
        self._told = steps.frame.told(step.id)
        self._changes = self._changes_to_do()

    @property
    def _finished(self) -> Fact | None:
        """Return the fact that ended the step, None while changes are still to be done."""
        return None if self._changes else self._told.finished

    def _changes_to_do(self) -> tuple[book.Way, ...]:
        """Return the ways of the changes that a yes asked for, none once they are done.

        They are done when somebody told so, or when something behind the answer has begun.
        """
        gate = self._step
        if not isinstance(gate, Gate) or gate.changes is None or not self._told.asks_changes:
            return ()
        behind = all_behind(gate.id, self._order.afters)
        has_gone_on = any(self._frame.told(step).has_begun for step in behind)
        return () if has_gone_on else gate.changes.ways

    def blocked(self, troubles: tuple[Clash, ...]) -> Reached:
        """Note that its pieces can't be worked on here, unless the step is done already."""
        if self._finished is not None or self._limits.missing is not None:
            return self.make()
        return self._steps.clashing(self._job, self._step.id, troubles)

    def make(self) -> Reached:
        """Make the stages of the step, or find why there are none."""
        finished = self._finished
        if finished is not None:
            self._keep_place(finished)
            return over_of(self._frame, self._step, finished)
        missing = self._limits.missing
        if self._step.id in self._steps.left_out:
            forbidden = self._steps.left_out[self._step.id]
            if forbidden is not None:
                return self._steps.clashing(self._job, self._step.id, (forbidden,))
            missing = Reason.NOT_PLACED
        if missing is not None:
            self._steps.leave_out(self._job, self._step.id, missing)
            return Missing(code=missing)
        if isinstance(self._step, Gate) and is_answer(self._step):
            return self._changed(self._step) if self._changes else self._answer(self._step)
        if self._told.running is not None:
            return self._running(self._told.running)
        return self._work()

    def _keep_place(self, done: Fact) -> None:
        """Hold the place of a step that is done through its cure, if it stays, and clear-out."""
        step, rooms, told = self._step, self._frame.rooms, self._told
        place = None if told.place is None else rooms.places.get(told.place)
        if place is None:
            return
        way = next((way for way in step.ways if way.id == told.way), book.Way(id=""))
        units = rooms.units_at_work(
            self._frame.book.workshop, self._order.segments(step), way, place
        )
        stays = isinstance(step, book.Stage) and step.stays
        ready = over_of(self._frame, step, done).ready if stays else done.at
        minutes = clear_out_minutes(place, self._order.acts(step))
        until = ready + timedelta(minutes=minutes)
        rooms.take(rooms.of_place(place.id), units, until)

    def _settings(self) -> Settings:
        if isinstance(self._step, Gate):
            return common_settings(self._frame, self._job, self._step, self._limits)
        return stage_settings(self._frame, self._job, self._step, self._limits)

    def _asked(self) -> Asked:
        step, pin = self._step, self._step.pin
        stage = step if isinstance(step, book.Stage) else None
        people = stage.people if stage is not None else ()
        if pin is not None and pin.people:
            people = (*people, *pin.people)
        return Asked(
            step=step.id,
            segments=self._order.segments(step),
            in_one_go=step.in_one_go,
            stays=stage is not None and stage.stays,
            people=tuple(dict.fromkeys(people)) if people else (),
            certificates=stage.certificates if stage is not None else (),
            acts=self._order.acts(step),
        )

    def _work(self) -> Reached:
        abrade = abrading(self._frame, self._order, self._step, self._limits)
        if abrade is not None and self._never_done(abrade, "abrade") is not None:
            abrade = None
        if abrade is None:
            self._limits = without_abrading(self._limits)
        settings, asked = self._settings(), self._asked()
        trouble = settings.trouble
        if trouble is not None:
            return self._steps.clashing(self._job, self._step.id, (self._named(trouble),))
        if isinstance(self._step, book.Stage):
            with_mates = asked_with_mates(self._frame, self._step, asked)
            if isinstance(with_mates, Clash):
                return self._steps.clashing(self._job, self._step.id, (with_mates,))
            asked = with_mates
        found = self._kept_dry_and_warm(expand(self._frame, self._step.ways, asked))
        if not found.ways:
            clashes = found.clashes or (self._named(Reason.NO_WAY),)
            return self._steps.clashing(self._job, self._step.id, clashes)
        places = _places(found)
        name = StageName(job=self._job.id, step=self._step.id)
        stage = self._stage(settings, asked, found, places)
        never = self._steps.never.why(stage)
        if never is not None:
            return self._steps.clashing(self._job, self._step.id, (self._named(never),))
        at = self._steps.add(stage, name, found.names, self._limits, is_bound=True)
        if abrade is not None:
            lifted = Abrading(self._frame, self._steps.add, name, self._position)
            self._steps.edges += lifted.edges(at, self._limits, abrade)
        return Placed(first=at, last=at, places=places)

    def _stage(self, settings: Settings, asked: Asked, found: Expanded, places: Places) -> Stage:
        frame, step = self._frame, self._step
        certificates = asked.certificates
        company, piece, sands = frame.laws.asked(self._order, step, "", found.ways)
        return Stage(
            ways=found.ways,
            job=self._position,
            one_go=settings.one_go,
            watch=settings.watch,
            release=settings.release,
            start_by=settings.start_by,
            fixed_start=settings.fixed_start,
            asked=frame.positions_of(asked.people),
            only_asked=asked.only_people,
            longest_pause=settings.longest_pause,
            cure=frame.climates.wait(step, places),
            quickest=frame.climates.quickest(step, places),
            certificates=tuple(map(frame.certificates.position, certificates)),
            company=company,
            piece=piece,
            sands=sands,
        )

    def _kept_dry_and_warm(self, found: Expanded) -> Expanded:
        """Return the ways when the material allows them; note it where that is too late."""
        if not isinstance(self._step, book.Stage):
            return found
        found = limited(self._frame, self._step, found)
        clash = too_late(self._frame, self._order, self._step, found)
        if clash is not None:
            self._steps.clashes.append((self._job.id, clash))
        return found

    def _named(self, reason: Reason) -> Clash:
        return clash(reason, step=self._step.id)

    def _running(self, fact: Fact) -> Reached:
        if not self._step.ways:
            return self._work()
        stage, found = running_stage(self._frame, self._step, fact, self._asked())
        if not found.ways:
            clashes = found.clashes or (self._named(Reason.NO_WAY),)
            return self._steps.clashing(self._job, self._step.id, clashes)
        places = _places(found)
        cure = self._frame.climates.wait(self._step, places)
        stage = replace(stage, job=self._position, cure=cure)
        name = StageName(job=self._job.id, step=self._step.id, begun=fact.at)
        at = self._steps.add(stage, name, found.names, Limits())
        return Placed(first=at, last=at, places=places)

    def _answer(self, gate: Gate) -> Reached:
        """Make the rounds that are still to come, the one being waited for among them."""
        noes = self._told.noes
        number = len(noes) + 1
        shown = self._told.pictures[len(noes)] if len(self._told.pictures) > len(noes) else None
        limits = self._limits
        if noes:
            limits = replace(limits, release=max(limits.release, self._frame.grid.up(noes[-1].at)))
        parts = [(each, "rework") for each in ([number - 1] if noes and shown is None else [])]
        for each in range(number, max(1 + gate.allow_no, number) + 1):
            parts += [(each - 1, "rework")] if each > number else []
            parts.append((each, ""))
        if gate.rework is None or not gate.rework.ways:
            parts = [part for part in parts if not part[1]]
        return self._rounds(gate, parts, limits, shown)

    def _changed(self, gate: Gate) -> Reached:
        """Make the changes that the yes asked for; the answer is over when they are."""
        found = self._besides(self._changes, "changes")
        if not found.ways:
            return self._steps.clashing(self._job, gate.id, found.clashes)
        yes = self._told.answered[-1]
        limits = Limits(
            links=tuple(replace(link, most=None, most_table=None) for link in self._limits.links),
            release=max(0, self._limits.release, self._frame.grid.up(yes.at)),
        )
        cure = Wait(least=hours_up(gate.cure_hours))
        number = len(self._told.answered)
        at = self._between(gate, number, "changes", limits, found, cure)
        return Placed(first=at, last=at)

    def _besides(self, ways: tuple[book.Way, ...], part: str) -> Expanded:
        """Return the ways of work that an answer calls for, as far as anybody can ever do it."""
        asked = Asked(
            step=self._step.id,
            segments=self._order.segments(self._step),
            acts=self._order.acts(self._step, part),
        )
        found = expand(self._frame, ways, asked)
        never = self._never_done(found, part)
        if never is None:
            return found
        return Expanded(ways=(), names=(), clashes=(self._named(never),))

    def _never_done(self, found: Expanded, part: str) -> Reason | None:
        """Return why nobody can ever do what is worked besides a step."""
        longest = self._frame.book.workshop.longest_pause_days * DAY_STEPS
        stage = Stage(ways=found.ways, longest_pause=longest)
        name = StageName(job=self._job.id, step=self._step.id, part=part)
        return self._steps.never.why(self._steps.bind(stage, name)) if found.ways else None

    def _rounds(
        self, gate: Gate, parts: list[tuple[int, str]], limits: Limits, shown: Fact | None
    ) -> Reached:
        rework = self._besides(() if gate.rework is None else gate.rework.ways, "rework")
        if not rework.ways and any(part for _, part in parts):
            return self._steps.clashing(self._job, gate.id, rework.clashes)
        placed: list[int] = []
        for number, part in parts:
            after = limits if not placed else Limits(links=(_right_behind(placed[-1]),))
            if part:
                placed.append(self._between(gate, number, part, after, rework))
            elif shown is not None and not placed:
                placed.append(self._awaited(gate, number, shown))
            else:
                placed.append(self._round(gate, number, after, is_first=number == parts[0][0]))
        return Placed(first=placed[0], last=placed[-1])

    def _round(self, gate: Gate, number: int, limits: Limits, *, is_first: bool) -> int:
        """Add a round: the pictures go out in no time, the answer is like a cure."""
        settings = common_settings(self._frame, self._job, gate, limits)
        if not is_first or number > 1:
            settings = Settings(release=limits.release)
        client = answerer(self._job, gate)
        table = self._frame.dues.table(client, gate, hours_up(gate.cure_hours))
        stage = replace(
            settings.stage(self._position), ways=(Way(),), one_go=False, cure=Wait(table=table)
        )
        name = StageName(job=self._job.id, step=gate.id, round=number)
        return self._steps.add(stage, name, (WayName(),), limits)

    def _awaited(self, gate: Gate, number: int, shown: Fact) -> int:
        """Add a round whose pictures are out: a moment that is no sooner than the answer."""
        who = answerer(self._job, gate)
        due = due_at(who, gate, shown.at)
        self._frame.reads.now = True
        if due < self._frame.now:
            due = overdue_until(who, gate, self._frame.now)
        stage = Stage(
            ways=(Way(),),
            job=self._position,
            release=max(0, self._frame.grid.up(due)),
            cure=Wait(least=hours_up(gate.cure_hours)),
        )
        name = StageName(job=self._job.id, step=gate.id, round=number, begun=shown.at, due=due)
        return self._steps.add(stage, name, (WayName(),), Limits())

    def _between(
        self,
        gate: Gate,
        number: int,
        part: str,
        limits: Limits,
        found: Expanded,
        cure: Wait = _NO_WAIT,
    ) -> int:
        """Add the work that an answer calls for: rework after a no, changes after a yes."""
        stage = Stage(
            ways=found.ways,
            job=self._position,
            release=limits.release,
            longest_pause=self._frame.book.workshop.longest_pause_days * DAY_STEPS,
            cure=cure,
        )
        name = StageName(job=self._job.id, step=gate.id, part=part, round=number)
        return self._steps.add(stage, name, found.names, limits)


def _places(found: Expanded) -> Places:
    return tuple(dict.fromkeys(name.place for name in found.names))


def _right_behind(stage: int) -> Link:
    return Link(before=stage, least=0, most=None, from_start=False)
