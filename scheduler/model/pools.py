"""People as pools: what is left of the menus, and of who is free, when nobody is named.

A pool is a set of workers out of whom some places must all be filled. At no time can more such
places be taken than there are workers in the pool: for one moment this, said of every union of
holders, is all there is to know (P. Hall, "On representatives of subsets", Journal of the London
Mathematical Society 10 (1935) 26-30). What it leaves out is that a worker stays with a stage, so
that a model of pools says of nothing that it can be, but what it rules out can't be.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from scheduler.model.options import Menu, Option, Ranges, Starts
from scheduler.problem import Problem, Stage, Way, Worker

KINDS_MAX = 10
"""Of more kinds of holders not every union is looked at, only single ones, pairs and all."""
POOLS_MAX = 63

Holders = frozenset[int]


@dataclass(frozen=True, slots=True, kw_only=True)
class Pool:
    """Workers, and by stage and way how many places nobody else can fill (where it is any)."""

    workers: Holders
    places: dict[int, tuple[int, ...]]


def pools_of(problem: Problem) -> tuple[Pool, ...]:
    """Return the pools that could come to be too small, those that are used most first."""
    asked = [_asked(problem.workers, stage) for stage in problem.stages]
    kinds = sorted({holders for ways in asked for way in ways for holders in way}, key=sorted)
    found: list[tuple[Fraction, Pool]] = []
    for workers in _unions(kinds):
        if workers and not _falls_apart(kinds, workers):
            pool = Pool(workers=workers, places=_places(asked, workers))
            if sum(max(counts) for counts in pool.places.values()) > len(workers):
                found.append((_use(problem.stages, pool), pool))
    found.sort(key=lambda each: (-each[0], sorted(each[1].workers)))
    return tuple(pool for _, pool in found[:POOLS_MAX])


_Asked = tuple[tuple[Holders, ...], ...]
"""By way, for each of its places those who could take it."""


def _asked(workers: Sequence[Worker], stage: Stage) -> _Asked:
    return tuple(tuple(_of_way(workers, stage, way)) for way in stage.ways)


def _of_way(workers: Sequence[Worker], stage: Stage, way: Way) -> Iterator[Holders]:
    among = set(stage.asked) if stage.only_asked else range(len(workers))
    for need in way.needs if way.work else ():
        can = frozenset(at for at in among if need.skill in workers[at].can)
        helps = can | {at for at in among if need.skill in workers[at].helps}
        yield from (can,) * need.can
        yield from (helps,) * need.helps


def _unions(kinds: Sequence[Holders]) -> list[Holders]:
    """Return the unions of kinds of holders, each once."""
    found: dict[Holders, None] = dict.fromkeys(kinds)
    if len(kinds) > KINDS_MAX:
        found.update((one | other, None) for one in kinds for other in kinds)
        found[frozenset().union(*kinds)] = None
        return list(found)
    for kind in kinds:
        found.update([(union | kind, None) for union in found])
    return list(found)


def _falls_apart(kinds: Iterable[Holders], workers: Holders) -> bool:
    """Return whether a pool is two that have nobody in common: each then says it by itself."""
    inside = [kind for kind in kinds if kind and kind <= workers]
    joined = set(inside[0])
    grows = True
    while grows:
        grows = False
        for kind in inside:
            if joined & kind and not kind <= joined:
                joined |= kind
                grows = True
    return len(joined) < len(workers)


def _places(asked: Sequence[_Asked], workers: Holders) -> dict[int, tuple[int, ...]]:
    counts = (tuple(sum(holders <= workers for holders in way) for way in ways) for ways in asked)
    return {stage: each for stage, each in enumerate(counts) if any(each)}


def _use(stages: Sequence[Stage], pool: Pool) -> Fraction:
    """Return how long a pool is at work at least, had it no pause."""
    work = (
        min(way.work * count for way, count in zip(stages[stage].ways, counts, strict=True))
        for stage, counts in pool.places.items()
        if not stages[stage].optional
    )
    return sum(work, start=Fraction(0)) / len(pool.workers)


def without_people(menu: Menu) -> Menu:
    """Return a menu in which each way is one option, done by nobody in particular.

    It starts whenever any of its teams could, and takes as long as one of them would.
    """
    by_way: dict[int, list[Option]] = {}
    for option in menu.options:
        by_way.setdefault(option.way, []).append(option)
    return replace(
        menu,
        options=tuple(
            Option(way=way, team=(), starts=_any_of([each.starts for each in options]))
            for way, options in by_way.items()
        ),
    )


def _any_of(starts: Sequence[Starts]) -> Starts:
    different = list(dict.fromkeys(starts))
    if len(different) == 1:
        return different[0]
    by_size: dict[int, list[tuple[int, int]]] = {}
    for each in different:
        for size, inside in each.pieces:
            by_size.setdefault(size, []).extend(inside)
    pieces = tuple((size, _joined(found)) for size, found in sorted(by_size.items()))
    return Starts(pieces=pieces, or_longer=any(each.or_longer for each in different))


def _joined(inside: list[tuple[int, int]]) -> Ranges:
    found: list[tuple[int, int]] = []
    for first, last in sorted(inside):
        if found and first <= found[-1][1] + 1:
            found[-1] = (found[-1][0], max(last, found[-1][1]))
        else:
            found.append((first, last))
    return tuple(found)
