"""Recorded hours against estimates: the worked example to the digit, and what is taken of it.

Normal-normal posterior with kappa = s^2 / t^2 = 2.25: any textbook of Bayesian statistics; the
ratios and what they come to were worked out by hand and by a script of their own.
"""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from math import exp, log

import pytest

from shared.book import Book, Fact, FactKind, Kind, Stage
from shared.edits import NotNow, change_step, take_factor, take_route
from shared.edits.lookup import step_of
from shared.estimate import estimate_of_job, estimate_of_segments
from shared.estimate.learning import learning_of
from shared.estimate.like import scaled_steps
from shared.estimate.record import Odd, posterior, record_of
from shared.examine import examine
from shared.ids import FactId, JobId, PersonId, SegmentId, StepId
from shared.routes import program_route
from shared.routes.learned import FACTOR_OF, times_longer, with_learned
from tests.builders import a_book, a_job, a_person, a_segment, a_stage, a_workshop, at

RATIOS = (1.35, 1.10, 1.62, 1.25, 0.95)
MONDAY = at("2026-01-05 07:30")
HOLLOW = program_route("hollow")
assert HOLLOW is not None


def test_the_worked_example_to_the_digit() -> None:
    logs = [log(ratio) for ratio in RATIOS]
    found = posterior(logs, log(1.25))
    assert round(sum(logs) / len(logs), 4) == 0.2099
    assert round(exp(sum(logs) / len(logs)), 4) == 1.2336
    assert round(found.mean, 4) == 0.2140
    assert round(found.factor, 4) == 1.2387
    assert round(found.spread, 4) == 0.1114
    assert round(found.of_one, 4) == 0.3200


@pytest.mark.parametrize(
    ("count", "weight"),
    [(0, 0.0), (1, 0.308), (2, 0.471), (5, 0.690), (10, 0.816), (20, 0.899)],
)
def test_the_weight_of_own_records(count: int, weight: float) -> None:
    assert round(posterior([0.1] * count, log(1.25)).weight, 3) == weight


def recorded(hours: dict[str, float], *, kind: Kind = Kind.FOAM, likely: int = 4) -> Book:
    """Give stages of four estimated hours in one go, each begun at 07:30 and done so much later."""
    steps = [a_stage(name, kind, hours=likely, in_one_go=True, after=()) for name in hours]
    facts = []
    for at_day, (name, took) in enumerate(hours.items()):
        start = MONDAY + timedelta(days=7 * at_day)
        facts += [
            _fact(name, FactKind.RUNNING, start, remaining_hours=Decimal(0)),
            _fact(name, FactKind.DONE, start + timedelta(hours=took)),
        ]
    job = a_job("fox", steps=tuple(steps))
    book = replace(a_book(job), facts=tuple(facts))
    return replace(book, people=(a_person("ana"),), workshop=a_workshop())


def _fact(step: str, kind: FactKind, when: object, **more: object) -> Fact:
    return Fact(
        id=FactId(f"{step} {kind.value}"),
        kind=kind,
        step=StepId(step),
        at=when,  # type: ignore[arg-type]
        told_by="Mara",
        people=(PersonId("ana"),),
        **more,  # type: ignore[arg-type]
    )


def of_hours(*hours: float, kind: Kind = Kind.FOAM) -> Book:
    return recorded({f"s{number}": each for number, each in enumerate(hours)}, kind=kind)


def test_a_kind_is_drawn_to_the_workshop_and_the_workshop_to_the_trade() -> None:
    # Three hours recorded of four estimated, five times: before noon, so no break lies within.
    book = of_hours(3, 3, 3, 3, 3)
    found = learning_of(book)
    y = log(3 / 4)
    whole = (2.25 * log(1.25) + 5 * y) / 7.25
    foam = (2.25 * whole + 5 * y) / 7.25
    assert found.usual == 1.25
    assert float(found.whole) == pytest.approx(exp(whole), abs=0.0005)
    (kind,) = found.kinds
    assert (kind.kind, kind.count, kind.taken) == (Kind.FOAM, 5, None)
    assert float(kind.factor) == pytest.approx(exp(foam), abs=0.0005)
    assert kind.ratio == pytest.approx(0.75)
    assert kind.low < kind.factor < kind.high
    assert kind.is_offered


