"""Each way in which a file can be wrong, with what is said about it."""

from typing import Any

import pytest

from shared.files.migrate import migrated
from shared.files.read import Read, read_book, read_plan
from shared.files.write import write_book, write_plan
from shared.findings import Fact, Finding
from shared.findings_codes import CODES, finding
from tests.builders import a_book, a_job, a_plan
from tests.shared.files.trees import (
    Path,
    bytes_of,
    changed,
    every_path,
    filled_book,
    part_at,
    tree_of,
    without,
)

BOOK = a_book(a_job("heron"), a_job("otter"), plan=a_plan())
TREE = tree_of(write_book(BOOK))
STAGE: Path = ("jobs", 0, "steps", 0)


def read_tree(tree: Any) -> Read:
    return read_book(bytes_of(tree))


def the_one(read: Read) -> Finding:
    assert read.book is None
    (found,) = read.findings
    return found


@pytest.mark.parametrize(
    ("path", "part", "code", "facts"),
    [
        (("name",), 5, "wrong_type", {"wanted": "text", "found": "number", "value": "5"}),
        (("name",), None, "wrong_type", {"wanted": "text", "found": "nothing", "value": "null"}),
        (("revision",), True, "wrong_type", {"wanted": "whole_number", "found": "truth"}),
        (("revision",), "1", "wrong_type", {"wanted": "whole_number", "found": "text"}),
        (("revision",), 1.5, "not_whole", {"value": "1.5"}),
        (("revision",), 10**12, "number_too_large", {"limit": 10**12}),
        (("revision",), 10**60, "number_too_large", {"limit": 10**12}),
        (("revision",), float("nan"), "not_a_number", {"value": "NaN"}),
        (("as_of",), "2026-01-05T08:00:00", "instant_without_offset", {}),
        (("as_of",), "2026-01-05 08:00", "instant_without_offset", {}),
        (("as_of",), "2026-13-05T08:00:00Z", "bad_instant", {"value": "2026-13-05T08:00:00Z"}),
        (("as_of",), "2026-01-05T08:00:00+25:00", "bad_instant", {}),
        (("as_of",), "soon", "bad_instant", {"value": "soon"}),
        (("as_of",), "1066-10-14T08:00:00Z", "year_out_of_range", {"first": 1900, "last": 2199}),
        (("as_of",), "2199-12-31T23:00:00-05:00", "year_out_of_range", {}),
        (("as_of",), 5, "wrong_type", {"wanted": "instant"}),
        (("jobs", 0, "not_before"), "2026-02-30", "bad_date", {"value": "2026-02-30"}),
        (("jobs", 0, "not_before"), "20260203", "bad_date", {}),
        (("jobs", 0, "not_before"), "2026-02-03\n", "bad_date", {}),
        (("jobs", 0, "not_before"), "٢٠٢٦-٠٢-٠٣", "bad_date", {}),
        (("jobs", 0, "not_before"), [], "wrong_type", {"wanted": "date", "found": "list"}),
        (("workshop", "shifts", 0, "start"), "24:00", "bad_time", {"value": "24:00"}),
        (("workshop", "shifts", 0, "start"), "7:30", "bad_time", {}),
        (("workshop", "shifts", 0, "start"), 7, "wrong_type", {"wanted": "time"}),
        (("workshop", "shifts", 0, "days", 1), "tues", "unknown_word", {"nearest": "tue"}),
        (("workshop", "shifts", 0, "days", 1), 1, "wrong_type", {"wanted": "word"}),
        (("workshop", "shifts", 0, "breaks", 0, "end"), "12:00", "break_without_length", {}),
        (("workshop", "rest_hours"), "11", "wrong_type", {"wanted": "number", "found": "text"}),
        (("workshop", "rest_hours"), float("inf"), "not_a_number", {"value": "Infinity"}),
        (("workshop", "rest_hours"), -(10**13), "number_too_large", {}),
        ((*STAGE, "kind"), "foem", "unknown_word", {"word": "foem", "nearest": "foam"}),
        ((*STAGE, "kind"), "x" * 99, "unknown_word", {"word": "x" * 59 + "…", "nearest": None}),
        ((*STAGE, "kind"), 3, "wrong_type", {"wanted": "word"}),
        ((*STAGE, "stays"), "yes", "wrong_type", {"wanted": "truth"}),
        ((*STAGE, "stays"), 1, "wrong_type", {"wanted": "truth", "found": "number"}),
        ((*STAGE, "ways"), {}, "wrong_type", {"wanted": "list", "found": "object"}),
        ((*STAGE, "ways", 0), [], "wrong_type", {"wanted": "object", "found": "list"}),
        ((*STAGE, "step"), "stege", "unknown_word", {"nearest": "stage"}),
        ((*STAGE, "step"), 1, "wrong_type", {"wanted": "word"}),
        (STAGE, "carve", "wrong_type", {"wanted": "object", "found": "text"}),
        (("jobs",), None, "wrong_type", {"wanted": "list", "found": "nothing"}),
        (("plan",), 1, "wrong_type", {"wanted": "object"}),
        (("countback",), 1, "not_countback", {"wanted": "book"}),
        (("countback", "kind"), "plan", "wrong_kind", {"kind": "plan", "wanted": "book"}),
        (("countback",), {"format": 1}, "not_countback", {}),
        (("countback", "format"), 0, "bad_format", {"value": "0"}),
        (("countback", "format"), "1", "bad_format", {"value": "1"}),
        ((), [], "wrong_type", {"wanted": "object", "found": "list"}),
        ((), None, "wrong_type", {"wanted": "object", "found": "nothing"}),
        (("zz",), float("nan"), "not_a_number", {"value": "NaN"}),
    ],
)
def test_a_wrong_part_is_told_with_its_place(
    path: Path, part: Any, code: str, facts: dict[str, Fact]
) -> None:
    read = read_tree(changed(TREE, path, part))
    stopping = [each for each in read.findings if each.stops]
    assert [each.code for each in stopping] == [code]
    (found,) = stopping
    wanted_path = path[:-1] if code == "break_without_length" else path
    assert found.path == wanted_path
    assert facts.items() <= dict(found.facts).items()
    assert read.book is None


