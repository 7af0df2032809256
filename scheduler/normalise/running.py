"""A stage that is under way: what is left of it, with the same people, from now on."""

from collections.abc import Sequence
from dataclasses import replace
from functools import reduce

from scheduler.grid import DAY_STEPS
from scheduler.normalise.acts import wet_hours_of
from scheduler.normalise.frame import Frame
from scheduler.normalise.people import Skills
from scheduler.normalise.ways import Asked, Expanded, expand
from scheduler.problem import Need, Span, Spans, Stage, Way
from scheduler.spans import common
from scheduler.teams import work_steps
from shared import book
from shared.book import Fact, Gate
from shared.ids import PlaceId, SkillId

_ANY = SkillId("")


def running_stage(
    frame: Frame, step: book.Stage | Gate, fact: Fact, asked: Asked
) -> tuple[Stage, Expanded]:
    """Return what is left of a stage, at the first moment its people can go on.

    Whoever is on it is taken to be able to do it; where nobody was named, anybody who can, with
    those among them who are asked for.
    """
    team = frame.positions_of(fact.people)
    ways = tuple(
        _rest_of(way, fact, len(team), frame.rooms.places_of(way))
        for way in step.ways
        if _is_used(way, step, fact)
    )
    people = () if fact.people else asked.people
    certificates = () if team else asked.certificates
    asked = replace(asked, people=people, certificates=certificates, is_given=bool(team))
    found = expand(frame, ways, asked)
    stage = Stage(ways=found.ways or (Way(),), one_go=step.in_one_go)
    if not team:
        return _by_anybody(frame, step, stage, asked), found
    needs = (Need(skill=Skills.ANY, can=len(team)),)
    stage = replace(
        stage,
        ways=tuple(replace(way, needs=needs, calendar=None) for way in stage.ways),
        asked=team,
        only_asked=True,
        under_way=True,
    )
    place = found.names[0].place if found.names else None
    if place is None or not asked.acts:
        return _from_now(frame, stage, team), found
    frame.reads.air = True
    free = frame.air.free_from(place, asked.acts)
    stage = _from_now(frame, stage, team, sooner=0 if free is None else frame.grid.up(free))
    _note_air(frame, step, stage, place, asked)
    return stage, found


def _by_anybody(frame: Frame, step: book.Stage | Gate, stage: Stage, asked: Asked) -> Stage:
    return replace(
        stage,
        longest_pause=_pause(frame, step),
        asked=frame.positions_of(asked.people),
        only_asked=asked.only_people and bool(asked.people),
        certificates=tuple(map(frame.certificates.position, asked.certificates)),
    )


def _note_air(
    frame: Frame, step: book.Stage | Gate, stage: Stage, place: PlaceId, asked: Asked
) -> None:
    """Let a stage under way hold its air to its end."""
    if stage.fixed_start is not None and isinstance(step, book.Stage):
        paces = [frame.workers[worker].pace for worker in stage.asked]
        work = work_steps(stage.ways[0].work, paces)
        _, end = _worked_from(_common_hours(frame, stage.asked), stage.fixed_start, work)
        until = frame.grid.instant(end)
        frame.air.note(place, asked.acts, until, wet_hours_of(step), is_over=False)


def _pause(frame: Frame, step: book.Stage | Gate) -> int | None:
    if step.in_one_go:
        return None
    days = step.longest_pause_days if isinstance(step, book.Stage) else None
    return (frame.book.workshop.longest_pause_days if days is None else days) * DAY_STEPS


def _is_used(way: book.Way, step: book.Stage | Gate, fact: Fact) -> bool:
    return way.id == fact.way or (not fact.way and way.id == step.ways[0].id)


def _rest_of(way: book.Way, fact: Fact, hands_count: int, places: tuple[PlaceId, ...]) -> book.Way:
    """Return a way with the hours that are left, the hands that are on it, and where it is."""
    left = way.hours.likely if fact.remaining_hours is None else fact.remaining_hours
    return replace(
        way,
        hours=book.Hours(low=left, likely=left, high=left),
        places=places[:1] if fact.place is None else (fact.place,),
        place_kinds=(),
        needs=(book.Need(skill=_ANY, can=hands_count),) if hands_count else way.needs,
    )


def _from_now(frame: Frame, stage: Stage, team: tuple[int, ...], sooner: int = 0) -> Stage:
    """Return the stage pinned to the first moment at which its people can go on to its end.

    Its place is held until then as well. sooner: it may not go on before that step.
    """
    frame.reads.people.update(team)
    work = work_steps(stage.ways[0].work, [frame.workers[worker].pace for worker in team])
    hours = _common_hours(frame, team)
    taken = sorted(
        span for worker in team for span in (*frame.workers[worker].busy, *frame.held[worker])
    )
    start, end = _first_fit(hours, [*taken, (0, sooner)], work)
    if start is None:
        return replace(stage, longest_pause=None)
    for worker in team:
        frame.hold(worker, (start, end))
    ways = tuple(
        replace(way, uses=tuple(replace(use, before=start) for use in way.uses))
        for way in stage.ways
    )
    one_go = stage.one_go and _is_in_one(frame, team, (start, end))
    return replace(stage, ways=ways, fixed_start=start, one_go=one_go)


def _is_in_one(frame: Frame, team: Sequence[int], span: Span) -> bool:
    """Return whether a stretch lies in one shift of everybody.

    What was to be done in one go and does not any more goes on in parts until somebody decides.
    """
    calendars = (frame.workers[worker].calendar for worker in team)
    shifts = (frame.calendars.made[each].shifts for each in calendars if each is not None)
    return all(any(a <= span[0] and span[1] <= b for a, b in each) for each in shifts)


def _common_hours(frame: Frame, team: Sequence[int]) -> Spans:
    frame.reads.hours = True
    calendars = (frame.workers[worker].calendar for worker in team)
    opens = (frame.calendars.made[each].open for each in calendars if each is not None)
    return reduce(common, opens, ((0, frame.grid.horizon),))


def _first_fit(hours: Spans, taken: Sequence[Span], work: int) -> tuple[int | None, int]:
    """Return the first start and end of so much work that meets nothing taken."""
    at = 0
    while True:
        start, end = _worked_from(hours, at, work)
        if start is None:
            return None, 0
        met = [busy_end for busy_start, busy_end in taken if busy_start < end and busy_end > start]
        if not met:
            return start, end
        at = max(met)


def _worked_from(hours: Spans, at: int, work: int) -> tuple[int | None, int]:
    start: int | None = None
    for opens, shuts in hours:
        begun = max(at, opens)
        if begun >= shuts:
            continue
        start = begun if start is None else start
        if shuts - begun >= work:
            return start, begun + work
        work -= shuts - begun
    return None, 0
