"""One job counted back, as values: ladder, strands, last days, dates typed, piece, ways out."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from functools import lru_cache
from itertools import combinations, pairwise
from zoneinfo import ZoneInfo

import pytest
from PySide6.QtWidgets import QApplication

from app.window.countback import ways as listing
from app.window.countback.dates import end_typed, start_typed, written
from app.window.countback.journey import last_days
from app.window.countback.journey_part import label_width, placed_labels
from app.window.countback.ladder import Mark, ladder, rung_text, spare_text
from app.window.countback.one_job import OneJob, governing, in_turn, one_job
from app.window.countback.piece import MEASURE_UNDER_MM, piece
from app.window.countback.piece_part import set_out
from app.window.countback.strands import latest_of, strand_layout
from app.window.sheet.typed import NotTaken
from app.window.wall.derive import Shown
from app.words import Words
from scheduler.levers.values import WayOut, WaysOut
from scheduler.outcome import CheckResult, Outcome, StepTimes, Verdict
from shared.book import Material, Opening, Stage
from shared.ids import JobId, MaterialId
from shared.levers import Lever, LeverKind
from shared.orders import Dates, Order
from tests.app.window.scenes import outcome_for, planted
from tests.books.samples import SAMPLES


@lru_cache(maxsize=4)
def an_outcome(verdict: Verdict = Verdict.FITS) -> Outcome:
    return outcome_for(planted(), verdict)


def a_job(outcome: Outcome | None = None) -> tuple[OneJob, Words]:
    made = planted()
    outcome = outcome or an_outcome()
    words = Words("en", book=made.book)
    shown = Shown(book=made.book, now=made.now, plan=made.plan, outcome=outcome)
    return one_job(shown, in_turn(shown)[0], words), words


def with_times(outcome: Outcome, job: JobId, times: tuple[StepTimes, ...]) -> Outcome:
    jobs = (
        replace(each, steps=(*each.steps, *times)) if each.id == job else each
        for each in outcome.jobs
    )
    return replace(outcome, jobs=tuple(jobs))


def stage_times(one: OneJob, later: timedelta) -> tuple[StepTimes, ...]:
    """Give every stage that much later than planned as its latest."""
    assert one.plan is not None
    stages = {step.id for step in one.job.steps if isinstance(step, Stage)}
    return tuple(
        StepTimes(step=p.step, latest_start=p.start + later, latest_end=p.end + later)
        for p in one.plan.placements
        if p.step in stages and not p.part
    )


# The ladder.


def test_working_days_left_are_those_of_the_calendar() -> None:
    """Bank holidays of England in spring 2027: 26 and 29 March (gov.uk/bank-holidays)."""
    book = SAMPLES["small"]()
    assert book.as_of is not None
    assert book.workshop.country == "GB"
    words = Words("en", book=book)
    one = one_job(Shown(book=book, now=book.as_of), JobId("owl"), words)
    assert one.opens == date(2027, 4, 13)
    assert one.days_left(date(2027, 1, 18)) == 12 * 5 + 1 - 2
    assert one.days_left(date(2027, 3, 25)) == 1 + 4 + 5 + 1
    assert one.days_left(date(2027, 3, 28)) == 4 + 5 + 1
    assert one.days_left(date(2027, 4, 12)) == 1
    assert one.days_left(date(2027, 4, 13)) == 0
    assert one.days_left(date(2027, 4, 20)) is None


def test_the_ladder_goes_from_the_window_down_to_today() -> None:
    one, words = a_job()
    rungs = ladder(one, words)
    assert [rung.at for rung in rungs] == sorted((rung.at for rung in rungs), reverse=True)
    assert rungs[-1].mark is Mark.TODAY
    assert [rung.days_left for rung in rungs if rung.mark is Mark.WINDOW] == [0]
    loading = next(rung for rung in rungs if rung.mark is Mark.LOADING)
    assert loading.latest
    assert loading.planned
    assert loading.latest != loading.planned


def test_what_is_to_spare_is_counted_in_working_time() -> None:
    """Two elapsed days over a working Monday and Tuesday are two shifts of the workshop."""
    one, words = a_job()
    day = timedelta(days=1)
    assert one.plan is not None
    step = next(s for s in one.job.steps if isinstance(s, Stage))
    placed = next(p for p in one.plan.placements if p.step == step.id)
    monday = placed.start - timedelta(days=placed.start.weekday())
    times = StepTimes(step=step.id, latest_start=monday + 2 * day, latest_end=monday + 3 * day)
    plan = replace(
        one.plan,
        placements=tuple(
            replace(p, start=monday, end=monday + day) if p is placed else p
            for p in one.plan.placements
        ),
    )
    told = replace(one.told, steps=(times,)) if one.told else None
    rung = next(r for r in ladder(replace(one, plan=plan, told=told), words) if step.id in r.alike)
    shop = one.shown.book.workshop
    assert rung.spare_minutes == round(2 * shop.shift_hours * 60)
    assert spare_text(rung, words) == "2 d"
    assert "2 days to spare." in rung_text(rung, words)


def test_of_stages_of_one_name_the_tightest_stands_on_the_ladder() -> None:
    one, _ = a_job()
    times = list(stage_times(one, timedelta(days=7)))
    names = [step.name for step in one.job.steps if isinstance(step, Stage)]
    twice = next(name for name in names if names.count(name) > 1)
    alike = [s.id for s in one.job.steps if isinstance(s, Stage) and s.name == twice]
    at = next(index for index, each in enumerate(times) if each.step == alike[-1])
    start, end = times[at].latest_start, times[at].latest_end
    assert start is not None
    assert end is not None
    sooner = timedelta(days=7)
    times[at] = replace(times[at], latest_start=start - sooner, latest_end=end - sooner)
    one, words = a_job(with_times(an_outcome(), one.job.id, tuple(times)))
    rungs = [rung for rung in ladder(one, words) if rung.what == twice]
    assert [rung.step for rung in rungs] == [alike[-1]]
    assert set(rungs[0].alike) == set(alike)
    assert rungs[0].spare_minutes == 0


def test_what_is_planned_too_late_says_so() -> None:
    one, _ = a_job()
    outcome = with_times(an_outcome(), one.job.id, stage_times(one, -timedelta(days=7)))
    one, words = a_job(outcome)
    late = [rung for rung in ladder(one, words) if rung.mark is Mark.WORK]
    assert late
    assert all(rung.spare_minutes is not None and rung.spare_minutes < 0 for rung in late)
    assert all("late" in spare_text(rung, words) for rung in late)
    assert all("too late." in rung_text(rung, words) for rung in late)


def test_what_is_bought_for_the_job_stands_on_its_ladder() -> None:
    made = planted()
    one, words = a_job()
    material = Material(id=MaterialId("resin"), name="resin", unit="kg")
    shown = replace(one.shown, book=replace(made.book, materials=(material,)))
    dates = Dates(need=date(2027, 2, 3), receive_by=date(2027, 2, 2), order_by=date(2027, 1, 29))
    order = Order(
        material=material.id,
        supplier=None,
        jobs=(one.job.id,),
        steps=(),
        needed=Decimal(90),
        packs=None,
        quantity=Decimal(96),
        cost=None,
        dates=dates,
    )
    other = replace(order, jobs=(JobId("another"),))
    rungs = ladder(replace(one, shown=shown), words, (order, other))
    (rung,) = [each for each in rungs if each.mark is Mark.ORDER]
    assert rung.what == "order resin, 96 kg"
    assert (rung.latest, rung.detail) == ("Fri 29 Jan", "here by Tue 2 Feb")
    assert rungs.index(rung) == sorted(rungs, key=lambda r: r.at, reverse=True).index(rung)


def test_without_a_plan_the_ladder_still_has_window_and_today() -> None:
    made = planted()
    words = Words("en", book=made.book)
    shown = Shown(book=made.book, now=made.now)
    one = one_job(shown, in_turn(shown)[0], words)
    assert [rung.mark for rung in ladder(one, words)] == [Mark.WINDOW, Mark.TODAY]
    assert last_days(one, words) is None
    assert latest_of(one, words) == {}


def test_the_job_with_least_to_spare_governs() -> None:
    made = planted()
    outcome = an_outcome()
    jobs = tuple(replace(each, slack_minutes=60 * (3 - at)) for at, each in enumerate(outcome.jobs))
    shown = Shown(book=made.book, now=made.now, outcome=replace(outcome, jobs=jobs))
    assert governing(shown) == outcome.jobs[-1].id
    assert governing(Shown(book=made.book, now=made.now)) == in_turn(shown)[0]
    assert governing(Shown(book=replace(made.book, jobs=()), now=made.now)) is None


# The strands.


def test_each_segment_has_its_latest_strand() -> None:
    one, _ = a_job()
    later = timedelta(days=3)
    times = stage_times(one, later)
    one, words = a_job(with_times(an_outcome(), one.job.id, times))
    found = latest_of(one, words)
    assert set(found) == {segment.id for segment in one.job.segments}
    for row in one.rows:
        planned = {item.step: item.start for item in row.blocks if not item.part}
        for each in found[row.segment]:
            assert each.start == planned[each.step] + 3 * 24 * 60


@pytest.mark.parametrize("width", [930, 1100])
def test_strands_lie_apart_and_left_of_their_names(width: int) -> None:
    one, words = a_job()
    layout = strand_layout(one, width, latest_of(one, words))
    assert all(a + layout.row + 20 < b for a, b in pairwise(layout.row_tops))
    assert one.band.window is not None
    assert layout.scale.x(one.band.window.end) < width - 100
    assert layout.band_bottom(one.band) < layout.total


# The last days.


def test_the_last_days_go_by_the_sites_clock_over_a_change_of_clocks() -> None:
    """On Sunday 28 March 2027 clocks go from 02:00 to 03:00 there (directive 2000/84/EC)."""
    one, words = a_job()
    assert one.plan is not None
    trip = one.plan.trips[0]
    shift = datetime(2027, 3, 27, 20, tzinfo=UTC) - trip.start
    moved = replace(
        trip,
        start=trip.start + shift,
        end=trip.end + shift,
        legs=tuple(replace(leg, start=leg.start + shift, end=leg.end + shift) for leg in trip.legs),
    )
    site = replace(one.job.site, zone="Europe/Amsterdam")
    plan = replace(one.plan, trips=(moved,), placements=())
    found = last_days(replace(one, job=replace(one.job, site=site), plan=plan), words)
    assert found is not None
    place = ZoneInfo("Europe/Amsterdam")
    shown = [datetime.fromtimestamp(t.minute * 60, UTC).astimezone(place) for t in found.ticks]
    assert [t.hour for t in found.ticks] == [each.hour for each in shown]
    night = [each.hour for each in shown if each.date() == date(2027, 3, 28)][:4]
    assert night == [0, 1, 3, 4]
    assert next(t.day for t in found.ticks if t.hour == 0) == "Sun 28 Mar"


def test_nothing_of_a_journey_is_left_out_or_told_twice() -> None:
    one, words = a_job()
    found = last_days(one, words)
    assert found is not None
    assert one.plan is not None
    legs = [each for each in found.stretches if each.leg is not None]
    trip = one.plan.trips[0]
    ends = [round(leg.end.timestamp()) // 60 for leg in trip.legs]
    assert [each.end for each in legs] == ends[: len(legs)]
    assert all(found.first <= each.end <= found.last for each in legs)
    assert all(each.text for each in found.stretches)


def test_words_over_the_last_days_never_touch(prepared: QApplication) -> None:
    one, words = a_job()
    found = last_days(one, words)
    assert found is not None
    many = tuple(found.stretches) * 3
    middles = [10.0 * at for at in range(len(many))]
    labels = placed_labels(many, middles, 0, [900.0] * len(many))
    assert labels
    for a, b in combinations(labels, 2):
        if a.lane == b.lane:
            assert a.x + label_width(a.stretch) <= b.x
    assert all(0 <= each.x <= 900 - label_width(each.stretch) for each in labels)


# Another date.


def test_a_date_alone_keeps_the_hours_and_the_length_of_the_window() -> None:
    book = SAMPLES["small"]()
    job, words = book.jobs[0], Words("en", book=book)
    held, zone = job.held_window, ZoneInfo(job.site.zone)
    assert held is not None
    assert book.as_of is not None
    tried = start_typed("thu 25 mar", job, book.as_of, words)
    start, end = tried.start.astimezone(zone), tried.end.astimezone(zone)
    was = held.start.astimezone(zone), held.end.astimezone(zone)
    assert start.date() == date(2027, 3, 25)
    assert (start.time(), end.time()) == (was[0].time(), was[1].time())
    assert end.date() - start.date() == was[1].date() - was[0].date()
    again = start_typed(written(tried.start, job, words), job, book.as_of, words)
    assert again == tried


def test_a_window_over_a_change_of_clocks_ends_at_the_same_hour() -> None:
    """On Sunday 28 March 2027 clocks go forward in Britain (Summer Time Order 2002)."""
    book = SAMPLES["small"]()
    job, words = book.jobs[0], Words("en", book=book)
    assert book.as_of is not None
    tried = start_typed("2027-03-27 07:00", job, book.as_of, words)
    end = tried.end.astimezone(ZoneInfo(job.site.zone))
    assert (end.date(), end.hour) == (date(2027, 3, 28), 20)


def test_what_is_no_window_is_not_taken() -> None:
    book = SAMPLES["small"]()
    job, words = book.jobs[0], Words("en", book=book)
    assert book.as_of is not None
    with pytest.raises(NotTaken):
        start_typed("soon", job, book.as_of, words)
    tried = start_typed("25 mar 07:00", job, book.as_of, words)
    with pytest.raises(NotTaken, match="ends_before_start"):
        end_typed("24 mar 07:00", tried, book.as_of, words)
    later = end_typed("27 mar 12:00", tried, book.as_of, words)
    assert later.start == tried.start
    assert later.end - tried.end == timedelta(hours=16)


def test_a_job_without_a_window_is_tried_with_a_day() -> None:
    book = SAMPLES["small"]()
    job, words = replace(book.jobs[0], windows=()), Words("en", book=book)
    assert book.as_of is not None
    tried = start_typed("25 mar 07:00", job, book.as_of, words)
    assert tried.end - tried.start == timedelta(days=1)


# The piece.


def with_door(width: str, height: str) -> tuple[OneJob, Words]:
    book = SAMPLES["small"]()
    assert book.as_of is not None
    door = Opening(name="library door", width_m=Decimal(width), height_m=Decimal(height))
    job = replace(book.jobs[0], site=replace(book.jobs[0].site, openings=(door,)))
    book = replace(book, jobs=(job,))
    assert book.as_of is not None
    words = Words("en", book=book)
    return one_job(Shown(book=book, now=book.as_of), job.id, words), words


@pytest.mark.parametrize(
    ("width", "height", "said"),
    [
        ("2.5", "2.5", "mm"),
        ("1.24", "2.5", "measure it"),
        ("0.9", "0.9", "too big"),
    ],
)
def test_an_opening_says_what_is_to_spare_and_when_to_measure(
    width: str, height: str, said: str
) -> None:
    one, words = with_door(width, height)
    row = next(each for each in piece(one, words).passes if each.name == "library door")
    assert said in row.short
    assert row.is_bad == (said == "too big")
    assert row.is_close == (said == "measure it")
    assert MEASURE_UNDER_MM == 100


def test_the_segment_that_passes_worst_is_named() -> None:
    """The body is 1.6 x 1.3 x 1.1 m; the head and the wings are smaller in two sizes."""
    one, words = with_door("1.24", "2.5")
    row = next(each for each in piece(one, words).passes if each.name == "library door")
    assert row.segment == next(s.id for s in one.job.segments if s.name == "Body")
    assert row.text.startswith("Body.")


def test_a_lift_is_left_to_the_lift_plan() -> None:
    book = SAMPLES["crossing"]()
    assert book.as_of is not None
    words = Words("en", book=book)
    one = one_job(Shown(book=book, now=book.as_of), book.jobs[0].id, words)
    crane = next(each for each in piece(one, words).passes if each.name == "crane")
    assert "lift plan" in crane.short


def test_cautions_end_with_whose_word_comes_first() -> None:
    one, words = with_door("2.5", "2.5")
    found = piece(one, words)
    assert found.cautions
    assert "comes before all of this" in found.defers


def test_boxes_stand_side_by_side_to_one_scale() -> None:
    one, words = with_door("2.5", "2.5")
    boxes = piece(one, words).boxes
    cells, scale = set_out(boxes, 300, 180)
    assert len(cells) == len(boxes)
    for cell in cells:
        assert abs(cell.rect.width() - float(cell.box.width) * scale) <= 1
        assert abs(cell.rect.height() - float(cell.box.height) * scale) <= 1
        assert cell.rect.right() < 300
        assert cell.rect.bottom() <= 180
    assert not any(a.rect.intersects(b.rect) for a, b in combinations(cells, 2))


# Ways out.


def a_way(price: int, names: tuple[str, ...]) -> WayOut:
    made = planted()
    assert made.plan is not None
    levers = tuple(
        Lever(
            kind=LeverKind.EQUIPMENT,
            id=name,
            about=(),
            price=Decimal(price),
            facts=(("name", name),),
        )
        for name in names
    )
    return WayOut(
        levers=levers,
        price=Decimal(price),
        proved_cheapest=False,
        keeps=True,
        book=replace(made.book, revision=made.book.revision + 1),
        plan=made.plan,
        check=CheckResult(),
        jobs=an_outcome().jobs,
    )


def rows(ways: listing.Ways, *, hides_money: bool = False) -> tuple[listing.WayRow, ...]:
    made = planted()
    words = Words("en", book=made.book)
    before = an_outcome(Verdict.MISSES)
    return listing.rows_of(ways, before, words, made.now, hides_money=hides_money)


def test_ways_stand_cheapest_first_as_they_come() -> None:
    job = planted().book.jobs[0].id
    ways = listing.looking(job, Words("en"))
    for each in (a_way(900, ("a fan",)), a_way(0, ("a screen",)), a_way(300, ("a hoist",))):
        ways = listing.with_part(ways, each)
    assert [row.number for row in rows(ways)] == [1, 2, 3]
    assert [row.changes for row in rows(ways)] == [("A screen",), ("A hoist",), ("A fan",)]
    assert rows(ways)[0].price == "costs nothing"
    assert "300" in rows(ways)[1].price


def test_hidden_money_is_in_no_line() -> None:
    ways = listing.with_part(
        listing.looking(planted().book.jobs[0].id, Words("en")), a_way(375, ("a", "b"))
    )
    (shown,) = rows(ways)
    (hidden,) = rows(ways, hides_money=True)
    assert "375" in " ".join((*shown.changes, shown.price))
    assert "375" not in " ".join((*hidden.changes, hidden.price, *hidden.beside))


def test_a_way_is_tried_as_one_change_that_can_be_taken_back() -> None:
    made = planted()
    words, job = Words("en", book=made.book), made.book.jobs[0]
    ways = listing.with_part(listing.looking(job.id, words), a_way(5, ("a fan",)))
    base = an_outcome(Verdict.MISSES)
    trial = listing.trial_of(ways, 1, job, words, base)
    assert trial is not None
    assert trial.outcome is not None
    assert trial.outcome.verdict is Verdict.FITS
    assert trial.label.code == "pull_lever"
    assert trial.edited(made.book).book.revision == made.book.revision + 1
    assert listing.trial_of(ways, 2, job, words, base) is None


@pytest.mark.parametrize("stuck", [True, False])
def test_where_nothing_is_enough_the_best_of_what_costs_nothing_stands_there(stuck: bool) -> None:
    made = planted()
    base = replace(an_outcome(Verdict.MISSES))
    free = replace(a_way(0, ("a fan",)), keeps=False)
    answer = WaysOut(
        job=made.book.jobs[0].id, base=base, levers=free.levers, free=free, stuck=stuck
    )
    ways = listing.whole(answer, Words("en", book=made.book))
    (row,) = rows(ways)
    assert not row.is_enough
    assert ways.sentence.startswith("Cannot" if stuck else "The one thing")


def test_a_kept_window_needs_no_way_out() -> None:
    made = planted()
    answer = WaysOut(job=made.book.jobs[0].id, base=an_outcome(), levers=())
    ways = listing.whole(answer, Words("en", book=made.book))
    assert ways.found == ()
    assert "No way out is needed" in ways.sentence
