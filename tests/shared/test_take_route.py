"""A way of making written into a job: hours, sessions, options, waits, names of the workshop."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from random import Random

import pytest

from shared.book import (
    After,
    Book,
    Gate,
    GateKind,
    Job,
    Journey,
    Kind,
    Measure,
    PlaceKind,
    Route,
    RouteRule,
    Segment,
    Stage,
    Step,
)
from shared.edits import NoSuchThing, copy_route, copy_segment, take_route
from shared.examine import examine
from shared.ids import EquipmentId, PersonId, PlaceId, SegmentId, StepId
from shared.order import afters_of, in_order, segments_of
from shared.routes import (
    PROGRAM_ROUTES,
    Names,
    known_routes,
    missing_measures,
    program_route,
    unknown_words,
)
from tests.books.commissions import two_days
from tests.books.shops import commissioned, piece, shop
from tests.builders import (
    a_book,
    a_gate,
    a_job,
    a_journey,
    a_material,
    a_route,
    a_segment,
    a_stage,
    a_way,
    an_after,
    so_much,
)

FIN, TAIL = SegmentId("fin"), SegmentId("tail")


def the(route_id: str) -> Route:
    route = program_route(route_id)
    assert route is not None
    return route


def a_bare_book(*segments: Segment, steps: tuple[Step, ...] = ()) -> Book:
    pieces = segments or (a_sized("fin"), a_sized("tail"))
    return a_book(a_job(segments=pieces, steps=steps))


def a_sized(name: str, **changes: object) -> Segment:
    sizes = {"volume_m3": Decimal(3), "surface_m2": Decimal(8), "joints_m": Decimal(4)}
    return a_segment(name, **{**sizes, **changes})


def rule(step: str, **about: object) -> RouteRule:
    return RouteRule(step=StepId(step), **about)  # type: ignore[arg-type]


def hours_of(likely: str, setup: str | None = None) -> Stage:
    way = a_way(hours=likely)
    if setup is not None:
        way = replace(way, setup_hours=Decimal(setup))
    return a_stage("work", segments=(), ways=(way,))


def taken(
    *steps: Step,
    rules: tuple[RouteRule, ...] = (),
    options: tuple[str, ...] = (),
    book: Book | None = None,
    over: tuple[SegmentId, ...] = (FIN, TAIL),
) -> Job:
    route = a_route(steps=steps, rules=rules, options=("polished", "mounted"))
    base = replace(book or a_bare_book(), routes=(route,))
    made = take_route(base, base.jobs[0].id, over, route, options=options).book
    assert [f.code for f in examine(made) if f.stops] == []
    return made.jobs[0]


def ids(job: Job) -> list[str]:
    return [str(step.id) for step in job.steps]


def step_of(job: Job, step: str) -> Stage:
    found = next(each for each in job.steps if each.id == step)
    assert isinstance(found, Stage)
    return found


def likely(job: Job, step: str) -> Decimal:
    return step_of(job, step).ways[0].hours.likely


# Hours and sessions.


@pytest.mark.parametrize(
    ("per", "wanted"),
    [(None, "2"), (Measure.VOLUME, "6"), (Measure.SURFACE, "16"), (Measure.JOINTS, "8")],
)
def test_hours_grow_with_what_the_rule_says(per: Measure | None, wanted: str) -> None:
    rules = (rule("work", per=per),) if per else ()
    job = taken(hours_of("2"), rules=rules)

    assert ids(job) == ["fin.work", "tail.work"]
    assert likely(job, "fin.work") == Decimal(wanted)
    assert [step.segments for step in job.steps] == [(FIN,), (TAIL,)]


def test_hours_are_rounded_up_to_quarters_and_a_set_up_does_not_grow() -> None:
    # 1 + 0.11 x 8 = 1.88 hours, in quarters of an hour.
    job = taken(hours_of("1.11", setup="1"), rules=(rule("work", per=Measure.SURFACE),))
    assert likely(job, "fin.work") == 2


def test_a_step_together_is_copied_once_for_the_sum_of_all() -> None:
    rules = (rule("work", per=Measure.SURFACE, together=True),)
    job = taken(hours_of("1"), rules=rules)
    assert ids(job) == ["heron.work"]
    assert job.steps[0].segments == (FIN, TAIL)
    assert likely(job, "heron.work") == 16


def test_a_joint_that_a_step_is_for_both_ends_of_counts_once() -> None:
    """Each has four metres along which it meets the other, and they are the same four."""
    rules = (rule("work", per=Measure.JOINTS, together=True),)
    glue = replace(hours_of("1"), materials=(so_much("0.3"),))
    book = replace(a_bare_book(), materials=(a_material(supplier=None),))
    job = taken(glue, rules=rules, book=book)
    assert likely(job, "heron.work") == 4
    assert step_of(job, "heron.work").materials == (so_much("1.2"),)


def test_what_is_longer_than_a_session_is_cut_and_only_the_last_cures() -> None:
    stage = replace(hours_of("3", setup="1"), cure_hours=Decimal(48), recoat_hours=Decimal(72))
    rules = (
        rule(
            "work", per=Measure.SURFACE, session_hours=Decimal(7), session_recoat_hours=Decimal(24)
        ),
    )
    # 2 x 8 = 16 hours and the set-up; 6 of them fit into a session beside it.
    job = taken(stage, rules=rules, over=(FIN,))
    assert ids(job) == ["fin.work", "fin.work-2", "fin.work-3"]
    assert [step.name for step in job.steps] == ["Work 1/3", "Work 2/3", "Work 3/3"]
    assert all(likely(job, step) == Decimal("6.5") for step in ids(job))
    assert [step_of(job, step).cure_hours for step in ids(job)] == [0, 0, 48]
    assert [step_of(job, step).recoat_hours for step in ids(job)] == [24, 24, 72]
    assert [step.after for step in job.steps] == [(), None, None]


@pytest.mark.parametrize(("hours", "setup"), [("1", "2"), ("2", "2"), ("9", "7"), ("9", "8")])
def test_what_is_mostly_set_up_is_never_cut(hours: str, setup: str) -> None:
    """More sessions would only be more setting up: none has room for anything beside it."""
    rules = (rule("work", session_hours=Decimal(7)),)
    job = taken(hours_of(hours, setup=setup), rules=rules, over=(FIN,))
    assert (ids(job), likely(job, "fin.work")) == (["fin.work"], Decimal(hours))


def test_sizes_that_are_missing_are_estimated_and_told() -> None:
    box = {"length_m": Decimal(2), "width_m": Decimal(1), "height_m": Decimal(3)}
    pieces = (a_segment("fin", **box), a_segment("tail", **box))
    route = a_route(
        steps=(a_stage("a", segments=()), a_stage("b", segments=()), a_stage("c", segments=())),
        rules=(
            rule("a", per=Measure.VOLUME),
            rule("b", per=Measure.SURFACE),
            rule("c", per=Measure.JOINTS),
        ),
    )
    # Common practice: the box, 0.7 of its surface of 22, and its girth of 1 and 2 metres.
    told = [(m.segment.id, m.field, m.taken) for m in missing_measures(route, pieces)]
    wanted = {"volume_m3": 6, "surface_m2": Decimal("15.4"), "joints_m": 6}
    assert told == [(piece_id, field, n) for piece_id in (FIN, TAIL) for field, n in wanted.items()]
    alone = [m.field for m in missing_measures(route, pieces[:1])]
    assert alone == ["volume_m3", "surface_m2"]
    known = replace(pieces[0], volume_m3=Decimal(1), surface_m2=Decimal(1), joints_m=Decimal(0))
    assert missing_measures(route, (known, known)) == ()


def test_a_piece_that_meets_no_other_has_no_joints_to_work_on() -> None:
    alone = a_bare_book(a_segment("fin"))
    job = taken(hours_of("1"), rules=(rule("work", per=Measure.JOINTS),), book=alone, over=(FIN,))
    assert job.steps == ()


# Options.


def test_options_decide_what_is_copied() -> None:
    steps = tuple(a_stage(name, segments=()) for name in ("sand", "polish", "wrap"))
    rules = (rule("polish", only_if=("polished",)), rule("sand", unless=("polished", "mounted")))
    without = taken(*steps, rules=rules, over=(FIN,))
    polished = taken(*steps, rules=rules, options=("polished",), over=(FIN,))
    mounted = taken(*steps, rules=rules, options=("mounted",), over=(FIN,))
    assert ids(without) == ["fin.sand", "fin.wrap"]
    assert ids(polished) == ["fin.polish", "fin.wrap"]
    assert ids(mounted) == ["fin.wrap"]


def test_what_follows_a_step_that_is_not_copied_follows_what_that_follows() -> None:
    steps = (
        a_stage("coat", segments=()),
        a_stage("rest", segments=()),
        a_stage("polish", segments=(), after=(an_after("coat", 12),)),
        a_stage("wrap", segments=(), after=(an_after("polish", 3),)),
    )
    rules = (rule("polish", only_if=("polished",)),)
    without = taken(*steps, rules=rules, over=(FIN,))
    polished = taken(*steps, rules=rules, options=("polished",), over=(FIN,))
    assert without.steps[-1].after == (an_after("fin.coat", 12),)
    assert polished.steps[-1].after == (an_after("fin.polish", 3),)


def test_waits_are_between_copies_of_one_segment_and_to_all_where_a_step_is_together() -> None:
    steps = (
        a_stage("coat", segments=()),
        a_stage("wrap", segments=(), after=(an_after("coat", 24),)),
        a_gate("loading", after=(an_after("coat", 72),)),
    )
    job = taken(*steps)
    assert step_of(job, "tail.wrap").after == (an_after("tail.coat", 24),)
    assert job.steps[-1].after == (an_after("fin.coat", 72), an_after("tail.coat", 72))


def test_pairs_for_the_same_people_stay_with_their_segment() -> None:
    steps = (
        a_stage("left", segments=()),
        a_stage("right", segments=(), same_people_as=StepId("left")),
    )
    job = taken(*steps)
    assert step_of(job, "tail.right").same_people_as == "tail.left"


def test_a_trial_fit_of_one_piece_is_left_out() -> None:
    fit = Gate(id=StepId("fit"), name="Fit", gate=GateKind.TRIAL_FIT)
    assert taken(a_stage("work", segments=()), fit, over=(FIN,)).steps[-1].id == "fin.work"
    assert taken(a_stage("work", segments=()), fit).steps[-1].id == "heron.fit"


# Beside others in one job.


def leaves(job: Job) -> tuple[Step, ...]:
    return tuple(s for s in job.steps if isinstance(s, Journey) or _is_loading(s))


def _is_loading(step: Step) -> bool:
    return isinstance(step, Gate) and step.gate is GateKind.LOADING


def before(job: Job, step: StepId) -> set[str]:
    """Everything that a step waits for, near or far."""
    afters = afters_of(job)
    found, left = set[str](), [step]
    while left:
        fresh = {after.step for after in afters[left.pop()]} - found
        found |= fresh
        left += fresh
    return found


def two_ways(first: str, second: str) -> Job:
    book = shop("Hall Seven", 5, "1")
    pieces = tuple(piece("snail", n, ("2", "1", "1"), "6", "3") for n in ("Shell", "Foot"))
    stone = piece("snail", "Stone", ("1", "0.5", "0.5"), "1.5")
    held = two_days(date(2027, 5, 4))
    book = commissioned(book, "snail", "Garden snail", "Mill market", held, (*pieces, stone))
    job = book.jobs[0]
    shells = [each.id for each in pieces]
    book = take_route(book, job.id, shells, the(first)).book
    book = take_route(book, job.id, [stone.id], the(second)).book
    assert [f.code for f in examine(book) if f.stops] == []
    return book.jobs[0]


@pytest.mark.parametrize("second", PROGRAM_ROUTES)
def test_a_second_small_piece_made_another_way_waits_for_nothing_of_the_first(second: str) -> None:
    job = two_ways("hollow", second)
    stone = job.segments[-1].id
    leaving = {step.id for step in leaves(job)}
    for step in job.steps:
        others = {o for o in before(job, step.id) if stone not in _over(job, o)}
        if step.segments == (stone,):
            assert not others, (step.id, others)
        elif step.id not in leaving:
            waits_for_stone = {o for o in before(job, step.id) if _over(job, o) == {stone}}
            assert not waits_for_stone, (step.id, waits_for_stone)
    assert [segment.route for segment in job.segments] == ["hollow", "hollow", second]


def _over(job: Job, step: str) -> set[str]:
    found = next(each for each in job.steps if each.id == step)
    return {segment.id for segment in segments_of(job, found)}


def test_it_goes_with_the_jobs_loading_and_journey() -> None:
    job = two_ways("hollow", "foam-kept")
    loading, journey = leaves(job)
    everything = {segment.id for segment in job.segments}
    assert set(loading.segments) == set(journey.segments) == everything
    assert loading.after is not None
    waits = {(after.step, after.least_hours) for after in loading.after}
    assert {("snail.stone.wrap", 0), ("snail.stone.lacquer", 72)} <= waits
    assert {("snail.shell.wrap", 0), ("snail.shell.lacquer", 72)} <= waits
    assert before(job, journey.id) == {step.id for step in job.steps} - {journey.id}


def test_a_loading_of_all_its_segments_is_of_the_whole_job_and_waits_for_copies_too() -> None:
    coat = a_stage("coat", segments=())
    job = taken(coat, a_gate("loading", after=(an_after("coat", 72),)), a_journey("go"))
    assert [step.segments for step in leaves(job)] == [(), ()]
    book = a_book(job)
    copied = copy_segment(book, TAIL, "Second tail").book.jobs[0]
    loading = leaves(copied)[0]
    assert loading.after == (
        an_after("fin.coat", 72),
        an_after("tail.coat", 72),
        an_after("tail-2.coat", 72),
    )


def test_a_loading_that_follows_the_list_goes_on_doing_so() -> None:
    old = (a_stage("fin-old", segments=("fin",)), a_gate("heron-loading"), a_journey("heron-go"))
    new = (a_stage("work", segments=()), a_gate("loading"), a_journey("go"))
    job = taken(*new, book=a_bare_book(steps=old), over=(TAIL,))
    assert ids(job) == ["fin-old", "tail.work", "heron-loading", "heron-go"]
    assert job.steps[2].after is None
    assert before(job, StepId("heron-loading")) == {"fin-old", "tail.work"}


def test_without_a_loading_of_its_own_the_job_gets_the_routes() -> None:
    new = (a_stage("work", segments=()), a_gate("loading"), a_journey("go"))
    job = taken(*new, book=a_bare_book(steps=(a_journey("heron-go"),)))
    assert ids(job) == ["fin.work", "tail.work", "heron.loading", "heron-go"]
    job = taken(*new, book=a_bare_book(steps=(a_gate("heron-loading"),)))
    assert ids(job) == ["fin.work", "tail.work", "heron-loading", "heron.go"]


def test_names_of_steps_are_fresh_and_the_edit_is_one() -> None:
    old = (a_stage("fin.work", segments=("tail",)),)
    base = a_bare_book(steps=old)
    edited = take_route(base, base.jobs[0].id, [FIN, FIN], a_route(steps=(hours_of("1"),)))
    assert ids(edited.book.jobs[0]) == ["fin.work", "fin.work-2"]
    assert edited.book.revision == base.revision + 1
    assert edited.changed.jobs == {base.jobs[0].id}
    assert edited.label.code == "take_route"
    with pytest.raises(NoSuchThing, match="wing"):
        take_route(base, base.jobs[0].id, [SegmentId("wing")], a_route())


# Names of the workshop.


def test_words_of_the_route_become_the_workshops() -> None:
    book = shop("Hall Seven", 5, "1")
    held = two_days(date(2027, 5, 4))
    stone = piece("snail", "Stone", ("1", "0.5", "0.5"), "1.5")
    book = commissioned(book, "snail", "Garden snail", "Mill market", held, (stone,))
    route = the("hollow")
    names = Names(
        words={"foam": "carving", "van": "lorry", "hot-wire": "wire"},
        places={Kind.LAMINATE: (PlaceId("bay-3"),)},
        crew=(PersonId("dilys"),),
    )
    assert unknown_words(book, route) == ()
    assert unknown_words(book, route, names) == ("foam", "hot-wire", "van")
    made = take_route(book, book.jobs[0].id, [stone.id], route, names=names).book
    job = made.jobs[0]
    block, skin = step_of(job, "snail.stone.block"), step_of(job, "snail.stone.laminate")
    assert block.ways[0].needs[0].skill == "carving"
    assert block.ways[0].equipment == ()
    assert block.ways[0].place_kinds == (PlaceKind.BAY,)
    assert (skin.ways[0].places, skin.ways[0].place_kinds) == (("bay-3",), ())
    journey = job.steps[-1]
    assert isinstance(journey, Journey)
    assert (journey.crew, journey.vehicles) == (("dilys",), ())
    assert [f.code for f in examine(made) if f.stops] == []


def test_who_answers_in_the_routes_name_has_the_workshops_days() -> None:
    book = shop("Hall Seven", 5, "1")
    made = copy_route(book, the("hollow")).book.routes[0]
    engineer = next(step for step in made.steps if step.id == "engineer")
    assert isinstance(engineer, Gate)
    assert engineer.answered_by is not None
    assert engineer.answered_by.country == book.workshop.country
    assert engineer.answered_by.zone == book.workshop.zone


def test_a_route_is_copied_into_the_book_once_under_its_own_id() -> None:
    book = shop("Hall Seven", 5, "1")
    once = copy_route(book, the("cast"))
    twice = copy_route(once.book, the("cast"))
    assert [route.id for route in twice.book.routes] == ["cast", "cast-2"]
    assert once.label.code == "copy_route"
    assert EquipmentId("van") in {thing.id for thing in book.equipment}


# Everything at once.


@pytest.mark.parametrize("seed", range(30))
def test_any_options_of_any_route_give_a_job_that_holds_together(seed: int) -> None:
    rng = Random(seed)
    route = rng.choice(known_routes())
    options = [option for option in route.options if rng.random() < 0.5]
    book = shop("Hall Seven", 5, "1")
    pieces = tuple(
        piece("snail", f"Part {n}", ("2", "1", "1"), str(rng.randrange(1, 30)), seam)
        for n, seam in enumerate(rng.choices(("0", "9"), k=rng.randrange(1, 5)))
    )
    held = two_days(date(2027, 5, 4))
    book = commissioned(book, "snail", "Garden snail", "Mill market", held, pieces)
    chosen = [each.id for each in pieces]
    job = take_route(book, book.jobs[0].id, chosen, route, options=options).book.jobs[0]
    made = replace(book, jobs=(job,))
    assert examine(made) == ()
    in_order(job, afters_of(job))
    loading = next(step for step in job.steps if _is_loading(step))
    everything = {step.id for step in job.steps if not isinstance(step, Journey)}
    assert before(job, loading.id) == everything - {loading.id}
    assert ("lacquer" in {step.name.split(" ")[0] for step in job.steps}) == (
        "self-coloured" not in options
    )


def test_a_wait_counts_from_the_last_session_and_one_from_the_start_from_the_first() -> None:
    coat = replace(hours_of("10"), id=StepId("coat"))
    steps = (
        coat,
        a_stage("wrap", segments=(), after=(an_after("coat", 24),)),
        a_stage("film", segments=(), after=(replace(an_after("coat", 1), from_start=True),)),
    )
    job = taken(*steps, rules=(rule("coat", session_hours=Decimal(5)),), over=(FIN,))
    assert step_of(job, "fin.wrap").after == (an_after("fin.coat-2", 24),)
    assert step_of(job, "fin.film").after == (
        After(step=StepId("fin.coat"), least_hours=Decimal(1), from_start=True),
    )


def test_what_is_for_all_waits_for_the_last_session_of_the_piece_that_has_any() -> None:
    """The tail meets nothing, so there is nothing of it to coat along its joints."""
    coat = replace(hours_of("3"), id=StepId("coat"))
    rules = (
        rule("coat", per=Measure.JOINTS, session_hours=Decimal(7)),
        rule("wrap", together=True),
    )
    book = a_bare_book(a_sized("fin"), a_sized("tail", joints_m=Decimal(0)))
    job = taken(coat, a_stage("wrap", segments=()), rules=rules, book=book)
    assert ids(job) == ["fin.coat", "fin.coat-2", "heron.wrap"]
    assert step_of(job, "heron.wrap").after == (an_after("fin.coat-2", 0),)
