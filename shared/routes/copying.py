"""A route copied for some segments of a job: hours by size, sessions cut, waits between copies."""

from collections.abc import Callable, Collection, Iterable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from shared.book import After, Gate, GateKind, Route, RouteRule, Segment, Stage, Step
from shared.ids import SegmentId, StepId
from shared.routes.growing import amount_for, parts_for
from shared.trade import figure

if TYPE_CHECKING:
    from shared.trade.own import Lookup


@dataclass(frozen=True, slots=True, kw_only=True)
class Copied:
    """What came of copying.

    steps: in the order of the route, so that each follows its own segments' nearest earlier one.
    origins: for each of them the step of the route that it was copied from.
    """

    steps: tuple[Step, ...]
    origins: tuple[StepId, ...]


def copied_steps(
    route: Route,
    segments: tuple[Segment, ...],
    options: Collection[str],
    named: Callable[[str, Segment | None], StepId],
    look: "Lookup" = figure,
) -> Copied:
    """Copy a route's steps for segments.

    named: gives a step's copy an id of its own, for the segment it is for or (None) for all.
    Whoever follows in the route what isn't copied follows what that follows.
    """
    copying = _Copying(route, segments, options, named, look)
    for step in route.steps:
        if copying.is_wanted(step):
            copying.copy(step)
    return Copied(steps=tuple(copying.steps), origins=tuple(copying.origins))


class _Copying:
    def __init__(
        self,
        route: Route,
        segments: tuple[Segment, ...],
        options: Collection[str],
        named: Callable[[str, Segment | None], StepId],
        look: "Lookup",
    ) -> None:
        self.rules = {rule.step: rule for rule in route.rules}
        self.originals = {step.id: step for step in route.steps}
        self.segments = segments
        self.options = frozenset(options)
        self.named = named
        self.look = look
        self.steps: list[Step] = []
        self.origins: list[StepId] = []
        self.firsts: dict[tuple[StepId, SegmentId], StepId] = {}
        self.lasts: dict[tuple[StepId, SegmentId], StepId] = {}
        self.latest: dict[SegmentId, StepId] = {}

    def rule(self, step: Step) -> RouteRule:
        return self.rules.get(step.id) or RouteRule(step=step.id)

    def is_wanted(self, step: Step) -> bool:
        rule = self.rule(step)
        if rule.only_if and not self.options.intersection(rule.only_if):
            return False
        return not self.options.intersection(rule.unless)

    def copy(self, step: Step) -> None:
        rule = self.rule(step)
        together = not isinstance(step, Stage) if rule.together is None else rule.together
        if together:
            self._copy_for(step, rule, self.segments, None)
            return
        for segment in self.segments:
            self._copy_for(step, rule, (segment,), segment)

    def _copy_for(
        self, step: Step, rule: RouteRule, pieces: tuple[Segment, ...], one: Segment | None
    ) -> None:
        is_alone = len(self.segments) == 1
        amount = amount_for(rule, pieces, is_alone=is_alone, look=self.look)
        if not amount.size or _is_fit_of_one(step, pieces):
            return
        over = tuple(piece.id for piece in pieces)
        after = self._after(step, over)
        names = []
        for index, part in enumerate(parts_for(step, rule, amount)):
            name = self.named(step.id, one)
            names.append(name)
            made = replace(part, id=name, segments=over, after=None if index else after)
            self.steps.append(self._with_same_people(made, over))
            self.origins.append(step.id)
        for piece in over:
            self.firsts[step.id, piece] = names[0]
            self.lasts[step.id, piece] = names[-1]
            self.latest[piece] = names[-1]

    def _after(self, step: Step, over: tuple[SegmentId, ...]) -> tuple[After, ...] | None:
        """Give what a copy follows; None where the order of the list says it already."""
        links = [] if step.after is None else self._links(step.after, over)
        if links and not self._is_usual(links, over):
            return _strictest(links)
        if all(piece in self.latest for piece in over):
            return None
        before = dict.fromkeys(self.latest[piece] for piece in over if piece in self.latest)
        return tuple(After(step=each) for each in before)

    def _is_usual(self, links: list[After], over: tuple[SegmentId, ...]) -> bool:
        """Say whether waits are those that the order of the list gives."""
        usual = [After(step=each) for each in dict.fromkeys(map(self.latest.get, over)) if each]
        return links == usual

    def _links(self, after: Iterable[After], over: tuple[SegmentId, ...]) -> list[After]:
        """Give the waits for copies of what is followed; where none is, of what that follows."""
        links = []
        for link in after:
            copies = self.firsts if link.from_start else self.lasts
            found = (copies.get((link.step, piece)) for piece in over)
            links += [replace(link, step=each) for each in dict.fromkeys(found) if each]
        if links:
            return links
        left_out = (self.originals.get(link.step) for link in after)
        deeper = (each.after for each in left_out if each is not None and each.after)
        return [link for more in deeper for link in self._links(more, over)]

    def _with_same_people(self, step: Step, over: tuple[SegmentId, ...]) -> Step:
        if not isinstance(step, Stage) or step.same_people_as is None:
            return step
        same = (self.firsts.get((step.same_people_as, piece)) for piece in over)
        return replace(step, same_people_as=next((each for each in same if each), None))


def _is_fit_of_one(step: Step, pieces: tuple[Segment, ...]) -> bool:
    return isinstance(step, Gate) and step.gate is GateKind.TRIAL_FIT and len(pieces) == 1


def _strictest(links: list[After]) -> tuple[After, ...]:
    """Give the waits, one for each step that is followed from the same end."""
    kept: dict[tuple[StepId, bool], After] = {}
    for link in links:
        key = (link.step, link.from_start)
        other = kept.get(key)
        if other is None or other.least_hours < link.least_hours:
            kept[key] = link
    return tuple(kept.values())