@pytest.mark.parametrize("path", [("as_of",), ("plan",), (*STAGE, "recoat_hours")])
def test_null_is_as_good_as_leaving_out_what_may_be_left_out(path: Path) -> None:
    read = read_tree(changed(TREE, path, None))
    assert read.findings == ()
    assert read == read_tree(without(changed(TREE, path, None), path))


def test_the_nearest_named_thing_is_named() -> None:
    def name_of(path: Path) -> str:
        return the_one(read_tree(changed(TREE, path, 5))).name

    assert name_of(("as_of",)) == "The small book"
    assert name_of((*STAGE, "kind")) == "Heron-carve"
    assert name_of((*STAGE, "ways", 0, "id")) == "Heron-carve"
    assert name_of(("jobs", 1, "site", "zone")) == "The site"
    assert name_of(("jobs", 1, "name")) == "The small book"


def test_every_missing_field_that_can_not_be_left_out_is_told() -> None:
    tree = tree_of(write_book(filled_book()))
    told = 0
    # One of each list and field is enough: classes stand in many places.
    once = {tuple(map(str, path[-3:])): path for path in every_path(tree)}
    for path in once.values():
        if not path or not isinstance(path[-1], str) or "zz_unknown" in path:
            continue
        read = read_tree(without(tree, path))
        for found in read.findings:
            if found.code == "missing_field":
                assert found.path == path
                assert found.fact("field") == path[-1]
                told += 1
    assert told > 100


def test_a_field_that_stands_twice_stops() -> None:
    data = write_book(BOOK).replace(b'"revision": 1', b'"revision": 1,\n"revision": 2', 1)
    found = the_one(read_book(data))
    assert (found.code, found.path) == ("doubled_field", ("revision",))
    deep = write_book(BOOK).replace(b'"kind": "foam"', b'"kind": "foam", "kind": "foam"', 1)
    assert the_one(read_book(deep)).path == (*STAGE, "kind")
    header = write_book(BOOK).replace(b'"format": 1', b'"format": 1, "format": 1', 1)
    assert the_one(read_book(header)).path == ("countback", "format")
    root = b'{"countback": {"kind": "book", "format": 1}, ' + write_book(BOOK)[1:]
    assert the_one(read_book(root)).path == ("countback",)


