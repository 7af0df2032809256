"""The different forms of the teams for a stage, as far as time goes.

Teams that keep the same hours and need as long are one form, however many they are.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from scheduler.calendar import Calendars, Index
from scheduler.problem import Spans
from scheduler.teams import Call, until, work_steps
from scheduler.terms import FOREVER


@dataclass(frozen=True, slots=True, kw_only=True)
class Form:
    """A team as far as time goes: calendars that bind it, steps it needs, certificates' end.

    clear: as of the way.
    """

    calendars: Calendars
    work: int
    late: int = FOREVER
    clear: Spans | None = None


_Kind = tuple[tuple[Fraction, ...] | None, Calendars, int]


class Forms:
    """The different forms of a stage's teams; stages that call for the same share them."""

    def __init__(self, index: Index) -> None:
        self._index = index
        self._by_call: dict[object, tuple[_Kind, ...]] = {}
        self._forms: dict[object, tuple[Form, ...]] = {}

    def of(self, stage: int) -> tuple[Form, ...]:
        """Return every form in which a stage can be done, those with least work first."""
        asked = self._index.problem.stages[stage]
        ways = asked.ways
        key = (
            asked.company,
            tuple(
                (self._index.call(stage, way), each.work, each.calendar, each.clear)
                for way, each in enumerate(ways)
            ),
        )
        found = self._forms.get(key)
        if found is None:
            forms = {form for way in range(len(ways)) for form in self._of_way(stage, way)}
            found = tuple(sorted(forms, key=_rank))
            self._forms[key] = found
        return found

    def _of_way(self, stage: int, way: int) -> Iterable[Form]:
        company = self._index.problem.stages[stage].company
        asked = self._index.problem.stages[stage].ways[way]
        call = self._index.call(stage, way)
        if self._index.has_too_many_teams(call):
            return self._bounding(stage, way, call)
        usual = work_steps(asked.work, ())
        return (
            Form(
                calendars=calendars,
                work=usual if paces is None else work_steps(asked.work, paces),
                late=late,
                clear=asked.clear,
            )
            for paces, calendars, late in self._teams(call, asked.calendar, company=company)
        )

    def _teams(self, call: Call, calendar: int | None, *, company: bool) -> tuple[_Kind, ...]:
        """Return the kinds of teams: paces (None: the usual), calendars and certificates' end."""
        key = (call, calendar, company)
        found = self._by_call.get(key)
        if found is None:
            workers = self._index.problem.workers
            kinds: dict[object, _Kind] = {}
            for team in self._index.all_teams(call):
                calendars = self._index.calendars_of(team, calendar, company=company)
                paces = tuple(workers[worker].pace for worker in team)
                is_usual = all(pace == 1 for pace in paces)
                late = _late(until(workers, call, team))
                kind = (calendars, None if is_usual else sum(paces), late)
                kinds.setdefault(kind, (None if is_usual else paces, calendars, late))
            found = self._by_call[key] = tuple(kinds.values())
        return found

    def _bounding(self, stage: int, way: int, call: Call) -> Iterable[Form]:
        """Yield forms of which one is at least as good as any of the teams, too many to list."""
        workers = self._index.problem.workers
        asked = self._index.problem.stages[stage].ways[way]
        chosen = self._index.eligible(call)
        paces = sorted((workers[worker].pace for worker in chosen), reverse=True)
        work = work_steps(asked.work, paces[: call.hands_count])
        for calendars in {self._index.calendars_of((worker,), asked.calendar) for worker in chosen}:
            yield Form(calendars=calendars, work=work, clear=asked.clear)


def _rank(form: Form) -> tuple[int, Calendars, int, Spans]:
    return form.work, form.calendars, form.late, form.clear or ()


def _late(last: int | None) -> int:
    return FOREVER if last is None else last
