"""Somebody who plans by a hand rule."""

from shared.book import Job
from shared.ids import JobId, PersonId
from tests.bench.year.abrading import put
from tests.bench.year.clock import quarter_up
from tests.bench.year.plans import Told
from tests.bench.year.rules import STANDARD_LEAD, Rule, job_slacks, short_jobs
from tests.bench.year.season import Season
from tests.bench.year.thinking import believed, think_on


class ByRule:
    """A planner with a rule, a calendar and a pencil."""

    def __init__(self, rule: Rule) -> None:
        """Take the rule."""
        self.name = rule.name
        self._rule = rule
        self._ranks: dict[JobId, float] = {}
        self._week = -1

    def accepts(self, season: Season, job: Job) -> bool:
        """Accept what the lead time allows; or try it, and take it if nobody is late for it."""
        floor = season.floor
        if not self._rule.tries:
            return quarter_up(job.windows[0].start) - floor.now >= STANDARD_LEAD
        before = short_jobs(self.plan(season), floor, season.shop_hours, 0)
        ahead = believed(floor)
        put(ahead, job)
        habits = self._rule.habits(ahead, season.shop_hours, self._ranks)
        told = think_on(ahead.copy(ahead.fate), habits, season.openings(floor.now))
        own = short_jobs(told, ahead, season.shop_hours, self._rule.buffer)
        return job.id not in own and short_jobs(told, ahead, season.shop_hours, 0) <= before

    def plan(self, season: Season) -> Told:
        """Plan anew from what is known this morning."""
        week = season.today.toordinal() // 7
        if week != self._week:
            self._week = week
            self._ranks = job_slacks(season.floor, season.shop_hours)
        habits = self._rule.habits(season.floor, season.shop_hours, self._ranks)
        return think_on(believed(season.floor), habits, season.openings(season.floor.now))

    def saturday(self, season: Season, told: Told) -> tuple[PersonId, ...]:
        """Have everybody in who offers it if a job is going to be late."""
        short = short_jobs(told, season.floor, season.shop_hours, self._rule.buffer // 2)
        return tuple(season.coming_saturday()) if short else ()

    def warned(self, season: Season, told: Told) -> frozenset[JobId]:
        """Warn of what the plan loads too late."""
        return short_jobs(told, season.floor, season.shop_hours, 0)
