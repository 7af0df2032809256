"""What an item is called and what is read out of it, in one fixed order of sentences."""

from collections import defaultdict
from decimal import Decimal
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from app.window.wall.hours import Hours
from app.window.wall.parts import kind_of, remaining, stands
from app.words import Words, amounts, on_wall
from app.words import window as say
from app.words.voice import capital
from scheduler.dues import Due
from scheduler.outcome import JobOutcome, StepTimes
from shared.book import Book, Fact, Gate, GateKind, Job, Kind, Leg, Segment, Stage, Step
from shared.ids import JobId, SegmentId, StepId
from shared.plan import LegTime, Placement, Unplaced
from shared.units import STEP_SECONDS, STEPS_PER_HOUR

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from datetime import datetime

    from app.window.wall.causes import Causes
    from scheduler.cured import Cured

Told = tuple[str, str]
"""The name and the description of an item."""
UNPLACED_TOLD = 2

_SEAM_NAMES = {
    GateKind.ANSWER: say.ANSWER_NAME,
    GateKind.TRIAL_FIT: say.TRIAL_FIT_NAME,
    GateKind.LOADING: say.LOADING_NAME,
    GateKind.SITE: say.SITE_GATE_NAME,
}


class Teller:
    """Tells of one book's items: what, whose, kind and people, when, where, what is to spare."""

    def __init__(
        self,
        book: Book,
        words: Words,
        told: dict[tuple[StepId, int, str], Placement],
        hours: Hours,
        outcomes: dict[JobId, JobOutcome],
        *,
        cured: "Mapping[StepId, Cured]",
        dues: tuple[Due, ...] = (),
        unplaced: tuple[Unplaced, ...] = (),
    ) -> None:
        self.as_told: frozenset[StepId] = frozenset()
        """Steps that count as done or under way because the sheet says so."""
        self.causes: Callable[[], Causes] | None = None
        """Why the placements of the plan begin when they do; found when somebody first asks."""
        self._facts: dict[StepId, list[Fact]] = defaultdict(list)
        for fact in book.facts:
            self._facts[fact.step].append(fact)
        self.unplaced, self._cured = unplaced, cured
        self._by_coat: dict[StepId, list[Due]] = defaultdict(list)
        self._abraded: dict[StepId, list[Due]] = defaultdict(list)
        for due in dues:
            self._by_coat[due.coat].append(due)
            if due.is_abraded:
                self._abraded[due.next].append(due)
        self.book, self.words, self.told, self.hours = book, words, told, hours
        self.outcomes = outcomes
        self._steps = {step.id: step for job in book.jobs for step in job.steps}
        self._people = {person.id: person.name for person in book.people}
        self._places = {place.id: place.name for place in book.places}
        self._segments = {s.id: s for job in book.jobs for s in job.segments}
        self._times = {t.step: t for o in outcomes.values() for t in o.steps}

    def step(self, step: StepId | None) -> Step | None:
        """Return the step of that id."""
        return None if step is None else self._steps.get(step)

    def is_anew(self, placed: Placement) -> bool:
        """Say whether a told placement has changed."""
        if self.book.told is None:
            return False
        told = self.told.get((placed.step, placed.round, placed.part))
        if told is None:
            return True
        return (told.start, told.end, told.people, told.place) != (
            placed.start,
            placed.end,
            placed.people,
            placed.place,
        )

    def block_name(self, segment: SegmentId, step: Stage | Gate, placed: Placement) -> str:
        """Return what a block on a segment is called."""
        stage = step.name
        if placed.part:
            stage = say.part_of(self.words, placed.part, step.name)
        return self.words.say(say.STAGE_NAME, segment=self._segments[segment].name, stage=stage)

    def block(self, segment: SegmentId, job: Job, step: Stage | Gate, placed: Placement) -> str:
        """Return a block's text."""
        name = self.block_name(segment, step, placed)
        return " ".join([name + ".", *self._sentences(job, step, placed)])

    def _sentences(self, job: Job, step: Stage | Gate, placed: Placement) -> list[str]:
        sentences = [job.name + ".", self._who(step, placed), self._when(step, placed)]
        sentences += self._after(step, placed)
        sentences += self._spare(placed)
        return sentences + self._standing(step, placed) + self._waited(placed)

    def _who(self, step: Stage | Gate, placed: Placement) -> str:
        if isinstance(step, Gate) and not placed.part:
            kind = say.gate(self.words, step.gate)
        else:
            kind = say.kind(self.words, kind_of(step, placed))
        kind = kind[:1].upper() + kind[1:]
        people = [self._people.get(person, person) for person in placed.people]
        if not people:
            return self.words.say(say.NOBODY_HELD, kind=kind)
        return self.words.say(
            say.IN_ONE_GO if step.in_one_go and not placed.part else say.WITH_PAUSES,
            kind=kind,
            count=len(people),
            number=self.words.number_word(len(people)),
            people=self.words.series(people),
        )

    def _when(self, step: Step, placed: Placement) -> str:
        span = say.short_span(self.words, placed.start, placed.end)
        if placed.place is None:
            return self.words.say(say.FROM_TO, span=span)
        place = self._places.get(placed.place, placed.place)
        return self.words.say(say.FROM_TO_AT, span=span, place=place)

    def _after(self, step: Stage | Gate, placed: Placement) -> list[str]:
        """Say what comes after it: cure, recoat times; of an abrade stage why it is there."""
        if placed.part == "abrade":
            return [self._abraded_for(due) for due in self._abraded[step.id]]
        if placed.part or not isinstance(step, Stage):
            return []
        told = self._cure(step, placed)
        return told + [self._recoat(due) for due in self._by_coat[step.id]]

    def _cure(self, step: Stage, placed: Placement) -> list[str]:
        cured = self._cured.get(step.id)
        if cured is None or cured.ready <= placed.end:
            return []
        end = cured.ready
        quarters = -(-int((end - placed.end).total_seconds()) // STEP_SECONDS)
        whole, part = divmod(quarters, STEPS_PER_HOUR)
        told = [
            self.words.say(
                say.CURES[step.kind],
                count=whole + (part > 0),
                hours=(str(whole) if whole else "") + amounts.QUARTERS[part],
                end=say.short_moment(self.words, end),
            )
        ]
        if step.stays and placed.place is not None:
            place = self._places.get(placed.place, placed.place)
            told.append(self.words.say(say.PLACE_HELD, place=place[:1].upper() + place[1:]))
        return told

    def _recoat(self, due: Due) -> str:
        out_on = due.runs_out.astimezone(ZoneInfo(self.words.zone)).date()
        facts = {
            "next": self.words.names.bare_step(due.next),
            "moment": say.short_moment(self.words, due.runs_out),
            "day": say.short_day(self.words, due.last_day),
        }
        if due.is_abraded:
            template = say.RECOAT_ABRADED_OVER if due.ran_out else say.RECOAT_ABRADED
            return self.words.say(template, **facts)
        template = say.RECOAT if due.last_day == out_on else say.RECOAT_BY_A_DAY
        return capital(self.words.say(template, **facts))

    def _abraded_for(self, due: Due) -> str:
        moment = say.short_moment(self.words, due.runs_out)
        coat = self.words.names.of("step", due.coat)
        template = say.ABRADED_FOR_OVER if due.ran_out else say.ABRADED_FOR
        return capital(self.words.say(template, coat=coat, moment=moment))

    def due(self, due: Due) -> str:
        """Return what must follow a coat, to stand before the day."""
        job = self.words.names.of("job", due.job)
        return self.words.say(say.NEXT_COAT, next=self.words.names.of("step", due.next), job=job)

    def _spare(self, placed: Placement) -> list[str]:
        times = self._times.get(placed.step)
        if times is None or times.latest_start is None or placed.part:
            return []
        minutes = self.hours.spare_minutes(placed.start, times.latest_start)
        if not minutes:
            return [self.words.say(say.NOTHING_TO_SPARE)]
        return [self.words.say(say.TO_SPARE, spare=self.words.spare(minutes))]

    def _standing(self, step: Stage | Gate, placed: Placement) -> list[str]:
        told = []
        if sheet := self.book.told:
            day = sheet.at.astimezone(ZoneInfo(self.words.zone)).date()
            template = say.TOLD_ANEW if self.is_anew(placed) else say.AS_TOLD
            told.append(self.words.say(template, day=say.short_day(self.words, day)))
        facts = self._facts[step.id]
        how = stands(placed, facts, is_told=step.id in self.as_told)
        if how:
            told.append(self.words.say(on_wall.STANDS[how]))
        if how == "running" and (hours := remaining(facts)):
            told.append(self.words.say(on_wall.HOURS_GIVEN, hours=hours))
        if step.pin is not None:
            told.append(self.words.say(say.PINNED))
        return told

    def _waited(self, placed: Placement) -> list[str]:
        """Say what kept it from beginning sooner, from a quarter of a day on."""
        if self.causes is None or placed.part:
            return []
        causes = self.causes()
        cause = causes.of(placed)
        minutes = causes.waited(placed, cause)
        if cause.held is None or minutes < self.words.day_minutes // 4:
            return []
        span = self.words.late(minutes)
        if cause.place is None:
            return [self.words.say(say.WAITED_PEOPLE, span=span)]
        place = self._places.get(cause.place, cause.place)
        return [self.words.say(say.WAITED_PLACE, span=span, place=place)]

    def gate(self, job: Job, step: Gate, placed: Placement) -> Told:
        """Return a seam's name and text."""
        name = self.words.say(_SEAM_NAMES[step.gate], job=job.name)
        sentences = [name + "."]
        if step.gate is GateKind.ANSWER:
            who = step.answered_by or job.client
            out = say.short_moment(self.words, placed.start, who.zone)
            due = say.short_moment(self.words, placed.end, who.zone)
            template = say.ANSWER_DUE if step.answered_by is None else say.ANSWER_OF_OTHER_DUE
            sentences.append(self.words.say(template, out=out, due=due, who=who.name))
            if placed.round > 1:
                sentences.append(self.words.say(say.ANSWER_ROUND, round=placed.round))
        else:
            if step.ways:
                sentences.append(self._who(step, placed))
            sentences.append(self._when(step, placed))
        times = self._times.get(placed.step)
        if step.gate is GateKind.LOADING and times is not None and times.latest_start:
            by = say.short_moment(self.words, times.latest_start)
            sentences.append(self.words.say(say.LOADING_BY, moment=by))
        sentences += self._spare(placed)
        return name, " ".join([*sentences, *self._standing(step, placed)])

    def seam_label(self, job: Job, step: Gate, placed: Placement, *, is_short: bool = False) -> str:
        """Return the short words beside a seam."""
        if step.gate is GateKind.TRIAL_FIT:
            return self.words.say(say.TRIAL_FIT_SHORT)
        if step.gate is not GateKind.ANSWER:
            return ""
        who = step.answered_by or job.client
        day = placed.end.astimezone(ZoneInfo(who.zone)).date()
        template = say.ANSWER_SHORTER if is_short else say.ANSWER_SHORT
        return self.words.say(template, day=say.short_day(self.words, day))

    def cure_label(self, kind: Kind | None, minutes: int) -> str:
        """Return what stands over a cure, by its kind, or (None) only its hours."""
        hours = str(-(-minutes // 60))
        if kind is None:
            return self.words.say(say.CURE_SHORT, hours=hours)
        return say.cure_label(self.words, kind, hours)

    def leg(self, job: Job, leg: Leg, time: LegTime) -> Told:
        """Return a leg's name and text, in the site's zone once it is there."""
        word = leg.name or say.leg(self.words, leg.kind)
        name = self.words.say(say.LEG_NAME, job=job.name, leg=word)
        zone = job.site.zone if leg.inside else None
        span = say.short_span(self.words, time.start, time.end, zone)
        return name, f"{name}. {self.words.say(say.FROM_TO, span=span)}"

    def segment(self, job: JobId, segment: SegmentId) -> Told:
        """Return a row's name and text."""
        piece = self._segments[segment]
        owner = next(j.name for j in self.book.jobs if j.id == job)
        name = self.words.say(say.SEGMENT_NAME, segment=piece.name, job=owner)
        size = self.size(piece)
        return name, f"{name}. {size}".strip()

    def size(self, piece: Segment) -> str:
        """Return a segment's size as a sentence, or nothing."""
        if piece.length_m is None or piece.width_m is None or piece.height_m is None:
            return ""
        return self.words.say(
            say.SEGMENT_SIZE,
            length=_figure(piece.length_m),
            width=_figure(piece.width_m),
            height=_figure(piece.height_m),
        )

    def job(self, job: Job, outcome: JobOutcome | None, now: "datetime") -> Told:
        """Return a job's name with its window and verdict, and its sentences.

        They say by when the client must answer.
        """
        if job.held_window is None:
            name = self.words.say(say.JOB_NAME_WITHOUT_WINDOW, job=job.name)
            return name, f"{name}."
        day = self.window_day(job)
        if outcome is None:
            name = self.words.say(say.JOB_NAME_UNPLANNED, job=job.name, day=day)
            return name, f"{name}. {self.window(job)[1]}"
        name = self.words.say(
            say.JOB_NAME,
            job=job.name,
            day=day,
            verdict=self.words.verdict_mark(outcome.verdict),
            margin=self._margin(outcome),
        )
        line = self.words.verdict_line(outcome, now=now)
        told = [line, self.window(job)[1], *self._unplaced(job)]
        return name, " ".join(told)

    def _unplaced(self, job: Job) -> list[str]:
        """Say why steps of a job have no place, the first few."""
        mine = [step for step in self.unplaced if step.job == job.id]
        return [self.words.unplaced(step.step, step.code) for step in mine[:UNPLACED_TOLD]]

    def _margin(self, outcome: JobOutcome) -> str:
        if outcome.slack_minutes is not None:
            return self.words.say(say.SPARE_IN_NAME, spare=self.words.spare(outcome.slack_minutes))
        return self.late_text(outcome)

    def window(self, job: Job) -> Told:
        """Return the window's name and text, in the site's zone."""
        held = job.held_window
        if held is None:
            return "", self.words.say(say.NO_WINDOW)
        zone = job.site.zone
        first = held.start.astimezone(ZoneInfo(zone)).date()
        text = self.words.say(
            say.WINDOW_OURS,
            start=self.words.moment(held.start, after=first, zone=zone),
            end=self.words.moment(held.end, after=first, zone=zone),
        )
        name = self.words.say(say.WINDOW_ON, day=self.window_day(job))
        return name, text

    def window_day(self, job: Job) -> str:
        """Return the day on which the window opens, without its weekday's year."""
        held = job.held_window
        if held is None:
            return ""
        return say.short_day(self.words, held.start.astimezone(ZoneInfo(job.site.zone)).date())

    def window_on(self, job: Job) -> str:
        """Return the words for a window that is out of sight."""
        day = self.window_day(job)
        return self.words.say(say.WINDOW_ON, day=day) if day else ""

    def spare_text(self, outcome: JobOutcome | None) -> str:
        """Return the number over the tail."""
        if outcome is None or outcome.slack_minutes is None:
            return ""
        return say.quarters(self.words, outcome.slack_minutes, self.words.day_minutes)

    def late_text(self, outcome: JobOutcome | None) -> str:
        """Return the words in the torn part."""
        if outcome is None or not outcome.missed_by_minutes:
            return ""
        return self.words.say(say.LATE_WORDS, late=self.words.late(_missed(outcome)))

    def times(self, step: StepId) -> StepTimes | None:
        """Return a step counted back."""
        return self._times.get(step)


def _missed(outcome: JobOutcome) -> int:
    return outcome.missed_by_working_minutes or outcome.missed_by_minutes


def _figure(number: Decimal) -> str:
    return f"{number.normalize():f}"
