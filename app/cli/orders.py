"""`countback orders`: the buying list of a book, by the day of the order."""

import json
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from app.cli.arguments import Asked
from app.cli.books import load_book, words_for
from app.cli.console import Console
from app.cli.findings import say_refused
from app.cli.kept import plan_for
from app.cli.moments import now_of
from app.cli.run import MET
from app.outcome_json import instant_text
from app.words import Words, shell
from app.words import orders as say
from shared.book import Book
from shared.findings import Finding
from shared.worktime.zones import local_date

if TYPE_CHECKING:
    from shared.orders import Buying, Coming, Dates, Order

_INDENT = "    "
_GAP = "  "


def run(asked: Asked, console: Console) -> int:
    read = load_book(Path(asked.words[0]))
    if read.book is None:
        return _refused(asked, console, words_for(read.whole), read.findings)
    from shared.orders import buying

    book, words = read.book, words_for(read.book)
    now, is_own = now_of(asked, book)
    plan, is_kept = plan_for(asked, console, words, book, now)
    found = buying(book, plan, now)
    say_orders(console, words, book, found, local_date(now, words.zone))
    moment = words.moment(now, after=None)
    console.say(words.say(shell.AS_OF_BOOK if is_own else shell.AS_OF, moment=moment))
    console.say(words.say(say.BY_KEPT if is_kept else say.BY_NEW))
    if asked.json:
        told = {
            "as_of": instant_text(now),
            "revision": book.revision,
            "is_kept": is_kept,
            **orders_object(book, found),
        }
        console.say(json.dumps(told, ensure_ascii=False))
    return MET


def _refused(asked: Asked, console: Console, words: Words, found: tuple[Finding, ...]) -> int:
    return say_refused(asked, console, words, found, shell.NOT_PLANNED, {"orders": []})


def say_orders(console: Console, words: Words, book: Book, found: "Buying", today: date) -> None:
    """Write the orders, what comes too late, and what is left out."""
    materials = {material.id: material for material in book.materials}
    jobs = {job.id: job for job in book.jobs}
    console.wrapped(console.strong(" ".join(say.head_lines(words, found))))
    console.say()
    for order in found.orders:
        line = say.order_line(words, order, materials[order.material], today)
        console.wrapped(line, indent=_INDENT, first=_GAP)
        console.wrapped(" ".join(say.order_lines(words, order, jobs, today)), indent=_INDENT)
    for coming in found.coming:
        line = say.coming_line(words, coming, materials[coming.material], today)
        console.wrapped(line, indent=_INDENT, first=_GAP)
    if found.undated:
        console.wrapped(say.undated_line(words, found.undated), indent=_INDENT, first=_GAP)
    if found.orders or found.coming or found.undated:
        console.say()
    total = say.total_line(words, found)
    if total:
        console.wrapped(total)


def orders_object(book: Book, found: "Buying") -> dict[str, object]:
    """Give the buying list for programs; quantities in the unit, money in the currency."""
    units = {material.id: material.unit for material in book.materials}
    return {
        "orders": [_order_object(order, units[order.material]) for order in found.orders],
        "coming": [_coming_object(each) for each in found.coming],
        "undated": list(found.undated),
        "cost": float(found.cost),
        "priced_count": found.priced_count,
        "currency": book.workshop.currency,
    }


def _order_object(order: "Order", unit: str) -> dict[str, object]:
    return {
        "material": order.material,
        "supplier": order.supplier,
        "jobs": list(order.jobs),
        "steps": list(order.steps),
        "unit": unit,
        "needed": float(order.needed),
        "packs": order.packs,
        "quantity": float(order.quantity),
        "cost": None if order.cost is None else float(order.cost),
        **_dates_object(order.dates),
        "is_rest": order.is_rest,
        "deposit_first": list(order.deposit_first),
    }


def _dates_object(dates: "Dates") -> dict[str, object]:
    return {
        "need": _text(dates.need),
        "receive_by": _text(dates.receive_by),
        "order_by": _text(dates.order_by),
        "by_age": dates.by_age,
        "made_not_before": _text(dates.made_not_before),
        "not_before": _text(dates.not_before),
        "is_too_old": dates.is_too_old,
        "overdue_days": dates.overdue_days,
        "arrives": _text(dates.arrives),
        "late_days": dates.late_days,
        "aged": _text(dates.aged),
    }


def _coming_object(coming: "Coming") -> dict[str, object]:
    return {
        "material": coming.material,
        "job": coming.job,
        "step": coming.step,
        "quantity": float(coming.quantity),
        "arrives": _text(coming.arrives),
        "receive_by": _text(coming.receive_by),
        "late_days": coming.late_days,
    }


def _text(day: date | None) -> str | None:
    return None if day is None else day.isoformat()
