"""The first answer's book: countries, the workshop that is assumed, the job, changes, cuts."""

import json
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from shared import files
from shared.asking import (
    Answered,
    Country,
    Question,
    asked_book,
    assumed_book,
    country_named,
    nearest_country,
    usual_assumed,
)
from shared.asking.assumed import assumed_names
from shared.asking.countries import countries
from shared.asking.question import word_of
from shared.book import Gate, GateKind, Journey, Route, Segment, Stage, Standing
from shared.examine import examine
from shared.files.read import read_book
from shared.files.write import write_book
from shared.ids import SegmentId
from shared.order import afters_of
from shared.passing.facts import kept_back
from shared.routes import PROGRAM_ROUTES, program_route, unknown_words
from shared.trade import figure
from tests.builders import NOW, a_book, a_job, a_segment

BY = date(2026, 6, 30)
ASSUMED = usual_assumed()


def the(route_id: str = "hollow") -> Route:
    route = program_route(route_id)
    assert route is not None
    return route


def norway() -> Country:
    found = country_named("NO")
    assert found is not None
    return found


def a_question(*sides: str, route: str = "hollow", **changes: object) -> Question:
    length, width, height = map(Decimal, sides or ("2.4", "2.1", "2.6"))
    whole = Segment(id=SegmentId("x"), name="x", length_m=length, width_m=width, height_m=height)
    usual = Question(what="Lily pad", whole=whole, by=BY, country=norway(), route=the(route))
    return replace(usual, **changes)  # type: ignore[arg-type]


def answered(question: Question | None = None, **of_assumed: object) -> Answered:
    asked = question or a_question()
    assumed = replace(ASSUMED, **of_assumed)  # type: ignore[arg-type]
    book = assumed_book(assumed, norway(), asked.route, NOW, "assumed")
    names = assumed_names(book)
    return asked_book(book, asked, assumed, NOW, names=names, standing=Standing.PENCILLED)


def test_every_country_has_a_zone_that_is_known_and_holidays() -> None:
    # ISO 3166; zones of the time zone database.
    path = Path(files.__file__).parent / "calendars.json"
    calendars = json.loads(path.read_text(encoding="utf-8"))
    codes = [country.code for country in countries()]

    assert len(codes) == len(set(codes)) > 240
    for country in countries():
        assert ZoneInfo(country.zone)
        assert country.code in calendars
        assert country.name


@pytest.mark.parametrize(
    ("word", "code"),
    [
        ("NO", "NO"),
        ("no", "NO"),
        ("norway", "NO"),
        (" Norway ", "NO"),
        ("UK", "GB"),
        ("England", "GB"),
        ("usa", "US"),
        ("Czech Republic", "CZ"),
        ("Côte d'Ivoire", "CI"),
        ("Atlantis", None),
        ("", None),
    ],
)
def test_a_country_by_its_name_or_code(word: str, code: str | None) -> None:
    found = country_named(word)

    assert (None if found is None else found.code) == code


def test_england_is_meant_by_its_kingdom_for_its_holidays() -> None:
    # Without a part of it two public holidays of England are missing.
    found = country_named("GB")
    assert found is not None
    assert (found.zone, found.subdivision) == ("Europe/London", "ENG")


def test_the_nearest_country_to_what_is_none() -> None:
    near = nearest_country("Norwey")
    assert near is not None
    assert near.code == "NO"
    assert nearest_country("qqq") is None


@pytest.mark.parametrize("route", PROGRAM_ROUTES)
def test_everything_that_a_way_of_making_asks_for_is_there(route: str) -> None:
    book = assumed_book(ASSUMED, norway(), the(route), NOW, "assumed")

    assert unknown_words(book, the(route)) == ()
    assert examine(book) == ()
    assert len(book.people) == figure("CP560").amount
    assert sum(place.area_m2 or 0 for place in book.places) == figure("CP567").amount
    workshop = book.workshop
    (shift,) = workshop.shifts
    (pause,) = shift.breaks
    begins, ends = (timedelta(hours=at.hour, minutes=at.minute) for at in (shift.start, shift.end))
    away = timedelta(hours=pause.end.hour, minutes=pause.end.minute) - timedelta(
        hours=pause.start.hour, minutes=pause.start.minute
    )
    assert (ends - begins - away) / timedelta(hours=1) == float(figure("CP562").amount)
    assert workshop.useful_hours == Decimal("6.5")
    assert workshop.wished_buffer_days == 2


@pytest.mark.parametrize("route", PROGRAM_ROUTES)
def test_the_book_holds_together_and_comes_back_from_its_file(route: str) -> None:
    made = answered(a_question(route=route, options=the(route).options))
    found = {each.code for each in examine(made.book)}

    assert found <= {"measure_missing"}
    assert read_book(write_book(made.book)).book == made.book
    assert made.book.jobs == (made.job,)
    assert not list(kept_back(made.book, made.job))


def test_the_job_is_of_the_country_and_may_be_put_up_until_the_end_of_the_day() -> None:
    job = answered().job
    (window,) = job.windows

    assert (job.client.country, job.site.zone) == ("NO", "Europe/Oslo")
    assert job.client.answer_days == 10
    assert window.start == NOW
    local = window.end.astimezone(ZoneInfo("Europe/Oslo"))
    assert (local.date(), local.hour) == (BY + timedelta(days=1), 0)
    (access,) = window.access
    assert (access.start.hour, access.end.hour) == (8, 17)


