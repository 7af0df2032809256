"""Who and what a schedule takes when: by worker and by room, of every stage, stand and journey."""

from dataclasses import dataclass

from scheduler.calendar import Index
from scheduler.problem import Schedule
from scheduler.terms import Claim


@dataclass(frozen=True, slots=True, kw_only=True)
class Share:
    """Units that a stage takes of a room over [start, end)."""

    room: int
    start: int
    end: int
    units: int
    stage: int
    against: tuple[int, ...] = ()


class Taken:
    """What a schedule takes. shares: by stage. shy: stages that only keep others away."""

    def __init__(self, index: Index, schedule: Schedule) -> None:
        self.schedule = schedule
        self.shares = [
            shares_of(index, schedule, stage) for stage in range(len(index.problem.stages))
        ]
        self.shy = {
            share.stage
            for shares in self.shares
            for share in shares
            if share.against and not share.units
        }


def shares_of(index: Index, schedule: Schedule, stage: int) -> tuple[Share, ...]:
    """Return what a stage takes of rooms in a schedule."""
    way = schedule.ways[stage]
    if way < 0:
        return ()
    start, end = schedule.starts[stage], schedule.ends[stage]
    return tuple(_share(claim, stage, start, end) for claim in index.terms.claims[stage][way])


def _share(claim: Claim, stage: int, start: int, end: int) -> Share:
    return Share(
        room=claim.room,
        start=claim.begins(start),
        end=claim.ends(end),
        units=claim.units,
        stage=stage,
        against=claim.against,
    )
