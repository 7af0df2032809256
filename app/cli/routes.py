"""`countback routes`: the ways of making there are, what is in one, a copy for the book."""

import json
from pathlib import Path

from app.cli.arguments import Asked, Usage
from app.cli.books import load_book, words_for
from app.cli.console import Console
from app.cli.findings import say_findings
from app.cli.keeping import Keeping, locked
from app.cli.run import MET, REFUSED
from app.words import Words
from app.words import routes as say
from app.words.brought import routes_in_words
from app.words.voice import Voice
from shared.book import Book, Gate, Journey, Measure, Route, RouteRule, Stage, Step
from shared.edits import copy_route
from shared.errors import DiskError
from shared.files.read import Read
from shared.routes import Source, sources_of
from shared.trade import Figure, figure

_INDENT = "    "


def run(asked: Asked, console: Console) -> int:
    path = Path(asked.words[0]) if asked.words else None
    if asked.copy is None:
        return _listed(asked, console, None if path is None else load_book(path))
    if path is None:
        raise Usage("copy_without_book")
    if not path.exists():
        raise DiskError("not_found", path=str(path))
    with locked(path, asked) as kept:
        return _copied(asked.copy, console, path, load_book(path), kept)


def route_asked(book: Book | None, word: str) -> Route:
    """Give the way of making of an id or a name; raises Usage."""
    known = routes_in_words(Voice(), book)
    found = next((route for route in known if word in (route.id, route.name)), None)
    if found is None:
        raise Usage("unknown_route", word=word, routes=", ".join(route.id for route in known))
    return found


def _listed(asked: Asked, console: Console, read: Read | None) -> int:
    if read is not None and read.book is None:
        return _refused(console, read)
    book = None if read is None else read.book
    words = words_for(book)
    routes = routes_in_words(words, book) if asked.of is None else (route_asked(book, asked.of),)
    for route in routes:
        _say_route(console, words, book, route, is_whole=asked.of is not None)
    if asked.json:
        told = {"routes": [_object(book, route) for route in routes]}
        console.say(json.dumps(told, ensure_ascii=False))
    return MET


def _refused(console: Console, read: Read) -> int:
    words = words_for(read.whole)
    say_findings(console, words, read.findings)
    console.say(words.say(say.NOT_WRITTEN))
    return REFUSED


def _copied(word: str, console: Console, path: Path, read: Read, kept: Keeping) -> int:
    if read.book is None:
        return _refused(console, read)
    route = route_asked(read.book, word)
    made = copy_route(read.book, route).book
    kept.keep(made)
    told = {"name": route.name, "id": made.routes[-1].id, "revision": made.revision}
    words = words_for(made)
    console.wrapped(words.say(say.COPIED, path=path, **told))
    return MET


def _is_own(book: Book | None, route: Route) -> bool:
    return book is not None and route in book.routes


def _say_route(
    console: Console, words: Words, book: Book | None, route: Route, *, is_whole: bool
) -> None:
    whose = words.say(say.OWN if _is_own(book, route) else say.BROUGHT)
    line = words.say(say.LINE, id=route.id, name=route.name, whose=whose)
    console.wrapped(console.strong(line))
    if route.options:
        options = words.say(say.OPTIONS, options=", ".join(route.options))
        console.wrapped(options, indent=_INDENT)
    if not is_whole:
        names = dict.fromkeys(step.name for step in route.steps)
        console.wrapped(words.say(say.STEPS, steps=", ".join(names)), indent=_INDENT)
        return
    sources = () if _is_own(book, route) else sources_of(route.id)
    rules = {rule.step: rule for rule in route.rules}
    for step in route.steps:
        rule = rules.get(step.id) or RouteRule(step=step.id)
        own = tuple(each for each in sources if each.step == step.id)
        console.wrapped(_step_line(words, step, rule, own), indent=_INDENT, first="  ")
    _say_figures(console, words, sources)


