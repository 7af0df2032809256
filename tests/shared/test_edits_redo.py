"""What is done again after a mishap or a change: which stages come in, and what waits for them."""

from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal
from random import Random

import pytest

from shared.book import (
    Act,
    After,
    Answer,
    Book,
    Fact,
    FactKind,
    Gate,
    GateKind,
    Job,
    Kind,
    Stage,
    Step,
)
from shared.edits import Edited, NoSuchThing, NotNow, again_from, change_after_yes
from shared.examine import examine
from shared.ids import FactId, SegmentId, StepId
from shared.order import afters_of, touched
from shared.repairs import Cause, repair_of
from tests.books.plain import small
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
    at,
)

HEAD = SegmentId("owl.head")


def told(step: str, kind: FactKind = FactKind.DONE, answer: Answer | None = None) -> Fact:
    return a_fact(f"{step}-{kind}", step=step, kind=kind, answer=answer)


def with_done(book: Book, steps: Iterable[str]) -> Book:
    return replace(book, facts=(*book.facts, *(told(step) for step in steps)))


def new_steps(before: Book, after: Edited) -> list[Step]:
    old = {step.id for job in before.jobs for step in job.steps}
    return [step for job in after.book.jobs for step in job.steps if step.id not in old]


def hours(step: Step) -> Decimal:
    assert isinstance(step, Stage)
    return step.ways[0].hours.likely


def step_of(book: Book, step_id: str) -> Step:
    return next(s for job in book.jobs for s in job.steps if s.id == step_id)


def stage_of(book: Book, step_id: str) -> Stage:
    found = step_of(book, step_id)
    assert isinstance(found, Stage)
    return found


def behind(job: Job, first: StepId) -> set[StepId]:
    found, size = {first}, 0
    afters = afters_of(job)
    while size < len(found):
        size = len(found)
        found |= {s for s, waits in afters.items() if any(a.step in found for a in waits)}
    return found


def head_steps(book: Book) -> list[str]:
    return [step.id for step in book.jobs[0].steps if step.segments == (HEAD,)]


# The table.


@pytest.mark.parametrize("cause", list(Cause))
def test_each_cause_says_what_comes_first_and_which_kinds_are_done_again(cause: Cause) -> None:
    """Common practice, no source: shares are a start, to be changed by whoever knows the piece."""
    repair = repair_of(cause)

    assert repair.cause is cause
    assert repair.first.name
    assert repair.first.does
    assert 0 < repair.first.percent <= 100
    assert bool(repair.again) is (cause is not Cause.CHANGE)
    assert all(0 < each.percent <= 100 for each in repair.again)
    kinds = [each.kind for each in repair.again]
    assert len(set(kinds)) == len(kinds)


def test_what_causes_call_for() -> None:
    """Common practice, no source."""
    kinds = {cause: {each.kind for each in repair_of(cause).again} for cause in Cause}

    assert {Kind.FOAM, Kind.LAMINATE, Kind.LACQUER} <= kinds[Cause.DROPPED]
    assert Kind.LAMINATE in kinds[Cause.SOFT]
    assert Kind.FOAM not in kinds[Cause.SOFT]
    assert kinds[Cause.RUN] == {Kind.LACQUER, Kind.PACK}
    assert {Kind.PAINT, Kind.LACQUER} <= kinds[Cause.SANDED_THROUGH]
    assert {Kind.LAMINATE, Kind.FILL, Kind.PAINT, Kind.LACQUER} <= kinds[Cause.BROKEN]
    assert Act.GRIND in repair_of(Cause.SOFT).first.does
    assert Act.POWER_SAND in repair_of(Cause.RUN).first.does


# Again from here.


