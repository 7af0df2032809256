"""How sure a plan is: what is drawn, and what a replay makes of it.

Worked numbers are our own (numerical integration and large samples); the three-point mean and
spread are those of D.G. Malcolm and others, Operations Research 7 (1959).
"""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from math import log
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from scheduler.chance import chances_of, with_chances
from scheduler.chance.answers import answers_of
from scheduler.chance.draws import Draws
from scheduler.chance.estimate import _Asking, threshold_of
from scheduler.chance.figures import figures_of
from scheduler.chance.fitting import Bank
from scheduler.chance.luck import Luck
from scheduler.chance.menus import Menus
from scheduler.chance.pools import Pools
from scheduler.chance.shapes import three_point
from scheduler.hours import Hours as WorkHours
from scheduler.hours import Runs
from scheduler.kept import Kept
from scheduler.normalise import normalise
from scheduler.outcome import Outcome, Verdict
from scheduler.request import SolveRequest
from scheduler.solve import solve
from shared.book import Book, FactKind, GateKind, Kind, OwnFigure
from shared.estimate import three_point_mean, three_point_sd
from shared.estimate.record import Record, posterior, record_of
from shared.ids import JobId, PersonId, StepId
from tests.builders import (
    NOW,
    a_book,
    a_fact,
    a_gate,
    a_job,
    a_journey,
    a_stage,
    a_way,
    a_window,
    a_workshop,
    some_hours,
)

CHAIN = (
    *(("carve", 30, 40, 64), ("carve", 24, 32, 52), ("barrier", 4, 5, 8), ("lam", 40, 52, 80)),
    *(("lam", 30, 40, 60), ("fair", 30, 45, 90), ("fair", 20, 30, 60), ("flow", 6, 8, 12)),
    *(("sand", 16, 24, 44), ("colour", 8, 10, 16), ("lacquer", 6, 8, 12), ("pack", 6, 8, 14)),
)


def summed(alike: float, overall: float, seed: int) -> Any:
    draws = Draws(alike=alike, overall=overall, count=8192, seed=seed)
    rows = [
        three_point(draws.of_stage(f"{at}", kind), low, likely, high)
        for at, (kind, low, likely, high) in enumerate(CHAIN)
    ]
    return np.sum(rows, axis=0)


@pytest.mark.parametrize(
    ("alike", "overall", "spread", "share", "eighty"),
    [(0.0, 0.0, 18.6, 0.873, 338.9), (0.5, 0.15, 28.4, 0.778, 347.4)],
    ids=["each by itself", "with what they have in common"],
)
def test_a_chain_of_stages_is_drawn_as_worked_out(
    alike: float, overall: float, spread: float, share: float, eighty: float
) -> None:
    rows = [summed(alike, overall, seed) for seed in range(4)]
    found = np.concatenate(rows)

    assert float(found.std()) == pytest.approx(spread, abs=0.4)
    assert float((found <= 345).mean()) == pytest.approx(share, abs=0.01)
    assert float(np.quantile(found, 0.8)) == pytest.approx(eighty, abs=0.6)


def test_drawn_hours_have_the_mean_of_three_points_and_nearly_their_spread() -> None:
    draws = Draws(alike=0, overall=0, count=8192)
    for at, (_, low, likely, high) in enumerate(CHAIN):
        found = three_point(draws.normals(f"{at}"), low, likely, high)

        assert float(found.mean()) == pytest.approx(
            float(three_point_mean(low, likely, high)), rel=2e-3
        )
        assert float(found.std()) == pytest.approx(
            float(three_point_sd(low, likely, high)), rel=0.2
        )
        assert low <= found.min()
        assert found.max() <= high


def test_hours_without_a_range_are_drawn_as_they_are() -> None:
    assert set(three_point(np.array([-2.0, 0.0, 2.0]), 8, 8, 8).tolist()) == {8.0}


def test_the_error_of_a_share_is_that_of_even_draws() -> None:
    shares = []
    for seed in range(40):
        draws = Draws(alike=0.5, overall=0.15, count=1024, seed=seed)
        rows = [
            three_point(draws.of_stage(f"{at}", kind), low, likely, high)
            for at, (kind, low, likely, high) in enumerate(CHAIN)
        ]
        shares.append(float((np.sum(rows, axis=0) <= 345).mean()))

    assert float(np.std(shares)) < 0.0120


