"""A book, its plan and a day to what stands on the sheets; pure. No Qt."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta

from app.window.sheets import under
from app.window.sheets.day import DaySheet, Person, Row, Sort
from app.window.sheets.rows import Day, Stint, changed
from app.window.sheets.standing import Standing, mark_line, standing
from app.window.sheets.under import Latest
from app.window.wall.hours import person_calendar
from app.words import Words
from app.words import people_view as of_people
from app.words import sheets as say
from app.words import window as wording
from scheduler.outcome import Outcome
from shared.book import Book, Told
from shared.ids import PersonId
from shared.plan import Plan
from shared.worktime import Span, intersect, open_spans, union
from shared.worktime.zones import local_date

BACK_REACH = timedelta(days=21)
Stints = Mapping[PersonId, tuple[Stint, ...]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What sheets are made of.

    outcome: the engine's last answer. former: what people had been told before the told plan of
    the book, where that is known. latest: the latest times of steps, for a plan that is no
    answer of the engine's.
    """

    book: Book
    plan: Plan
    now: datetime
    day: date
    outcome: Outcome | None = None
    former: Told | None = None
    latest: Latest = ()


def derive(asked: Asked, words: Words) -> tuple[DaySheet, Standing]:
    """Return the one list for all, and how its plan stands."""
    day = Day(asked.book, words, asked.day)
    now = day.stints(asked.plan)
    told = asked.book.told
    as_told = day.stints(told.plan) if told else {}
    is_same = told is not None and (
        told.plan == asked.plan or not any(_is_other(now, as_told, p.id) for p in asked.book.people)
    )
    stands = standing(
        asked.book, asked.plan, asked.outcome, asked.now, is_same=is_same, former=asked.former
    )
    against = stands.against
    was = as_told if against is told or against is None else day.stints(against.plan)
    people = tuple(_people(day, now, was, is_marked=against is not None))
    return _sheet(asked, day, people, stands, now), stands


def _latest(asked: Asked) -> Latest:
    if asked.outcome is None:
        return asked.latest
    return tuple((told.name, told.steps) for told in asked.outcome.jobs)


def _is_other(now: Stints, told: Stints, person: PersonId) -> bool:
    return changed(now.get(person, ()), told.get(person, ()))[1]


def _people(day: Day, now: Stints, was: Stints, *, is_marked: bool) -> Iterator[Person]:
    for person in day.book.people:
        mine = now.get(person.id, ())
        rows, is_other = changed(mine, was.get(person.id, ()))
        if not is_marked:
            rows, is_other = tuple(replace(row, is_changed=False) for row in rows), False
        if not rows and not day.is_there(person.id):
            continue
        if not rows:
            nothing = day.words.say(say.NOTHING)
            rows = (Row(sort=Sort.FREE, segment=nothing, is_changed=is_other),)
        steps = [stint.step for stint in mine if stint.step is not None]
        yield Person(
            id=person.id,
            name=person.name,
            rows=rows,
            is_changed=is_other,
            cautions=under.caution_ids(day, steps),
        )


def _sheet(
    asked: Asked, day: Day, people: tuple[Person, ...], stands: Standing, now: Stints
) -> DaySheet:
    words, book, plan = day.words, day.book, asked.plan
    steps = [s.step for mine in now.values() for s in mine if s.step is not None]
    cured = under.near_cures(day, plan)
    moment = wording.short_moment(words, plan.now)
    foot = words.say(say.FOOT, moment=moment, revision=plan.made_from.revision)
    marks = tuple(mark_line(words, mark, stands, book, plan) for mark in stands.marks)
    return DaySheet(
        date=day.day,
        title=say.date_in_full(words, day.day),
        shop=book.workshop.name or book.name,
        number=stands.number,
        number_line=_number_line(words, stands, asked),
        summary=_summary(day, people),
        changes=_changes(words, people, stands),
        marks=marks,
        is_old=stands.is_old,
        is_told=stands.is_told,
        people=people,
        cures=under.cure_lines(day, plan, cured, asked.now),
        dues=under.due_lines(day, plan, cured, _latest(asked), asked.now),
        cares=under.cares(day, steps),
        left=under.days_left(day, plan),
        foot=foot,
    )


def _number_line(words: Words, stands: Standing, asked: Asked) -> str:
    moment = say.moment_seen_from(words, asked.now, asked.day)
    facts = {"number": stands.number, "moment": moment, "before": stands.before}
    if not stands.is_told:
        return words.say(say.DRAFT, **facts)
    return words.say(say.SHEET if stands.before is None else say.SHEET_AFTER, **facts)


def _summary(day: Day, people: tuple[Person, ...]) -> tuple[tuple[str, bool], ...]:
    count = sum(day.is_there(each.id) for each in people)
    first = day.words.say(say.NOBODY)
    if people:
        first = day.words.say(say.AT_WORK, count=count, number=count)
    return ((first, False), *_away(day))


def _changes(words: Words, people: tuple[Person, ...], stands: Standing) -> str:
    names = [each.name for each in people if each.is_changed]
    if not names or stands.against is None:
        return ""
    on = wording.short_day(words, local_date(stands.against.at, words.zone))
    return words.say(say.CHANGED, count=len(names), who=words.series(names), day=on)


def _away(day: Day) -> Iterator[tuple[str, bool]]:
    """Give who is away and until when; why is nobody's business here."""
    backs: dict[str, list[str]] = {}
    for person, back in away_on(day):
        backs.setdefault(back, []).append(day.words.names.of("person", person))
    for back, names in backs.items():
        who = day.words.both(names)
        text = day.words.say(say.IS_AWAY, count=len(names), who=who, back=back)
        yield text, True


def away_on(day: Day) -> Iterator[tuple[PersonId, str]]:
    """Give who is away on a day, and when they are back, in words: never why."""
    for person in day.book.people:
        usual = replace(person_calendar(day.book, person), away=())
        hours = open_spans(usual, day.first, day.last)
        gone = [
            leave
            for leave in person.leave
            if leave.start < min(leave.end, day.last) and leave.end > day.first
            if intersect(hours, union(Span(start=leave.start, end=leave.end)))
        ]
        if gone:
            end = max(leave.end for leave in gone)
            start = max(min(leave.start for leave in gone), day.first)
            calendar = person_calendar(day.book, person)
            again = open_spans(calendar, end, end + BACK_REACH)
            back = next((span.start for span in again if span.end > end), end)
            yield person.id, of_people.back(day.words, max(back, end), start)


def for_each(sheet: DaySheet) -> tuple[DaySheet, ...]:
    """Return a sheet for each person by themselves: their rows, and what to mind in them."""
    return tuple(
        replace(
            sheet,
            person=person.name,
            people=(person,),
            changes=sheet.changes if person.is_changed else "",
            cares=tuple(care for care in sheet.cares if care.id in person.cautions),
        )
        for person in sheet.people
    )