def test_a_run_in_the_lacquer_is_sanded_back_and_lacquered_again() -> None:
    book = with_done(small(), head_steps(small())[:-1])

    after = again_from(book, StepId("owl.head.lacquer"), Cause.RUN)
    first, second = new_steps(book, after)

    assert (first.name, second.name) == ("sand back", "lacquer again")
    assert isinstance(first, Stage)
    assert isinstance(second, Stage)
    assert first.takes_off
    assert not second.takes_off
    lacquer = stage_of(book, "owl.head.lacquer")
    assert replace(second, id=lacquer.id, name=lacquer.name) == lacquer
    # A fifth of the sanding, rounded up to a quarter.
    assert hours(first) == Decimal("1.25") >= hours(step_of(book, "owl.head.sand")) / 5
    assert first.ways[0].places == stage_of(book, "owl.head.sand").ways[0].places


def test_what_waited_for_a_stage_that_is_done_again_waits_for_its_copy() -> None:
    book = with_done(small(), head_steps(small())[:-1])
    after = again_from(book, StepId("owl.head.lacquer"), Cause.RUN)

    assert step_of(book, "owl.head.pack").after == (
        After(step=StepId("owl.head.lacquer"), least_hours=Decimal(72)),
    )
    assert step_of(after.book, "owl.head.pack").after == (
        After(step=StepId("owl.head.lacquer-again"), least_hours=Decimal(72)),
    )


def test_what_is_packed_is_packed_again_with_its_wait() -> None:
    book = with_done(small(), head_steps(small()))
    after = again_from(book, StepId("owl.head.lacquer"), Cause.RUN)
    again = new_steps(book, after)[-1]

    assert again.name == "pack again"
    assert again.after == (an_after("owl.head.lacquer-again", 72),)


def test_broken_at_loading_repeats_every_finish_from_the_skin_on_with_its_share() -> None:
    book = with_done(small(), head_steps(small()))
    after = again_from(book, StepId("owl.head.second-laminate"), Cause.BROKEN)
    new = new_steps(book, after)

    assert [step.name for step in new] == [
        "cut back",
        "second laminate again",
        "hollow again",
        "fair again",
        "flow coat again",
        "sand again",
        "prime again",
        "colour again",
        "lacquer again",
        "pack again",
    ]
    shares = {each.kind: each.percent for each in repair_of(Cause.BROKEN).again}
    for step in new[1:]:
        assert isinstance(step, Stage)
        old = stage_of(book, step.id.removesuffix("-again"))
        exact = old.ways[0].hours.likely * shares[old.kind] / 100
        assert exact <= hours(step) < exact + Decimal("0.25")
        assert (step.cure_hours, step.recoat_hours) == (old.cure_hours, old.recoat_hours)
        assert [way.needs for way in step.ways] == [way.needs for way in old.ways]
        assert [way.places for way in step.ways] == [way.places for way in old.ways]


def test_fitting_in_between_is_not_done_again_and_packing_at_the_end_is() -> None:
    steps: tuple[Step, ...] = (
        a_stage("skin", Kind.LAMINATE),
        a_stage("take-apart", Kind.PACK),
        a_stage("lacquer", Kind.LACQUER),
        a_stage("wrap", Kind.PACK),
        a_gate(),
        a_journey(),
    )
    book = with_done(a_book(a_job(steps=steps)), ("skin", "take-apart", "lacquer", "wrap"))
    new = new_steps(book, again_from(book, StepId("skin"), Cause.BROKEN))

    assert [step.name for step in new] == [
        *("cut back", "Skin again", "Lacquer again", "Wrap again"),
    ]


def test_a_share_that_is_typed_takes_the_place_of_those_in_the_table() -> None:
    book = with_done(small(), head_steps(small()))
    step = StepId("owl.head.fair")
    new = new_steps(book, again_from(book, step, Cause.DROPPED, percent=Decimal(100)))

    assert hours(new[-1]) == hours(step_of(book, "owl.head.pack"))
    fair = next(step for step in new if step.name == "fair again")
    assert hours(fair) == hours(step_of(book, "owl.head.fair"))


