"""Letter, load lists and the owner's page: each value against plan and book."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from zoneinfo import ZoneInfo

import pytest

from app.exchange.given import Given
from app.window.papers import jobs
from app.window.papers.letter import letter
from app.window.papers.loads import load_lists
from app.window.papers.owner import owner, shortened
from app.window.papers.text import Paper
from scheduler.outcome import Verdict
from shared.book import Answer, Book, Fact, FactKind, Gate, GateKind, Job, Journey
from shared.ids import EquipmentId, FactId
from shared.passing.boxes import AS_MADE, margins_of, moved, piece_of
from shared.passing.masses import mass_of
from tests.app import pdf_read
from tests.app.exchange.scenes import give
from tests.app.window.papers.written import of_sample, pdf, replan, sample

A4 = (595, 842)


@pytest.fixture(scope="module")
def crossing() -> Given:
    return of_sample("crossing")


def job_of(book: Book, identity: str) -> Job:
    return next(job for job in book.jobs if job.id == identity)


def iso(day: date) -> str:
    return day.isoformat()


def lines(paper: Paper) -> list[tuple[str, str]]:
    return [(item.what, item.when) for part in paper.parts for item in part.items]


# The letter.


@pytest.mark.parametrize(
    ("language", "country", "said"),
    [
        # Unicode CLDR, dateFormats full, as remembered: "EEEE, MMMM d, y" in the United States,
        # day before month in Britain and the Netherlands; German "EEEE, d. MMMM y", and January
        # is Jänner in Austria.
        ("en", "US", "Monday, January 18, 2027"),
        ("en", "GB", "Monday, 18 January 2027"),
        ("en", "NL", "Monday, 18 January 2027"),
        ("de", "DE", "Montag, 18. Januar 2027"),
        ("de", "AT", "Montag, 18. Jänner 2027"),
    ],
)
def test_a_date_is_written_as_in_the_client_s_country(
    language: str, country: str, said: str
) -> None:
    assert jobs.in_full(language, country, date(2027, 1, 18)) == said


def test_the_letter_says_the_dates_of_the_plan_by_the_client_s_clock(crossing: Given) -> None:
    job = job_of(crossing.book, "heron")
    found = letter(crossing, job, jobs.stands(crossing), iso)
    gate = next(s for s in job.steps if isinstance(s, Gate) and s.gate is GateKind.ANSWER)
    placed = next(p for p in crossing.plan.placements if p.step == gate.id and p.round <= 1)
    held = job.held_window
    assert held is not None
    # Amsterdam is an hour ahead of UTC in winter, two in summer (EU directive 2000/84/EC).
    summer = [each + timedelta(hours=2) for each in (held.start, held.end)]
    out = (placed.start + timedelta(hours=1)).date().isoformat()
    told = lines(found)

    assert (f"Pictures for “{gate.name}” reach you", out) in told
    assert any(
        what.startswith("Your answer to") and when.endswith(", 17:00") for what, when in told
    )
    assert (f"{job.site.name} is ours from", f"{summer[0]:%Y-%m-%d, %H:%M}") in told
    assert (f"{job.site.name} is ours until", f"{summer[1]:%Y-%m-%d, %H:%M}") in told
    assert ("Hours of the site are by the clock of Amsterdam.", "") in told
    assert found.first.startswith("Yes, Heron gate can be with you in your window, ")
    assert "Price" not in [part.title for part in found.parts]


def waiting(days: int) -> tuple[Given, Job, Gate]:
    """The tight sample with the snail's pictures out, and its answer due before now."""
    book = sample("tight")
    job = job_of(book, "snail")
    gate = next(s for s in job.steps if isinstance(s, Gate) and s.gate is GateKind.ANSWER)
    out = Fact(
        id=FactId("out"),
        kind=FactKind.PICTURES,
        step=gate.id,
        at=datetime(2027, 1, 18, 7, 30, tzinfo=UTC),
        told_by="Cato",
    )
    given = give(book)
    told = replace(book, facts=(*book.facts, out))
    return replace(given, book=told, now=given.now + timedelta(days=days)), job, gate


def test_an_overdue_answer_says_since_when_and_what_it_ate() -> None:
    given, job, gate = waiting(days=21)
    found = letter(given, job, jobs.stands(given), iso)
    due = next(when for what, when in lines(found) if "overdue since" in what)
    eaten = [item for part in found.parts for item in part.items if "none yet" in item.what]
    # Ten working days of England after Monday 18 January 2027: Monday 1 February; no holiday.
    wanted = date(2027, 1, 18) + timedelta(days=14)

    assert job.client.answer_days == 10
    assert due == wanted.isoformat()
    assert len(eaten) == 1
    assert f"“{gate.name}” was due on {due}" in eaten[0].what
    # Monday 1 February 17:00 to Monday 8 February 07:30 are four days of work, and of the
    # workshop's five.
    assert "4 days" in eaten[0].what or "nothing of what it had to spare is left" in eaten[0].what


