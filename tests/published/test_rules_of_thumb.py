"""How long commissions take, by the rules of thumb of the trade: common practice, no source.

CP70 and CP71 in the table of commissions. The rates of making are the same for everything; none
is written for a piece.
"""

from collections.abc import Callable
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from functools import cache

import pytest

from scheduler.loads import proposals, take
from scheduler.outcome import Outcome
from scheduler.request import SolveRequest
from scheduler.solve import solve
from shared.book import Book, Stage
from shared.plan import Placement
from shared.trade import figure
from tests.books.commissions import two_days
from tests.books.route_samples import ROUTE_SAMPLES, hollow
from tests.books.samples import SAMPLES
from tests.books.shops import commissioned, made_by, piece, shop

EFFORT = 2
WEEK = timedelta(days=7)


@cache
def planned(made: Callable[[], Book]) -> tuple[Book, Outcome]:
    """Plan a book whose pieces are sprayed in the loads that the program proposes."""
    book = made()
    now = book.as_of
    assert now is not None
    for proposal in proposals(book, now):
        book = take(book, proposal)
    outcome = solve(SolveRequest(book=book, now=now, effort=EFFORT, workers=1))
    assert outcome.check.sound
    assert all(job.verdict.value in {"fits", "tight"} for job in outcome.jobs)
    return book, outcome


def placed(made: Callable[[], Book], job: str) -> dict[str, list[Placement]]:
    """Give placements of a job by the name of their step, each list in order of time."""
    book, outcome = planned(made)
    names = {step.id: step.name for each in book.jobs for step in each.steps}
    found: dict[str, list[Placement]] = {}
    assert outcome.plan is not None
    for one in sorted(outcome.plan.placements, key=lambda each: each.start):
        if one.job == job:
            name = one.part if one.part == "abrade" else names[one.step].partition(" 1/")[0]
            found.setdefault(name, []).append(one)
    return found


def weeks(made: Callable[[], Book], job: str, first: str | None = None) -> float:
    """Give the weeks from a step's earliest start (None: the job's) to the end of loading."""
    stages = placed(made, job)
    start = min(one.start for name, each in stages.items() for one in each if first in (None, name))
    return (max(one.end for one in stages["loading"]) - start) / WEEK


def refurbished() -> Book:
    book = shop("Copse Lane repairs", 5, "1")
    spout = (piece("kettle", "Spout", ("1.3", "0.7", "0.6"), "2.4"),)
    held = two_days(date(2027, 2, 23))
    book = commissioned(book, "kettle", "Station kettle", "Foundry hall", held, spout)
    return made_by(book, "kettle", "repair", crew=("dilys", "edda"))


def moulded() -> Book:
    """Make a tower in four large bands, each from a mould of its own, on steel frames."""
    book = shop("Elder Row moulds", 5, "1.5")
    bands = tuple(
        piece("thimble", f"Band {number}", ("2.4", "2", "1.6"), "16", "8") for number in range(1, 5)
    )
    held = two_days(date(2027, 9, 7))
    book = commissioned(book, "thimble", "Thimble tower", "Foundry hall", held, bands)
    options = ("maquette", "colour-board", "steel-frame")
    return made_by(book, "thimble", "cast", *options, crew=("dilys", "edda"))


@pytest.mark.slow
def test_a_piece_in_six_segments_takes_two_months_or_a_little_more() -> None:
    book, _ = planned(hollow)
    house = [s for s in book.jobs[0].segments if s.route == "hollow"]
    assert len(house) == 6
    assert sum(s.volume_m3 or 0 for s in house) == 2 * 4 * 3
    assert 4 <= len(book.people) <= 5
    assert len(book.jobs) == 2
    rule = figure("CP70")
    assert rule.least <= Decimal(weeks(hollow, "walnut", "block")) <= rule.most


