"""Tables of the foreman's view: what is typed of an absence, who could do it, labels, layout."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from app.window.people import asked, days, edits
from app.window.people import derive as derive_module
from app.window.people.asked import Typed
from app.window.people.derive import Sight, derive
from app.window.people.free import busy, candidates, free_stretches
from app.window.people.items import Bar, Sort
from app.window.people.labels import label_of
from app.window.people.layout import day_count, lay_out, sizes_for
from app.window.people.panel import judged_of
from app.window.sheet.typed import NotTaken
from app.words import Words
from scheduler.outcome import Verdict
from shared.absence import AwayKind
from shared.book import Need, Skill, SkillLevel, Stage
from shared.edits import give_segment, give_stage, left_on, mark_done, seated
from shared.ids import SkillId
from shared.plan import Placement
from shared.worktime import clip
from tests.app.window.scenes import outcome_for, planted, shown
from tests.books.shapes import Planted

MONDAY = datetime(2027, 1, 18, 7, 30, tzinfo=UTC)


def words() -> Words:
    return Words("en", book=planted().book)


# What is typed.


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("today", date(2027, 1, 18)),
        ("", date(2027, 1, 18)),
        ("Tomorrow", date(2027, 1, 19)),
        ("Mon", date(2027, 1, 18)),
        ("wed", date(2027, 1, 20)),
        ("Wednesday", date(2027, 1, 20)),
        ("Wed 20 Jan", date(2027, 1, 20)),
        ("3 Feb", date(2027, 2, 3)),
        ("2027-03-01", date(2027, 3, 1)),
        ("20 Dec", date(2026, 12, 20)),
    ],
)
def test_a_day_is_read_as_people_write_it(text: str, wanted: date) -> None:
    assert asked.when(text, words(), MONDAY) == wanted


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("tomorrow 10:00", "2027-01-19 10:00"),
        ("Wed 20 Jan 12.30", "2027-01-20 12:30"),
        ("2027-01-20 09:15", "2027-01-20 09:15"),
        ("thu 7:30", "2027-01-21 07:30"),
    ],
)
def test_a_day_with_a_time_is_a_moment_by_the_workshops_clock(text: str, wanted: str) -> None:
    found = asked.when(text, words(), MONDAY)
    assert isinstance(found, datetime)
    assert found.astimezone(ZoneInfo(words().zone)).strftime("%Y-%m-%d %H:%M") == wanted


@pytest.mark.parametrize("text", ["soon", "32 Jan", "Xyz 5", "25:00"])
def test_what_is_no_day_is_refused(text: str) -> None:
    with pytest.raises(NotTaken):
        asked.when(text, words(), MONDAY)


@pytest.mark.parametrize("text", ["2027-01-20", "Wed 20 Jan 12:30"])
def test_a_day_is_written_as_it_is_read(text: str) -> None:
    found = asked.when(text, words(), MONDAY)
    assert asked.when(asked.written(found, words()), words(), MONDAY) == found


def test_whole_days_end_with_the_midnight_after_the_last_and_never_lie_behind() -> None:
    book = planted().book
    who = book.people[0].id
    day = date(2027, 1, 19)
    absence = Typed(id=who, start=day, end=day).absence(book, MONDAY)
    assert absence is not None
    assert absence.end - absence.start == timedelta(days=1)
    assert Typed(id=who, start=date(2027, 1, 1), end=date(2027, 1, 2)).absence(book, MONDAY) is None
    assert Typed(start=day, end=day).absence(book, MONDAY) is None
    running = Typed(id=who, start=date(2027, 1, 18), end=day).absence(book, MONDAY)
    assert running is not None
    assert running.start == MONDAY


def test_people_places_and_things_can_be_away_by_name_or_its_beginning() -> None:
    book = planted().book
    assert asked.who(book.people[0].name, book) == (AwayKind.PERSON, book.people[0].id)
    place = book.places[0]
    assert asked.who(place.name.upper(), book) == (AwayKind.PLACE, place.id)
    with pytest.raises(NotTaken):
        asked.who("nobody", book)


# Who could do it.


def stage_and_team() -> tuple[Planted, Stage, Placement]:
    made = planted()
    assert made.plan is not None
    steps = {s.id: s for j in made.book.jobs for s in j.steps}
    for placed in made.plan.placements:
        step = steps[placed.step]
        if isinstance(step, Stage) and len(placed.people) == 2 and not placed.part:
            return made, step, placed
    raise AssertionError("the planted plan has no pair")


def test_candidates_are_not_of_the_team_and_find_a_seat_beside_the_rest() -> None:
    made, stage, placed = stage_and_team()
    assert made.plan is not None
    leaves, stays = placed.people
    by_id = {p.id: p for p in made.book.people}
    found = candidates(made.book, made.plan, made.now, stage.id, placed.people, leaves)
    assert found
    for one in found:
        assert one.person not in placed.people
        pair = (by_id[stays], by_id[one.person])
        assert set(seated(stage, pair)) == {stays, one.person}
    ranks = [(not one.is_free, one.only_helps) for one in found]
    assert ranks == sorted(ranks)


def test_whoever_is_said_to_be_free_then_is_held_by_nothing_then() -> None:
    made, stage, placed = stage_and_team()
    assert made.plan is not None
    held = busy(made.book, made.plan)
    found = candidates(made.book, made.plan, made.now, stage.id, placed.people, placed.people[0])
    for one in found:
        person = next(p for p in made.book.people if p.id == one.person)
        there = days.there(made.book, person, placed.start, placed.end)
        clashes = [s for span in there for s in clip(held[one.person], span.start, span.end)]
        assert one.is_free is (bool(there) and not clashes)


def test_free_stretches_lie_in_working_hours_and_between_what_is_planned() -> None:
    made = planted()
    for person in made.book.people:
        spans = free_stretches(made.book, made.plan, person, made.now, 4)
        held = busy(made.book, made.plan)[person.id]
        for span in spans:
            assert span.end - span.start >= timedelta(hours=1)
            assert not clip(held, span.start, span.end)


def test_a_helper_is_seated_only_where_help_is_enough() -> None:
    _, stage, _ = stage_and_team()
    person = planted().book.people[0]
    skill = SkillId("gilding")
    helper = replace(person, skills=(Skill(skill=skill, level=SkillLevel.HELPS),))
    leader = replace(planted().book.people[1], skills=(Skill(skill=skill, level=SkillLevel.LEADS),))
    way = replace(stage.ways[0], needs=(Need(skill=skill, can=1),))
    alone = replace(stage, ways=(way,))
    assert seated(alone, (helper,)) == ()
    assert seated(alone, (leader,)) == (leader.id,)
    both = replace(stage, ways=(replace(way, needs=(Need(skill=skill, can=1, helps=1),)),))
    assert seated(both, (helper, leader)) == (helper.id, leader.id)


# Giving and finishing, as edits.


def test_a_given_stage_is_pinned_to_those_and_asks_for_nobody_else() -> None:
    made, stage, placed = stage_and_team()
    other = next(p.id for p in made.book.people if p.id not in placed.people)
    team = edits.instead(placed, placed.people[0], other)
    assert team == (other, placed.people[1])
    edited = give_stage(made.book, stage.id, team)
    new = next(s for j in edited.book.jobs for s in j.steps if s.id == stage.id)
    assert isinstance(new, Stage)
    assert new.pin is not None
    assert new.pin.people == team
    assert set(new.people) <= set(team)
    assert edited.book.revision == made.book.revision + 1


def test_what_has_begun_on_a_segment_is_not_given_away() -> None:
    made, stage, placed = stage_and_team()
    segment = stage.segments[0]
    book = mark_done(made.book, placed, placed.end, "").book
    assert stage.id in {s.id for s in left_on(made.book, segment)}
    assert stage.id not in {s.id for s in left_on(book, segment)}
    edited = give_segment(book, segment, placed.people)
    same = next(s for j in edited.book.jobs for s in j.steps if s.id == stage.id)
    assert same == stage


# What it comes to.


def test_jobs_far_from_their_windows_are_counted_and_not_drawn() -> None:
    made = planted()
    before = outcome_for(made, spare_days=20).jobs
    after = outcome_for(made, spare_days=12).jobs
    found = judged_of(words(), before, after, ())
    assert found.slacks == ()
    assert found.lines == ("Three more jobs have more to spare or less, and days of it still.",)
    assert found.verdict is Verdict.FITS
    assert not found.is_alarm


# Labels and layout.


def bar(**more: object) -> Bar:
    usual: dict[str, object] = {
        "id": "x",
        "sort": Sort.WORK,
        "start": 0,
        "end": 60,
        "pieces": ((0, 60),),
        "what": "Left wing",
        "stage": "carve",
        "job_word": "owl",
        "beside": "with Cato, bay 2",
    }
    return Bar(**{**usual, **more})  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("width", "height", "narrow", "wanted"),
    [
        (400, 30, False, ("Left wing", "carve, owl", "with Cato, bay 2", "")),
        (130, 32, False, ("Left wing", "carve, owl", "", "with Cato, bay 2")),
        (120, 20, True, ("Left wing", "carve, owl", "", "")),
        (62, 30, True, ("Left wing", "", "", "carve")),
        (62, 20, True, ("Left wing", "", "", "")),
        (40, 20, True, ("carve", "", "", "")),
        (8, 20, True, ("", "", "", "")),
    ],
)
def test_as_much_is_written_into_a_bar_as_fits(
    prepared: object, width: int, height: int, *, narrow: bool, wanted: tuple[str, ...]
) -> None:
    found = label_of(Words("en"), bar(), width, height, is_narrow=narrow)
    assert (found.bold, found.plain, found.right, found.below) == wanted


@pytest.mark.parametrize(("width", "count"), [(1366, 5), (1920, 5), (1180, 3)])
def test_so_many_days_stand_beside_the_side(width: int, count: int) -> None:
    assert day_count(sizes_for(width), width - 312 - 16) == count


def test_the_hours_on_show_widen_to_what_is_worked_but_not_into_the_night() -> None:
    book = planted().book
    zone = book.workshop.zone
    usual = days.hours_on_show(book, [])
    day = date(2027, 1, 19)
    late = (days.instant(day, 15 * 60, zone), days.instant(day, 18 * 60 + 10, zone))
    night = (days.instant(day, 2 * 60, zone), days.instant(day, 5 * 60, zone))
    assert days.hours_on_show(book, [late])[1] == 18 * 60 + 30
    assert days.hours_on_show(book, [night]) == (min(usual[0], 6 * 60), usual[1])


def test_on_a_day_of_rest_the_next_working_day_stands_first() -> None:
    book = planted().book
    saturday = datetime(2027, 1, 23, 9, tzinfo=UTC)
    assert days.first_day(book, saturday) == date(2027, 1, 25)
    assert days.first_day(book, MONDAY) == MONDAY.date()


# Cures reach on from before, and nothing else of the season matters.


def test_leaving_out_the_rest_of_the_season_changes_nothing(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    made = planted()
    assert made.plan is not None
    of, sight = shown(outcome=outcome_for(made)), []
    days_of = sorted({p.start.date() for p in made.plan.placements})
    for day in days_of[:: max(1, len(days_of) // 6)]:
        sight.append(Sight(first=day, count=4))
    near = [derive(of, words(), each) for each in sight]
    monkeypatch.setattr(derive_module, "_CURES_REACH", timedelta(days=900))
    monkeypatch.setattr(derive_module, "_RECOATS_REACH", timedelta(days=900))
    assert [derive(of, words(), each) for each in sight] == near


def test_a_holiday_is_shut_and_a_weekend_is_only_off() -> None:
    book = planted().book
    friday, saturday = date(2027, 3, 26), date(2027, 3, 27)
    made = days.columns(book, words(), friday, 2, (480, 960), MONDAY)
    assert book.workshop.country == "GB"
    assert [(c.date, c.is_off, c.is_shut) for c in made] == [
        (friday, True, True),
        (saturday, True, False),
    ]


def test_a_place_that_is_only_held_is_told_from_one_that_is_worked_in(prepared: object) -> None:
    made = planted()
    assert made.plan is not None
    over = next(
        p
        for p in made.plan.placements
        if p.place is not None
        and p.people
        and (p.end.date() - p.start.date()).days > 2
        and p.start.weekday() == 4
    )
    board = derive(
        shown(outcome=outcome_for(made)), words(), Sight(first=over.start.date(), count=3)
    )
    laid = lay_out(board, sizes_for(1366), 1038, 600)
    mine = [c for c in laid.chunks if c.line.is_place and c.bar.id.startswith(f"{over.step}|")]
    assert [(c.number, c.is_still) for c in mine] == [(0, False), (1, True), (2, True)]
