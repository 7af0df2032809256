"""Stages of several pieces as one load: what may be one, its hours, and what follows it."""

from collections import Counter
from dataclasses import replace
from decimal import Decimal
from random import Random
from typing import Any

import pytest

from shared.book import After, Book, Hours, Job, Kind, Pin, Stage, Step
from shared.edits import NoSuchThing, take_load, take_loads
from shared.ids import SegmentId, StepId
from shared.loads import NoLoad, joined, likeness, setup_hours, usual_pieces_most
from shared.order import afters_of, touched
from tests.books.plain import full, small
from tests.builders import (
    a_book,
    a_fact,
    a_gate,
    a_job,
    a_journey,
    a_segment,
    a_stage,
    a_way,
    an_after,
    on,
    some_hours,
)


def a_coat(piece: str, name: str = "Colour", hours: int = 4, **changes: Any) -> Stage:
    """Give a coat of one piece, sprayed in the booth."""
    way = a_way("gun", hours=hours, skill="paint", places=("booth",))
    usual = a_stage(f"{piece}-{name.lower()}", Kind.PAINT, segments=(piece,), ways=(way,))
    return replace(usual, name=name, **changes)


def of_pieces(*steps: Step, pieces: tuple[str, ...] = ("fin", "tail")) -> Book:
    segments = tuple(a_segment(piece) for piece in pieces)
    return a_book(a_job(segments=segments, steps=(*steps, a_gate(), a_journey())))


def ids(*names: str) -> list[StepId]:
    return [StepId(name) for name in names]


def named(job: Job) -> dict[str, Step]:
    return {step.id: step for step in job.steps}


# What a load is.


def test_a_load_has_the_pieces_of_all_and_one_set_up() -> None:
    # Set-ups of one and two hours: the longer stays.
    fin = a_coat("fin", hours=4)
    fin = replace(fin, ways=(replace(fin.ways[0], setup_hours=Decimal(1), cost=Decimal(5)),))
    tail = a_coat("tail", hours=6)
    tail = replace(tail, ways=(replace(tail.ways[0], setup_hours=Decimal(2), cost=Decimal(7)),))

    load = joined((fin, tail))

    assert (load.id, load.name) == ("fin-colour", "Colour")
    assert load.segments == ("fin", "tail")
    (way,) = load.ways
    assert way.hours.likely == 4 + 6 - 1
    assert way.setup_hours == 2
    assert way.cost == 12


def test_of_hours_without_a_set_up_a_share_is_one_to_the_quarter_below() -> None:
    # A quarter of the hours is set-up: common practice, no source.
    assert setup_hours(a_way(hours=4)) == 1
    assert setup_hours(a_way(hours=3)) == Decimal("0.75")
    assert setup_hours(a_way(hours="2.75")) == Decimal("0.5")
    assert setup_hours(a_way(hours=0)) == 0
    assert setup_hours(replace(a_way(hours=2), setup_hours=Decimal(9))) == 2
    assert usual_pieces_most() == 3


def test_low_likely_and_high_stay_in_order() -> None:
    rng = Random(3)
    for _ in range(200):
        stages = []
        for piece in ("fin", "tail", "crest"):
            low = Decimal(rng.randrange(0, 20)) / 4
            likely = low + Decimal(rng.randrange(0, 20)) / 4
            hours = Hours(low=low, likely=likely, high=likely + Decimal(rng.randrange(0, 9)) / 4)
            setup = rng.choice((None, Decimal(rng.randrange(0, 30)) / 4))
            coat = a_coat(piece)
            way = replace(coat.ways[0], hours=hours, setup_hours=setup)
            stages.append(replace(coat, ways=(way,)))
        found = joined(stages).ways[0].hours
        assert found.low <= found.likely <= found.high
        assert max(s.ways[0].hours.likely for s in stages) <= found.likely
        assert found.likely <= sum(s.ways[0].hours.likely for s in stages)


