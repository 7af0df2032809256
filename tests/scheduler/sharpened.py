"""What made-up problems have besides: cold spells, recoat times by table, air that is shared."""

from dataclasses import replace
from random import Random

from scheduler.problem import Edge, Problem, Room, Spans, Stage, Table, Use

DAY = 96
WEEK = 7 * DAY


def sharpened(problem: Problem, seed: int) -> Problem:
    """Return the problem with some of the three, drawn by seed."""
    draw = Random(f"{seed} sharpened")
    if draw.random() < 0.4:
        problem = _with_spells(problem, draw)
    if draw.random() < 0.4:
        edges = tuple(_by_table(problem, edge, draw) for edge in problem.edges)
        problem = replace(problem, edges=edges)
    return _with_air(problem, draw) if draw.random() < 0.4 else problem


def _with_spells(problem: Problem, draw: Random) -> Problem:
    """Let coats and laminates keep out of some days that are too cold."""
    cuts = sorted(draw.sample(range(2, problem.horizon // DAY - 1, 3), 3))
    edges = [0, *(time for day in cuts for time in (day * DAY, (day + 1) * DAY)), problem.horizon]
    clear = tuple(zip(edges[::2], edges[1::2], strict=True))
    stages = tuple(
        _cleared(stage, clear) if stage.one_go and draw.random() < 0.5 else stage
        for stage in problem.stages
    )
    return replace(problem, stages=stages)


def _cleared(stage: Stage, clear: Spans) -> Stage:
    return replace(stage, ways=tuple(replace(way, clear=clear) for way in stage.ways))


def _by_table(problem: Problem, edge: Edge, draw: Random) -> Edge:
    """Let a recoat time be a day shorter in some weeks, and end some day for good."""
    if edge.most is None or edge.most > WEEK or draw.random() < 0.3:
        return edge
    last = draw.choice([problem.horizon, problem.horizon // 2])
    knots: list[tuple[int, int]] = []
    for upto in range(48, last + 48, 48):
        brief = DAY if upto // WEEK % 3 == 1 else 0
        value = upto + edge.most - brief
        knots.append((upto, max(value, knots[-1][1] if knots else 0)))
    most = edge.most if draw.random() < 0.5 else None
    return replace(edge, most=most, most_table=Table.of(*knots))


def _with_air(problem: Problem, draw: Random) -> Problem:
    """Keep wet work and blocks under the wire apart."""
    wet, wire = len(problem.rooms), len(problem.rooms) + 1
    stays = draw.random() < 0.5
    damp = Use(room=wet, units=1, after=2, through_cure=stays, against=(wire,))
    hot = Use(room=wire, units=1, before=1, against=(wet,))
    stages = []
    for stage in problem.stages:
        use = damp if stage.one_go else hot if stage.longest_pause == 4 * DAY else None
        if use is not None and draw.random() < 0.6:
            ways = tuple(replace(way, uses=(*way.uses, use)) for way in stage.ways)
            stage = replace(stage, ways=ways)
        stages.append(stage)
    rooms = (*problem.rooms, Room(capacity=99), Room(capacity=99))
    return replace(problem, stages=tuple(stages), rooms=rooms)
