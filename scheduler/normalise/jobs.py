"""A job as an aim of the problem: its loading, window, wish, floor and journey."""

from collections.abc import Mapping, Sequence, Sized
from dataclasses import replace
from datetime import datetime

from scheduler.grid import joined
from scheduler.normalise.frame import Frame
from scheduler.normalise.limits import Missing, Over, Placed, Reached
from scheduler.normalise.load_and_go import standing_of
from scheduler.normalise.memory import Inputs, Kept, Known, State
from scheduler.normalise.names import JobName
from scheduler.normalise.order import journeys_of
from scheduler.normalise.part import Deeds, Made, Part, Place
from scheduler.normalise.passing import kept_segments
from scheduler.normalise.people import workshop_calendar
from scheduler.normalise.reads import Reads
from scheduler.normalise.standing import Standings, blocked_segments
from scheduler.normalise.steps import Steps
from scheduler.normalise.trips import Delivery, delivery_of, latest_departure
from scheduler.normalise.ways import clash
from scheduler.problem import JobAim, Trip
from scheduler.reasons import Reason
from shared.book import Gate, GateKind, Job, Journey, Standing, Window, Workshop
from shared.ids import JobId, StepId
from shared.worktime import NoWorkingTime, subtract_working


class Jobs:
    """The aims of a problem as they are made, job by job."""

    def __init__(self, frame: Frame, steps: Steps, late: Mapping[JobId, int], known: Known) -> None:
        """Start with none. late: by job, from when on departures that miss are wanted.

        known: jobs as they were made before.
        """
        self._frame, self._steps, self._late = frame, steps, late
        self._known = known
        self.standings = Standings(frame, steps)
        self.aims: list[JobAim] = []
        self.names: list[JobName] = []
        self.kept: dict[JobId, Kept] = {}

    def add(self, job: Job) -> None:
        """Add a job that has not left yet: as it was made before, where nothing changed."""
        inputs, state = self._known.inputs(job, self._late.get(job.id)), self._known.state()
        kept = self._known.find(inputs, state)
        if kept is not None:
            kept = replace(kept, part=kept.part.at(self._place()))
            self._take_over(kept.part)
        else:
            kept = self._made(inputs, state)
        self.kept[job.id] = kept

    def _place(self) -> Place:
        return Place(
            first=len(self._steps.stages),
            position=len(self.aims),
            piece=self._frame.laws.pieces_count,
        )

    def _made(self, inputs: Inputs, state: State) -> Kept:
        """Make a job, and keep it with what it looked at and what it did."""
        frame, job, place = self._frame, inputs.job, self._place()
        frame.reads = Reads()
        frame.presence.asked = frame.reads.presence
        frame.skills.asked, frame.certificates.asked = {}, {}
        marks = self._counts()
        self._make(job)
        made = self._since(marks, place)
        rooms, held, noted = marks[-3:]
        deeds = Deeds(
            taken=tuple(frame.rooms.log[rooms:]),
            held=tuple(frame.held_log[held:]),
            noted=tuple(frame.air.log[noted:]),
            skills=tuple(frame.skills.asked.items()),
            certificates=tuple(frame.certificates.asked.items()),
        )
        part = Part(job, place, made, deeds)
        off = self._known.off(frame.reads)
        return Kept(part=part, inputs=inputs, state=state, reads=frame.reads, off=off)

    def _counts(self) -> tuple[int, ...]:
        """Return how much there is of everything that grows with a job."""
        frame, steps = self._frame, self._steps
        grown: tuple[Sized, ...] = (
            *(steps.stages, steps.edges, steps.clashes, steps.unplaced, self.standings.holds),
            *(frame.rooms.log, frame.held_log, frame.air.log),
        )
        return tuple(map(len, grown))

    def _since(self, marks: tuple[int, ...], place: Place) -> Made:
        """Return what was made of the last job since everything had grown to so much."""
        stages, edges, clashes, unplaced, holds = marks[:5]
        steps, name = self._steps, self.names[-1]
        own = (step.id for step in name.job.steps)
        return Made(
            stages=tuple(steps.stages[stages:]),
            names=tuple(steps.names[stages:]),
            ways=tuple(steps.ways[stages:]),
            edges=tuple(steps.edges[edges:]),
            clashes=tuple(steps.clashes[clashes:]),
            unplaced=tuple(steps.unplaced[unplaced:]),
            holds=tuple(self.standings.holds[holds:]),
            reached={step: steps.reached[step] for step in own if step in steps.reached},
            aim=self.aims[-1],
            name=name,
            pieces_count=self._frame.laws.pieces_count - place.piece,
        )

    def _take_over(self, part: Part) -> None:
        """Add a job as it was made before, and do what its making did."""
        frame, steps, made, deeds = self._frame, self._steps, part.made, part.deeds
        steps.stages += made.stages
        steps.names += made.names
        steps.ways += made.ways
        steps.edges += made.edges
        steps.clashes += made.clashes
        steps.unplaced += made.unplaced
        steps.reached |= made.reached
        self.standings.holds += made.holds
        self.aims.append(made.aim)
        self.names.append(made.name)
        frame.laws.skip_pieces(made.pieces_count)
        for room, units, until in deeds.taken:
            frame.rooms.take(room, units, until)
        for worker, span in deeds.held:
            frame.hold(worker, span)
        for place, acts, end, wet_hours, is_over in deeds.noted:
            frame.air.note(place, acts, end, wet_hours, is_over=is_over)

    def _make(self, job: Job) -> None:
        position, first_edge = len(self.aims), len(self._steps.edges)
        blocked = {**blocked_segments(self._frame, job), **kept_segments(self._frame, job)}
        reached = self._steps.add_job(job, position, blocked)
        made = _Job(self._frame, self._steps, job, reached)
        lasts = made.lasts(position)
        delivery = made.delivery(self._late.get(job.id)) if made.can_leave else None
        loaded: tuple[int, ...] = ()
        if delivery is not None and delivery.trip.stands_most is not None:
            loaded = made.load_late(lasts, delivery.trip)
        latest = made.latest(delivery)
        self.aims.append(
            JobAim(
                lasts=lasts,
                latest=latest,
                wish=made.wish(latest),
                firm=job.standing is not Standing.ENQUIRY,
                floor=self.standings.add(job, reached, first_edge),
                trip=None if delivery is None else delivery.trip,
                loaded=loaded,
                guessed=made.guessed,
            )
        )
        self.names.append(
            JobName(
                job=job,
                options=() if delivery is None else delivery.options,
                done_at=made.done_at(),
                behind=made.behind(),
                others=made.others(),
                more=made.more,
            )
        )