def test_it_is_cut_into_as_few_segments_as_pass_a_van() -> None:
    made = answered()

    assert made.proposal is not None
    assert len(made.job.segments) == made.proposal.counts.all == 4
    assert [segment.name for segment in made.job.segments] == [
        f"Lily pad {number}" for number in range(1, 5)
    ]
    small = answered(a_question("1", "1", "1"))
    assert [segment.name for segment in small.job.segments] == ["Lily pad"]


def test_what_would_be_without_any_skin_is_not_made() -> None:
    made = answered(a_question("4", "4", "12"))

    assert made.proposal is not None
    assert len(made.job.segments) < made.proposal.counts.all
    assert all(segment.surface_m2 for segment in made.job.segments)
    assert not [found for found in examine(made.book) if found.stops]


def test_somebody_may_say_into_how_many_pieces_it_is_cut() -> None:
    made = answered(a_question(count=6))

    assert made.proposal is None
    assert len(made.job.segments) == 6


def test_a_yes_with_changes_is_planned_behind_the_answer() -> None:
    made, plain = answered(), answered(changes=0)
    gate = next(s for s in made.job.steps if isinstance(s, Gate) and s.gate is GateKind.ANSWER)
    extra = [s for s in made.job.steps if s.id not in {each.id for each in plain.job.steps}]
    afters = afters_of(made.job)

    assert gate.changes is not None
    assert [step.segments for step in extra] == [(piece.id,) for piece in made.job.segments]
    hours = sum(s.ways[0].hours.likely for s in extra if isinstance(s, Stage))
    assert 0 <= hours - gate.changes.ways[0].hours.likely < len(extra) * Decimal("0.25")
    for step in extra:
        assert isinstance(step, Stage)
        assert [after.step for after in afters[step.id]] == [gate.id]
        behind = [s for s, links in afters.items() if any(a.step == step.id for a in links)]
        assert len(behind) == 1
    changes = {step.id for step in extra}
    assert not any(
        after.step == gate.id for step in afters if step not in changes for after in afters[step]
    )


def test_what_names_the_answer_waits_for_the_changes_instead() -> None:
    made = answered(a_question(route="hard-coat"))
    coats = [s for s in made.job.steps if isinstance(s, Stage) and s.name == "hard coat"]
    afters = afters_of(made.job)

    assert coats
    for coat in coats:
        before = {after.step for after in afters[coat.id]}
        assert any("changes" in step for step in before)
        assert not any(step.endswith(".approve") for step in before)


def test_material_is_ordered_for_every_stage_that_takes_some() -> None:
    made = answered()
    taking = {s.name for s in made.job.steps if isinstance(s, Stage) and s.materials}

    assert {"block", "laminate", "prime", "lacquer"} <= taking
    assert {need.supplier for need in made.book.materials} == {made.book.suppliers[0].id}
    assert made.book.suppliers[0].lead_days == figure("CP575").amount


def test_beside_other_jobs_it_is_an_enquiry_with_ids_of_its_own() -> None:
    base = a_book(a_job("lily-pad", segments=(a_segment("lily-pad-1"),)))
    made = asked_book(base, a_question(), ASSUMED, NOW)

    assert made.job.standing is Standing.ENQUIRY
    assert made.job.id == "lily-pad-2"
    assert made.book.jobs[0] == base.jobs[0]
    assert made.book.revision == base.revision
    assert made.materials_assumed
    segments = [segment.id for job in made.book.jobs for segment in job.segments]
    steps = [step.id for job in made.book.jobs for step in job.steps]
    assert len(set(segments)) == len(segments)
    assert len(set(steps)) == len(steps)


def test_a_book_with_material_keeps_its_own() -> None:
    from shared.routes.materials import usual_materials

    mine = tuple(each for each in usual_materials() if each.id == "foam")
    made = asked_book(a_book(materials=mine), a_question(), ASSUMED, NOW)

    assert made.book.materials == mine
    assert not made.materials_assumed
    needs = {n.material for s in made.job.steps if isinstance(s, Stage) for n in s.materials}
    assert needs == {"foam"}


def test_like_a_past_job_its_hours_are_that_jobs() -> None:
    base = answered()
    past = base.job
    asked = a_question(past=past, times=Decimal(1))
    made = asked_book(base.book, asked, ASSUMED, NOW, names=assumed_names(base.book))

    def hours(job: object) -> Decimal:
        steps = (s for s in job.steps if isinstance(s, Stage | Gate) and s.ways)  # type: ignore[attr-defined]
        return sum((step.ways[0].hours.likely for step in steps), Decimal(0))

    assert made.left == ("changes (approve)",)
    # Shared out among four segments they are rounded up four times.
    assert abs(hours(made.job) - hours(past)) < hours(past) / 20


def test_without_a_van_a_haulier_is_assumed() -> None:
    made = answered(vans=0)
    journey = next(step for step in made.job.steps if isinstance(step, Journey))

    assert journey.vehicles == ()
    assert journey.crew
    assert len(made.job.segments) < 4


@pytest.mark.parametrize(
    ("what", "word"),
    [
        ("Lily pad", "lily-pad"),
        ("  Über-Ei, 3rd!", "ber-ei-3rd"),
        ("龍", "asked"),
        ("a" * 90, "a" * 40),
    ],
)
def test_ids_are_made_of_what_it_is_called(what: str, word: str) -> None:
    assert word_of(what) == word