def test_a_name_is_drawn_the_same_in_every_book_and_otherwise_by_another_seed() -> None:
    first, again, other = (Draws(alike=0.5, overall=0.1, seed=seed) for seed in (1, 1, 2))
    again.normals("something else")

    assert (first.of_stage("a", "foam") == again.of_stage("a", "foam")).all()
    assert (first.of_stage("a", "foam") != other.of_stage("a", "foam")).any()
    assert (first.normals("a") != first.normals("b")).any()


def test_a_record_is_drawn_towards_the_usual_overrun_by_its_weight() -> None:
    logs = [log(ratio) for ratio in (1.35, 1.10, 1.62, 1.25, 0.95)]
    found = posterior(logs, log(1.25))

    assert sum(logs) / len(logs) == pytest.approx(0.2099, abs=1e-4)
    assert found.mean == pytest.approx(0.2140, abs=1e-4)
    assert found.factor == pytest.approx(1.2387, abs=1e-4)
    assert found.spread == pytest.approx(0.1114, abs=1e-4)
    assert found.of_one == pytest.approx(0.3200, abs=1e-4)


@pytest.mark.parametrize(
    ("count", "weight"), [(0, 0), (1, 0.308), (2, 0.471), (5, 0.690), (10, 0.816), (20, 0.899)]
)
def test_the_weight_of_an_own_record_grows_with_it(count: int, weight: float) -> None:
    assert posterior([1.0] * count, 0.0).mean == pytest.approx(weight, abs=5e-4)


def test_a_kind_without_stages_of_its_own_goes_by_the_workshop() -> None:
    record = Record(logs={Kind.FOAM: (log(1.5),) * 5}, usual=1.25)

    assert record.is_own
    assert record.of(Kind.PAINT).factor == pytest.approx(record.whole.factor)
    assert record.of(Kind.FOAM).factor > record.whole.factor > 1.25
    assert record.is_own_of(Kind.FOAM)
    assert not record.is_own_of(Kind.PAINT)


def recorded(hours: float, count: int) -> Book:
    """Stages of eight likely hours that took so many, told by who did them."""
    stages = tuple(a_stage(f"heron-{at}", in_one_go=True) for at in range(count))
    facts = tuple(
        fact
        for at in range(count)
        for fact in (
            a_fact(f"b{at}", f"heron-{at}", kind=FactKind.RUNNING, at=NOW - timedelta(days=7)),
            a_fact(
                f"d{at}",
                f"heron-{at}",
                kind=FactKind.DONE,
                at=NOW - timedelta(days=7) + timedelta(hours=hours),
                people=(PersonId("ana"),),
            ),
        )
    )
    job = a_job(steps=(*stages, a_gate("heron-loading"), a_journey("heron-journey")))
    return a_book(job, facts=facts)


def test_recorded_stages_make_a_record_and_times_far_off_are_left_out() -> None:
    near, far = record_of(recorded(4, 6), 1.25), record_of(recorded(1, 6), 1.25)

    assert (near.count, near.left_out_count) == (6, 0)
    assert near.is_own
    assert near.whole.factor < 1
    assert (far.count, far.left_out_count) == (0, 6)


HOURS = WorkHours(
    tuple((day * 96 + 30, day * 96 + 48) for day in range(20) if day % 7 < 5)
    + tuple((day * 96 + 50, day * 96 + 66) for day in range(20) if day % 7 < 5),
    tuple((day * 96 + 30, day * 96 + 66) for day in range(20) if day % 7 < 5),
)
STRETCHES = (HOURS.shifts, ((0, 2000),), ((100, 500), (700, 1400)))


@given(
    at=st.integers(0, 2200),
    work=st.integers(1, 60),
    stretches=st.sampled_from(STRETCHES),
)
def test_tables_fit_work_where_the_calendar_does(
    at: int, work: int, stretches: tuple[tuple[int, int], ...]
) -> None:
    runs = Runs(HOURS, stretches)
    bank = Bank(2300)
    start, end = bank.fit(
        np.full(3, bank.number(runs)), np.full(3, at, dtype=np.int32), np.full(3, work)
    )
    found = runs.fit(at, work)

    assert found == ((int(start[1]), int(end[1])) if int(end[1]) < 2300 else None)


