"""What counts as a mutant of a rule, which tests it is tried with, and what is made of a trial."""

from pathlib import Path

import pytest

from tests.house.tree import ROOT, source_of
from tests.mutation.choosing import MOST_SECONDS, Choice
from tests.mutation.mutants import Mutant
from tests.mutation.outcomes import Fate, Outcome, figures, reasons
from tests.mutation.recording import Recordings
from tests.mutation.rules import MODULES, files_of

DEPARTING = Path("scheduler/departing.py")
USES = Path("scheduler/check/uses.py")


def _line_of(path: Path, words: str) -> int:
    return next(at for at, line in enumerate(source_of(path).splitlines(), 1) if words in line)


def _at(path: Path, words: str) -> Mutant:
    return Mutant(path, _line_of(path, words), 0, "AddNot", 0)


class _Ran(Recordings):
    """Recordings in which a line of the departures, or of the check, has dear and cheap tests."""

    def tests_of(self, path: Path) -> dict[int, set[str]]:
        run = {DEPARTING: "soon =", USES: "end=_EVER_AFTER"}
        return {_line_of(path, run[path]): set(self.seconds)} if path in run else {}

    @property
    def seconds(self) -> dict[str, float]:
        return {"cheap": 0.1, "dear": MOST_SECONDS - 1, "too dear": MOST_SECONDS}

    @property
    def number(self) -> dict[str, int]:
        return dict.fromkeys(self.seconds, 0)


@pytest.fixture
def choice() -> Choice:
    return Choice(_Ran(()), files_of(tuple(MODULES)))


def test_every_pattern_of_the_rules_finds_files() -> None:
    assert all(list(ROOT.glob(pattern)) for patterns in MODULES.values() for pattern in patterns)


def test_cheap_tests_come_first_and_the_dearest_are_left_out(choice: Choice) -> None:
    assert choice.tests(_at(DEPARTING, "soon =")) == ["cheap", "dear"]


def test_a_constant_is_tried_with_the_tests_of_the_lines_that_name_it(choice: Choice) -> None:
    assert choice.tests(_at(DEPARTING, "TRIED_MAX =")) == ["cheap", "dear"]


def test_of_constants_bound_in_one_line_each_is_looked_for(choice: Choice) -> None:
    assert choice.tests(_at(USES, "_EVER_BEFORE, _EVER_AFTER =")) == ["cheap", "dear"]


def test_a_line_that_no_test_runs_has_no_tests(choice: Choice) -> None:
    assert choice.tests(_at(DEPARTING, "yield option")) == []


def test_shares_leave_out_what_changes_nothing_in_one_figure_and_in_the_other_not() -> None:
    mutant = _at(DEPARTING, "soon =")
    fates = [Fate.KILLED, Fate.BY_TIME, Fate.SURVIVED, Fate.EQUIVALENT]

    found = figures([Outcome(mutant, "", fate, 1.0) for fate in fates])

    assert found["killed_of_others"] == 0.6667
    assert found["killed_of_all"] == 0.5


def test_every_reason_is_of_lines_that_still_stand_and_of_no_further_one() -> None:
    for (path, was, becomes), reason in reasons().items():
        standing = [line.strip() for line in source_of(Path(path)).splitlines()]
        assert standing.count(was) == reason.lines, (path, was)
        assert was != becomes
        assert reason.why


def test_mutants_are_of_rules_and_of_nothing_else() -> None:
    pytest.importorskip("cosmic_ray", reason="the extra [soak] is not installed")
    from tests.mutation.mutants import mutants_of

    source = source_of(DEPARTING).splitlines()
    found = list(mutants_of(DEPARTING))
    lines = {source[mutant.line - 1] for mutant in found}

    assert any("loads" in line and "if not all" in line for line in lines)
    assert any("TRIED_MAX = 12" in line for line in lines)
    assert not any(source[mutant.line - 1][mutant.column] == "|" for mutant in found)


def test_a_mutant_differs_in_one_line_and_the_same_seed_draws_the_same() -> None:
    pytest.importorskip("cosmic_ray", reason="the extra [soak] is not installed")
    from tests.mutation.mutants import drawn
    from tests.mutation.outcomes import changed_lines

    count, found = drawn((DEPARTING,), 5, 7)

    assert count > 20
    assert found == drawn((DEPARTING,), 5, 7)[1]
    for mutant, source in found:
        was, becomes = changed_lines(mutant, source)
        assert was != becomes
        assert source_of(DEPARTING).splitlines()[mutant.line - 1].strip() == was