def test_soft_resin_is_ground_out_and_what_was_not_done_yet_is_not_doubled() -> None:
    book = with_done(small(), head_steps(small())[:4])
    after = again_from(book, StepId("owl.head.laminate"), Cause.SOFT)
    new = new_steps(book, after)

    assert [step.name for step in new] == ["grind out", "laminate again"]
    half = hours(step_of(book, "owl.head.laminate")) / 2
    assert half <= hours(new[0]) < half + Decimal("0.25")
    steps = [step.id for step in after.book.jobs[0].steps]
    at_copy = steps.index(new[1].id)
    assert steps[at_copy - 2] == "owl.head.laminate"
    assert steps[at_copy + 1] == "owl.head.second-laminate"


def test_a_second_mishap_gets_ids_of_its_own() -> None:
    book = with_done(small(), head_steps(small())[:-1])
    once = again_from(book, StepId("owl.head.lacquer"), Cause.RUN).book
    once = with_done(once, ("owl.head.sand-back", "owl.head.lacquer-again"))
    twice = again_from(once, StepId("owl.head.lacquer-again"), Cause.RUN)

    assert [step.id for step in new_steps(once, twice)] == [
        "owl.head.sand-back-2",
        "owl.head.lacquer-again-again",
    ]
    waits = step_of(twice.book, "owl.head.pack").after
    assert waits == (an_after("owl.head.lacquer-again-again", 72),)


def test_the_label_says_what_and_why() -> None:
    book = with_done(small(), head_steps(small())[:-1])
    after = again_from(book, StepId("owl.head.lacquer"), Cause.RUN)

    assert after.book.revision == book.revision + 1
    assert after.label.code == "again"
    facts = (("name", "lacquer"), ("segment", "Head"), ("cause", "run"))
    assert after.label.facts == facts
    assert after.changed.jobs == {"owl"}


def a_load() -> Book:
    """Give two pieces lacquered in one load of 3 h, of which 1 h is set-up."""
    pieces = ("otter-a", "otter-b")
    way = a_way(hours=3, skill="lacquer", setup_hours=Decimal(1), cost=Decimal(30))
    steps: tuple[Step, ...] = (
        *(a_stage(f"{piece}-carve", segments=(piece,)) for piece in pieces),
        a_stage("both-lacquer", Kind.LACQUER, segments=pieces, ways=(way,)),
        a_gate("otter-loading"),
        a_journey("otter-journey"),
    )
    job = a_job("otter", segments=tuple(a_segment(piece) for piece in pieces), steps=steps)
    return with_done(a_book(job), ("otter-a-carve", "otter-b-carve", "both-lacquer"))


def test_a_stage_of_several_pieces_is_done_again_on_the_one_that_is_named() -> None:
    book = a_load()
    step = StepId("both-lacquer")
    with pytest.raises(NotNow, match="on_which_segment"):
        again_from(book, step, Cause.RUN)
    (again,) = new_steps(book, again_from(book, step, Cause.RUN, segment=SegmentId("otter-a")))

    assert again.segments == ("otter-a",)
    # Set-up whole, and half of the other 2 h; half of the cost.
    assert hours(again) == 2
    assert isinstance(again, Stage)
    assert again.ways[0].cost == 15
    assert again.takes_off


@pytest.mark.parametrize(
    ("step", "facts", "code"),
    [
        ("owl.head.lacquer", (), "not_begun"),
        ("owl.approve", (), "no_stage"),
        ("owl.head.carve", (told("owl.head.carve"),), "nothing_again"),
        ("owl.head.carve", (told("owl.head.carve"), told("owl.loading")), "loaded_already"),
    ],
)
def test_what_gives_no_occasion_is_refused(step: str, facts: tuple[Fact, ...], code: str) -> None:
    book = replace(small(), facts=facts)

    with pytest.raises(NotNow) as refused:
        again_from(book, StepId(step), Cause.RUN)

    assert refused.value.code == code


