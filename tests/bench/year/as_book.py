"""The floor as a book: jobs as they are now, and facts of what is done, shown, running."""

from collections.abc import Iterator
from dataclasses import replace

from shared.book import Answer, Book, Fact, FactKind, OtherWork
from shared.ids import EquipmentId, FactId
from tests.bench.year.clock import instant
from tests.bench.year.floor import Floor, Turn
from tests.bench.year.season import Season
from tests.bench.year.tasks import person_hours
from tests.bench.year.thinking import told_left

FOREMAN = "the foreman"


def book_of(season: Season) -> Book:
    """Return the book of this morning."""
    floor = season.floor
    return replace(
        season.book,
        as_of=instant(floor.now),
        jobs=tuple(floor.jobs.values()),
        facts=tuple(facts_of(floor)),
        other_work=tuple(_on_the_road(season)),
    )


def facts_of(floor: Floor) -> Iterator[Fact]:
    """Give what has been told of all steps, in their order."""
    for task in floor.tasks.values():
        if task.id in floor.over:
            yield from _over(floor.over[task.id])
        elif task.id in floor.running:
            yield _running(floor, floor.running[task.id])
        elif task.id in floor.shown:
            yield _fact(FactKind.PICTURES, task.id, floor.shown[task.id])


def _over(turn: Turn) -> Iterator[Fact]:
    if turn.how is None:
        yield _fact(FactKind.PICTURES, turn.task, turn.start)
        yield _fact(FactKind.ANSWER, turn.task, turn.end, answer=Answer.YES)
        return
    named = {"people": turn.team, "place": turn.how.place, "way": turn.how.way}
    yield _fact(FactKind.RUNNING, turn.task, turn.start, **named)
    yield _fact(FactKind.DONE, turn.task, turn.end, **named)


def _running(floor: Floor, turn: Turn) -> Fact:
    assert turn.how is not None
    is_one_go = floor.tasks[turn.task].one_go
    left = person_hours(told_left(floor, turn), turn.how.hands, is_one_go=is_one_go)
    return _fact(
        FactKind.RUNNING,
        turn.task,
        turn.start,
        people=turn.team,
        place=turn.how.place,
        way=turn.how.way,
        remaining_hours=left,
    )


def _fact(kind: FactKind, step: str, quarter: int, **more: object) -> Fact:
    return Fact(
        id=FactId(f"{step}.{kind.value}"),
        kind=kind,
        step=step,  # type: ignore[arg-type]
        at=instant(quarter),
        told_by=FOREMAN,
        **more,  # type: ignore[arg-type]
    )


def _on_the_road(season: Season) -> Iterator[OtherWork]:
    """Give the lorries that are still out, or whose crews rest."""
    now = season.floor.now
    for job, ride in season.on_the_road.items():
        if ride.free > now:
            yield OtherWork(
                id=f"{job}-road",
                name=f"{job} on the road",
                start=instant(min(now, ride.leaves)),
                end=instant(ride.free),
                people=ride.crew,
                equipment=(EquipmentId("van"),) if ride.back > now else (),
            )