def test_only_ways_that_all_have_are_left() -> None:
    pair = a_way("pair", hands=2, skill="paint", places=("booth",))
    fin, tail = a_coat("fin"), a_coat("tail")
    fin = replace(fin, ways=(*fin.ways, pair))

    assert [way.id for way in joined((fin, tail)).ways] == ["gun"]
    both = joined((fin, replace(tail, ways=(*tail.ways, replace(pair, hours=some_hours(2))))))
    assert [(way.id, way.hours.likely) for way in both.ways] == [
        ("gun", 7),
        ("pair", Decimal("9.5")),
    ]


def test_rooms_that_are_written_add_up_and_the_latest_day_counts() -> None:
    fin = a_coat("fin", not_before=on("2026-02-03"))
    fin = replace(fin, ways=(replace(fin.ways[0], area_m2=Decimal(5)),))
    tail = a_coat("tail", not_before=on("2026-02-10"))
    tail = replace(tail, ways=(replace(tail.ways[0], area_m2=Decimal(6)),))

    load = joined((fin, tail))

    assert load.ways[0].area_m2 == 11
    assert load.not_before == on("2026-02-10")


ODD: dict[str, dict[str, Any]] = {
    "another kind": {"kind": Kind.LACQUER},
    "another name": {"name": "Second colour"},
    "another product": {"product": "grey"},
    "another cure": {"cure_hours": Decimal(3)},
    "another recoat time": {"recoat_hours": Decimal(48)},
    "not in one go": {"in_one_go": True},
    "other limits": {"coldest_celsius": Decimal(12)},
    "another place": {"ways": (a_way("gun", hours=4, skill="paint", places=("bay",)),)},
    "other people": {"ways": (a_way("gun", hours=4, skill="fill", places=("booth",)),)},
}


@pytest.mark.parametrize("changes", ODD.values(), ids=ODD)
def test_what_differs_in_more_than_its_piece_is_no_load(changes: dict[str, Any]) -> None:
    with pytest.raises(NoLoad) as said:
        joined((a_coat("fin"), replace(a_coat("tail"), **changes)))
    assert said.value.code == "load_unlike"


def test_one_product_makes_alike_whatever_the_name() -> None:
    fin, tail = a_coat("fin", product="grey"), a_coat("tail", "Top coat", product="grey")

    assert likeness(fin) == likeness(tail)
    assert joined((fin, tail)).name == "Colour"
    assert likeness(replace(fin, product="")) != likeness(replace(tail, product=""))


def refused(book: Book, *steps: str) -> str:
    with pytest.raises(NoLoad) as said:
        take_load(book, ids(*steps))
    return said.value.code


def test_what_can_be_no_load_is_refused() -> None:
    fin, tail = a_coat("fin"), a_coat("tail")
    book = of_pieces(fin, tail)
    other = a_job("moon", segments=(a_segment("orb"),), steps=(a_coat("orb"),))

    assert refused(book, "fin-colour") == "load_of_one"
    assert refused(book) == "load_of_one"
    assert refused(replace(book, jobs=(*book.jobs, other)), "fin-colour", "orb-colour") == (
        "load_other_jobs"
    )
    assert refused(book, "fin-colour", "loading") == "load_no_stage"
    pinned = replace(tail, pin=Pin(day=on("2026-02-02")))
    assert refused(of_pieces(fin, pinned), "fin-colour", "tail-colour") == "load_pinned"
    told = replace(book, facts=(a_fact(step="tail-colour"),))
    assert refused(told, "fin-colour", "tail-colour") == "load_begun"
    again = replace(fin, id=StepId("again"))
    assert refused(of_pieces(fin, again), "fin-colour", "again") == "load_same_piece"
    with pytest.raises(NoSuchThing):
        take_load(book, ids("nothing"))


