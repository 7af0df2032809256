"""Every code that shared, scheduler and app can give has its sentence, and needs no more facts."""

import ast

import pytest

from app.words import Words, breaches, clashes, findings, troubles, undo, verdicts
from app.words.acts import ACTS
from app.words.findings_book import CURES_WITH_NEAREST
from app.words.findings_file import OF_NO_NEAREST, WITH_NEAREST
from app.words.template import Template
from scheduler.outcome import Breach, CheckResult, Verdict
from scheduler.reasons import Reason
from scheduler.rules import COMMON_FACTS, FACTS, Rule
from shared.book import Act, Kind
from shared.edits import LABELS
from shared.findings import Clash, Finding
from shared.findings_codes import CODES
from tests.app.catalogue import facts_of
from tests.house.tree import python_files, source_of


def codes_raised(source: str, makers: set[str]) -> set[str]:
    """First arguments, where they are texts, of calls of those names."""
    return {
        node.args[0].value
        for node in ast.walk(ast.parse(source))
        if isinstance(node, ast.Call)
        and isinstance(node.func, ast.Name | ast.Attribute)
        and (node.func.id if isinstance(node.func, ast.Name) else node.func.attr) in makers
        and node.args
        and isinstance(node.args[0], ast.Constant)
        and isinstance(node.args[0].value, str)
    }


def test_every_finding_has_a_sentence_and_a_cure() -> None:
    assert set(findings.SENTENCES) == set(CODES)
    assert all(text and cure for text, cure in findings.SENTENCES.values())


@pytest.mark.parametrize("code", sorted(CODES))
def test_a_finding_is_said_with_the_facts_it_has(code: str) -> None:
    text, cure = findings.SENTENCES[code]
    others: list[Template] = [
        table[code] for table in (WITH_NEAREST, OF_NO_NEAREST, CURES_WITH_NEAREST) if code in table
    ]

    for template in (text, cure, *others):
        assert facts_of(template) <= {*CODES[code].facts, "name"}


def test_a_cure_names_what_was_nearest_or_says_something_else() -> None:
    words = Words("en")
    facts = (("sort", "place"), ("id", "baay"), ("nearest", "bay"))
    near = Finding(code="unknown_id", path=(), facts=facts)
    far = Finding(code="unknown_id", path=(), facts=(*facts[:2], ("nearest", None)))

    assert words.finding(near) == (
        "There is no place of the id baay.",
        "If bay was meant, write that; else add it.",
    )
    assert words.finding(far)[1] == "Write the id of one that is there, or add it."


@pytest.mark.parametrize("code", sorted(CODES))
def test_no_cure_shows_a_gap_where_nothing_is_near(code: str) -> None:
    entry = CODES[code]
    facts = tuple((fact, None if fact == "nearest" else 1) for fact in entry.facts)

    text, cure = Words("en").finding(Finding(code=code, path=(), facts=facts))

    assert "…" not in text + cure


def test_every_rule_has_a_name_and_a_sentence() -> None:
    assert set(breaches.BROKEN) == set(breaches.NAMES) == {rule.value for rule in Rule}


@pytest.mark.parametrize("rule", sorted(FACTS))
def test_a_breach_is_said_with_the_facts_it_has(rule: Rule) -> None:
    known = {*FACTS[rule], *COMMON_FACTS, "where", "rule"}

    assert facts_of(breaches.BROKEN[rule]) <= known


def test_a_breach_names_job_and_step_and_its_facts() -> None:
    facts = (
        ("job", "Garden snail"),
        ("step", "laminate"),
        ("part", ""),
        ("round", 0),
        ("start", "2027-02-04T08:00:00Z"),
        ("paused_minutes", 7200),
        ("longest_minutes", 5760),
    )

    said = Words("en").breach(Breach(rule=Rule.PAUSE, where="s1", facts=facts))

    assert said == "Garden snail: laminate stands still for 5 days, and may for 4 days."


def test_a_breach_says_what_is_not_known_and_what_words_mean() -> None:
    words = Words("en")
    shut = (("job", None), ("step", None), ("place", "Bay"), ("start", "a"), ("end", "b"))
    said = words.breach(
        Breach(rule=Rule.PLACE_SHUT, where="Bay", facts=(*shut, ("why", "closure")))
    )

    assert said == "Bay: Bay is not to be had from a to b (closed)."