def test_an_unknown_stage_or_segment_is_a_fault_of_the_caller() -> None:
    with pytest.raises(NoSuchThing):
        again_from(small(), StepId("nowhere"), Cause.RUN)
    with pytest.raises(NoSuchThing):
        change_after_yes(small(), SegmentId("nowhere"), "all of it", Decimal(10))
    with pytest.raises(NotNow, match="not_on_segment"):
        again_from(
            with_done(small(), ("owl.head.carve",)),
            StepId("owl.head.carve"),
            Cause.DROPPED,
            segment=SegmentId("owl.body"),
        )


def test_answers_awaited_meanwhile_don_t_let_the_skin_go_on_before_the_repair() -> None:
    book = with_done(small(), head_steps(small())[:2])
    book = replace(book, facts=(*book.facts, told("owl.approve", FactKind.PICTURES)))
    after = again_from(book, StepId("owl.head.carve"), Cause.DROPPED)

    (again,) = new_steps(book, after)
    barrier = step_of(after.book, "owl.head.barrier")
    assert barrier.after == (After(step=StepId("owl.approve")), After(step=again.id))


def test_the_first_of_the_repairs_waits_for_what_is_under_way() -> None:
    steps: tuple[Step, ...] = (
        a_stage("carve", after=()),
        a_stage("frame", Kind.PACK, after=()),
        a_stage("skin", Kind.LAMINATE, after=("carve",)),
        a_gate(),
        a_journey(),
    )
    book = with_done(a_book(a_job(steps=steps)), ("carve", "skin"))
    running = replace(told("frame", FactKind.RUNNING), remaining_hours=Decimal(1), way="bench")
    book = replace(book, facts=(*book.facts, running))
    first = new_steps(book, again_from(book, StepId("skin"), Cause.SOFT))[0]

    assert first.after == (After(step=StepId("skin")), After(step=StepId("frame")))


# Changes after the yes.


def after_the_yes(*done: str) -> Book:
    yes = told("owl.approve", FactKind.ANSWER, Answer.YES)
    book = with_done(small(), done)
    return replace(book, facts=(*book.facts, yes))


def test_a_change_of_carved_foam_is_carved_again_in_its_share() -> None:
    book = after_the_yes("owl.head.block", "owl.head.carve")
    after = change_after_yes(book, HEAD, "a longer beak", Decimal(20))
    new = new_steps(book, after)

    assert [step.name for step in new] == ["block again: a longer beak", "carve again"]
    exact = hours(step_of(book, "owl.head.carve")) / 5
    assert exact <= hours(new[1]) < exact + Decimal("0.25")
    assert isinstance(new[0], Stage)
    assert new[0].takes_off
    facts = (("name", "Head"), ("what", "a longer beak"), ("percent", "20"))
    assert after.label.facts == facts


def test_a_change_of_what_is_skinned_strips_carves_and_skins_again() -> None:
    book = after_the_yes(*head_steps(small())[:5])
    new = new_steps(book, change_after_yes(book, HEAD, "a longer beak", Decimal(40)))

    assert [step.name for step in new] == [
        "strip",
        "block again: a longer beak",
        "carve again",
        "barrier again",
        "laminate again",
        "second laminate again",
    ]
    skin = sum(hours(step_of(book, s)) for s in head_steps(small())[2:5]) * Decimal("0.4") / 2
    assert skin <= hours(new[0]) < skin + Decimal("0.25")
    assert isinstance(new[0], Stage)
    assert new[0].does == (Act.GRIND, Act.DUST)


def test_a_new_answer_stands_between_carving_and_skin_if_it_is_asked_for() -> None:
    book = after_the_yes(*head_steps(small())[:5])
    after = change_after_yes(book, HEAD, "a longer beak", Decimal(40), answer=True)
    new = new_steps(book, after)

    assert [step.name for step in new[2:5]] == ["carve again", "approve again", "barrier again"]
    gate = new[3]
    assert isinstance(gate, Gate)
    old = step_of(book, "owl.approve")
    assert isinstance(old, Gate)
    assert (gate.gate, gate.segments) == (GateKind.ANSWER, (HEAD,))
    assert (gate.answer_days, gate.allow_no) == (old.answer_days, old.allow_no)
    afters = afters_of(after.book.jobs[0])
    assert afters[new[4].id] == (After(step=gate.id),)
    assert afters[gate.id] == (After(step=new[2].id),)