class _Job:
    """One job on its way into the problem, its steps already there."""

    def __init__(
        self, frame: Frame, steps: Steps, job: Job, reached: Mapping[StepId, Reached]
    ) -> None:
        self._frame, self._steps, self._job, self._reached = frame, steps, job, reached
        self._order = frame.order_of(job)
        self._afters = self._order.afters
        self._lasts = [reached[step] for step in self._order.lasts if step in reached]
        self._journeys = journeys_of(job)
        self._standing = standing_of(job, self._afters)
        self.more = False
        self.guessed = False

    @property
    def can_leave(self) -> bool:
        """Return whether there is a journey, and nothing that keeps the job here for ever."""
        if not self._journeys:
            return False
        trouble = self._keeps_here()
        if trouble is None:
            return True
        if trouble is Reason.NO_WINDOW:
            self._note(trouble)
        for journey in self._journeys:
            self._steps.leave_out(self._job, journey.id, trouble)
        return False

    def _keeps_here(self) -> Reason | None:
        if any(isinstance(last, Missing) for last in self._lasts):
            return Reason.FOLLOWS_UNPLACED
        return Reason.NO_WINDOW if self._job.held_window is None else None

    def lasts(self, position: int) -> tuple[int, ...]:
        """Return the stages whose end is the end of loading.

        Where a cure or a wait lies between them and the journey, or some are done, the moment
        at which all is ready to leave is a stage of its own.
        """
        placed = [last.last for last in self._lasts if isinstance(last, Placed)]
        if not self._journeys or any(isinstance(last, Missing) for last in self._lasts):
            return tuple(dict.fromkeys(placed))
        befores = tuple(
            after
            for journey in self._journeys
            for after in self._afters[journey.id]
            if after.step in self._reached
        )
        limits = self._steps.waits.limits(befores)
        stages = self._steps.stages
        plain = all(
            not link.least
            and not link.from_start
            and not stages[link.before].cure.least
            and stages[link.before].cure.table is None
            for link in limits.links
        )
        if placed and plain and limits.release <= 0:
            return tuple(dict.fromkeys(placed))
        journey = self._journeys[0].id
        return (self._steps.add_moment(self._job, position, journey, "ready", limits),)

    def delivery(self, late: int | None) -> Delivery | None:
        """Return the trip; None, and the journeys left out, where none gets there at all."""
        window = self._job.held_window
        if window is None:
            return None
        found = delivery_of(self._frame, self._job, window, self._afters, self._loaded_at(), late)
        self.more, self.guessed = found.more, found.guessed
        if found.trouble is not None and not found.guessed:
            self._note(found.trouble)
        if found.options:
            return found
        for journey in self._journeys:
            self._steps.leave_out(self._job, journey.id, Reason.NO_DEPARTURE)
        return None

    def _loaded_at(self) -> int | None:
        """Return when lorries that may not stand were loaded, where that is a fact."""
        loads = [self._reached[step] for step in self._standing.loads if step in self._reached]
        over = [load.end for load in loads if isinstance(load, Over)]
        return self._frame.grid.up(max(over)) if over and len(over) == len(loads) else None

    def load_late(self, lasts: Sequence[int], trip: Trip) -> tuple[int, ...]:
        """Let loading end soon enough before a departure; return what loads, if not the lasts."""
        loads = (self._reached.get(step) for step in self._standing.loads)
        placed = tuple(dict.fromkeys(load.last for load in loads if isinstance(load, Placed)))
        if len(placed) == 1 and trip.stands_most is not None:
            (load,) = placed
            ends = joined((one.leaves - trip.stands_most, one.leaves + 1) for one in trip.options)
            stages = self._steps.stages
            stages[load] = replace(stages[load], ends=ends)
        return () if placed == tuple(lasts) else placed

    def latest(self, delivery: Delivery | None) -> int | None:
        """Return the latest end of loading that makes the window, None where nothing does."""
        if self._journeys:
            if delivery is None or not delivery.trip.makes_window:
                return None
            return max(going.leaves for going in delivery.trip.options if going.in_time)
        if any(isinstance(last, Missing) for last in self._lasts):
            return None
        return self._window_end()

    def others(self) -> tuple[tuple[Window, int | None], ...]:
        """Return the windows that are not held, by their starts, and the latest loading of each."""
        held = self._job.held_window
        others = [window for window in self._job.windows if window is not held]
        if any(isinstance(last, Missing) for last in self._lasts):
            return tuple((window, None) for window in sorted(others, key=_start))
        return tuple((window, self._latest_for(window)) for window in sorted(others, key=_start))

    def _latest_for(self, window: Window) -> int | None:
        if self._journeys:
            return latest_departure(self._frame, self._job, window, self._afters)
        end = self._frame.grid.down(window.end)
        return end if end >= 0 else None

    def _window_end(self) -> int | None:
        window = self._job.held_window
        if window is None:
            self._note(Reason.NO_WINDOW)
            return None
        end = self._frame.grid.down(window.end)
        if end < 0 and self.done_at() is None:
            self._note(Reason.WINDOW_PAST)
            return None
        return end

    def wish(self, latest: int | None) -> int | None:
        """Return the end of loading that leaves the buffer wished for."""
        if latest is None:
            return None
        workshop, grid = self._frame.book.workshop, self._frame.grid
        seconds = wished_buffer_minutes(workshop, self._job) * 60
        calendar = workshop_calendar(workshop)
        try:
            return grid.down(subtract_working(calendar, grid.instant(latest), seconds))
        except NoWorkingTime:
            return 0

    def done_at(self) -> datetime | None:
        """Return when loading ended, where all of it is done."""
        over = [last.end for last in self._lasts if isinstance(last, Over)]
        return max(over) if over and len(over) == len(self._lasts) else None

    def behind(self) -> tuple[StepId, ...]:
        """Return the doors at the site, which come after the journey; leave out other steps."""
        doors: list[StepId] = []
        for step in self._job.steps:
            if step.id not in self._order.behind or isinstance(step, Journey):
                continue
            if isinstance(step, Gate) and step.gate is not GateKind.ANSWER and not step.ways:
                doors.append(step.id)
            else:
                self._steps.leave_out(self._job, step.id, Reason.AFTER_JOURNEY)
        return tuple(doors)

    def _note(self, reason: Reason) -> None:
        self._steps.clashes.append((self._job.id, clash(reason)))


def _start(window: Window) -> datetime:
    return window.start


def wished_buffer_minutes(workshop: Workshop, job: Job) -> int:
    """Return the working time wished for before the latest loading; a day is a normal shift."""
    days = job.wished_buffer_days
    wished = workshop.wished_buffer_days if days is None else days
    return int(wished * workshop.shift_hours * 60)
