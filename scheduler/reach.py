"""How soon and how late a stage can be by itself, whoever of those who may comes to do it."""

from collections.abc import Callable, Sequence

from scheduler.calendar import Index, last_allowed, next_allowed
from scheduler.circles import numbered
from scheduler.forms import Form, Forms
from scheduler.hours import moment_by, moment_from
from scheduler.terms import FOREVER, Bounds, Link

Span = tuple[int, int]
Fit = Callable[[Form, int], Span | None]
_FEW_FORMS = 3
_BEFORE_ALL = (-FOREVER, -FOREVER)
_AFTER_ALL = (FOREVER, FOREVER)


class Reach:
    """How soon and how late each stage of an index can be by itself."""

    def __init__(self, index: Index) -> None:
        self._index = index
        self._recall = {} if index.recall is None else index.recall.latest
        self._forms = Forms(index)
        problem = index.problem
        self.count = len(problem.stages)
        active = [not stage.optional for stage in problem.stages]
        links = [link for link in index.terms.links if active[link.before] and active[link.after]]
        self.ins: list[list[Link]] = [[] for _ in problem.stages]
        self.outs: list[list[Link]] = [[] for _ in problem.stages]
        for link in links:
            if link.lag is not None:
                self.ins[link.after].append(link)
                self.outs[link.before].append(link)
        ranks = numbered([[link.after for link in outs] for outs in self.outs])
        stages = (stage for stage in range(self.count) if active[stage])
        self.order = sorted(stages, key=lambda stage: (ranks[stage], stage))

    def is_bound(self, stage: int) -> bool:
        """Return whether something of its own says how late a stage can be."""
        bounds = self._index.terms.bounds[stage]
        horizon = self._index.problem.horizon
        return bounds.latest_start < FOREVER or bounds.latest_end < horizon

    def soonest(self, stage: int, low_start: int, low_end: int) -> Span:
        """Return the least start and the least end; FOREVER where nothing fits."""
        bounds = self._index.terms.bounds[stage]
        low_start = max(low_start, bounds.earliest_start)
        low_end = max(low_end, bounds.earliest_end)
        best_start, best_end = _AFTER_ALL
        if low_start > bounds.latest_start or low_end >= FOREVER:
            return _AFTER_ALL
        forms = self._forms.of(stage)
        for form, least in zip(forms, self._least(stage, forms, low_start), strict=True):
            if least[0] >= best_start and least[1] >= best_end:
                continue
            found = self._form_soonest(stage, form, low_start, low_end)
            if found is None or found[0] > bounds.latest_start:
                continue
            if found[1] <= min(bounds.latest_end, form.late):
                best_start, best_end = min(best_start, found[0]), min(best_end, found[1])
        return best_start, best_end

    def latest(self, stage: int, high_start: int, high_end: int) -> Span:
        """Return the greatest start and the greatest end, below 0 where there is none."""
        asked, bounds = self._index.problem.stages[stage], self._index.terms.bounds[stage]
        highs = high_start, high_end
        known = self._recall.get(id(asked))
        if known is not None and known[0] is asked and known[1] == bounds and known[2] == highs:
            return known[3]
        found = self._latest(stage, bounds, high_start, high_end)
        self._recall[id(asked)] = asked, bounds, highs, found
        return found

    def _latest(self, stage: int, bounds: Bounds, high_start: int, high_end: int) -> Span:
        high_start = min(high_start, bounds.latest_start)
        high_end = min(high_end, bounds.latest_end)
        best_start, best_end = _BEFORE_ALL
        forms = self._forms.of(stage)
        for form, most in zip(forms, self._most(stage, forms, high_end), strict=True):
            if most[0] <= best_start and most[1] <= best_end:
                continue
            found = self._form_latest(stage, form, high_start, min(high_end, form.late))
            if found is not None:
                best_start, best_end = max(best_start, found[0]), max(best_end, found[1])
        if best_end >= 0:
            return best_start, best_end
        work = max(1, min((form.work for form in forms), default=1))
        start = min(high_start, high_end, 0) - work
        return start, start + work - 1

    def _least(self, stage: int, forms: Sequence[Form], low: int) -> list[Span]:
        """Return by form a start and an end that it can't come before."""
        asked = self._index.problem.stages[stage]

        def alone(form: Form, calendar: int) -> Span | None:
            if self._index.is_company(calendar):
                return low, low  # How long it breaks off hangs on the hours beside it.
            return self._index.runs_of((calendar,), asked, form.clear).fit(low, form.work)

        if len(forms) <= _FEW_FORMS:
            return [(low, low)] * len(forms)
        known: dict[object, Span] = {}
        return [
            _furthest(form, known, alone, none=_AFTER_ALL, best=max, start=(low, low))
            for form in forms
        ]

    def _most(self, stage: int, forms: Sequence[Form], high: int) -> list[Span]:
        """Return by form a start and an end that it can't come after."""
        asked = self._index.problem.stages[stage]

        def alone(form: Form, calendar: int) -> Span | None:
            if self._index.is_company(calendar):
                return high, high
            return self._index.runs_of((calendar,), asked, form.clear).fit_back(high, form.work)

        if len(forms) <= _FEW_FORMS:
            return [(high, high)] * len(forms)
        known: dict[object, Span] = {}
        return [
            _furthest(form, known, alone, none=_BEFORE_ALL, best=min, start=(high, high))
            for form in forms
        ]

    def _form_soonest(self, stage: int, form: Form, low_start: int, low_end: int) -> Span | None:
        asked = self._index.problem.stages[stage]
        runs = self._index.runs_of(form.calendars, asked, form.clear) if form.work else None
        found = runs.fit(low_start, form.work) if runs else moment_from(form.clear, low_start)
        while found is not None:
            wanted: int | None = max(found[1], low_end)
            if asked.ends is not None and wanted is not None:
                wanted = next_allowed(asked.ends, wanted)
            if wanted is None or wanted == found[1]:
                return None if wanted is None else found
            found = runs.fit_end(wanted, form.work) if runs else moment_from(form.clear, wanted)
        return None

    def _form_latest(self, stage: int, form: Form, high_start: int, high_end: int) -> Span | None:
        asked = self._index.problem.stages[stage]
        runs = self._index.runs_of(form.calendars, asked, form.clear) if form.work else None
        high = min(high_end, high_start) if runs is None else high_end
        found = runs.fit_back(high, form.work) if runs else moment_by(form.clear, high)
        if runs is not None and found is not None and found[0] > high_start:
            found = runs.fit_start(high_start, form.work)
        while found is not None and found[1] >= 0:
            wanted = found[1] if asked.ends is None else last_allowed(asked.ends, found[1])
            if wanted is None or wanted == found[1]:
                return None if wanted is None else found
            found = runs.fit_back(wanted, form.work) if runs else moment_by(form.clear, wanted)
        return None


def _furthest(
    form: Form,
    known: dict[object, Span],
    alone: Fit,
    *,
    none: Span,
    best: Callable[[int, int], int],
    start: Span,
) -> Span:
    """Return the worst that any of a form's calendars would give alone."""
    begin, end = start
    for calendar in form.calendars if form.work else ():
        key = (calendar, form.work, form.clear)
        if key not in known:
            known[key] = alone(form, calendar) or none
        begin, end = best(begin, known[key][0]), best(end, known[key][1])
    return begin, end
