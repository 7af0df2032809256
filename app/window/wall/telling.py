"""What is said of a stage on its way to another place: when, who, and what it does to others."""

from collections.abc import Iterable
from dataclasses import dataclass

from app.window.wall.items import instant_at
from app.window.wall.judging import Bar, Judge, Judged
from app.words import Words, amounts
from app.words import on_wall as say
from app.words import window as wording
from scheduler.outcome import JobOutcome, Outcome, Verdict
from shared.ids import PersonId, StepId
from shared.plan import Plan

TOLD_JOBS = 2
_MET = frozenset({Verdict.FITS, Verdict.TIGHT})


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One line beside the pointer; is_alarm: somebody is late by it."""

    text: str
    is_bold: bool = False
    is_alarm: bool = False


class MoveTeller:
    """Tells of one stage that is being moved."""

    def __init__(self, words: Words, judge: Judge) -> None:
        self.words, self._judge = words, judge

    def lines(self, judged: Judged) -> tuple[Line, ...]:
        """Return when and who, why it is not where it was wished, and what else is in the way."""
        people = self.words.series(self._people(self._judge.placed.people))
        moment = wording.short_moment(self.words, instant_at(judged.start))
        template = say.MOVED_BY if people else say.MOVED_TO
        found = [Line(text=self.words.say(template, moment=moment, people=people), is_bold=True)]
        if judged.bar is not None:
            found.append(Line(text=self._bar(judged.bar)))
        if judged.abraded is not None:
            before = self.words.names.of("step", judged.abraded)
            found.append(Line(text=self.words.say(say.ABRADED_FIRST, before=before)))
        if judged.away:
            away = self.words.both(self._people(judged.away))
            found.append(Line(text=self.words.say(say.AWAY_THEN, people=away)))
        elif judged.busy:
            person, other = judged.busy[0]
            text = self.words.say(
                say.BUSY_THEN,
                people=self.words.names.of("person", person),
                other=self.words.names.of("step", other),
            )
            found.append(Line(text=text))
        return tuple(found)

    def _people(self, people: Iterable[PersonId]) -> list[str]:
        return [self.words.names.of("person", person) for person in people]

    def _bar(self, bar: Bar) -> str:
        """Return why it can't be where it was wished."""
        moment = wording.short_moment(self.words, instant_at(bar.minute)) if bar.minute else ""
        return self.words.say(
            say.HELD_BACK[bar.code],
            moment=moment,
            before=self.words.names.of("step", bar.about),
            skill=bar.about,
            length=amounts.hours(self.words, bar.minute, amounts.Role.SPAN),
            people=self.words.both(self._people(bar.people)),
        )

    def effect(self, before: Outcome | None, plan: Plan, after: Outcome) -> Line:
        """Return what it does to the jobs with the least to spare, and how many stages move."""
        step = self._judge.placed.step
        if not any(placed.step == step for placed in after.plan.placements):
            code = next((u.code for u in after.plan.unplaced if u.step == step), "")
            if not code:
                return Line(text=self.words.say(say.NOT_THERE_BARE), is_alarm=True)
            reason = self.words.unplaced(step, code)
            return Line(text=self.words.say(say.NOT_THERE, reason=reason), is_alarm=True)
        least = sorted(after.jobs, key=_spare)[:TOLD_JOBS]
        known = {job.id: job for job in before.jobs} if before else {}
        told = [self._job(known.get(job.id), job) for job in least]
        count = moved_count(plan, after.plan, step)
        others = say.OTHERS if count else say.NO_OTHERS
        told.append(self.words.say(others, count=count, number=self.words.number(count)))
        text = told[0]
        for more in told[1:]:
            text = self.words.say(say.TWO, one=text, other=more)
        return Line(text=text, is_alarm=any(job.verdict not in _MET for job in least))

    def _job(self, before: JobOutcome | None, after: JobOutcome) -> str:
        facts = {"job": after.name, "before": self._spare(before)}
        if after.slack_minutes is None:
            late = after.missed_by_working_minutes or after.missed_by_minutes
            was_met = before is not None and before.slack_minutes is not None
            template = say.JUDGED_LATE if was_met else say.JUDGED_STILL_LATE
            return self.words.say(template, late=self.words.late(late), **facts)
        spare = self.words.spare(after.slack_minutes)
        if before is not None and before.slack_minutes is None:
            return self.words.say(say.JUDGED_BETTER, spare=spare, **facts)
        if before is None or facts["before"] == self._spare(after):
            return self.words.say(say.JUDGED_SAME, spare=spare, **facts)
        return self.words.say(say.JUDGED_SPARE, spare=spare, **facts)

    def _spare(self, job: JobOutcome | None) -> str:
        if job is None or job.slack_minutes is None:
            return ""
        return wording.quarters(self.words, job.slack_minutes, self.words.day_minutes)


def moved_count(before: Plan, after: Plan, but: StepId) -> int:
    """Return how many other placements begin at another time or are done by others."""
    known = {(p.step, p.round, p.part): (p.start, p.people) for p in before.placements}
    return sum(
        1
        for p in after.placements
        if p.step != but and known.get((p.step, p.round, p.part)) != (p.start, p.people)
    )


def _spare(job: JobOutcome) -> tuple[int, str]:
    late = job.missed_by_working_minutes or job.missed_by_minutes
    return (job.slack_minutes or 0) - late, job.id
