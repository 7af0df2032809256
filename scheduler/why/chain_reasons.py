"""From arcs and bars back to what people call them: why a stage was held up, and by whom."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime, timedelta

from scheduler.normalise import Normal
from scheduler.slack import working_minutes
from scheduler.teams import eligible
from scheduler.why.chain_links import Facts, LinkKind, Then
from scheduler.why.order_graph import OrderGraph, Sliding
from scheduler.why.order_values import Arc, Bar
from shared.book import Gate, GateKind, Job, Person, Stage, Step
from shared.ids import StepId
from shared.order import afters_of
from shared.units import STEP_MINUTES, instant_of

Cause = tuple[LinkKind, str, Facts]
_DAYTIME = timedelta(minutes=STEP_MINUTES)


class Reasons:
    """The names behind the order of one schedule, everything at its soonest."""

    def __init__(self, normal: Normal, graph: OrderGraph, soon: Sliding) -> None:
        """Take what is asked about."""
        self._normal, self._graph, self._soon = normal, graph, soon
        self._jobs: dict[str, Job] = {job.id: job for job in normal.book.jobs}
        self._steps: dict[StepId, Step] = {
            step.id: step for job in normal.book.jobs for step in job.steps
        }
        self._people: dict[str, Person] = {each.id: each for each in normal.book.people}

    def instant(self, step: int) -> str:
        """Return the instant of a step as text."""
        return self._at(step).isoformat()

    def _at(self, step: int) -> datetime:
        return instant_of(self._normal.origin, step)

    def cause(self, stage: int, by: Arc | Bar | None, moment: int, *, pulled: bool) -> Cause | None:
        """Return what held a stage up until a moment; None where nothing is worth telling."""
        if by is None:
            return self._own(stage, moment)
        if pulled:
            assert isinstance(by, Arc)
            step = self._normal.stages[by.after].step
            return LinkKind.RECOAT, step, (("next", step),)
        if by.kind == "wait":
            assert isinstance(by, Arc)
            return self._wait(stage, by, moment)
        if by.kind == "person":
            return self._person(stage, by)
        if isinstance(by, Bar) and by.kind == "trip":
            return LinkKind.JOURNEY, self._journey(by.job), ()
        return self._room(by)

    # Own

    def _own(self, stage: int, moment: int) -> Cause:
        name = self._normal.stages[stage]
        step = self._steps[name.step]
        if name.due is not None:
            return LinkKind.CLIENT, name.step, self._answered(name.step, name.due)
        if name.begun is not None:
            return LinkKind.FACT, name.step, (("what", "under_way"),)
        pin = None if not isinstance(step, Stage | Gate) else step.pin
        if pin is not None and pin != replace(pin, start=None, day=None, not_before=None):
            return LinkKind.PIN, name.step, ()
        if moment <= 0:
            return LinkKind.NOW, name.step, ()
        return self._of_done(name.job, step, moment) or (
            LinkKind.FACT,
            name.step,
            (("what", "not_before"),),
        )

    def _of_done(self, job: str, step: Step, moment: int) -> Cause | None:
        """Return the step before that is done and whose cure runs until then."""
        owner = self._jobs[job]
        cures = [
            before
            for after in afters_of(owner).get(step.id, ())
            if isinstance(before := self._steps.get(after.step), Stage) and before.cure_hours
        ]
        placed = {self._normal.stages[each].step for each in self._graph.placed}
        done = [before for before in cures if before.id not in placed]
        if isinstance(step, Stage | Gate) and step.not_before is None and done:
            longest = max(done, key=lambda each: each.cure_hours)
            return LinkKind.CURE, longest.id, (("before", longest.id),)
        return None

    # What comes before

    def _wait(self, stage: int, arc: Arc, moment: int) -> Cause | None:
        before = self._normal.stages[arc.before]
        came = self._soon.ends[arc.before]
        step = self._steps[before.step]
        facts: Facts = (
            ("before", before.step),
            ("before_part", before.part),
            ("ended", self.instant(came)),
        )
        if isinstance(step, Gate) and step.gate is GateKind.ANSWER and not before.part:
            return LinkKind.CLIENT, before.step, (*facts, *self._answered(before.step, None))
        if moment > came and arc.from_end:
            return LinkKind.CURE, before.step, facts
        if not before.is_told:
            return None
        return LinkKind.AFTER, before.step, facts

    def _answered(self, gate: StepId, due: datetime | None) -> Facts:
        step = self._steps[gate]
        who = step.answered_by.name if isinstance(step, Gate) and step.answered_by else None
        days = step.answer_days if isinstance(step, Gate) else None
        return (
            ("who", who),
            ("answer_days", days),
            ("due", None if due is None else due.isoformat()),
        )

    # People

    def _person(self, stage: int, by: Arc | Bar) -> Cause:
        assert by.worker is not None
        person = self._normal.workers[by.worker]
        facts: Facts = (("person", person), ("only", int(self._is_only(stage))))
        if isinstance(by, Arc):
            other = self._normal.stages[by.before]
            facts = (
                *facts,
                ("before", other.step),
                ("before_part", other.part),
                ("other_job", self._other_job(stage, other.job)),
                ("ended", self.instant(self._soon.ends[by.before])),
            )
        elif by.job is not None:
            facts = (*facts, ("journey", self._journey(by.job)), ("ended", self.instant(by.low)))
        else:
            facts = (*facts, ("work", self._work(person, by.low)), ("ended", self.instant(by.low)))
        return LinkKind.PERSON, person, facts

    def _other_job(self, stage: int, other: str) -> str | None:
        return None if other == self._normal.stages[stage].job else other

    def _is_only(self, stage: int) -> bool:
        """Return whether nobody else than the team can do a stage in its way."""
        call = self._graph.index.call(stage, self._graph.schedule.ways[stage])
        return len(self._graph.index.eligible(call)) <= call.hands_count

    def _work(self, person: str, until: int) -> str | None:
        """Return what a person does until then that is no stage, by its name."""
        end = self._at(until)
        works = (
            work
            for work in self._normal.book.other_work
            if person in work.people and work.start < end <= work.end + _DAYTIME
        )
        return next((work.name for work in works), None)

    def _journey(self, job: int | None) -> str:
        if job is None:
            return ""
        name = self._normal.jobs[job]
        return next((step for option in name.options for step, _ in option.rides), name.job.id)

    # Places

    def _room(self, by: Arc | Bar) -> Cause:
        assert by.room is not None
        name = self._normal.rooms[by.room]
        facts: Facts = ()
        if isinstance(by, Arc):
            other = self._normal.stages[by.before]
            facts = (
                ("before", other.step),
                ("other_job", other.job),
                ("ended", self.instant(self._soon.ends[by.before])),
            )
        else:
            facts = (("ended", self.instant(by.low)), ("booking", self._booking(by)))
        if by.kind == "air" or name.air is not None:
            beside = dict(facts).get("before") or name.place or name.air
            return LinkKind.AIR, str(beside or ""), facts
        if name.equipment is not None:
            return LinkKind.EQUIPMENT, name.equipment, (("equipment", name.equipment), *facts)
        kind = LinkKind.FLOOR if by.stands else LinkKind.PLACE
        return kind, name.place or "", (("place", name.place), *facts)

    def _booking(self, bar: Bar) -> str | None:
        name = self._normal.rooms[bar.room or 0]
        end = self._at(bar.low)
        book = self._normal.book
        bookings = [
            *(one for each in book.places if each.id == name.place for one in each.bookings),
            *(one for each in book.equipment if each.id == name.equipment for one in each.bookings),
        ]
        found = (one.name for one in bookings if one.start < end <= one.end + _DAYTIME)
        works = (
            work.name
            for work in book.other_work
            if (name.place in work.places or name.equipment in work.equipment)
            and work.start < end <= work.end + _DAYTIME
        )
        return next(iter((*found, *works)), None) or None

    # Beside the cause

    def then(self, stage: int, moment: int) -> Then:
        """Return what else passed from a moment to the start of a stage."""
        start = self._soon.starts[stage]
        graph, schedule = self._graph, self._graph.schedule
        way, team = schedule.ways[stage], schedule.teams[stage]
        if start <= moment or not graph.index.steps(team, way, stage):
            return Then.NOTHING
        asked = graph.index.problem.stages[stage]
        opens = graph.index.hours_at(team, way, stage).next_open(moment)
        if opens == start:
            return Then.OFF
        if asked.ways[way].clear is not None and any(
            not start <= a <= moment for a, _ in asked.ways[way].clear or ()
        ):
            unclear = replace(asked, ways=(replace(asked.ways[way], clear=None),))
            runs = graph.index.runs_of(
                graph.index.calendars_of(team, asked.ways[way].calendar, company=asked.company),
                unclear,
                None,
            )
            free = runs.fit(moment, graph.index.steps(team, way, stage))
            if free is not None and free[0] < start:
                return Then.CLIMATE
        return Then.ONE_GO if asked.one_go else Then.OFF

    def besides(self, stage: int, moment: int, then: Then) -> Iterator[Cause]:
        """Give whose leave lay between a moment and the start, and certificates that few hold."""
        start = self._soon.starts[stage]
        if then is Then.CLIMATE:
            step = self._normal.stages[stage].step
            yield LinkKind.CLIMATE, step, ()
        for worker in self._graph.schedule.teams[stage]:
            yield from self._leave(stage, worker, moment, start)
        yield from self._certificates(stage, moment, start)

    def _leave(self, stage: int, worker: int, moment: int, start: int) -> Iterator[Cause]:
        person = self._people[self._normal.workers[worker]]
        first, last = self._at(moment), self._at(start)
        workshop = self._normal.book.workshop
        for leave in person.leave:
            a, b = max(leave.start, first), min(leave.end, last)
            if a < b and working_minutes(workshop, a, b):
                facts: Facts = (
                    ("person", person.id),
                    ("only", int(self._is_only(stage))),
                    ("until", leave.end.isoformat()),
                    ("leave", 1),
                )
                yield LinkKind.PERSON, person.id, facts

    def _certificates(self, stage: int, moment: int, start: int) -> Iterator[Cause]:
        """Give a certificate that keeps others from a stage which waits for those who hold it."""
        index = self._graph.index
        asked = index.problem.stages[stage]
        if not asked.certificates or start <= moment:
            return
        call = index.call(stage, self._graph.schedule.ways[stage])
        holders = index.eligible(call)
        every = eligible(index.problem.workers, replace(call, certificates=()))
        without = [self._normal.workers[each] for each in every if each not in holders]
        step = self._steps[self._normal.stages[stage].step]
        named = step.certificates if isinstance(step, Stage) else ()
        if without and named:
            names = ", ".join(self._people[each].name for each in without)
            yield LinkKind.CERTIFICATE, named[0], (("certificate", named[0]), ("others", names))
