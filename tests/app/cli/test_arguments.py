import pytest

from app import VERSION
from app.cli.arguments import VERBS, Asked, Usage, read_arguments
from app.words.help import OVERVIEW
from app.words.help import VERBS as HELP_OF
from app.words.template import Phrase
from tests.app.cli.shell import countback


def test_words_and_options_may_stand_in_any_order() -> None:
    wanted = Asked(verb="check", words=("a", "b"), now="2027-01-01", json=True)

    assert read_arguments(["check", "a", "--now", "2027-01-01", "b", "--json"]) == wanted
    assert read_arguments(["check", "--json", "--now=2027-01-01", "a", "b"]) == wanted


def test_an_enquiry_may_be_named_more_than_once() -> None:
    asked = read_arguments(["plan", "a", "--with", "pear", "--with", "moon"])

    assert asked.enquiries == ("pear", "moon")


def test_a_name_that_begins_with_a_dash_can_be_given() -> None:
    assert read_arguments(["findings", "--", "-a"]).words == ("-a",)


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        ([], "no_verb"),
        (["plot", "a"], "unknown_verb"),
        (["plan"], "missing"),
        (["check", "a"], "missing"),
        (["check", "a", "b", "c"], "too_many"),
        (["open", "a", "b"], "too_many"),
        (["plan", "a", "--sec", "3"], "unknown_option"),
        (["findings", "a", "--quiet"], "unknown_option"),
        (["plan", "a", "--seconds"], "option_needs"),
        (["plan", "a", "--json=yes"], "option_needs"),
    ],
)
def test_what_can_t_be_asked_is_refused(typed: list[str], code: str) -> None:
    with pytest.raises(Usage) as refused:
        read_arguments(typed)

    assert refused.value.code == code


def test_the_version_is_said_as_it_is_built() -> None:
    said = countback("--version")

    assert (said.code, said.out, said.err) == (0, f"countback {VERSION}\n", "")
    assert countback("--version", "plan").code == 2


@pytest.mark.parametrize("text", ["0", "-1", "1.5", "two", "", "9999999999", "٣"])
def test_a_number_is_whole_and_in_bounds(text: str) -> None:
    with pytest.raises(Usage):
        Asked(verb="plan", seconds=text).number("seconds", 4)


def test_a_number_that_was_not_typed_is_the_usual_one() -> None:
    assert Asked(verb="plan").number("seconds", 4) == 4
    assert Asked(verb="plan", seed="0").number("seed", 1, least=0) == 0


@pytest.mark.parametrize("verb", sorted(VERBS))
def test_every_verb_takes_now_and_tells_of_all_it_takes(verb: str) -> None:
    text = HELP_OF[verb]
    assert not isinstance(text, Phrase)

    for word in (*VERBS[verb].must, *VERBS[verb].options, *VERBS[verb].flags, "--now"):
        assert word in text
    assert read_arguments([verb, *VERBS[verb].must, "--now", "2027-01-01"]).now == "2027-01-01"


def test_the_overview_tells_of_every_verb() -> None:
    assert not isinstance(OVERVIEW, Phrase)
    assert all(f"countback {verb} " in OVERVIEW for verb in VERBS)


@pytest.mark.parametrize("typed", [["--help"], ["-h"], ["plan", "--help"], ["check", "-h"]])
def test_help_is_an_answer(typed: list[str]) -> None:
    said = countback(*typed)

    assert (said.code, said.err) == (0, "")
    assert said.out.startswith("countback")
    assert max(map(len, said.out.splitlines())) <= 100


def test_a_refusal_is_one_sentence_on_stderr_and_exit_code_2() -> None:
    said = countback("plan", "a", "--seconds", "0")

    assert (said.code, said.out) == (2, "")
    assert said.err == "“0” is no whole number from 1 on, which --seconds wants.\n"


@pytest.mark.parametrize("now", ["soon", "2027-13-01", "0001-01-01T00:00", "9999-12-31"])
def test_a_now_that_is_no_instant_is_refused_by_every_verb(now: str) -> None:
    for verb, takes in VERBS.items():
        said = countback(verb, *takes.must, "--now", now)
        assert said.code == 2
        assert "no moment in time" in said.err