@pytest.mark.parametrize(
    ("kind", "done"),
    [
        *((kind.value, "has set") for kind in (Kind.FOAM, Kind.FILL, Kind.PACK)),
        *((kind.value, "has cured") for kind in (Kind.LAMINATE, Kind.COAT)),
        *((kind.value, "has dried") for kind in (Kind.PAINT, Kind.LACQUER)),
        ("", "is ready"),
    ],
)
def test_what_starts_too_soon_is_said_by_the_kind_of_what_was_not_done(
    kind: str, done: str
) -> None:
    facts = (("job", "Moon"), ("step", "pack"), ("before", "prime"), ("cured", kind))
    said = Words("en").breach(Breach(rule=Rule.CURE, where="s1", facts=facts))

    assert f" before prime {done}, " in said


@pytest.mark.parametrize(
    ("part", "where"),
    [
        ("", "Moon: colour stands"),
        ("abrade", "Moon: abrading before colour stands"),
        ("rework", "Moon: rework after colour stands"),
        ("changes", "Moon: changes after colour stands"),
    ],
)
def test_a_breach_of_what_was_put_in_is_named_as_such(part: str, where: str) -> None:
    facts = (("job", "Moon"), ("step", "colour"), ("part", part))
    said = Words("en").breach(Breach(rule=Rule.PAUSE, where="s1", facts=facts))

    assert said.startswith(where)


def test_every_act_has_words() -> None:
    assert set(ACTS) == {act.value for act in Act}


def test_a_meeting_in_shared_air_is_said_in_words() -> None:
    facts = (
        *(("job", "Garden snail"), ("step", "sand"), ("part", ""), ("round", 0)),
        *(("place", "Bay 2"), ("start", "8:00"), ("act", "dust")),
        *(("other", "Moon: lacquer"), ("other_act", "wet"), ("until", "12:00")),
    )

    assert Words("en").breach(Breach(rule=Rule.SHARED_AIR, where="s1", facts=facts)) == (
        "Garden snail: sand brings dust into the air of Bay 2 8:00, and Moon: lacquer has "
        "a wet surface there until 12:00: they are kept apart."
    )


def test_open_spraying_leaves_the_last_word_to_those_who_have_it() -> None:
    said = Words("en").clash(Clash(code=Reason.OPEN_SPRAYING, facts=(("step", "hard coat"),)))

    assert said.startswith("Hard coat sprays isocyanates")
    for source in ("local codes", "data sheet", "licensed people"):
        assert source in said


def test_every_reason_has_a_sentence() -> None:
    assert set(clashes.SENTENCES) == {reason.value for reason in Reason}
    for reason in Reason:
        assert Words("en").clash(Clash(code=reason))


def test_every_verdict_has_a_mark() -> None:
    assert set(verdicts.MARKS) == set(Verdict)


def test_every_edit_has_a_label() -> None:
    assert set(undo.LABELS) == set(LABELS)
    assert Words("en").undo_label("add_job", name="Moon") == "add the job Moon"


def test_every_trouble_that_is_raised_has_a_sentence() -> None:
    makers = {"DiskError", "disk_error", "Usage", "Refused", "NoLoad", "NotNow"}
    raised = set[str]()
    for path in python_files("app", "shared"):
        raised |= codes_raised(source_of(path), makers)

    assert len(raised) >= 10
    assert not raised - set(troubles.SENTENCES)


def test_the_scan_for_codes_bites() -> None:
    assert codes_raised("raise files.DiskError('gone', path=1)", {"DiskError"}) == {"gone"}


def test_what_is_not_judged_is_named_and_never_called_sound() -> None:
    words = Words("en")
    judged = CheckResult(not_judged=(Rule.TEMPERATURE, Rule.OFFERS, Rule.TURNS))

    assert words.check_line(CheckResult()) == "Checked: sound."
    assert words.check_line(judged) == (
        "Checked: nothing broken, but not judged yet, so not called sound: temperature limits, "
        "offers that are taken and ways round a piece may be stood."
    )


def test_an_unknown_code_is_said_somehow() -> None:
    words = Words("en")

    assert "new_thing" in words.finding(Finding(code="new_thing", path=()))[0]
    assert "new_thing" in words.clash(Clash(code="new_thing"))
    assert "new_thing" in words.breach(Breach(rule="new_thing", where="s1"))
    assert words.undo_label("new_thing") == "change the book"
    assert "new_thing" in words.trouble("new_thing", path="x")


@pytest.mark.parametrize(
    "fact", ["0001-01-01T00:00:00+23:59", "2027-99-01T00:00:00Z", "9999-12-31T23:59:00-23:59"]
)
def test_what_only_looks_like_an_instant_is_said_as_it_stands(fact: str) -> None:
    found = Finding(
        code="unknown_id",
        path=("jobs", 0),
        name="heron",
        facts=(("sort", "segment"), ("id", fact), ("nearest", None)),
        stops=True,
    )

    assert fact in findings.finding(Words(), found, "Europe/Oslo")[0]
