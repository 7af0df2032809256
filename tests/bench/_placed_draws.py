"""The reference for chances: one whole placement pass for each draw, in planned order.

Every rule of the problem holds in it; the draws are those of the pools.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

import numpy as np

from scheduler.aims import loading_end
from scheduler.calendar import Index
from scheduler.chain import Unfit
from scheduler.chance.answers import Answers
from scheduler.chance.fitting import Bank
from scheduler.chance.luck import Luck
from scheduler.chance.planned import Planned
from scheduler.grid import DAY_STEPS
from scheduler.kept import Kept
from scheduler.normalise import Normal
from scheduler.place import place
from scheduler.problem import Stage, Table, Wait
from shared.units import steps_up

TELLING = 10_000
NEVER = 1 << 28


def placed_ends(
    normal: Normal, planned: Planned, luck: Luck, which: Sequence[int], upto: int
) -> Iterator[list[int]]:
    """Give for each of some draws when each job's loading ends, NEVER where nothing fits."""
    base = Index(normal.problem, tables=Kept().tables)
    tables = Bank(upto)
    order = list(planned.order)
    order += [stage for stage in range(len(normal.problem.stages)) if stage not in set(order)]
    for draw in which:
        stages = tuple(
            _stage(normal, base, tables, planned, luck, stage, draw, upto)
            for stage in range(len(normal.problem.stages))
        )
        index = Index(replace(normal.problem, stages=stages), tables=base.tables)
        found = place(index, order)
        if isinstance(found, Unfit):
            yield [NEVER] * len(normal.problem.jobs)
        else:
            yield [loading_end(aim, found) for aim in normal.problem.jobs]


def _stage(
    normal: Normal,
    index: Index,
    tables: Bank,
    planned: Planned,
    luck: Luck,
    stage: int,
    draw: int,
    upto: int,
) -> Stage:
    asked, name = normal.problem.stages[stage], normal.stages[stage]
    factor = luck.factors[stage]
    exact = Fraction(factor if isinstance(factor, float) else float(factor[draw]))
    exact = exact.limit_denominator(TELLING)
    answers = luck.answers.get(name.step)
    if (
        answers is not None
        and name.part == "rework"
        and answers.noes[draw] < name.round + 1 - answers.first
    ):
        exact = Fraction(0)
    ways = tuple(
        replace(way, work=_work(index, tables, stage, at, exact)) if way.work else way
        for at, way in enumerate(asked.ways)
    )
    changed = replace(asked, ways=ways, told_team=planned.teams[stage] or None, start_by=None)
    if answers is not None and name.round and not name.part:
        return _answered(normal, answers, stage, changed, draw, upto)
    quick = asked.quickest
    if quick is not None and quick != asked.cure:
        share = float(luck.weather[draw])
        return replace(changed, cure=_between(quick, asked.cure, share), quickest=None)
    return changed


def _work(index: Index, tables: Bank, stage: int, way: int, factor: Fraction) -> Fraction:
    asked = index.problem.stages[stage]
    work = asked.ways[way].work * factor
    if not asked.one_go:
        return work
    teams = index.all_teams(index.call(stage, way))
    usual = [tables.usual(tables.number(index.runs(team, way, stage))) for team in teams[:40]]
    return min(work, Fraction(max(usual, default=math.ceil(work))))


def _answered(
    normal: Normal, answers: Answers, stage: int, asked: Stage, draw: int, upto: int
) -> Stage:
    """Let the answer come when it does in a draw."""
    name = normal.stages[stage]
    if name.begun is not None and name.due is not None:
        shown = np.array([steps_up(normal.origin, name.begun)], dtype=np.int32)
        due = int(_of_draw(answers, draw, 1).ready(name.round, shown)[0]) - answers.more
        return replace(asked, release=max(0, due))
    mornings = answers.working.mornings
    uptos = mornings[(mornings > 0) & (mornings <= upto + 30 * DAY_STEPS)] - 1
    values = _of_draw(answers, draw, len(uptos)).ready(name.round, uptos.astype(np.int32))
    # A round that is not called for takes no time: its table is the moment itself.
    if answers.noes[draw] < name.round - answers.first:
        return replace(asked, cure=Wait())
    rising = np.maximum.accumulate(values)
    table = Table(uptos=tuple(uptos.tolist()), values=tuple(rising.tolist()))
    return replace(asked, cure=Wait(table=table), quickest=None)


def _of_draw(answers: Answers, draw: int, count: int) -> Answers:
    return replace(
        answers,
        days={n: np.full(count, row[draw], dtype=np.int32) for n, row in answers.days.items()},
        noes=np.full(count, answers.noes[draw], dtype=np.int32),
        changes=np.full(count, answers.changes[draw], dtype=np.int32),
    )


def _between(quick: Wait, slow: Wait, share: float) -> Wait:
    least = quick.least + math.ceil((slow.least - quick.least) * share - 1e-9)
    if quick.table is None or slow.table is None:
        return Wait(least=max(least, 0), table=slow.table)
    uptos = sorted({*quick.table.uptos, *slow.table.uptos})
    knots = []
    for upto in uptos:
        soon, late = quick.table.value(upto), slow.table.value(upto)
        if soon is not None and late is not None:
            knots.append((upto, soon + math.ceil(max(0, late - soon) * share - 1e-9)))
    return Wait(least=least, table=Table.of(*knots))