@pytest.mark.slow
def test_commissions_take_from_a_week_to_half_a_year() -> None:
    rule = figure("CP71")
    shortest, longest = weeks(refurbished, "kettle"), weeks(moulded, "thimble")
    assert round(shortest) == rule.least
    assert Decimal(longest) <= rule.most
    # Half a year, not a quarter.
    assert Decimal(longest) > rule.most * 3 / 4


@pytest.mark.slow
@pytest.mark.parametrize("name", list(ROUTE_SAMPLES))
def test_every_sample_lies_in_that_range(name: str) -> None:
    made = ROUTE_SAMPLES[name]
    for job in planned(made)[0].jobs:
        assert figure("CP71").least <= Decimal(weeks(made, job.id)) <= figure("CP71").most


@pytest.mark.slow
def test_layers_go_over_layers_before_a_day_is_over_or_are_abraded() -> None:
    # PL22: over-laminate within 24 hours, common practice.
    stages = placed(hollow, "walnut")
    first = {one.step.partition(".first-")[0]: one for one in stages["laminate"]}
    second = {one.step.partition(".second-")[0]: one for one in stages["second laminate"]}
    abraded = {one.step for one in stages.get("abrade", [])}
    both = first.keys() & second.keys()
    assert len(both) == 6
    most = timedelta(hours=int(figure("PL22").amount))
    for segment in both:
        waited = second[segment].start - first[segment].end
        assert waited <= most or {first[segment].step, second[segment].step} & abraded


@pytest.mark.slow
@pytest.mark.parametrize("name", list(ROUTE_SAMPLES))
def test_nothing_is_wrapped_or_strapped_before_its_lacquer_is_hard_enough(name: str) -> None:
    # PT17: straps 72 hours after the last lacquer; CP156: soft wrap a day after.
    made = ROUTE_SAMPLES[name]
    for job in planned(made)[0].jobs:
        stages = placed(made, job.id)
        last = max(one.end for one in stages["lacquer"])
        straps = timedelta(hours=int(figure("PT17").amount))
        wrap = timedelta(hours=int(figure("CP156").amount))
        assert stages["loading"][0].start >= last + straps
        lacquered = {one.step.rpartition(".")[0]: one.end for one in stages["lacquer"]}
        for one in stages["wrap"]:
            segment = one.step.rpartition(".")[0]
            if segment in lacquered:
                assert one.start >= lacquered[segment] + wrap


@pytest.mark.slow
def test_foam_for_a_hard_coat_is_thirty_days_old() -> None:
    # EP06: EPS ages at least thirty days before it is sealed by a hard coat.
    stages = placed(ROUTE_SAMPLES["hard-coat"], "loaf")
    least = timedelta(days=int(figure("EP06").amount))
    came = {one.step.rpartition(".")[0]: one.end for one in stages["foam in"]}
    for one in stages["hard coat"]:
        assert all(one.start >= end + least for end in came.values())


RATES = {"block": ("QL03a", "volume_m3"), "carve": ("QL03b", "surface_m2"), "fair": ("QL03c", "")}


@pytest.mark.parametrize("name", list(SAMPLES))
def test_one_set_of_rates_holds_for_every_piece_of_every_sample(name: str) -> None:
    seen = 0
    for job in SAMPLES[name]().jobs:
        sizes = {segment.id: segment for segment in job.segments}
        for step in job.steps:
            if isinstance(step, Stage) and step.name in RATES and len(step.segments) == 1:
                segment = sizes[step.segments[0]]
                rate, size = RATES[step.name]
                if step.name == "fair" and segment.route in {"cast", "hard-coat"}:
                    continue
                measured = getattr(segment, size or "surface_m2")
                exact = Fraction(measured) / Fraction(figure(rate).amount)
                for way in step.ways:
                    over = Fraction(way.hours.likely) - exact
                    assert -exact / 1000 <= over < Fraction(1, 4) + exact / 1000
                    seen += 1
    assert seen or name == "repair"