@pytest.mark.parametrize(
    ("facts", "code"),
    [
        ((), "no_yes_yet"),
        ((told("owl.approve", FactKind.ANSWER, Answer.NO),), "no_yes_yet"),
        ((told("owl.approve", FactKind.ANSWER, Answer.YES),), "nothing_begun"),
        ((told("owl.approve", FactKind.ANSWER, Answer.YES), told("owl.ship")), "loaded_already"),
    ],
)
def test_a_change_without_occasion_is_refused(facts: tuple[Fact, ...], code: str) -> None:
    with pytest.raises(NotNow) as refused:
        change_after_yes(replace(small(), facts=facts), HEAD, "all of it", Decimal(10))

    assert refused.value.code == code


def test_where_nobody_is_asked_a_change_needs_no_yes() -> None:
    job = a_job(steps=(a_stage(), a_gate(), a_journey()))
    book = with_done(a_book(job), ("carve",))
    after = change_after_yes(book, SegmentId("heron-torso"), "ears", Decimal(10), answer=True)

    assert [step.name for step in new_steps(book, after)] == ["Carve again: ears", "answer"]


# Any progress.


def any_progress(rng: Random) -> Book:
    """Give the small sample with each segment told as far as chance has it."""
    book = small()
    facts: list[Fact] = []
    for segment in book.jobs[0].segments:
        mine = [s for s in book.jobs[0].steps if s.segments == (segment.id,)]
        count = rng.randrange(2, len(mine) + 1)
        facts += [told(step.id) for step in mine[:count]]
    facts.append(told("owl.approve", FactKind.ANSWER, Answer.YES))
    rng.shuffle(facts)
    named = (replace(fact, id=FactId(f"f{i}")) for i, fact in enumerate(facts))
    return replace(book, facts=tuple(named), as_of=at("2026-01-06 08:00"))


def any_edit(book: Book, rng: Random) -> tuple[SegmentId, Edited] | None:
    segment = rng.choice(book.jobs[0].segments).id
    told_of = {fact.step for fact in book.facts}
    begun = [s.id for s in book.jobs[0].steps if s.segments == (segment,) and s.id in told_of]
    try:
        if rng.random() < 0.3:
            percent = Decimal(rng.randrange(1, 101))
            asks = rng.random() < 0.5
            return segment, change_after_yes(book, segment, "more", percent, answer=asks)
        cause = rng.choice([cause for cause in Cause if cause is not Cause.CHANGE])
        return segment, again_from(book, rng.choice(begun), cause)
    except NotNow as refused:
        if refused.code != "nothing_again":
            raise
        return None


@pytest.mark.parametrize("seed", range(60))
def test_whatever_was_done_what_is_left_on_the_piece_waits_for_the_repairs(seed: int) -> None:
    rng = Random(seed)
    book = any_progress(rng)
    found = any_edit(book, rng)
    if found is None:
        return
    segment, after = found
    job, old = after.book.jobs[0], book.jobs[0]
    told_of = {fact.step for fact in book.facts}
    mine = {step.id for step in old.steps if segment in touched(old, step)} & told_of
    new = new_steps(book, after)
    reached = behind(job, new[-1].id)

    assert [each.code for each in examine(after.book) if each.stops] == []
    assert after.book.facts == book.facts
    for step in old.steps:
        kept = next(each for each in job.steps if each.id == step.id)
        if step.id in told_of or segment not in touched(old, step):
            assert kept == step
        elif behind(old, step.id).isdisjoint(mine):
            # What came before something that has begun was done, though nobody told so.
            assert kept.id in reached
    chain = behind(job, new[0].id)
    assert {step.id for step in new} <= chain
