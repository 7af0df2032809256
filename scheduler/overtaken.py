"""What can't stay where it is once something before it comes later, by waits and hours alone."""

from collections import deque
from collections.abc import Mapping

from scheduler.calendar import Index
from scheduler.hours import moment_from
from scheduler.net import Net
from scheduler.search import Spot
from scheduler.terms import Link

Spots = Mapping[int, Spot]


def overtaken(index: Index, net: Net, spots: Spots, found: Spots) -> set[int]:
    """Return which of some placed stages the new places of others push away.

    Each is pushed no further than its own people's hours ask for, then whatever follows it. A
    stage from which a greatest wait would run out is pushed as well.
    """
    now = dict(found)
    pushed: set[int] = set()
    queue = deque(found)
    left = len(net.active) * 8
    while queue and left:
        left -= 1
        stage = queue.popleft()
        for link in net.outs[stage]:
            there = now.get(link.after) or spots.get(link.after)
            if there is None or link.after in found or not _comes_too_soon(link, now[stage], there):
                continue
            pushed.add(link.after)
            later = _later(index, link, now[stage], there)
            if later is not None:
                now[link.after] = later
                queue.append(link.after)
                pushed |= _left_waiting(net, spots, link.after, later) - found.keys()
    return pushed


def _came(link: Link, spot: Spot) -> int:
    return spot.end if link.from_end else spot.start


def _comes(link: Link, spot: Spot) -> int:
    return spot.end if link.to_end else spot.start


def _comes_too_soon(link: Link, before: Spot, after: Spot) -> bool:
    if link.lag is None:
        return False
    ready = link.lag.of(_came(link, before))
    return ready is None or _comes(link, after) < ready


def _later(index: Index, link: Link, before: Spot, after: Spot) -> Spot | None:
    """Return the soonest place of a stage behind another, with the same people."""
    stage, way, team = link.after, after.way, after.team
    ready = None if link.lag is None else link.lag.of(_came(link, before))
    if ready is None:
        return None
    work = index.steps(team, way, stage)
    if link.to_end:
        found = index.ending_at(team, way, stage, ready)
    elif work:
        found = index.runs(team, way, stage).fit(ready, work)
    else:
        found = moment_from(index.problem.stages[stage].ways[way].clear, ready)
    return None if found is None else Spot(start=found[0], end=found[1], way=way, team=team)


def _left_waiting(net: Net, spots: Spots, stage: int, spot: Spot) -> set[int]:
    """Return the placed stages before one from which it would now be too late."""
    found: set[int] = set()
    for link in net.ins[stage]:
        before = spots.get(link.before)
        if before is not None and link.most is not None:
            latest = link.most.of(_came(link, before))
            if latest is not None and _comes(link, spot) > latest:
                found.add(link.before)
    return found
