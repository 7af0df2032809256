from fractions import Fraction
from random import Random

import pytest

from scheduler.calendar import Index, teams
from scheduler.lags import Fixed, Lag, Limit, Tabled, TabledLimit, Turned, TurnedLimit
from scheduler.problem import Calendar, Need, Problem, Spans, Stage, Way, Worker
from scheduler.teams import Call, fills, teams_among, work_steps
from tests.scheduler.shops import NINE_TO_FIVE, SKILL, a_calendar, a_worker, by_hand

HORIZON = 120


def random_calendar(draw: Random) -> Calendar:
    opened, shifts, t = [], [], draw.randrange(6)
    while t < HORIZON - 20:
        length = draw.randrange(3, 12)
        shift = (t, t + length)
        pause = draw.randrange(t + 1, t + length - 1) if draw.randrange(2) else None
        opened += [shift] if pause is None else [(t, pause), (pause + 1, t + length)]
        shifts.append(shift)
        t += length + draw.choice([0, 1, 4, 9])
    return Calendar(open=tuple(opened), shifts=tuple(shifts))


def random_clear(draw: Random) -> Spans:
    cuts = sorted(draw.sample(range(HORIZON), 8))
    return tuple(zip(cuts[::2], cuts[1::2], strict=True))


def random_case(seed: int) -> Index:
    draw = Random(seed)
    ends = tuple((t, t + draw.randrange(1, 6)) for t in range(4, HORIZON, 11))
    stage = Stage(
        ways=(
            Way(
                needs=(Need(skill=SKILL, can=2),),
                work=Fraction(draw.randrange(1, 9)),
                calendar=draw.choice([None, 2]),
                clear=random_clear(draw) if seed % 4 == 0 else None,
            ),
        ),
        one_go=draw.randrange(2) == 0,
        watch=draw.choice([0, 0, 2]),
        longest_pause=draw.choice([None, 1, 4]),
        ends=draw.choice([None, ends]),
    )
    problem = Problem(
        horizon=HORIZON,
        stages=(stage,),
        workers=(a_worker(0), a_worker(draw.choice([1, None]))),
        calendars=tuple(random_calendar(draw) for _ in range(3)),
        shut=((30, 36), (60, 61)) if draw.randrange(2) else (),
    )
    return Index(problem)


def holds(spans: Spans, t: int) -> bool:
    return any(a <= t < b for a, b in spans)


def by_walking(index: Index, start: int) -> tuple[int, int] | None:
    """Start exactly then and work step by step; None where a rule forbids it."""
    problem, stage = index.problem, index.problem.stages[0]
    numbers = [stage.ways[0].calendar, *(worker.calendar for worker in problem.workers)]
    calendars = [problem.calendars[number] for number in numbers if number is not None]
    left = index.steps((0, 1), 0, 0)
    t, standstill = start, 0
    while left:
        if t >= problem.horizon:
            return None
        works = all(holds(calendar.open, t) for calendar in calendars)
        if t == start and not works:
            return None
        if works:
            left, standstill = left - 1, 0
        elif not holds(problem.shut, t):
            standstill += 1
            if stage.longest_pause is not None and standstill > stage.longest_pause:
                return None
        t += 1
    if stage.one_go and not all(
        any(a <= start and t + stage.watch <= b for a, b in calendar.shifts)
        for calendar in calendars
    ):
        return None
    allowed = stage.ends is None or holds(stage.ends, t)
    clear = stage.ways[0].clear
    allowed = allowed and (clear is None or any(a <= start and t <= b for a, b in clear))
    return (start, t) if allowed and t <= problem.horizon else None


@pytest.mark.parametrize("work", [0, 3])
@pytest.mark.parametrize("ends", [None, ((3, 8), (12, 15))])
def test_elapsed_ways_are_clear_forwards_and_backwards(work: int, ends: Spans | None) -> None:
    clear = ((1, 2), (2, 5), (7, 9), (9, 13))
    way = Way(work=Fraction(work), clear=clear)
    index = Index(Problem(horizon=16, stages=(Stage(ways=(way,), ends=ends),)))
    spans = [
        (start, start + work)
        for start in range(16 - work + 1)
        if any(a <= start and start + work <= b for a, b in clear)
        and (ends is None or holds(ends, start + work))
    ]

    assert spans
    for t in range(16):
        assert index.span((), 0, 0, t) == next((s for s in spans if s[0] >= t), None)
        back = index.span_back((), 0, 0, t)
        assert back == next((s for s in reversed(spans) if s[1] <= t), None)