def a_tall_book(*, window_days: int = 14, answers: bool = False, **changes: Any) -> Book:
    """Sixteen likely hours of carving, ten to forty, and a window so many days from now."""
    way = replace(a_way(), hours=some_hours(16, 10, 40))
    steps: tuple[Any, ...] = (a_stage("heron-carve", ways=(way,)),)
    if answers:
        steps = (*steps, a_gate("heron-yes", GateKind.ANSWER, answer_days=5))
    end = NOW + timedelta(days=window_days)
    job = a_job(
        steps=(*steps, a_gate("heron-loading"), a_journey("heron-journey")),
        windows=(replace(a_window(), start=NOW, end=end),),
    )
    return a_book(job, **changes)


def planned(book: Book, **more: Any) -> Outcome:
    return solve(SolveRequest(book=book, now=NOW, effort=4, **more))


def test_the_same_seed_gives_the_same_answer() -> None:
    book = a_tall_book(answers=True)
    plan = planned(book).plan

    assert chances_of(book, plan, draws=256) == chances_of(book, plan, draws=256)
    assert chances_of(book, plan, draws=256) != chances_of(book, plan, draws=256, seed=7)


def test_a_job_of_one_stage_is_in_time_as_often_as_its_hours_are_short_enough() -> None:
    book = a_tall_book(window_days=3)
    plan = planned(book).plan
    asking = _Asking(book, plan, 2048, 1, Kept())
    replay = asking.replay()
    (stage,) = (at for at, name in enumerate(asking._normal.stages) if name.step == "heron-carve")
    factor, latest = replay.luck.factors[stage], asking._normal.problem.jobs[0].latest
    assert latest is not None
    assert not isinstance(factor, float)
    index = asking._index
    work = index.problem.stages[stage].ways[0].work
    team = index.all_teams(index.call(stage, 0))[0]
    ends = [index.runs(team, 0, stage).fit(0, -int(-(float(work) * each) // 1)) for each in factor]
    in_time = sum(end is not None and end[1] <= latest for end in ends) / len(ends)

    assert 0.05 < in_time < 0.95
    assert replay.chances[0] == pytest.approx(100 * in_time, abs=1)


def test_nothing_is_said_to_be_sure() -> None:
    early, late = a_tall_book(window_days=90), a_tall_book(window_days=1)

    assert chances_of(early, planned(early).plan).jobs[0].chance == 99
    assert chances_of(late, planned(late).plan).jobs[0].chance in (None, 1)


def test_a_replay_without_any_luck_is_the_plan() -> None:
    book = a_tall_book(answers=True)
    plan = planned(book).plan
    asking = _Asking(book, plan, 4, 1, Kept())
    luck = asking.replay().luck
    yes = {
        gate: replace(
            each,
            days={number: np.full(4, 5, dtype=np.int32) for number in each.days},
            noes=np.zeros(4, dtype=np.int32),
        )
        for gate, each in luck.answers.items()
    }
    flat = Luck(factors=(1.0,) * len(luck.factors), answers=yes, weather=np.ones(4))
    found = Pools(
        asking._normal, asking._index, asking._planned, flat, 4, asking._bank, asking._menus
    ).run()
    ends = [int(end[0]) for end in found.ends if end is not None]
    loading = asking._normal.problem.jobs[0].lasts[0]

    assert len(ends) == len(asking._normal.problem.stages)
    assert all(end <= mine for end, mine in zip(ends, asking._planned.ends, strict=True))
    assert ends[loading] == asking._planned.ends[loading]


def test_answers_take_the_agreed_days_at_the_median_and_nine_of_ten_come_within_twice() -> None:
    book = a_tall_book(answers=True, window_days=60)
    normal = normalise(book, NOW)
    figures = figures_of(book.workshop)
    draws = Draws(alike=0.5, overall=0.15, count=4096)
    (found,) = answers_of(normal, draws, figures, 20_000).values()
    days = found.days[1]

    assert float(np.median(days)) == 5
    assert float((days <= 10).mean()) == pytest.approx(0.91, abs=0.02)
    assert float((found.noes > 0).mean()) == pytest.approx(0.25, abs=0.01)


def test_an_answer_that_is_waited_for_takes_longer_than_it_has_already() -> None:
    shown = a_fact("shown", "heron-yes", kind=FactKind.PICTURES, at=NOW - timedelta(days=11))
    done = a_fact("done", "heron-carve", at=NOW - timedelta(days=12), people=(PersonId("ana"),))
    book = a_tall_book(answers=True, window_days=60, facts=(done, shown))
    normal = normalise(book, NOW)
    draws = Draws(alike=0.5, overall=0.15)
    (found,) = answers_of(normal, draws, figures_of(book.workshop), 20_000).values()

    # Of the days since the 25th of December five were worked (29, 30, 31, 2 and today, the 5th).
    assert int(found.days[1].min()) == 5
    assert float(np.median(found.days[1])) > 5


def test_the_workshops_own_figures_are_used() -> None:
    own = (
        OwnFigure(figure="CP704", value=Decimal(60)),
        OwnFigure(figure="CP701", value=Decimal(2)),
    )
    found = figures_of(a_workshop(figures=own))

    assert (found.again, found.usual) == (0.6, 2.0)


def test_longer_hours_make_a_job_less_sure_until_there_is_a_record() -> None:
    book = a_tall_book(window_days=6)
    found = chances_of(book, planned(book).plan)
    (job,) = found.jobs

    assert not found.is_own_record
    assert found.overrun_percent == 25
    assert job.chance is not None
    assert job.at_usual_overrun is not None
    assert job.at_usual_overrun < job.chance


def test_an_own_record_takes_the_place_of_the_usual_overrun() -> None:
    book = recorded(4, 6)
    found = chances_of(book, planned(book).plan)

    assert found.is_own_record
    assert found.finished_count == 6
    assert all(job.at_usual_overrun is None for job in found.jobs)
    assert found.overrun_percent < 0


def test_too_small_a_chance_makes_a_job_tight() -> None:
    book = a_tall_book(window_days=3)
    outcome = planned(book)
    assert outcome.verdict in (Verdict.FITS, Verdict.TIGHT)
    found = chances_of(book, outcome.plan)
    told = with_chances(
        replace(outcome, jobs=tuple(replace(job, verdict=Verdict.FITS) for job in outcome.jobs)),
        found,
    )
    sure = replace(found, jobs=tuple(replace(job, chance=97) for job in found.jobs))

    assert found.jobs[0].is_short
    assert told.jobs[0].chance == found.jobs[0].chance
    assert told.jobs[0].verdict is told.verdict is Verdict.TIGHT
    assert with_chances(told, sure).jobs[0].chance == 97


def test_a_window_is_wanted_surer_where_no_other_is_on_offer() -> None:
    one, two = a_window(), a_window("second")

    assert threshold_of(a_job(windows=(one,))) == 95
    assert threshold_of(a_job(windows=(one, two))) == 90
    assert threshold_of(a_job(windows=(one,), chance_wanted_percent=70)) == 70


def test_what_is_drawn_widest_carries_the_risk() -> None:
    book = a_tall_book(window_days=6)
    (job,) = chances_of(book, planned(book).plan).jobs

    assert job.risks[0].step == StepId("heron-carve")
    assert job.risks[0].job == JobId("heron")
    assert job.risks[0].share_percent == 100
    assert job.risks[0].pull_percent > 50


def test_a_late_answer_of_one_job_leaves_people_free_for_the_other() -> None:
    """Work that begins long after somebody is free does not keep them from what lies before."""
    way = a_way(hours=8)
    end = NOW + timedelta(days=40)

    def job(name: str, *, waits: bool) -> Any:
        gate = (a_gate(f"{name}-yes", GateKind.ANSWER, answer_days=2),) if waits else ()
        steps = (
            *gate,
            a_stage(f"{name}-carve", ways=(way,)),
            a_gate(f"{name}-loading"),
            a_journey(f"{name}-journey"),
        )
        return a_job(name, steps=steps, windows=(replace(a_window(), start=NOW, end=end),))

    book = a_book(job("heron", waits=True), job("owl", waits=False))
    plan = planned(book).plan
    asking = _Asking(book, plan, 512, 1, Kept())
    found = asking.replay()
    owl = next(at for at, name in enumerate(asking._normal.jobs) if name.job.id == "owl")
    heron = 1 - owl

    assert float(np.ptp(found.loaded[heron])) > 5 * 96
    assert float(np.quantile(found.loaded[owl], 0.9) - np.median(found.loaded[owl])) <= 4 * 96


def test_where_no_team_has_hours_for_a_stage_no_chance_is_said(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """As in round 223 of the generated workshops of seed 2, this morning's question."""
    book = a_tall_book()
    plan = planned(book).plan
    monkeypatch.setattr(Menus, "_of_teams", lambda *_: ())
    (job,) = chances_of(book, plan, draws=64).jobs

    assert job.chance in (None, 1)
    assert job.ready_50 is None
