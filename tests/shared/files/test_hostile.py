"""Broken and hostile files: findings or a typed error, never a traceback, the file untouched."""

import json
import random
import subprocess
import sys
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from shared.examine import take_in
from shared.files.disk import load
from shared.files.read import HIGHEST_REVISION, Read, read_book, read_plan
from shared.files.write import write_book, write_plan
from tests.builders import a_book, a_fact, a_job, a_plan, a_route, a_told
from tests.shared.files.trees import (
    bytes_of,
    changed,
    every_path,
    filled_book,
    part_at,
    tree_of,
    without,
)

BOOK = write_book(
    a_book(a_job("heron"), a_job("otter"), routes=(a_route(),), facts=(a_fact(),), told=a_told())
)
FILLED = write_book(filled_book())
TREE = tree_of(FILLED)
PATHS = [path for path in every_path(TREE) if path]

ODD_BYTES = (
    b"\x00", b"\xff", b"\xc0\x80", b"\xed\xa0\x80", b'"', b"\\", b"{", b"[", b"}", b"]", b",",
    b"NaN", b"-Infinity", b"1e999999", b"9" * 5000, b'"\\ud800"', b"null", b"[" * 3000, b"-",
)  # fmt: skip
ODD_PARTS: tuple[object, ...] = (
    None, True, 0, -1, 1.5, 10**30, "", "x", "\ud800", "\x00", [], {}, [[]], [None], {"": None},
    {"step": "stage"}, {"kind": []}, ["mon"], "2026-01-05", "2026-01-05T08:00:00Z", "9" * 300,
)  # fmt: skip

Breaker = Callable[[random.Random], bytes]


def _cut(rng: random.Random) -> bytes:
    return BOOK[: rng.randrange(len(BOOK))]


def _flipped(rng: random.Random) -> bytes:
    data = bytearray(BOOK)
    for _ in range(rng.randint(1, 4)):
        data[rng.randrange(len(data))] ^= 1 << rng.randrange(8)
    return bytes(data)


def _spliced(rng: random.Random) -> bytes:
    at = rng.randrange(len(BOOK))
    return BOOK[:at] + rng.choice(ODD_BYTES) + BOOK[at + rng.randrange(3) :]


def _torn(rng: random.Random) -> bytes:
    first, second = sorted((rng.randrange(len(BOOK)), rng.randrange(len(BOOK))))
    return BOOK[:first] + BOOK[second:]


def _line_twice(rng: random.Random) -> bytes:
    lines = BOOK.split(b"\n")
    at = rng.randrange(len(lines))
    return b"\n".join([*lines[: at + 1], lines[at], *lines[at + 1 :]])


def _other_part(rng: random.Random) -> bytes:
    part = rng.choice(ODD_PARTS)
    tree = changed(TREE, rng.choice(PATHS), part)
    return bytes_of(tree) if part != "\ud800" else _ascii(tree)


def _ascii(tree: object) -> bytes:
    return json.dumps(tree).encode()


def _missing(rng: random.Random) -> bytes:
    return bytes_of(without(TREE, rng.choice(PATHS)))


def _swapped(rng: random.Random) -> bytes:
    one, other = rng.choice(PATHS), rng.choice(PATHS)
    return bytes_of(changed(TREE, one, part_at(TREE, other)))


BREAKERS: tuple[Breaker, ...] = (
    _cut, _flipped, _spliced, _torn, _line_twice, _other_part, _missing, _swapped,
)  # fmt: skip


def _is_told(read: Read) -> bool:
    """Say whether there is a book or a reason why not, in words that can be printed."""
    str(read.findings).encode()
    stopped = any(finding.stops for finding in read.findings)
    return (read.book is None) == stopped


