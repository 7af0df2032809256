"""What must come out the same when a problem is turned round, renumbered or counted finer.

No answer is known beforehand; two questions are asked, and what their answers have in common is.
"""

import json
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import replace
from fractions import Fraction
from random import Random

import pytest

from scheduler.aims import levels
from scheduler.calendar import Index
from scheduler.countback import Times, earliest, latest
from scheduler.model.run import Limits, Status
from scheduler.model.whole import solve_whole
from scheduler.normalise import normalise
from scheduler.place import Unfit, place
from scheduler.problem import (
    Calendar,
    Edge,
    Hold,
    JobAim,
    Problem,
    Room,
    Schedule,
    Spans,
    Stage,
    Use,
    Wait,
    Way,
    Worker,
)
from scheduler.replay import breaches
from scheduler.urgency import countback_order
from shared.book import Book
from shared.examine import take_in
from shared.files.write import write_book
from tests.books.shapes import SHAPES
from tests.scheduler.problems import random_problem

SEEDS = range(40)


def a_problem(seed: int, *, jobs: int | None = None, segments: int = 3) -> Problem:
    """Give a workshop whose rules are the same backwards: no cures, no watch, no journeys."""
    jobs_count = 1 + seed % 3 if jobs is None else jobs
    problem = random_problem(seed, jobs=jobs_count, segments=segments, workers=4, spice=False)
    stages = tuple(
        replace(stage, watch=0, cure=Wait(), ways=tuple(_even(way) for way in stage.ways))
        for stage in problem.stages
    )
    aims = tuple(replace(job, latest=problem.horizon, wish=None) for job in problem.jobs)
    draw = Random(seed)
    busy = [draw.randrange(problem.horizon // 2) for _ in problem.workers]
    workers = tuple(
        replace(worker, busy=((since, since + 50),))
        for worker, since in zip(problem.workers, busy, strict=True)
    )
    return replace(problem, stages=stages, jobs=aims, workers=workers, days=(), half_days=())


def _even(way: Way) -> Way:
    """Let a way take whole steps, and hold its rooms no longer than through its cure."""
    uses = tuple(replace(use, through_cure=False) for use in way.uses)
    return replace(way, work=Fraction(-(-way.work.numerator // way.work.denominator)), uses=uses)


def passed(problem: Problem) -> Schedule:
    index = Index(problem)
    found = place(index, countback_order(index))
    assert not isinstance(found, Unfit)
    assert breaches(problem, found) == ()
    return found


def mirrored(problem: Problem) -> Problem:
    """Give the same problem with time running the other way, by code of this test's own."""
    end = problem.horizon
    return replace(
        problem,
        calendars=tuple(
            Calendar(open=_back(each.open, end), shifts=_back(each.shifts, end))
            for each in problem.calendars
        ),
        workers=tuple(replace(one, busy=_back(one.busy, end)) for one in problem.workers),
        rooms=tuple(
            replace(room, busy=tuple((end - b, end - a, n) for a, b, n in reversed(room.busy)))
            for room in problem.rooms
        ),
        stages=tuple(
            replace(stage, ways=tuple(_mirrored_way(way) for way in stage.ways))
            for stage in problem.stages
        ),
        edges=tuple(replace(edge, before=edge.after, after=edge.before) for edge in problem.edges),
        holds=tuple(
            replace(hold, first=hold.last, last=hold.first)
            for hold in problem.holds
            if hold.first is not None
        ),
        shut=_back(problem.shut, end),
        jobs=tuple(_mirrored_job(job) for job in problem.jobs),
    )


def _back(spans: Spans, end: int) -> Spans:
    return tuple((end - b, end - a) for a, b in reversed(spans))


def _mirrored_way(way: Way) -> Way:
    uses = tuple(replace(use, before=use.after, after=use.before) for use in way.uses)
    return replace(way, uses=uses)


def _mirrored_job(job: JobAim) -> JobAim:
    firsts = tuple(dict.fromkeys(first for first, _ in job.floor))
    return replace(job, lasts=firsts, floor=tuple((last, first) for first, last in job.floor))


def turned(problem: Problem, schedule: Schedule) -> Schedule:
    end = problem.horizon
    return replace(
        schedule,
        starts=tuple(end - t for t in schedule.ends),
        ends=tuple(end - t for t in schedule.starts),
    )


@pytest.mark.parametrize("seed", SEEDS)
def test_a_plan_keeps_the_rules_backwards_as_it_does_forwards(seed: int) -> None:
    problem = a_problem(seed)
    other = mirrored(problem)

    assert mirrored(other) == problem
    assert breaches(other, turned(problem, passed(problem))) == ()
    assert breaches(problem, turned(other, passed(other))) == ()


@pytest.mark.parametrize("seed", SEEDS)
def test_a_plan_that_breaks_a_rule_breaks_one_backwards(seed: int) -> None:
    problem = a_problem(seed)
    found = passed(problem)
    edge = problem.edges[seed % len(problem.edges)]
    starts, ends = list(found.starts), list(found.ends)
    long = ends[edge.after] - starts[edge.after]
    starts[edge.after] = max(0, starts[edge.before] - 1)
    ends[edge.after] = starts[edge.after] + long
    broken = replace(found, starts=tuple(starts), ends=tuple(ends))

    assert breaches(problem, broken)
    assert breaches(mirrored(problem), turned(problem, broken))


@pytest.mark.parametrize("seed", SEEDS)
def test_the_latest_times_are_the_earliest_backwards(seed: int) -> None:
    problem = a_problem(seed)
    other = mirrored(problem)
    lasts = {last for job in problem.jobs for last in job.lasts}

    back, on = latest(Index(problem)), earliest(Index(other))

    pressed = [at for at, end in enumerate(back.ends) if end is not None]
    assert lasts.issubset(pressed)
    for at in pressed:
        assert _known(back.ends, at) == problem.horizon - _known(on.starts, at), at


def _known(moments: Sequence[int | None], at: int) -> int:
    moment = moments[at]
    assert moment is not None
    return moment


def doubled(problem: Problem) -> Problem:
    """Give the same problem counted in steps of half the length."""

    def spans(given: Spans) -> Spans:
        return tuple((2 * a, 2 * b) for a, b in given)

    def use(given: Use) -> Use:
        return replace(given, before=2 * given.before, after=2 * given.after)

    def way(given: Way) -> Way:
        return replace(given, work=2 * given.work, uses=tuple(map(use, given.uses)))

    def stage(given: Stage) -> Stage:
        pause = given.longest_pause
        return replace(
            given,
            ways=tuple(map(way, given.ways)),
            release=2 * given.release,
            longest_pause=None if pause is None else 2 * pause,
        )

    def edge(given: Edge) -> Edge:
        most = None if given.most is None else 2 * given.most
        return replace(given, least=2 * given.least, most=most)

    def worker(given: Worker) -> Worker:
        return replace(given, busy=spans(given.busy))

    def room(given: Room) -> Room:
        return replace(given, busy=tuple((2 * a, 2 * b, n) for a, b, n in given.busy))

    def job(given: JobAim) -> JobAim:
        return replace(given, latest=None if given.latest is None else 2 * given.latest)

    return replace(
        problem,
        horizon=2 * problem.horizon,
        calendars=tuple(
            Calendar(open=spans(each.open), shifts=spans(each.shifts)) for each in problem.calendars
        ),
        stages=tuple(map(stage, problem.stages)),
        edges=tuple(map(edge, problem.edges)),
        workers=tuple(map(worker, problem.workers)),
        rooms=tuple(map(room, problem.rooms)),
        jobs=tuple(map(job, problem.jobs)),
        shut=spans(problem.shut),
    )


@pytest.mark.parametrize("seed", SEEDS)
def test_steps_of_half_the_length_are_twice_as_many(seed: int) -> None:
    problem = a_problem(seed)
    finer = doubled(problem)

    found, fine = passed(problem), passed(finer)

    assert fine.starts == tuple(2 * t for t in found.starts)
    assert fine.ends == tuple(2 * t for t in found.ends)
    assert (fine.ways, fine.teams) == (found.ways, found.teams)


@pytest.mark.parametrize("seed", SEEDS)
def test_bounds_are_twice_as_far_in_steps_of_half_the_length(seed: int) -> None:
    problem = a_problem(seed)
    finer = doubled(problem)

    for of in (earliest, latest):
        coarse, fine = of(Index(problem)), of(Index(finer))
        assert fine.starts == _twice(coarse.starts)
        assert fine.ends == _twice(coarse.ends)


def _twice(moments: Sequence[int | None]) -> tuple[int | None, ...]:
    return tuple(None if t is None else 2 * t for t in moments)


NOT_IDS = ("kind", "name", "gate", "air", "does", "skill")
"""Fields whose words are no ids, though some read like one."""
SHAPE_SEEDS = [("small", 3), ("tiny", 4), ("ruled", 5), ("ruled", 6), ("workshop", 7)]


def renamed(book: Book, draw: Random) -> tuple[Book, dict[str, str]]:
    """Give a book with other ids, in another order, and what each was called before."""
    told = json.loads(write_book(book))
    lists = [told["places"], told["equipment"], told["people"], told["jobs"]]
    lists += [job[key] for job in told["jobs"] for key in ("segments", "steps", "windows")]
    ids = sorted({each["id"] for some in lists for each in some})
    codes = [f"n{number:05}" for number in range(len(ids))]
    draw.shuffle(codes)
    new = dict(zip(ids, codes, strict=True))
    found = take_in(json.dumps(_renamed(told, new)).encode()).book
    assert found is not None
    return found, {code: old for old, code in new.items()}


def _renamed(part: object, new: dict[str, str], key: str = "") -> object:
    if isinstance(part, dict):
        return {name: _renamed(value, new, name) for name, value in part.items()}
    if isinstance(part, list):
        return [_renamed(value, new, key) for value in part]
    is_id = isinstance(part, str) and key not in NOT_IDS
    return new.get(part, part) if is_id and isinstance(part, str) else part


@pytest.mark.parametrize(("shape", "seed"), SHAPE_SEEDS)
def test_names_are_only_names(shape: str, seed: int) -> None:
    book = SHAPES[shape](seed).book
    other, old = renamed(book, Random(seed))
    assert book.as_of is not None

    was, now = normalise(book, book.as_of), normalise(other, book.as_of)

    assert {job.id for job in book.jobs}.isdisjoint(job.id for job in other.jobs)
    assert [old[name.step] for name in now.stages] == [name.step for name in was.stages]
    assert replace(now.problem, edges=()) == replace(was.problem, edges=())
    assert Counter(now.problem.edges) == Counter(was.problem.edges)
    assert passed(now.problem) == passed(was.problem)


def shuffled(problem: Problem, draw: Random) -> tuple[Problem, list[int]]:
    """Give the same problem with stages, workers and rooms numbered otherwise.

    Besides, by old number of a stage, its new one.
    """
    stage_at, stages = _order(len(problem.stages), draw)
    _, workers = _order(len(problem.workers), draw)
    room_at, rooms = _order(len(problem.rooms), draw)

    def way(given: Way) -> Way:
        uses = tuple(replace(use, room=room_at[use.room]) for use in given.uses)
        return replace(given, uses=uses)

    def edge(given: Edge) -> Edge:
        return replace(given, before=stage_at[given.before], after=stage_at[given.after])

    def hold(given: Hold) -> Hold:
        first = None if given.first is None else stage_at[given.first]
        return replace(given, room=room_at[given.room], first=first, last=stage_at[given.last])

    def job(given: JobAim) -> JobAim:
        return replace(
            given,
            lasts=tuple(stage_at[last] for last in given.lasts),
            floor=tuple((stage_at[a], stage_at[b]) for a, b in given.floor),
        )

    edges = [edge(each) for each in problem.edges]
    draw.shuffle(edges)
    made = replace(
        problem,
        stages=tuple(
            replace(problem.stages[at], ways=tuple(map(way, problem.stages[at].ways)))
            for at in stages
        ),
        workers=tuple(problem.workers[at] for at in workers),
        rooms=tuple(problem.rooms[at] for at in rooms),
        edges=tuple(edges),
        holds=tuple(map(hold, problem.holds)),
        jobs=tuple(map(job, problem.jobs)),
    )
    return made, stage_at


def _order(count: int, draw: Random) -> tuple[list[int], list[int]]:
    """Give by old number the new one, and by new number the old one."""
    old = draw.sample(range(count), count)
    new = [0] * count
    for at, was in enumerate(old):
        new[was] = at
    return new, old


@pytest.mark.parametrize("of", [earliest, latest])
@pytest.mark.parametrize("seed", SEEDS)
def test_bounds_do_not_go_by_numbers(seed: int, of: Callable[[Index], Times]) -> None:
    problem = a_problem(seed)
    other, stage_at = shuffled(problem, Random(seed))

    was, now = of(Index(problem)), of(Index(other))

    assert was.starts == tuple(now.starts[at] for at in stage_at)
    assert was.ends == tuple(now.ends[at] for at in stage_at)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_pass_keeps_the_rules_however_things_are_numbered(seed: int) -> None:
    other, _ = shuffled(a_problem(seed), Random(seed))

    assert breaches(other, passed(other)) == ()


@pytest.mark.parametrize("seed", [1, 3, 4])
def test_the_best_there_is_does_not_go_by_numbers_or_grain(seed: int) -> None:
    problem = _pressed(a_problem(seed, jobs=1, segments=1))
    other, _ = shuffled(problem, Random(seed))

    best = _best(problem)

    assert best[2] > 0
    assert _best(other) == best
    assert _best(doubled(problem)) == (*best[:2], *(2 * level for level in best[2:]))


def _pressed(problem: Problem) -> Problem:
    """Ask for loading sooner than can be, and for the floor to be given back soon."""
    soonest = earliest(Index(problem)).ends
    jobs = tuple(
        replace(job, latest=max(_known(soonest, last) for last in job.lasts) - 40)
        for job in problem.jobs
    )
    return replace(problem, jobs=jobs)


def _best(problem: Problem) -> tuple[int, ...]:
    index = Index(problem)
    found = solve_whole(index, Limits(effort=20_000, workers=1), hint=passed(problem))
    assert found.status is Status.PROVED
    assert found.schedule is not None
    return levels(problem, found.schedule)
