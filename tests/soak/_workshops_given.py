"""What is given of a plan that people were told: sheets, paper, files, answers, a morning."""

from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace
from datetime import date, timedelta
from io import StringIO
from itertools import islice
from pathlib import Path
from tempfile import TemporaryDirectory

from app.cli import away as away_said
from app.cli import morning as morning_said
from app.cli.arguments import read_arguments
from app.cli.console import Console
from app.cli.orders import orders_object, say_orders
from app.cli.run import MET, MISSED
from app.cli.run import run as command
from app.exchange.files import calendar_files, page_file, table_files, workbook_file
from app.exchange.given import given
from app.told_json import answers_object
from app.window.orders import derive as orders_view
from app.window.papers.board import board
from app.window.papers.letter import letter
from app.window.papers.loads import load_lists
from app.window.papers.owner import owner
from app.window.people import derive as people_view
from app.window.sheets import derive as sheets_view
from app.window.wall import derive as wall_view
from app.words import Words
from scheduler.away.search import answers
from scheduler.check import check
from scheduler.kept import Kept
from scheduler.morning import Mornings, extra_hours, handed_out, offered_by_day
from scheduler.rules import Rule
from shared.absence import Absence, AwayKind
from shared.book import Book, Standing
from shared.edits import tell_plan
from shared.files.write import write_book
from shared.orders import buying
from shared.plan import Plan
from tests.soak._workshops_odds import at_odds, nailed
from tests.soak._workshops_said import dumped, today
from tests.soak._workshops_through import KEPT, Planned, Run, small, ticks

AWAY_SECONDS = 0.4
DRAWS = 24
ODD_SHARE = 0.6
SHEET_DAYS = 3
BESIDE = ("findings", "orders", "deliver", "through", "cautions", "loads")
"""What the command line answers of a book with its plan in it."""
A_DAY = timedelta(days=1)


def told(run: Run, was: Planned) -> Book:
    """Tell the plan, and look that nothing is broken by that."""
    book = tell_plan(run.book, was.plan, was.request.now, "Mira").book
    for breach in check(book, was.plan).breaches:
        run.found.append(f"told: {breach.rule} {breach.where}")
    return book


def shown(run: Run, was: Planned, book: Book) -> None:
    """Derive what sheets, wall, the view of people and the buying list show."""
    plan, now, outcome = was.plan, was.request.now, was.outcome
    words, first = Words(book=book), today(run, was)
    with run.part("sheets"):
        for at in range(SHEET_DAYS):
            asked = sheets_view.Asked(
                book=book, plan=plan, now=now, day=first + at * A_DAY, outcome=outcome
            )
            sheet, _ = sheets_view.derive(asked, words)
            run.said.write("\n".join(texts(sheet)) + "\n")
    on_show = wall_view.Shown(book=book, now=now, plan=plan, outcome=outcome)
    with run.part("wall"):
        wall_view.derive(on_show, words)
    with run.part("people"):
        people_view.derive(on_show, words, people_view.Sight(first=first, count=14))
    with run.part("orders"):
        found = buying(book, plan, now)
        say_orders(run.console, words, book, found, first)
        dumped(run, orders_object(book, found))
        orders_view.derive(book, plan, outcome, found, words, first)


def given_out(run: Run, was: Planned, book: Book) -> None:
    """Make all files and papers of the told plan, in memory."""
    with run.part("give"):
        made = replace(
            given(book, was.plan, was.request.now, Words(book=book)), outcome=was.outcome
        )
        files = {
            **calendar_files(made, None),
            **table_files(made, bom=bool(run.draw.randrange(2))),
            **workbook_file(made),
            "page": page_file(made)[""],
        }
        if not all(files.values()):
            run.found.append("give: an empty file")
    with run.part("papers"):
        letters = (
            letter(made, job, was.outcome, date.isoformat)
            for job in book.jobs
            if job.standing is not Standing.ENQUIRY
        )
        lists = load_lists(made, was.outcome, None)
        for paper in (board(made), owner(made, was.outcome), *letters, *lists):
            run.said.write("\n".join(texts(paper)) + "\n")


def texts(shown: object) -> Iterator[str]:
    """Give every text that something made for showing holds, lists and parts of it included."""
    if isinstance(shown, str):
        yield shown
    elif isinstance(shown, tuple):
        for each in shown:
            yield from texts(each)
    elif is_dataclass(shown) and not isinstance(shown, type):
        for each in fields(shown):
            yield from texts(getattr(shown, each.name))


def away_asked(run: Run, was: Planned, book: Book) -> None:
    """Let somebody who is planned for work, which may be nailed down, be away for some days."""
    busy = [placed for placed in was.plan.placements if placed.people]
    if not busy:
        return
    hit = run.draw.choice(busy[:40])
    start = max(was.request.now, hit.start - A_DAY * run.draw.choice((0, 1)))
    absence = Absence(
        kind=AwayKind.PERSON,
        id=run.draw.choice(hit.people),
        start=start,
        end=start + A_DAY * run.draw.choice((1, 3, 10)),
    )
    book = nailed(book, hit, run.draw)
    with run.part("away"):
        request = small(was.request, book, AWAY_SECONDS)
        found = answers(request, absence, kept=Kept(), clock=ticks())
        for answer in found.answers:
            missed = {job.id for job in answer.jobs if job.verdict not in KEPT}
            if missed != set(answer.missed):
                run.found.append(f"away: {sorted(answer.missed)} missed, verdicts {sorted(missed)}")
            for breach in answer.check.breaches:
                run.found.append(f"away: {breach.rule} {breach.where}")
        asked = read_arguments(["away", "BOOK", "WHO", "FROM", "TO"])
        away_said._said(asked, run.console, (Path("book"), book), found, None)
        dumped(run, answers_object(found, taken=None))


def morning(run: Run, was: Planned, book: Book) -> None:
    """Plan the next morning of the told book, and say it; things may have gone otherwise."""
    now = was.request.now + A_DAY
    book = replace(book, as_of=now)
    if run.draw.random() < ODD_SHARE:
        book = at_odds(book, now, run.draw)
    with run.part("morning"):
        request = replace(was.request, book=book, now=now)
        mornings = Mornings(draws=DRAWS)
        found = mornings.plan(request)
        offers = offered_by_day(request.book, now)
        asked = (mornings.asking(request, found, day) for day in islice(offers, 2))
        coming = [each for each in asked if each is not None]
        sheets = handed_out(found.plan, request.book)
        words = Words(book=request.book)
        morning_said._say(run.console, words, found, sheets, coming)
        morning_said._say_extra(run.console, words, extra_hours(request.book, now))
        dumped(run, morning_said.morning_object(request, found, sheets, coming))
        for breach in check(request.book, found.plan).breaches:
            if breach.rule != Rule.TOLD.value or not found.is_told_anew:
                run.found.append(f"morning: {breach.rule} {breach.where}")


def commanded(run: Run, was: Planned) -> None:
    """Ask the command line of the book with its plan in it, from the disk on."""
    with TemporaryDirectory() as folder:
        path = Path(folder) / "book.countback"
        path.write_bytes(write_book(_holding(run.book, was.plan)))
        for verb in run.draw.sample(BESIDE, 3):
            with run.part(verb):
                err = StringIO()
                code = command([verb, str(path), "--json"], Console(run.said, err))
                if code not in (MET, MISSED):
                    run.found.append(f"{verb}: ends with {code}: {err.getvalue()[:200]}")


def _holding(book: Book, plan: Plan) -> Book:
    return replace(book, plan=plan)
