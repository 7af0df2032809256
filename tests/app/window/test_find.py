"""What is found on the wall, and how a chain is read off a plan."""

from dataclasses import replace

import pytest

from app.window.wall.chain import chain_of
from app.window.wall.derive import derive
from app.window.wall.find import Finder, tokens
from app.window.wall.items import Role, Wall
from app.words import Words
from scheduler.outcome import Verdict
from shared.book import Book, Pin
from shared.edits import pin_step, remove_step
from tests.app.window.scenes import outcome_for, planted, shown


def finder_of(book: Book | None = None, verdict: Verdict = Verdict.FITS) -> Finder:
    made = planted()
    seen = shown(outcome=outcome_for(made, verdict))
    seen = replace(seen, book=book or made.book)
    words = Words("en", book=seen.book)
    return Finder(derive(seen, words), seen.book, words)


def a_block(wall: Wall) -> int:
    return next(n for n, i in enumerate(wall.items) if i.role is Role.BLOCK and not i.owner)


@pytest.mark.parametrize("mixed", ["{segment} {stage}", "{stage} {segment}", "{STAGE} {seg}"])
def test_any_words_in_any_order_find_a_stage(mixed: str) -> None:
    finder = finder_of()
    item = finder.wall.items[a_block(finder.wall)]
    row = finder.wall.rows[item.row]
    asked = mixed.format(
        segment=row.name, stage=item.label, STAGE=item.label.upper(), seg=row.name[:3]
    )
    found = finder.find(asked)
    assert item in found.hits
    assert all(
        set(tokens(item.label)) <= set(tokens(f"{hit.name} {hit.label}")) for hit in found.hits
    )
    assert found.lit >= {item.id, f"cure {item.id}"}


def test_people_places_dates_and_states_are_found() -> None:
    made = planted()
    block = next(i for i in finder_of().wall.items if i.role is Role.BLOCK and i.step)
    book = pin_step(made.book, block.step, Pin(people=block.people)).book  # type: ignore[arg-type]
    finder = finder_of(book, Verdict.TIGHT)
    person = next(p for p in book.people if p.id == block.people[0])
    assert all(person.id in hit.people for hit in finder.find(person.name).hits)
    assert {hit.step for hit in finder.find("pinned").hits} == {block.step}
    assert all(hit.role is Role.ANSWER for hit in finder.find("the answer").hits)
    assert len(finder.find("only just").hits) == finder.find("x").all_count
    day = finder.words.day(planted().now.date(), after=planted().now.date())
    assert finder.find(day.partition(" ")[2]).hits == finder.find("today").hits != ()
    assert finder.find(planted().now.date().isoformat()).hits == finder.find("today").hits


def test_a_number_is_meant_whole_and_a_day_needs_its_month() -> None:
    finder = finder_of()
    places = {place.id: place.name for place in planted().book.places}
    for hit in finder.find("3").hits:
        place = places[hit.place] if hit.place is not None else ""
        assert "3" in tokens(f"{hit.name} {hit.label} {place}")
    assert finder.find("30 3").hits == ()


def test_nothing_found_offers_the_nearest_spelling() -> None:
    finder = finder_of()
    assert finder.find("").hits == ()
    found = finder.find("lamnate")
    assert (found.hits, found.near) == ((), "laminate")
    assert finder.find("zzzzqqq").near == ""


def test_a_person_a_place_and_a_job_are_named_whole() -> None:
    finder = finder_of()
    book = planted().book
    for sort, name in (
        ("person", book.people[0].name),
        ("place", book.places[0].name),
        ("job", book.jobs[0].name),
    ):
        only = next(o for o in finder.find(name).only if o.sort == sort and o.name == name)
        assert only == finder.only(sort, only.id)
        lit = [finder.wall.by_id[i] for i in only.lit if i in finder.wall.by_id]
        if sort == "job":
            assert {item.job for item in lit} == {only.id}
        if sort == "person":
            assert all(only.id in item.people for item in lit)
            assert only.count == sum(only.id in e.people for e in lit if e.role is not Role.CURE)


def test_a_chain_of_the_plan_before_an_edit_leaves_out_what_was_removed() -> None:
    made = planted()
    seen = shown(outcome=None)
    count = 0
    placed = {p.step for p in made.plan.placements} if made.plan else set()
    steps = [step.id for job in made.book.jobs for step in job.steps if step.id in placed]
    for gone in steps[:: len(steps) // 4]:
        book = remove_step(made.book, gone).book
        words, old = Words("en", book=book), replace(seen, book=book)
        wall = derive(old, words)
        for item in wall.items[::4]:
            chain = chain_of(old, wall, words, item)
            count += chain is not None
            assert chain is None or gone not in chain.steps
    assert count > 3


def test_every_chain_holds_its_stage_runs_forward_and_letters_its_waits() -> None:
    made = planted()
    seen = shown(outcome=outcome_for(made))
    words = Words("en", book=made.book)
    wall = derive(seen, words)
    starts = {p.step: p.start for p in made.plan.placements} if made.plan else {}
    seen_wait = False
    for item in wall.items:
        if item.role is not Role.BLOCK or item.part:
            continue
        chain = chain_of(seen, wall, words, item)
        assert chain is not None
        assert item.id in chain.lit
        own = [starts[step] for step in chain.steps]
        assert own == sorted(own)
        for wait in chain.waits:
            seen_wait = True
            assert wall.by_id[wait.item].role is Role.WAIT
            assert wait.text
        letters = [wait.letter for wait in chain.waits]
        assert letters == sorted(letters)
    assert seen_wait