@pytest.mark.parametrize("breaker", BREAKERS, ids=lambda breaker: breaker.__name__)
@pytest.mark.parametrize("seed", range(8))
def test_a_broken_file_gives_findings_and_stays_as_it_is(
    breaker: Breaker, seed: int, tmp_path: Path
) -> None:
    # 8 ways x 8 seeds x 10 files: 640 files.
    rng = random.Random(f"{breaker.__name__}{seed}")
    path = tmp_path / "broken.countback"
    for _ in range(10):
        data = breaker(rng)
        path.write_bytes(data)
        read = take_in(load(path))
        assert _is_told(read), data
        assert path.read_bytes() == data
        if read.book is not None:
            written = write_book(read.book)
            assert write_book(take_in(written).book or read.book) == written
        if read.whole is not None:
            again = take_in(write_book(read.whole))
            assert not any(finding.stops for finding in again.findings)


def test_parts_replaced_by_odd_ones_gives_findings() -> None:
    for index, path in enumerate(PATHS[::3]):
        part = ODD_PARTS[index % len(ODD_PARTS)]
        assert _is_told(read_book(_ascii(changed(TREE, path, part))))


@pytest.mark.parametrize("seed", range(20))
def test_a_broken_plan_gives_findings(seed: int) -> None:
    rng = random.Random(seed)
    data = bytearray(write_plan(a_plan()))
    data[rng.randrange(len(data))] ^= 1 << rng.randrange(8)
    read = read_plan(bytes(data))
    assert (read.plan is None) == any(finding.stops for finding in read.findings)


@pytest.mark.parametrize("revision", [HIGHEST_REVISION + 1, 10**12 - 1])
def test_a_revision_without_room_for_another_stops_and_the_rest_can_be_had(revision: int) -> None:
    data = bytes_of(changed(tree_of(BOOK), ("revision",), revision))
    read = read_book(data)

    assert [(each.code, each.path) for each in read.findings] == [
        ("number_too_large", ("revision",))
    ]
    assert read.book is None
    assert read.whole == replace(read_book(BOOK).book or a_book(), revision=1)


def test_the_highest_revision_leaves_room() -> None:
    data = bytes_of(changed(tree_of(BOOK), ("revision",), HIGHEST_REVISION))
    book = read_book(data).book

    assert book is not None
    assert write_book(replace(book, revision=book.revision + 10**10))


_BOUNDED = """
import resource, sys
resource.setrlimit(resource.RLIMIT_AS, (1 << 30, 1 << 30))
resource.setrlimit(resource.RLIMIT_CPU, (60, 60))
from shared.examine import take_in
from shared.files.disk import load
read = take_in(load(sys.argv[1]))
assert read.book is None
print(read.findings[0].code)
"""


@pytest.mark.parametrize(
    ("name", "make", "codes"),
    [
        ("deep", lambda: b"[" * 3_000_000, {"too_deep"}),
        ("deep_objects", lambda: b'{"a":' * 3_000_000, {"too_deep"}),
        ("many_lists", lambda: b'{"jobs": [' + b"[]," * 1_900_000 + b"[]]}", {"not_countback"}),
        ("too_many", lambda: b"[" + b"1," * 5_000_000 + b"1]", {"too_big"}),
        ("one_number", lambda: b"9" * 60_000_000, {"wrong_type"}),
        ("one_text", lambda: b'"' + b"x" * 60_000_000 + b'"', {"wrong_type"}),
        ("too_long", lambda: b" " * (65 << 20), {"too_big"}),
        (
            "wrong_words",
            lambda: (
                b'{"countback": {"kind": "book", "format": 1}, "name": "x", "people": ['
                + b",".join(b'{"id": "%d", "zz%d": 1, "pace": "x"}' % (i, i) for i in range(90_000))
                + b"]}"
            ),
            {"missing_field"},
        ),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_memory_and_time_are_bounded(
    name: str, make: Callable[[], bytes], codes: set[str], tmp_path: Path
) -> None:
    path = tmp_path / f"{name}.countback"
    path.write_bytes(make())
    done = subprocess.run(
        [sys.executable, "-c", _BOUNDED, str(path)], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr[-2000:]
    assert done.stdout.strip() in codes
