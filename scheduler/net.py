"""Which stages must be placed together, and in which order they can be.

A unit is a set of stages joined by greatest waits (and by circles of links); its stages are
placed one after the other, in an order in which every link leads forwards.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from scheduler.calendar import Index
from scheduler.circles import numbered as numbered_along
from scheduler.lags import Fixed
from scheduler.terms import Link, Terms

Arcs = Sequence[Sequence[int]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Net:
    """Links by stage (ins: to it, outs: from it), units and who waits for whom.

    active: the stages to be placed. unit_of: by stage, -1 for one that is not active.
    waits: by unit, how many other units come before it; followers: the units after it.
    """

    active: tuple[int, ...]
    ins: tuple[tuple[Link, ...], ...]
    outs: tuple[tuple[Link, ...], ...]
    units: tuple[tuple[int, ...], ...]
    unit_of: tuple[int, ...]
    waits: tuple[int, ...]
    followers: tuple[tuple[int, ...], ...]


class Nets:
    """The nets of an index, by the optional stages that are inserted."""

    def __init__(self, index: Index) -> None:
        self._index = index
        self._nets: dict[frozenset[int], Net] = {}

    def net(self, inserted: frozenset[int]) -> Net:
        """Return the net with these optional stages and all that are not optional."""
        found = self._nets.get(inserted)
        if found is None:
            active = (
                stage
                for stage, asked in enumerate(self._index.problem.stages)
                if not asked.optional or stage in inserted
            )
            found = self._nets[inserted] = net_of(self._index.terms, active, inserted)
        return found


def net_of(terms: Terms, active: Iterable[int], inserted: frozenset[int]) -> Net:
    """Return the net of the active stages, with these optional ones among them."""
    chosen = tuple(active)
    count = len(terms.bounds)
    links = _without_circles(count, list(_active_links(terms.links, set(chosen), inserted)))
    follows = _arcs(count, links)
    unit_of = _units(count, links, follows)
    ranks = numbered_along(follows)
    groups: dict[int, list[int]] = {}
    for stage in sorted(chosen, key=lambda stage: (ranks[stage], stage)):
        groups.setdefault(unit_of[stage], []).append(stage)
    numbers = {unit: number for number, unit in enumerate(groups)}
    numbered = tuple(numbers.get(unit, -1) for unit in unit_of)
    followers = _followers(len(groups), follows, numbered)
    return Net(
        active=chosen,
        ins=_by_stage(count, links, lambda link: link.after),
        outs=_by_stage(count, links, lambda link: link.before),
        units=tuple(map(tuple, groups.values())),
        unit_of=numbered,
        waits=_waits(followers),
        followers=followers,
    )


def _active_links(
    links: Iterable[Link], chosen: set[int], inserted: frozenset[int]
) -> Iterator[Link]:
    for link in links:
        if link.before not in chosen or link.after not in chosen:
            continue
        if link.insert is None or link.insert not in inserted:
            yield link
            continue
        yield replace(link, most=None, insert=None)
        no_wait = Fixed(steps=0)
        yield Link(before=link.before, after=link.insert, lag=no_wait)
        yield Link(before=link.insert, after=link.after, lag=no_wait)


def _without_circles(count: int, links: list[Link]) -> list[Link]:
    """Turn round the negative least waits that close a circle: they are greatest waits."""
    numbers = numbered_along(_arcs(count, links))
    found: list[Link] = []
    for link in links:
        lag = link.lag
        in_circle = numbers[link.before] == numbers[link.after]
        if not (in_circle and isinstance(lag, Fixed) and lag.steps < 0):
            found.append(link)
        elif link.from_end is link.to_end:
            found.append(_turned_round(link, -lag.steps))
            if link.most is not None:
                found.append(replace(link, lag=None))
        else:
            found.append(link)
    return found


def _turned_round(link: Link, most: int) -> Link:
    return Link(
        before=link.after,
        after=link.before,
        from_end=link.from_end,
        to_end=link.to_end,
        most=Fixed(steps=most),
    )


def _arcs(count: int, links: Iterable[Link]) -> list[list[int]]:
    arcs: list[list[int]] = [[] for _ in range(count)]
    for link in links:
        if link.lag is not None:
            arcs[link.before].append(link.after)
    return arcs


def _units(count: int, links: Iterable[Link], follows: Arcs) -> list[int]:
    roots = list(range(count))
    for link in links:
        if link.most is not None:
            roots[_root(roots, link.after)] = _root(roots, link.before)
    joined: list[list[int]] = [[] for _ in range(count)]
    for stage, after in enumerate(follows):
        joined[_root(roots, stage)].extend(_root(roots, each) for each in after)
    numbers = numbered_along(joined)
    return [numbers[_root(roots, stage)] for stage in range(count)]


def _root(roots: list[int], stage: int) -> int:
    while roots[stage] != stage:
        roots[stage] = roots[roots[stage]]
        stage = roots[stage]
    return stage


def _followers(
    unit_count: int, follows: Arcs, unit_of: Sequence[int]
) -> tuple[tuple[int, ...], ...]:
    found: list[set[int]] = [set() for _ in range(unit_count)]
    for stage, after in enumerate(follows):
        for each in after:
            if unit_of[each] != unit_of[stage]:
                found[unit_of[stage]].add(unit_of[each])
    return tuple(tuple(sorted(each)) for each in found)


def _waits(followers: Sequence[Sequence[int]]) -> tuple[int, ...]:
    waits = [0] * len(followers)
    for after in followers:
        for unit in after:
            waits[unit] += 1
    return tuple(waits)


def _by_stage(
    count: int, links: Iterable[Link], stage_of: Callable[[Link], int]
) -> tuple[tuple[Link, ...], ...]:
    found: list[list[Link]] = [[] for _ in range(count)]
    for link in links:
        found[stage_of(link)].append(link)
    return tuple(map(tuple, found))