@pytest.mark.parametrize("seed", range(120))
def test_forwards_and_backwards_agree_with_walking_step_by_step(seed: int) -> None:
    index = random_case(seed)
    walked = [by_walking(index, start) for start in range(HORIZON)]
    spans = [span for span in walked if span is not None]

    for t in range(HORIZON):
        assert index.span((0, 1), 0, 0, t) == next((s for s in spans if s[0] >= t), None)
        back = index.span_back((0, 1), 0, 0, t)
        assert back == next((s for s in reversed(spans) if s[1] <= t), None)


def test_cases_are_not_all_alike() -> None:
    found = [random_case(seed).span((0, 1), 0, 0, 0) for seed in range(120)]

    assert len({span for span in found if span is not None}) > 40
    assert sum(span is None for span in found) < 40


def test_a_helper_away_for_two_days_holds_up_both() -> None:
    days_off = a_calendar(*(span for span in NINE_TO_FIVE if span[0] // 24 not in (1, 2)))
    problem = Problem(
        horizon=240,
        stages=(Stage(ways=(by_hand(11, 2),)),),
        workers=(a_worker(0), a_worker(1)),
        calendars=(a_calendar(*NINE_TO_FIVE), days_off),
    )

    assert Index(problem).span((0, 1), 0, 0, 10) == (10, 3 * 24 + 13)


@pytest.mark.parametrize(
    ("work", "paces", "steps"),
    [("6", ["1"], 6), ("6", ["4/5"], 8), ("6", ["4/5", "6/5"], 6), ("1/3", ["1"], 1), ("0", [], 0)],
)
def test_a_slower_team_needs_longer_rounded_up_once(
    work: str, paces: list[str], steps: int
) -> None:
    assert work_steps(Fraction(work), [Fraction(pace) for pace in paces]) == steps


def test_teams_fill_every_place_with_somebody_who_may() -> None:
    carve, paint = 0, 1
    workers = (
        Worker(calendar=None, can=frozenset({carve}), helps=frozenset({carve})),
        Worker(calendar=None, can=frozenset({paint}), helps=frozenset({carve, paint})),
        Worker(calendar=None, can=frozenset(), helps=frozenset({carve})),
        Worker(calendar=None, can=frozenset({carve, paint}), helps=frozenset({carve, paint})),
    )
    one_of_each = (Need(skill=carve, can=1), Need(skill=paint, can=1))
    one_and_helper = (Need(skill=carve, can=1, helps=1),)
    found = Call(needs=one_of_each, asked=(), only_asked=False, certificates=())
    asked = Call(needs=one_and_helper, asked=(2,), only_asked=False, certificates=())

    assert list(teams_among(workers, found, range(4))) == [(0, 1), (0, 3), (1, 3)]
    assert list(teams_among(workers, asked, range(4))) == [(0, 2), (2, 3)]
    assert not fills(workers, one_of_each, (0, 0))


def test_who_is_asked_for_alone_is_the_team_or_there_is_none() -> None:
    stage = Stage(ways=(by_hand(4), by_hand(2, 2)), asked=(1,), only_asked=True)
    problem = Problem(horizon=50, stages=(stage,), workers=(a_worker(), a_worker(), a_worker()))
    index = Index(problem)

    assert teams(index, 0, 0) == (((1,), 4),)
    assert teams(index, 0, 1) == ()


@pytest.mark.parametrize(
    "lag",
    [
        Fixed(steps=3),
        Tabled(steps=2, uptos=(4, 8, 15), values=(9, 10, 22)),
        Turned(lag=Tabled(steps=2, uptos=(4, 8, 15), values=(9, 10, 22)), horizon=30),
    ],
)
def test_backwards_undoes_forwards(lag: Lag) -> None:
    for s in range(-5, 40):
        back = lag.inverse(s)
        for t in range(-5, 40):
            ready = lag.of(t)
            assert (ready is not None and ready <= s) == (back is not None and t <= back)


BY_TABLE = TabledLimit(steps=None, uptos=(4, 8, 15), values=(3, 10, 22))


@pytest.mark.parametrize(
    "limit",
    [
        Fixed(steps=3),
        BY_TABLE,
        TabledLimit(steps=2, uptos=(4, 8, 15), values=(9, 9, 22)),
        TurnedLimit(limit=BY_TABLE, horizon=30),
    ],
)
def test_a_greatest_wait_read_backwards_undoes_it_forwards(limit: Limit) -> None:
    for s in range(-5, 40):
        least = limit.inverse(s)
        for t in range(-5, 40):
            latest = limit.of(t)
            assert (latest is None or s <= latest) == (least is None or t >= least)