def test_few_records_and_such_as_chance_would_give_are_not_offered() -> None:
    assert not learning_of(of_hours(3, 3, 3, 3)).kinds[0].is_offered
    assert not learning_of(of_hours(4, 4, 4, 4, 4, 4)).kinds[0].is_offered


def test_stages_of_one_job_tell_less_than_those_of_many() -> None:
    one = of_hours(*(3.5,) * 8)
    (job,) = one.jobs
    jobs = tuple(replace(job, id=JobId(f"fox-{s.id}"), steps=(s,)) for s in job.steps)
    many = replace(one, jobs=jobs)
    assert learning_of(one).kinds[0].factor == learning_of(many).kinds[0].factor
    assert not learning_of(one).kinds[0].is_offered
    assert learning_of(many).kinds[0].is_offered


def test_records_that_cannot_be_are_left_out_and_named() -> None:
    book = recorded({"good": 4, "long": 4, "short": 0.25, "night": 1, "back": 2})
    facts = list(book.facts)
    # Seven working days for four hours; an hour by night; done before it began.
    facts[3] = replace(facts[3], at=facts[2].at + timedelta(days=9))
    facts[6] = replace(facts[6], at=facts[6].at.replace(hour=2, minute=0))
    facts[7] = replace(facts[7], at=facts[6].at.replace(hour=3, minute=0))
    facts[9] = replace(facts[9], at=facts[8].at - timedelta(hours=1))
    found = learning_of(replace(book, facts=tuple(facts)))
    assert {each.step: each.why for each in found.left_out} == {
        "long": Odd.TOO_MANY,
        "short": Odd.TOO_FEW,
        "night": Odd.NO_HOURS,
        "back": Odd.BACKWARDS,
    }
    assert found.count == 1


def test_a_taken_factor_is_a_figure_of_the_workshops_own_with_its_source() -> None:
    before = of_hours(3, 3, 3, 3, 3)
    edited = take_factor(before, Kind.FOAM, "own records, 5 of them")
    (own,) = edited.book.workshop.figures
    assert (own.figure, own.note) == (FACTOR_OF[Kind.FOAM], "own records, 5 of them")
    assert own.value == learning_of(before).of(Kind.FOAM).factor
    assert edited.book.revision == before.revision + 1
    assert edited.book.jobs == before.jobs
    assert not [finding for finding in examine(edited.book) if finding.stops]
    found = learning_of(edited.book).of(Kind.FOAM)
    assert (found.taken, found.factor, found.is_offered) == (own.value, own.value, False)


@pytest.mark.parametrize(
    ("hours", "kind", "code"),
    [((3,) * 5, Kind.PAINT, "no_record"), ((3,) * 4, Kind.FOAM, "too_few_records")],
)
def test_what_is_not_there_cannot_be_taken(hours: tuple[float, ...], kind: Kind, code: str) -> None:
    with pytest.raises(NotNow) as refused:
        take_factor(of_hours(*hours), kind, "")
    assert refused.value.code == code
    taken = take_factor(of_hours(3, 3, 3, 3, 3), Kind.FOAM, "").book
    with pytest.raises(NotNow) as refused:
        take_factor(taken, Kind.FOAM, "")
    assert refused.value.code == "factor_taken"


PIECE = replace(a_segment("piece"), height_m=Decimal("1.5"))


def of_kind(book: Book, kind: Kind) -> dict[StepId, Stage]:
    steps = (step for job in book.jobs for step in job.steps)
    return {s.id: s for s in steps if isinstance(s, Stage) and s.kind is kind}


def new_job(book: Book) -> Book:
    job = a_job("new", steps=(), segments=(PIECE,))
    book = replace(book, jobs=(*book.jobs, job))
    assert HOLLOW is not None
    return take_route(book, JobId("new"), [SegmentId("piece")], HOLLOW).book


