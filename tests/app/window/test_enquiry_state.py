"""What the view of an enquiry shows, worked out without a window."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

import pytest

from app.window.enquiry import acting
from app.window.enquiry.dates import labels, runs, top_of
from app.window.enquiry.newly import Asked, enquired, read_site
from app.window.enquiry.state import (
    Found,
    date_columns,
    dot_rows,
    enquiries,
    first_choice,
    hardest,
    promised,
    span_of,
    spare_days,
)
from app.window.enquiry.ways import names_of, ways_of
from app.window.sheet.typed import NotTaken
from app.words import Words
from app.words import enquiry_view as say
from app.words.owner_enquiry import money_rows
from scheduler.enquiring import Taking
from scheduler.outcome import JobOutcome, Verdict
from scheduler.price import Costs, Pricing
from scheduler.rush.values import Late
from shared.book import Standing
from shared.ids import JobId
from shared.worktime.zones import local_date
from tests.app.window.enquired import (
    LEAST,
    a_promise,
    a_rush,
    enquiry_of,
    first_look,
    the_book,
)
from tests.app.window.scenes import planted


def words() -> Words:
    return Words("en", book=the_book())


def found_of(taking: Taking = Taking.TAKE) -> Found:
    book = the_book()
    rush = a_rush(book, a_promise(book, 0, taking, 31), a_promise(book, 6, Taking.TAKE))
    return Found(job=rush.job.id, without=rush.without.outcome, with_=rush.with_.outcome, rush=rush)


# Dots.


def test_each_job_has_two_dots_and_the_enquiry_only_one() -> None:
    rows = dot_rows(the_book(), found_of(), words())
    enquiry = enquiry_of(the_book()).id

    assert [row.job for row in rows if row.is_enquiry] == [enquiry]
    assert len(rows) == len(the_book().jobs)
    for row in rows:
        assert row.before == (None if row.is_enquiry else 2)
        assert row.after == 1


def test_rows_stand_by_their_windows() -> None:
    starts = {
        job.id: job.held_window.start for job in the_book().jobs if job.held_window is not None
    }
    rows = dot_rows(the_book(), found_of(), words())

    assert [row.job for row in rows] == sorted(starts, key=lambda job: (starts[job], job))


def test_a_first_look_is_enough_for_the_dots() -> None:
    look = first_look(the_book())
    found = Found(job=enquiry_of(the_book()).id, without=look.without, with_=look.with_)

    assert all(row.note in ("", "the enquiry") for row in dot_rows(the_book(), found, words()))


def test_a_row_says_what_changes_and_how_often_it_is_late() -> None:
    first = the_book().jobs[0]
    row = next(row for row in dot_rows(the_book(), found_of(), words()) if row.job == first.id)

    assert row.said == "2 d to 1 d"
    assert row.note == "late 31 in 100, today 9"
    assert row.line.endswith("Late 31 times in 100, today 9.")


@pytest.mark.parametrize(
    ("verdict", "slack", "missed", "working", "days"),
    [
        (Verdict.FITS, 1200, 0, 0, 2.5),
        (Verdict.TIGHT, 0, 0, 0, 0),
        (Verdict.MISSES, None, 2880, 960, -2),
        (Verdict.MISSES, None, 2880, 0, -2),
        (Verdict.CANNOT, None, 0, 0, None),
    ],
)
def test_days_to_spare_are_working_days_and_late_ones_below_nothing(
    verdict: Verdict, slack: int | None, missed: int, working: int, days: float | None
) -> None:
    told = JobOutcome(
        id=JobId("snail"),
        name="Snail",
        verdict=verdict,
        slack_minutes=slack,
        missed_by_minutes=missed,
        missed_by_working_minutes=working,
    )
    assert spare_days(told, 480) == days


def test_the_axis_goes_to_even_days_both_ways() -> None:
    rows = dot_rows(the_book(), found_of(), words())

    assert span_of(rows) == (0, 4)
    assert span_of([replace(rows[0], before=5.1, after=-2.5)]) == (-4, 6)
    assert span_of([replace(rows[0], before=None, after=None)]) == (0, 4)


# Dates.


def test_the_job_hit_hardest_is_the_farthest_above_its_level() -> None:
    lates = (
        Late(job=JobId("moon"), name="Moon", before=48, late=49, level=50),
        Late(job=JobId("owl"), name="Owl", before=3, late=14, level=10),
    )
    promise = replace(a_promise(the_book(), 0, Taking.AT_RISK), lates=lates)
    bare = replace(promise, lates=())

    assert hardest(promise) is lates[1]
    assert hardest(bare) is None


def test_columns_say_whom_a_date_squeezes_and_which_holds() -> None:
    book = the_book()
    rush = a_rush(
        book,
        a_promise(book, 0, Taking.NOT, 64),
        a_promise(book, 1, Taking.AT_RISK, 31),
        a_promise(book, 2, Taking.JUST),
        a_promise(book, 9, Taking.TAKE),
    )
    columns = date_columns(rush, words())

    assert [column.squeezed for column in columns] == [
        "misses",
        book.jobs[0].name,
        "only just",
        "nobody",
    ]
    assert [column.is_squeezing for column in columns] == [False, True, False, False]
    assert [column.is_honest for column in columns] == [False, False, False, True]
    assert [column.is_wished for column in columns] == [True, False, False, False]
    assert [column.late for column in columns] == [64, 31, 9, 9]
    assert first_choice(rush) == 3
    assert promised(rush, 1) is rush.honest
    assert "late 31 times in 100, today 9" in columns[1].line


def test_without_an_honest_date_the_one_asked_for_is_looked_at_and_none_is_promised() -> None:
    book = the_book()
    rush = a_rush(book, a_promise(book, 3, Taking.AT_RISK), a_promise(book, 0, Taking.NOT))

    assert first_choice(rush) == 1
    assert promised(rush, 0) is None


def test_dates_that_squeeze_the_same_stand_together_and_months_are_told_once() -> None:
    book = the_book()
    rush = a_rush(
        book,
        *(a_promise(book, days, Taking.TAKE) for days in (0, 1)),
        a_promise(book, 40, Taking.TAKE),
    )
    columns = date_columns(rush, words())
    (run,) = runs(columns)

    assert (run.first, run.last) == (0, 2)
    assert [len(label.split()) for label in labels(columns)] == [2, 1, 2]


@pytest.mark.parametrize(("late", "top"), [(5, 20), (18, 20), (19, 40), (64, 80), (97, 100)])
def test_the_axis_of_chances_ends_above_what_is_shown(late: int, top: int) -> None:
    book = the_book()
    columns = date_columns(a_rush(book, a_promise(book, 0, Taking.NOT, late)), words())

    assert top_of(columns) == top


# Money and words.


def test_the_table_adds_up_to_the_least_price_and_says_what_the_price_leaves() -> None:
    pricing = a_promise(the_book(), 0, Taking.TAKE).pricing
    rows = money_rows(words(), pricing, Decimal(11_500))

    assert [row.amount.split()[0] for row in rows] == ["3260", "1450", "1720", LEAST, "5070"]
    assert [row.is_answer for row in rows] == [False, False, False, True, False]
    assert not rows[-1].is_short
    assert money_rows(words(), pricing, Decimal(6000))[-1].is_short
    assert len(money_rows(words(), pricing, None)) == 4


def test_what_costs_nothing_says_so() -> None:
    rows = money_rows(words(), Pricing(costs=Costs(), missed=Decimal(0), late_percent=5), None)

    assert [row.amount.split()[0] for row in rows] == ["0", "0"]


def test_a_price_paid_only_on_time_stands_in_the_table_where_it_may_be_late() -> None:
    pricing = Pricing(costs=Costs(materials=Decimal(900)), missed=Decimal(90), late_percent=10)
    rows = money_rows(words(), pricing, None)

    assert "990" in rows[2].amount
    assert "1100" in rows[3].amount


@pytest.mark.parametrize("taking", list(Taking))
@pytest.mark.parametrize("price", [Decimal(24_500), None])
def test_words_for_the_client_hold_the_price_asked_or_none(
    taking: Taking, price: Decimal | None
) -> None:
    book = the_book()
    rush = a_rush(book, a_promise(book, 0, taking), a_promise(book, 6, Taking.TAKE))
    text = say.client_words(words(), rush, rush.honest, price)

    assert ("24,500" in text) is (price is not None)
    assert LEAST not in text
    assert "if you say yes to the model by" in text
    assert ("we can’t promise" in text) is (taking is not Taking.TAKE)


def test_no_date_is_promised_that_is_not_honest() -> None:
    book = the_book()
    at_risk = a_promise(book, 0, Taking.AT_RISK)
    rush = a_rush(book, at_risk)

    for wanted in (None, at_risk):
        text = say.client_words(words(), rush, wanted, Decimal(24_500))
        assert "we can’t promise" in text
        assert "24,500" not in text


def test_an_enquiry_that_squeezes_a_job_never_reads_that_it_can_be_taken() -> None:
    book = the_book()
    rush = a_rush(book, a_promise(book, 0, Taking.AT_RISK, 31))
    line = say.sentence(words(), rush)

    assert "We can take" not in line
    assert f"only at {book.jobs[0].name}’s risk" in line


def test_of_many_squeezed_jobs_the_first_are_named_and_the_others_counted() -> None:
    book = the_book()
    promise = a_promise(book, 0, Taking.AT_RISK, 31)
    names = ("Owl", "Moon", "Fern", "Kettle")
    harms = tuple(replace(promise.harms[0], name=name) for name in names)
    rush = a_rush(book, replace(promise, harms=harms))

    assert say.squeezed_by(words(), rush.wished) == "Owl, Moon and two more"
    assert say.sentence(words(), rush).endswith("Three other jobs are squeezed too.")
    two = a_rush(book, replace(promise, harms=harms[:2]))
    assert say.squeezed_by(words(), two.wished) == "Owl and Moon"
    assert say.sentence(words(), two).endswith("One other job is squeezed too.")


# What is chosen from.


def test_names_are_offered_where_there_is_a_choice() -> None:
    book = the_book()
    two = replace(
        book,
        jobs=(replace(book.jobs[0], standing=Standing.PENCILLED), *book.jobs[1:]),
    )
    assert names_of(book, words()) == ()
    assert [name.job for name in names_of(two, words())] == [book.jobs[-1].id, book.jobs[0].id]
    assert len(enquiries(two)) == 2


def test_ways_out_say_their_price_unless_money_is_hidden() -> None:
    book = the_book()
    rush = a_rush(book, a_promise(book, 0, Taking.NOT), ways=True)
    today = local_date(planted().now, "UTC")
    (way,) = ways_of(rush, words(), today, is_money_hidden=False)
    (hidden,) = ways_of(rush, words(), today, is_money_hidden=True)

    assert "1570" in way.line
    assert "1570" not in hidden.line


# Edits.


def test_booking_holds_the_date_and_nothing_is_begun_sooner_than_said() -> None:
    book = the_book()
    job = enquiry_of(book)
    promise = a_promise(book, 6, Taking.TAKE)
    day = local_date(planted().now, "UTC") + timedelta(days=5)
    edited = acting.booked(book, job.id, replace(promise, not_before=day))
    made = next(each for each in edited.book.jobs if each.id == job.id)

    assert made.standing is Standing.FIRM
    assert made.held_window is not None
    assert made.held_window.start == promise.window.start
    assert made.not_before == day
    assert edited.book.revision == book.revision + 1
    assert [job for job in edited.book.jobs if job.id != made.id] == [
        job for job in book.jobs if job.id != made.id
    ]


def test_a_quote_says_until_when_a_place_is_held() -> None:
    job = enquiry_of(the_book())
    today = local_date(planted().now, "UTC")
    until = today + timedelta(days=4)

    assert acting.pencil_until(job, today) == today + timedelta(days=14)
    assert acting.pencil_until(replace(job, quote_good_until=until), today) == until
    past = replace(job, quote_good_until=today - timedelta(days=1))
    assert acting.pencil_until(past, today) > today


def test_another_date_joins_those_that_were_tried() -> None:
    book = the_book()
    rush = a_rush(book, a_promise(book, 0, Taking.NOT), a_promise(book, 9, Taking.TAKE))
    more = a_rush(book, a_promise(book, 4, Taking.TAKE))
    made = acting.with_more(rush, more.promises)

    assert [each.window.start for each in made.promises] == sorted(
        each.window.start for each in (*rush.promises, *more.promises)
    )
    assert made.honest is more.wished
    assert made.wished is rush.wished
    worse = replace(more.wished, taking=Taking.NOT)
    assert acting.with_more(made, (worse,)).promises == made.promises


def test_days_between_are_spread_and_none_of_them_was_tried() -> None:
    book = the_book()
    rush = a_rush(book, a_promise(book, 0, Taking.NOT), a_promise(book, 9, Taking.TAKE))
    days = acting.days_between(rush, 5)
    first = local_date(rush.wished.window.start, rush.job.site.zone)

    assert [(day - first).days for day in days] == [7, 6, 4, 3, 1]
    assert acting.days_between(a_rush(book, a_promise(book, 0, Taking.TAKE)), 5) == ()
    near = a_rush(book, a_promise(book, 0, Taking.NOT), a_promise(book, 1, Taking.TAKE))
    assert acting.days_between(near, 5) == ()
    nowhere = a_rush(book, a_promise(book, 0, Taking.NOT))
    assert acting.days_between(nowhere, 5) == ()


def test_a_window_on_another_day_is_as_long_and_from_the_same_time() -> None:
    job = enquiry_of(the_book())
    held = job.held_window
    assert held is not None
    day = local_date(held.start, job.site.zone) + timedelta(days=3)
    made = acting.window_on(job, day)

    assert made.end - made.start == held.end - held.start
    assert made.start - held.start == timedelta(days=3)
    assert made.access == held.access


# A new enquiry.


def test_a_site_is_one_of_the_book_or_a_new_one_with_its_country() -> None:
    book = the_book()
    known = book.jobs[0]

    assert read_site(known.site.name, book).client == known.client
    assert read_site(known.client.name.upper(), book).site == known.site
    new = read_site("Market hall, Norway", book)
    assert (new.site.name, new.site.country) == ("Market hall", "NO")
    assert read_site("Norway", book).site.zone == "Europe/Oslo"
    for text in ("Nowhere hall", "Market hall, Nowhere", "  "):
        with pytest.raises(NotTaken):
            read_site(text, book)


def test_an_enquiry_like_a_past_job_is_one_edit_and_books_nothing() -> None:
    book = the_book()
    asked = Asked(
        what="a market pear", past=book.jobs[0].name, times="1½", site="Norway", day="2027-09-06"
    )
    edited, job_id = enquired(book, asked, words(), planted().now)
    made = next(job for job in edited.book.jobs if job.id == job_id)

    assert made.name == "Market pear"
    assert made.standing is Standing.ENQUIRY
    assert made.client.answer_days == book.jobs[0].client.answer_days
    assert edited.book.revision == book.revision + 1
    assert edited.label.code == "add_job"


@pytest.mark.parametrize(
    "change",
    [
        {"past": "Nobody"},
        {"times": "none"},
        {"times": "900"},
        {"day": "soon"},
        {"day": "2020-01-01"},
    ],
)
def test_what_cannot_be_meant_is_refused(change: dict[str, str]) -> None:
    book = the_book()
    asked = Asked(what="Pear", past=book.jobs[0].name, times="1", site="Norway", day="2027-09-06")

    with pytest.raises(NotTaken):
        enquired(book, replace(asked, **change), words(), planted().now)


def test_a_first_empty_blank_is_named() -> None:
    assert Asked().empty == "what"
    assert Asked(what="Pear", past="Owl", times="1", site="Norway").empty == "day"
    assert Asked(what="Pear", past="Owl", times="1", site="Norway", day="6 Sep").empty is None


def test_each_row_has_the_piece_of_its_job() -> None:
    """Boxes stand for what nobody drew: as wide and high as written, else a metre."""
    for row in dot_rows(the_book(), found_of(), words()):
        job = next(each for each in the_book().jobs if each.id == row.job)
        assert [shape.segment for shape in row.shapes] == [each.id for each in job.segments]
        for shape, segment in zip(row.shapes, job.segments, strict=True):
            assert shape.high == float(segment.height_m or 1)
