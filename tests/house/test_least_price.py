"""The least price is a floor for the owner's eyes: no text for a client and no export names it.

Whatever works it out or shows it to the owner lives in the files named here; everything else is
searched: texts, names in code, the fields of our files, and what the command line prints.
"""

import ast
import re
from fnmatch import fnmatchcase
from pathlib import Path

import pytest

from tests.app.catalogue import all_texts
from tests.app.cli.shell import countback
from tests.house.tree import ROOT, python_files, source_of

OWNERS = ("scheduler/price*.py", "app/words/owner*.py", "app/window/owner/*.py")
"""For the owner's eyes."""

_ADJECTIVES = "least|lowest|minimum|minimal|min|floor|bottom|break.?even"
NAMED = re.compile(
    rf"\b(?:{_ADJECTIVES})[ _-]?price|price[ _-]?floor|\bno[ _-]worse[ _-]off", re.IGNORECASE
)
FIELDS = ("shared/files/FORMAT.md", "shared/files/ENGINE.md", "shared/files/book.schema.json")


def is_owners(path: Path) -> bool:
    return any(fnmatchcase(path.as_posix(), pattern) for pattern in OWNERS)


def names_in(source: str) -> list[str]:
    """Names, fields, keywords and texts of a module that speak of the least price; not docs."""
    tree = ast.parse(source)
    docs = {
        id(node.body[0].value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef)
        and node.body
        and isinstance(node.body[0], ast.Expr)
        and isinstance(node.body[0].value, ast.Constant)
    }
    found = []
    for node in ast.walk(tree):
        words = [getattr(node, name, None) for name in ("id", "attr", "arg", "name", "value")]
        if id(node) not in docs:
            found += [word for word in words if isinstance(word, str) and NAMED.search(word)]
    return found


def test_no_code_outside_the_owners_speaks_of_it() -> None:
    paths = [path for path in python_files("app", "scheduler", "shared") if not is_owners(path)]
    found = [f"{path}: {hit}" for path in paths for hit in names_in(source_of(path))]

    assert len(paths) > 100
    assert not found, f"only {OWNERS} may: {found}"


def test_no_text_of_the_catalogue_says_it_unless_it_is_the_owners() -> None:
    allowed = {
        text
        for path in python_files("app")
        if is_owners(path)
        for text in names_in(source_of(path))
    }
    texts = all_texts()

    assert len(texts) > 300
    assert not [text for text in texts - allowed if NAMED.search(text)]


@pytest.mark.parametrize("page", FIELDS)
def test_no_file_of_ours_has_a_field_for_it(page: str) -> None:
    text = (ROOT / page).read_text(encoding="utf-8")

    assert len(text) > 1000
    assert not NAMED.search(text)


@pytest.mark.parametrize(
    "words",
    [
        ("plan", "sample_jobs/small.countback", "--seconds", "1", "--json"),
        ("estimate", "--size", "2x1x1", "--json"),
        (
            *("ask", "Lily pad", "--size", "2x1x1", "--by", "2027-05-11", "--country", "NO"),
            *("--now", "2026-11-25T09:00", "--json"),
        ),
        ("orders", "sample_jobs/small.countback", "--seconds", "1", "--json"),
    ],
    ids=lambda words: words[0],
)
def test_nothing_that_is_printed_or_given_to_programs_names_it(words: tuple[str, ...]) -> None:
    said = countback(*words)

    assert said.code in (0, 3)
    assert len(said.out) > 20
    assert not NAMED.search(said.out)


@pytest.mark.parametrize(
    "source",
    [
        "least_price = 3",
        "def minimum_price() -> int:\n    return 3",
        "told = {'price_floor': 3}",
        "TEXT = 'The least price is {amount}.'",
        "job.floor_price",
        "f(lowest_price=3)",
    ],
)
def test_a_planted_one_is_found(source: str) -> None:
    assert names_in(source)


@pytest.mark.parametrize("source", ["price = 3", '"""The least price."""', "window.price"])
def test_an_innocent_one_is_not(source: str) -> None:
    assert not names_in(source)