def test_pieces_of_which_one_waits_for_the_other_are_no_load() -> None:
    direct = of_pieces(a_coat("fin"), a_coat("tail", after=(an_after("fin-colour"),)))
    rub = a_stage("rub", Kind.FILL, segments=("tail",), after=("fin-colour",))
    round_about = of_pieces(a_coat("fin"), rub, a_coat("tail"))

    assert refused(direct, "fin-colour", "tail-colour") == "load_in_a_ring"
    assert refused(round_about, "fin-colour", "tail-colour") == "load_in_a_ring"


# The order after it.


def chains(job: Job) -> dict[str, set[str]]:
    """Give what each step comes after, near or far."""
    afters = afters_of(job)
    found: dict[str, set[str]] = {}

    def reach(step: StepId) -> set[str]:
        if step not in found:
            found[step] = set()
            for after in afters.get(step, ()):
                found[step] |= {after.step, *reach(after.step)}
        return found[step]

    for step in job.steps:
        reach(step.id)
    return found


def test_everything_still_comes_after_what_it_came_after() -> None:
    fins = (a_stage("rub-fin", Kind.FILL, segments=("fin",)), a_coat("fin"), a_coat("fin", "Gloss"))
    tails = (
        a_stage("rub-tail", Kind.FILL, segments=("tail",)), a_coat("tail"), a_coat("tail", "Gloss"),
    )  # fmt: skip
    book = of_pieces(*fins, *tails)

    (job,) = take_load(book, ids("tail-colour", "fin-colour")).book.jobs

    assert [step.id for step in job.steps] == [
        "rub-fin", "rub-tail", "fin-colour", "fin-gloss", "tail-gloss", "loading", "journey",
    ]  # fmt: skip
    assert all(step.after is None for step in job.steps), "the list says it all"
    afters = {str(step): {a.step for a in found} for step, found in afters_of(job).items()}
    assert afters["fin-colour"] == {"rub-fin", "rub-tail"}
    assert afters["tail-gloss"] == afters["fin-gloss"] == {"fin-colour"}


def test_waits_that_are_named_are_kept_the_longest_of_them() -> None:
    pack = a_stage(
        "pack",
        Kind.PACK,
        segments=("fin", "tail"),
        after=(
            an_after("fin-colour", 24, most_hours=Decimal(90)),
            an_after("tail-colour", 72, most_hours=Decimal(200)),
            an_after("fin-colour", 5, from_start=True),
        ),
    )
    book = of_pieces(a_coat("fin"), a_coat("tail"), pack)

    (job,) = take_load(book, ids("fin-colour", "tail-colour")).book.jobs

    assert named(job)["pack"].after == (
        an_after("fin-colour", 72, most_hours=Decimal(90)),
        an_after("fin-colour", 5, from_start=True),
    )


def test_where_no_list_says_it_the_steps_name_what_they_come_after() -> None:
    # The survey of the tail waits for nothing, though the list has it behind the rubbing.
    rub = a_stage("rub", Kind.FILL, segments=("tail",))
    survey = a_stage("survey", Kind.FILL, segments=("tail",), after=())
    book = of_pieces(a_coat("fin"), rub, survey, a_coat("tail", after=(an_after("rub"),)))
    (before,) = book.jobs

    (job,) = take_load(book, ids("fin-colour", "tail-colour")).book.jobs

    assert {a.step for a in afters_of(job)[StepId("fin-colour")]} == {"rub"}
    assert named(job)["survey"].after == ()
    assert {a.step for a in afters_of(job)[StepId("loading")]} == {"fin-colour"}
    assert {a.step for a in afters_of(before)[StepId("loading")]} == {"fin-colour", "tail-colour"}