def test_an_answer_in_time_ate_nothing_and_one_late_says_how_much() -> None:
    given, job, gate = waiting(days=21)
    late = Fact(
        id=FactId("yes"),
        kind=FactKind.ANSWER,
        step=gate.id,
        at=datetime(2027, 2, 3, 17, 0, tzinfo=UTC),
        told_by="Cato",
        answer=Answer.YES,
    )
    book = replace(given.book, facts=(*given.book.facts, late))
    told = letter(replace(given, book=book), job, jobs.stands(given), iso)
    soon = replace(late, at=datetime(2027, 1, 29, 9, 0, tzinfo=UTC))
    early = replace(given, book=replace(given.book, facts=(*given.book.facts, soon)))

    (line,) = (what for what, _ in lines(told) if "came on" in what)
    assert "due on 2027-02-01 and came on 2027-02-03: that ate 2 days" in line
    assert (f"Your answer to “{gate.name}”, given", "2027-02-03") in lines(told)
    assert "No answer of yours came late." in [
        what for what, _ in lines(letter(early, job, jobs.stands(given), iso))
    ]


def test_the_price_asked_stands_in_it_or_none(crossing: Given) -> None:
    job = replace(job_of(crossing.book, "heron"), price=Decimal(24500))
    words = [what for what, _ in lines(letter(crossing, job, jobs.stands(crossing), iso))]

    assert [what for what in words if "24,500" in what or "24500" in what]
    assert not [what for what in words if "safe" in what]


def test_of_an_old_plan_and_of_a_window_missed_nothing_is_promised(crossing: Given) -> None:
    job, outcome = job_of(crossing.book, "heron"), jobs.stands(crossing)
    late = replace(
        outcome,
        jobs=tuple(replace(told, verdict=Verdict.NOT_FOUND) for told in outcome.jobs),
    )
    old = replace(crossing, is_old=True, marks=("OLD PLAN. So.",))
    data = pdf(jobs.letter_job(old, job), "A4", is_across=False)

    assert letter(old, job, outcome, iso).first == ""
    assert "we can’t promise" in letter(crossing, job, late, iso).first
    assert all("OLD PLAN. So." in text for text in pdf_read.page_texts(data))


def test_it_names_no_other_job_and_nobody_of_the_workshop(crossing: Given) -> None:
    job = job_of(crossing.book, "heron")
    (text,) = pdf_read.page_texts(pdf(jobs.letter_job(crossing, job), "A4", is_across=False))

    assert job.client.name in text
    assert "Reading owl" not in text
    assert not [person.name for person in crossing.book.people if person.name in text]


# Load lists.


def test_each_piece_is_on_one_vehicle_and_what_is_needed_first_goes_in_last(
    crossing: Given,
) -> None:
    for paper, job in zip(
        load_lists(crossing, jobs.stands(crossing), None), crossing.book.jobs, strict=True
    ):
        loaded = [what for what, when in lines(paper) if "wrapped" in when]
        names = [what.partition(". ")[2].partition(",")[0] for what in loaded]
        assert names == [segment.name for segment in reversed(job.segments)]
        margins = margins_of(crossing.book.workshop)
        for segment in job.segments:
            piece = piece_of(segment)
            assert piece is not None
            sides = moved(piece.box, AS_MADE[0], margins)
            told = next(when for what, when in lines(paper) if f". {segment.name}," in what)
            for side in (sides.length, sides.width, sides.height):
                assert f"{float(side / 1000):g}" in told


