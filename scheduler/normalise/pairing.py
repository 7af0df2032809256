"""Who can do a stage that wants the people of another."""

from dataclasses import replace
from fractions import Fraction

from scheduler.normalise.frame import Frame
from scheduler.normalise.ways import Asked, clash, needs_of
from scheduler.problem import Stage, Way
from scheduler.reasons import Reason
from scheduler.teams import Team, call_of, eligible, team_count, teams_among
from shared import book
from shared.findings import Clash

_TEAMS_MAX = 2000
"""Where more teams could do a stage, one is taken to be found that does the other as well."""


def asked_with_mates(frame: Frame, step: book.Stage, asked: Asked) -> Asked | Clash:
    """Return what a stage asks of people, given who has begun its mates; or why nobody can."""
    for mate in frame.mates.of(step.id):
        people = frame.mates.told_people(mate.id)
        trouble = clash(Reason.OTHER_PEOPLE, step=step.id, other=mate.name)
        if people is None:
            is_open = step.same_people_as == mate.id and not frame.mates.has_begun(mate.id)
            if is_open and not _have_a_team(frame, step, mate):
                return trouble
        elif set(people) <= set(frame.worker_positions):
            hands = {way.hands_count for way in step.ways}
            if not set(asked.people) <= set(people) or len(people) not in hands:
                return trouble
            asked = replace(asked, people=tuple(sorted(people)), only_people=True)
    return asked


def _have_a_team(frame: Frame, step: book.Stage, mate: book.Stage) -> bool:
    """Return whether some team can do both, as far as skills and certificates go."""
    mine, others = _teams(frame, step), _teams(frame, mate)
    return mine is None or others is None or not mine.isdisjoint(others)


def _teams(frame: Frame, step: book.Stage) -> frozenset[Team] | None:
    """Return the teams that can do a stage, None where it takes no work or they are too many."""
    pin = step.pin or book.Pin()
    wanted = [frame.worker_positions.get(person) for person in (*step.people, *pin.people)]
    stage = Stage(
        ways=(Way(),),
        asked=tuple(sorted({at for at in wanted if at is not None})),
        certificates=tuple(map(frame.certificates.position, step.certificates)),
    )
    found: set[Team] = set()
    for way in step.ways:
        if not way.hours.likely:
            return None
        needs = needs_of(frame.skills, way)
        call = call_of(stage, Way(needs=needs, work=Fraction(way.hours.likely)))
        able = eligible(frame.workers, call)
        if team_count(call, len(able)) > _TEAMS_MAX:
            return None
        found.update(teams_among(frame.workers, call, able))
    return frozenset(found)