def test_a_field_twice_inside_an_unknown_one_stops() -> None:
    data = write_book(BOOK).replace(b'"revision": 1', b'"revision": 1, "zz": {"a": 1, "a": 1}', 1)
    codes = [(each.code, each.path) for each in read_book(data).findings]
    assert ("doubled_field", ("zz", "a")) in codes


@pytest.mark.parametrize(
    ("data", "code", "facts"),
    [
        (b"", "not_json", {"line": 1, "column": 1}),
        (b"{", "not_json", {"line": 1}),
        (b'{"a": 1,\n}', "not_json", {"line": 2}),
        (b"\xff\xfe{\x00}\x00", "not_utf8", {"byte": 1}),
        (b'{"n": "\xed\xa0\x80"}', "not_utf8", {}),
        (b"[" * 100_000, "too_deep", {}),
        (b'{"a":' * 100_000, "too_deep", {}),
        (b"," * 4_000_001, "too_big", {"limit_megabytes": 64}),
        (b" " * (64 * 1024 * 1024 + 1), "too_big", {"limit_megabytes": 64}),
        (b"{}", "not_countback", {"wanted": "book"}),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_a_file_that_is_no_book_gives_one_finding(
    data: bytes, code: str, facts: dict[str, Fact]
) -> None:
    found = the_one(read_book(data))
    assert found.code == code
    assert facts.items() <= dict(found.facts).items()


def _with_first_name(text: bytes) -> bytes:
    return write_book(BOOK).replace(b'"The small book"', text, 1)


def test_half_a_character_stops_and_a_whole_pair_does_not() -> None:
    found = the_one(read_book(_with_first_name(rb'"\ud83d"')))
    assert (found.code, found.path) == ("broken_text", ("name",))
    str(found).encode()
    whole = read_book(_with_first_name(rb'"\ud83d\ude00"')).book
    assert whole is not None
    assert whole.name == "\U0001f600"


@pytest.mark.parametrize("field", [rb'"\ud800": 1', rb'"zz": {"\ud800": 1}', rb'"zz": "\udfff"'])
def test_half_a_character_in_unknown_fields_stops(field: bytes) -> None:
    read = read_book(_with_first_name(b'"x", ' + field))
    assert [each.code for each in read.findings if each.stops] == ["broken_text"]
    str(read.findings).encode()


@pytest.mark.parametrize("number", [b"1e999999", b"1e99999999999999999999", b"9" * 5000, b"1e12"])
def test_huge_numbers_stop(number: bytes) -> None:
    for field in (b'"revision": 1', b'"rest_hours": 11'):
        data = write_book(BOOK).replace(field, field.split(b" ")[0] + b" " + number, 1)
        assert the_one(read_book(data)).code in ("number_too_large", "not_whole")


def test_too_fine_a_number_stops() -> None:
    data = write_book(BOOK).replace(b'"rest_hours": 11', b'"rest_hours": 1e-99999', 1)
    assert the_one(read_book(data)).code == "number_too_fine"


def test_an_unknown_part_may_be_deep_but_not_bottomless() -> None:
    def nested(depth: int) -> bytes:
        return b'"x", "zz": ' + b"[" * depth + b"]" * depth

    assert read_book(_with_first_name(nested(60))).book is not None
    read = read_book(_with_first_name(nested(70)))
    assert [each.code for each in read.findings if each.stops] == ["too_deep"]


def test_an_unknown_field_is_told_with_the_nearest_known_one() -> None:
    read = read_tree(changed(TREE, (*STAGE, "cure_hour"), 3))
    assert read.book is not None
    (found,) = read.findings
    assert found == finding(
        "unknown_field",
        (*STAGE, "cure_hour"),
        "Heron-carve",
        field="cure_hour",
        nearest="cure_hours",
    )
    assert not found.stops


def test_a_newer_format_is_no_book_and_gives_one_finding() -> None:
    data = write_book(BOOK).replace(b'"format": 1', b'"format": 2').replace(b'"foam"', b'"fume"')
    read = read_book(data)
    assert (read.book, read.whole, read.newer) == (None, None, True)
    (found,) = read.findings
    assert (found.code, found.fact("format"), found.fact("known")) == ("newer_format", "2", 1)
    plan = read_plan(write_plan(a_plan()).replace(b'"format": 1', b'"format": 9'))
    assert (plan.plan, plan.newer) == (None, True)


def test_unknown_fields_of_the_header_are_kept_and_told() -> None:
    data = write_book(BOOK).replace(b'"format": 1', b'"format": 1, "by": {"a": 1}')
    read = read_book(data)
    assert read.book is not None
    assert [each.path for each in read.findings] == [("countback", "by")]
    again = write_book(read.book)
    assert tree_of(again)["countback"] == {"kind": "book", "format": 1, "by": {"a": 1}}
    assert read_book(again).book == read.book


def test_all_that_is_wrong_is_found_at_once() -> None:
    tree = changed(TREE, ("jobs", 1, "client", "answer_days"), "ten")
    tree = changed(tree, (*STAGE, "kind"), "foem")
    tree = changed(tree, (*STAGE, "ways", 0, "hours", "low"), "one")
    tree = changed(without(tree, ("people", 0, "name")), ("as_of",), "now")
    read = read_tree(tree)
    assert [(each.code, each.path) for each in read.findings] == [
        ("bad_instant", ("as_of",)),
        ("missing_field", ("people", 0, "name")),
        ("unknown_word", (*STAGE, "kind")),
        ("wrong_type", (*STAGE, "ways", 0, "hours", "low")),
        ("wrong_type", ("jobs", 1, "client", "answer_days")),
    ]


def test_the_whole_parts_can_be_had_without_the_broken_ones() -> None:
    tree = changed(TREE, (*STAGE, "kind"), "foem")
    read = read_tree(changed(tree, ("plan", "seed"), "x"))
    assert read.book is None
    assert read.whole is not None
    assert [job.name for job in read.whole.jobs] == ["Otter"]
    assert read.whole.plan is None
    assert read.left_out == (("jobs", 0), ("plan", -1))


@pytest.mark.parametrize("path", [("name",), ("workshop", "zone"), ("revision",)])
def test_nothing_is_left_of_a_book_whose_root_is_broken(path: Path) -> None:
    assert read_tree(changed(TREE, path, [])).whole is None


def test_past_a_thousand_findings_only_their_number_is_told() -> None:
    read = read_tree(changed(TREE, ("people",), [1] * 5000))
    assert len(read.findings) == 1001
    last = read.findings[-1]
    assert (last.code, last.fact("count"), last.stops) == ("more_findings", 4000, False)


def test_many_findings_that_tell_hide_none_that_stops() -> None:
    tree = {**TREE, **{f"zz{i}": 1 for i in range(3000)}}
    read = read_tree(tree)
    assert read.book is not None
    assert len(read.book.kept) == 3000
    data = bytes_of(tree)[:-1] + b', "zzz": NaN}'
    assert [each.code for each in read_book(data).findings if each.stops] == ["not_a_number"]


def test_a_plan_is_read_as_strictly() -> None:
    tree = tree_of(write_plan(a_plan()))
    read = read_plan(bytes_of(changed(tree, ("placements", 0, "start"), "2026-01-05T08:00")))
    assert read.plan is None
    assert [(each.code, each.path) for each in read.findings] == [
        ("instant_without_offset", ("placements", 0, "start"))
    ]
    assert read_plan(write_book(BOOK)).findings[0].code == "wrong_kind"


def test_a_finding_has_the_facts_of_its_code_and_no_others() -> None:
    with pytest.raises(KeyError):
        finding("no such code", (), "")
    with pytest.raises(KeyError):
        finding("bad_date", (), "")
    with pytest.raises(ValueError, match="facts that bad_date"):
        finding("bad_date", (), "", value="x", more=1)
    assert all(code.isidentifier() for code in CODES)


def test_older_formats_are_lifted_step_by_step() -> None:
    steps = {
        ("book", 1): lambda tree: {**tree, "one": part_at(tree, ("zero",)) + 1},
        ("book", 2): lambda tree: {**tree, "two": part_at(tree, ("one",)) + 1},
    }
    start = {"zero": 0}
    assert migrated(start, "book", 1, steps=steps, until=3) == {"zero": 0, "one": 1, "two": 2}
    assert migrated(start, "plan", 1, steps=steps, until=3) == {"zero": 0}
    assert start == {"zero": 0}