def _step_line(words: Words, step: Step, rule: RouteRule, sources: tuple[Source, ...]) -> str:
    parts = _parts(words, step, rule)
    told = ", ".join(parts) if parts else words.say(say.NOTHING)
    named = dict.fromkeys(name for each in sources for name in _figures_in(each.figures))
    if named:
        told += "; " + words.say(say.FROM_FIGURES, figures=", ".join(named))
    when = _when(words, rule)
    if not when:
        return words.say(say.STEP, name=step.name, told=told)
    return words.say(say.STEP_WITH, name=step.name, when=when, told=told)


def _when(words: Words, rule: RouteRule) -> str:
    only_if = words.say(say.ONLY_IF, options=" / ".join(rule.only_if)) if rule.only_if else ""
    unless = words.say(say.UNLESS, options=" / ".join(rule.unless)) if rule.unless else ""
    if only_if and unless:
        return words.say(say.BOTH, only_if=only_if, unless=unless)
    return only_if or unless


def _parts(words: Words, step: Step, rule: RouteRule) -> list[str]:
    parts = []
    if isinstance(step, Stage | Gate):
        parts += [_hours(words, step, rule.per)] if step.ways else []
        if step.cure_hours:
            parts.append(_cure(words, step))
    if isinstance(step, Stage):
        most = [band.most_hours for band in step.recoat_bands]
        longest = max(most) if most else step.recoat_hours
        if longest is not None:
            parts.append(words.say(say.RECOAT, hours=f"{longest:f}"))
    if isinstance(step, Journey):
        parts.append(", ".join(leg.name or leg.kind.value for leg in step.legs))
    return parts


def _hours(words: Words, step: Stage | Gate, per: Measure | None) -> str:
    way = step.ways[0]
    hours, fixed = way.hours.likely, way.setup_hours or 0
    if per is None:
        return words.say(say.HOURS, hours=f"{hours:f}")
    measure = words.say(say.MEASURES[per.value])
    told = {"fixed": f"{fixed:f}", "hours": f"{hours - fixed:f}", "measure": measure}
    return words.say(say.HOURS_AND_PER if fixed else say.HOURS_PER, **told)


def _cure(words: Words, step: Stage | Gate) -> str:
    celsius = step.cure_celsius if isinstance(step, Stage) else None
    if celsius is None:
        return words.say(say.CURE, hours=f"{step.cure_hours:f}")
    return words.say(say.CURE_AT, hours=f"{step.cure_hours:f}", celsius=f"{celsius:f}")


def _figures_in(text: str) -> list[str]:
    """Give the ids of figures in what a number was asked as."""
    import re

    return re.findall(r"\b[A-Z]{2,3}[0-9]+[a-z]?\b", text)


def _say_figures(console: Console, words: Words, sources: tuple[Source, ...]) -> None:
    named = dict.fromkeys(name for each in sources for name in _figures_in(each.figures))
    if not named:
        return
    console.say(words.say(say.FIGURES))
    for name in named:
        console.wrapped(_figure_line(words, figure(name)), indent=_INDENT, first="  ")


def _figure_line(words: Words, told: Figure) -> str:
    ends = {"low": f"{told.low}", "high": f"{told.high}"}
    if told.value is None:
        value = words.say(say.RANGE_ALONE, **ends)
    elif told.low is None or told.high is None:
        value = words.decimal(f"{told.value}")
    else:
        value = words.say(say.RANGE, value=words.decimal(f"{told.value}"), **ends)
    facts = {"id": told.id, "name": words.brought(told.name), "unit": told.unit}
    facts["source"] = words.brought(told.source)
    return words.say(say.FIGURE, value=value, **facts)


def _object(book: Book | None, route: Route) -> dict[str, object]:
    is_own = _is_own(book, route)
    numbers = () if is_own else sources_of(route.id)
    return {
        "id": route.id,
        "name": route.name,
        "own": is_own,
        "options": list(route.options),
        "steps": [step.name for step in route.steps],
        "numbers": [
            {"step": n.step, "field": n.field, "number": n.number, "figures": n.figures}
            for n in numbers
        ],
    }
