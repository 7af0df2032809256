"""Which tests a mutant is tried with."""

import ast
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from tests.house.tree import source_of
from tests.mutation.mutants import Mutant
from tests.mutation.recording import Recordings

MOST_SECONDS = 20.0
"""Of one mutant, as recorded: what takes longer is left out, the dearest tests first."""


class Choice:
    """By mutant its tests: those recorded last, for they are new, then the cheapest."""

    def __init__(self, recordings: Recordings, files: tuple[Path, ...]) -> None:
        self._recordings, self._files = recordings, files
        self._by_line = cache(recordings.tests_of)

    def tests(self, mutant: Mutant) -> list[str]:
        """Those that run through the mutant's line.

        What runs when a file is imported has no test of its own: then those through the body of a
        function whose signature it is, through lines that name what is bound there, or, where
        there are none, through any line of the file.
        """
        found = self._at(mutant.path, {mutant.line} | _lines_of(mutant))
        if not found:
            for path in self._files:
                found |= self._at(path, _lines_that_say(path, _bound(mutant)))
        found = found or self._by_line(mutant.path).get(0, set())
        chosen: list[str] = []
        left = MOST_SECONDS
        known = self._recordings
        for test in sorted(
            found, key=lambda each: (-known.number[each], known.seconds[each], each)
        ):
            left -= known.seconds[test]
            if left < 0 and chosen:
                break
            chosen.append(test)
        return chosen

    def seconds(self, tests: list[str]) -> float:
        return sum(self._recordings.seconds[test] for test in tests)

    def _at(self, path: Path, lines: set[int]) -> set[str]:
        by_line = self._by_line(path)
        return set().union(*(by_line.get(line, set()) for line in lines))


@cache
def _tree(path: Path) -> ast.Module:
    return ast.parse(source_of(path))


def _around(mutant: Mutant) -> Iterator[ast.stmt]:
    """Statements that a mutant lies in, the outermost first."""
    for node in ast.walk(_tree(mutant.path)):
        if isinstance(node, ast.stmt) and node.lineno <= mutant.line <= (node.end_lineno or 0):
            yield node


def _lines_of(mutant: Mutant) -> set[int]:
    """The lines of the innermost statement, of one with a body those above it."""
    inner = list(_around(mutant))[-1]
    body = getattr(inner, "body", None)
    if isinstance(inner, ast.FunctionDef):
        return set(range(inner.body[0].lineno, (inner.end_lineno or 0) + 1))
    last = (inner.end_lineno or 0) if not body else max(inner.lineno, body[0].lineno - 1)
    return set(range(inner.lineno, last + 1))


def _bound(mutant: Mutant) -> set[str]:
    """The names that a statement of a module or a class binds."""
    match list(_around(mutant))[-1]:
        case ast.Assign(targets=[target]) | ast.AnnAssign(target=target):
            return {node.id for node in ast.walk(target) if isinstance(node, ast.Name)}
    return set()


def _lines_that_say(path: Path, names: set[str]) -> set[int]:
    return {
        node.lineno
        for node in ast.walk(_tree(path))
        if (isinstance(node, ast.Name) and node.id in names)
        or (isinstance(node, ast.Attribute) and node.attr in names)
        or (isinstance(node, ast.keyword) and node.arg in names)
    }