def test_another_job_and_same_people_follow_the_load() -> None:
    fin, tail = a_coat("fin"), a_coat("tail")
    matched = a_stage(
        "gloss", Kind.LACQUER, segments=("fin",), same_people_as=StepId("tail-colour")
    )
    moon = a_job(
        "moon", steps=(a_stage("orb", after=(an_after("tail-colour", 3), an_after("fin-colour"))),)
    )
    book = of_pieces(fin, tail, matched)
    book = replace(book, jobs=(*book.jobs, moon))

    edited = take_load(book, ids("fin-colour", "tail-colour"))
    heron, other = edited.book.jobs

    gloss = named(heron)["gloss"]
    assert isinstance(gloss, Stage)
    assert gloss.same_people_as == "fin-colour"
    assert named(other)["orb"].after == (After(step=StepId("fin-colour"), least_hours=Decimal(3)),)
    assert edited.changed.jobs == {"heron", "moon"}
    assert edited.label.code == "take_load"
    assert dict(edited.label.facts) == {"name": "Colour", "count": 2}
    assert edited.book.revision == book.revision + 1


def worked_on(job: Job) -> Counter[tuple[str, SegmentId]]:
    """Count how often each piece is worked on by each sort of step."""
    return Counter((step.name, piece) for step in job.steps for piece in touched(job, step))


@pytest.mark.parametrize("seed", range(6))
def test_any_loads_of_a_sample_keep_every_order(seed: int) -> None:
    """Each pair of steps that was ordered stays so; nothing is ordered that need not be."""
    rng = Random(seed)
    book = rng.choice((small, full))()
    number = rng.randrange(len(book.jobs))
    first = book.jobs[number]
    before = chains(first)
    words = ["prime", "colour", "lacquer"]
    rng.shuffle(words)
    load_of: dict[str, str] = {}
    for word in words:
        job = book.jobs[number]
        coats = [step for step in job.steps if step.name == word and len(step.segments) == 1]
        some = rng.sample(coats, rng.randrange(2, len(coats) + 1))
        book = take_load(book, [step.id for step in some]).book
        kept = min(some, key=lambda step: [s.id for s in job.steps].index(step.id)).id
        load_of |= {step.id: kept for step in some}
    after = chains(book.jobs[number])

    for step, earlier in before.items():
        own = load_of.get(step, step)
        assert {load_of.get(each, each) for each in earlier} <= after[own]
    assert worked_on(book.jobs[number]) == worked_on(first)
    for step, earlier in after.items():
        members = [each for each in before if load_of.get(each, each) == step]
        allowed = set[str]()
        for each in members:
            allowed |= {load_of.get(one, one) for one in before[each]}
        assert earlier == _closed(allowed, after)


def _closed(steps: set[str], after: dict[str, set[str]]) -> set[str]:
    return steps.union(*(after[step] for step in steps)) if steps else steps


def test_a_load_of_a_load_takes_one_more_piece() -> None:
    book = of_pieces(
        a_coat("fin"), a_coat("tail"), a_coat("crest"), pieces=("fin", "tail", "crest")
    )
    once = take_load(book, ids("fin-colour", "tail-colour")).book
    twice = take_load(once, ids("fin-colour", "crest-colour")).book
    at_once = take_load(book, ids("fin-colour", "tail-colour", "crest-colour")).book

    load = named(twice.jobs[0])["fin-colour"]
    assert isinstance(load, Stage)
    assert load.segments == (SegmentId("fin"), SegmentId("tail"), SegmentId("crest"))
    assert load == named(at_once.jobs[0])["fin-colour"]


def test_coat_by_coat_in_one_edit() -> None:
    fins = (a_coat("fin"), a_coat("fin", "Gloss"))
    book = of_pieces(*fins, a_coat("tail"), a_coat("tail", "Gloss"))
    several = [ids("fin-colour", "tail-colour"), ids("fin-gloss", "tail-gloss")]

    edited = take_loads(book, several)

    assert edited.book.revision == book.revision + 1
    assert edited.book.jobs == take_load(take_load(book, several[0]).book, several[1]).book.jobs
    assert edited.changed.jobs == {"heron"}
    assert dict(edited.label.facts) == {"name": "Heron", "count": 2}
    with pytest.raises(NoLoad):
        take_loads(book, [])
    with pytest.raises(NoLoad):
        take_loads(book, [several[0], ids("fin-gloss")])