def test_new_jobs_and_estimates_take_the_factor_and_written_hours_stay() -> None:
    plain = new_job(of_hours(3, 3, 3, 3, 3))
    taken = take_factor(plain, Kind.FOAM, "own records, 5 of them").book
    factor = taken.workshop.figures[0].value
    assert taken.jobs == plain.jobs
    learned = new_job(take_factor(of_hours(3, 3, 3, 3, 3), Kind.FOAM, "own records").book)
    for step, stage in of_kind(learned, Kind.FOAM).items():
        if step.startswith("piece."):
            old = of_kind(plain, Kind.FOAM)[step].ways[0].hours.likely
            made = stage.ways[0].hours.likely
            assert abs(made - old * factor) <= Decimal("0.005")
            assert stage.learned_factor == factor
    assert of_kind(learned, Kind.PAINT) == of_kind(plain, Kind.PAINT)

    assert HOLLOW is not None
    found = estimate_of_segments(learned.workshop, HOLLOW, (PIECE,))
    of_job = estimate_of_job(learned, learned.jobs[-1])
    for lines in (found.lines, of_job.lines):
        carved = [line for line in lines if line.kind is Kind.FOAM]
        assert carved
        for line in carved:
            assert not line.own
            assert any(figure.id == FACTOR_OF[Kind.FOAM] for figure in line.formula.figures)
    assert [line.hours for line in found.lines] == [line.hours for line in of_job.lines]
    # What was written before is still known to be as the way of making gave it then.
    before = estimate_of_job(taken, taken.jobs[-1])
    assert not any(line.own for line in before.lines)


def test_the_record_goes_by_the_estimate_before_the_factor() -> None:
    book = of_hours(3, 3, 3, 3, 3)
    first = take_factor(book, Kind.FOAM, "").book
    longer = tuple(times_longer(step, Decimal("0.8")) for step in first.jobs[0].steps)
    same = replace(first, jobs=(replace(first.jobs[0], steps=longer),))
    assert record_of(same, 1.25).logs[Kind.FOAM] == pytest.approx(
        record_of(book, 1.25).logs[Kind.FOAM]
    )


def test_hours_that_somebody_writes_are_no_longer_learned() -> None:
    learned = new_job(take_factor(of_hours(3, 3, 3, 3, 3), Kind.FOAM, "").book)
    step = next(s for s in of_kind(learned, Kind.FOAM) if s.startswith("piece."))
    stage = step_of(learned, step)
    assert isinstance(stage, Stage)
    named = change_step(learned, replace(stage, name="Carve it")).book
    kept = step_of(named, step)
    assert isinstance(kept, Stage)
    assert kept.learned_factor is not None
    hours = replace(stage.ways[0].hours, likely=stage.ways[0].hours.likely + 1)
    longer = replace(stage, ways=(replace(stage.ways[0], hours=hours),))
    written = step_of(change_step(learned, longer).book, step)
    assert isinstance(written, Stage)
    assert written.learned_factor is None


def test_a_past_job_without_records_is_scaled_as_it_would_be_estimated_now() -> None:
    plain = new_job(of_hours(3, 3, 3, 3, 3))
    taken = take_factor(plain, Kind.FOAM, "").book
    factor = taken.workshop.figures[0].value
    job = taken.jobs[-1]
    old = {each.entry.step.id: each for each in scaled_steps(plain, job, Decimal(1))}
    for each in scaled_steps(taken, job, Decimal(1)):
        was = old[each.entry.step.id].hours.likely
        is_foam = isinstance(each.entry.step, Stage) and each.entry.step.kind is Kind.FOAM
        wanted = was * factor if is_foam else was
        assert float(each.hours.likely) == pytest.approx(float(wanted), abs=0.006)


def test_a_way_of_making_is_as_it_was_where_nothing_was_taken() -> None:
    assert HOLLOW is not None
    assert with_learned(HOLLOW, a_workshop()) is HOLLOW
    stage = a_stage("carve", hours=4)
    there = times_longer(stage, Decimal("1.25"))
    assert isinstance(there, Stage)
    assert (there.ways[0].hours.likely, there.learned_factor) == (Decimal(5), Decimal("1.25"))
    assert times_longer(there, None) == stage