def test_kilograms_are_those_as_moved_and_their_sum_is_held_against_the_vehicle() -> None:
    book = sample("crossing")
    job = job_of(book, "owl")
    heavy = tuple(
        replace(segment, mass_low_kg=Decimal(80), mass_high_kg=Decimal(100))
        for segment in job.segments
    )
    changed = replan(
        replace(
            book, jobs=tuple(replace(j, segments=heavy) if j.id == job.id else j for j in book.jobs)
        )
    )
    given = give(changed)
    (paper,) = load_lists(given, jobs.stands(given), job_of(changed, "owl"))
    mass = mass_of(heavy[0])
    assert mass is not None
    low, high = int(mass.low), -int(-mass.high // 1)

    weighed = [when for what, when in lines(paper) if "wrapped" in when]
    assert weighed
    assert all(f"{low} to {high} kg" in when for when in weighed)
    (together,) = (when for what, when in lines(paper) if what == "Together")
    assert together.endswith("it carries 1100 kg")
    assert f"{int(2 * mass.low)} to" in together


def test_a_load_list_says_by_when_and_which_papers(crossing: Given) -> None:
    job = job_of(crossing.book, "heron")
    (paper,) = load_lists(crossing, jobs.stands(crossing), job)
    journey = next(step for step in job.steps if isinstance(step, Journey))
    trip = next(each for each in crossing.plan.trips if each.step == journey.id)
    told = dict(lines(paper))
    made = jobs.loads_job(crossing, job)
    assert made is not None
    texts = pdf_read.page_texts(pdf(made, "A4", is_across=False))

    london = trip.start.astimezone(ZoneInfo(crossing.book.workshop.zone))
    assert told["The lorry leaves"].endswith(f"{london:%H:%M}")
    assert told["Carnet for the tools that come back"].startswith("by ")
    assert "weigh before lifting" in paper.last
    assert all(word in " ".join(texts) for what, when in lines(paper) for word in what.split())


def test_what_the_first_vehicle_has_no_room_for_goes_on_the_next() -> None:
    book = sample("crossing")
    job = job_of(book, "heron")
    lorry = next(thing for thing in book.equipment if thing.id == "lorry")
    # Wings are 2.5 by 1.4 by 1.15 m as moved: however they are turned, one of them and no more
    # stands on a floor of 2.6 by 1.5 m under a roof of two metres.
    short = replace(
        lorry,
        inside_length_m=Decimal("2.6"),
        inside_width_m=Decimal("1.5"),
        inside_height_m=Decimal(2),
    )
    second = replace(short, id=EquipmentId("second"), name="Second lorry")
    things = tuple(short if thing.id == "lorry" else thing for thing in book.equipment)
    journey = next(step for step in job.steps if isinstance(step, Journey))
    by_both = replace(
        journey,
        means=tuple(replace(m, vehicles=(short.id, second.id)) for m in journey.means),
    )
    steps = tuple(by_both if step.id == journey.id else step for step in job.steps)
    jobs_ = tuple(replace(j, steps=steps) if j.id == job.id else j for j in book.jobs)
    given = replace(
        of_sample("crossing"), book=replace(book, equipment=(*things, second), jobs=jobs_)
    )
    (paper,) = load_lists(given, jobs.stands(of_sample("crossing")), job_of(given.book, "heron"))
    loaded = {
        part.title: [item.what.partition(". ")[2].partition(",")[0] for item in part.items][:1]
        for part in paper.parts[1:-1]
    }
    left = {item.what for item in paper.parts[-2].items}

    assert list(loaded)[:2] == [
        "Hired lorry, loaded in this order",
        "Second lorry, loaded in this order",
    ]
    assert list(loaded.values())[:2] == [["Left wing"], ["Right wing"]]
    assert paper.parts[-2].title == "Goes on none of them in one trip"
    assert left == {"Neck"}


def test_a_vehicle_that_nobody_measured_says_so() -> None:
    book = sample("crossing")
    bare = tuple(
        replace(thing, inside_length_m=None, inside_width_m=None, inside_height_m=None, body=None)
        if thing.id == "van"
        else thing
        for thing in book.equipment
    )
    given = give(replan(replace(book, equipment=bare)))
    (paper,) = load_lists(given, jobs.stands(given), job_of(given.book, "owl"))

    assert [what for what, _ in lines(paper) if what.startswith("Nobody has measured")]


# The owner's page.


def test_the_owner_s_page_is_one_page_and_says_how_every_window_stands() -> None:
    given = of_sample("full")
    outcome = jobs.stands(given)
    found = owner(given, outcome)
    data = pdf(jobs.owner_job(given), "A4", is_across=False)
    (text,) = pdf_read.page_texts(data)

    assert pdf_read.sizes(data) == [A4]
    assert len(outcome.jobs) == 12
    told = dict(lines(found))
    for job in outcome.jobs:
        (when,) = (when for what, when in told.items() if what.startswith(f"{job.name}, window"))
        assert when.startswith(given.words.verdict_mark(job.verdict))
        assert given.words.verdict_margin(job) in when
        assert job.name in text
    assert all(mark in text for mark in given.marks)


def test_what_is_in_danger_stands_first_and_in_words() -> None:
    given = of_sample("rush")
    outcome = jobs.stands(given)
    danger = owner(given, outcome).parts[0]
    shaky = [told for told in outcome.jobs if told.verdict is not Verdict.FITS]

    assert shaky
    assert {item.what for item in danger.items} == {
        given.words.verdict_line(told, now=given.now) for told in shaky
    }


def test_what_cannot_be_is_not_said_to_be_late() -> None:
    given = of_sample("impossible")
    outcome = jobs.stands(given)
    never = replace(
        outcome, jobs=tuple(replace(t, verdict=Verdict.CANNOT) for t in outcome.jobs[:1])
    )
    told = dict(lines(owner(given, outcome)))
    cannot = dict(lines(owner(given, never)))

    assert any("not found in time, late by" in when for when in told.values())
    assert "cannot" in cannot.values()


def test_the_engine_s_own_answer_goes_before_what_a_kept_plan_tells() -> None:
    given = of_sample("impossible")
    proved = replace(jobs.stands(given), verdict=Verdict.CANNOT)

    assert jobs.stands(replace(given, outcome=proved)) is proved


def test_what_is_too_much_for_one_page_is_counted() -> None:
    given = of_sample("full")
    part = shortened(owner(given, jobs.stands(given)), 5, given.words).parts[1]

    assert len(part.items) == 6
    assert part.items[-1].what == "And seven more."
