"""The tables of figures, and the defaults that stand on them."""

import csv
import dataclasses
import subprocess
import sys
from decimal import Decimal
from pathlib import Path

import pytest

import shared.trade
from shared.book import Act, Kind
from shared.trade import Confidence, UnknownFigure, defaults, figure, figures, subjects
from tests.builders import a_stage

COLUMNS = ["id", "name", "value", "low", "high", "unit", "source", "confidence"]
TABLES = sorted((Path(shared.trade.__file__).parent / "data").iterdir())
ALL = [row for subject in subjects() for row in figures(subject)]


@pytest.mark.parametrize("path", TABLES, ids=lambda path: path.stem)
def test_a_table_has_its_columns_and_whole_rows(path: Path) -> None:
    with path.open(encoding="utf-8", newline="") as lines:
        header, *rows = csv.reader(lines)

    assert path.suffix == ".csv"
    assert header == COLUMNS
    assert rows
    assert all(len(row) == len(COLUMNS) for row in rows)
    assert all(text == text.strip() for row in rows for text in row)


def test_every_figure_has_one_id_a_number_a_unit_and_a_source() -> None:
    assert len({row.id for row in ALL}) == len(ALL) >= 200
    for row in ALL:
        assert figure(row.id) is row
        assert row.name, row
        assert row.unit, row
        assert row.source, row
        assert {row.value, row.low, row.high} != {None}, row
        if row.low is not None and row.high is not None and row.unit != "hour of day":
            assert row.low <= row.high, row


def test_what_has_no_source_says_so() -> None:
    own = [row for row in ALL if row.id.startswith("CP")]
    assert {row.id for row in figures("acts")} <= {row.id for row in own}
    for row in own:
        is_practice = row.confidence is Confidence.PRACTICE
        assert row.source.startswith("common practice") == is_practice, row


def test_unknown_ones_are_refused() -> None:
    with pytest.raises(UnknownFigure, match="PL99"):
        figure("PL99")
    with pytest.raises(UnknownFigure, match="poetry"):
        figures("poetry")
    with pytest.raises(UnknownFigure, match="HS01 value"):
        _ = figure("HS01").amount
    with pytest.raises(UnknownFigure, match="PL02 low"):
        _ = figure("PL02").least
    with pytest.raises(UnknownFigure, match="PL02 high"):
        _ = figure("PL02").most


def test_a_figure_is_exact_and_frozen() -> None:
    one = figure("PL16b")
    assert (one.amount, one.least, one.most) == (Decimal("0.55"), Decimal("0.55"), Decimal("0.63"))
    with pytest.raises(dataclasses.FrozenInstanceError):
        one.unit = "t"  # type: ignore[misc]


def test_a_stage_does_what_it_says_else_the_usual_of_its_kind() -> None:
    assert set(defaults.USUAL_ACTS) == set(Kind)
    assert defaults.acts_of(a_stage(kind=Kind.PAINT)) == (Act.SPRAY, Act.WET)
    assert defaults.acts_of(a_stage(kind=Kind.PAINT, does=(Act.LIFT,))) == (Act.LIFT,)
    assert defaults.acts_of(a_stage(kind=Kind.PAINT, does=())) == ()


def test_defaults_are_the_tables() -> None:
    # Common practice, no source, except the clearance: HSE, COSHH essentials, MR series.
    assert defaults.PIECES_PER_HALF_DAY == 2
    assert Decimal(4) == defaults.SANDING_HOURS
    assert defaults.CLEARANCE_MINUTES == 30
    assert set(defaults.WET_HOURS) == set(Kind)
    assert defaults.WET_HOURS[Kind.PAINT] == figure("CP05").value
    assert Act.POWER_SAND not in defaults.NEVER_ALONE
    assert len(defaults.NEVER_ALONE) == 7
    assert not hasattr(defaults, "PIECES_PER_DAY")


def test_vapour_is_kept_from_sparks_and_dust_from_what_is_wet() -> None:
    minutes = {(pair.first, pair.second): pair.minutes for pair in defaults.APART}

    assert len(minutes) == len(defaults.APART) == 14
    assert minutes[Act.RESIN, Act.HOT_WIRE] == 0
    assert minutes[Act.SPRAY, Act.FLAME] == 0
    assert minutes[Act.DUST, Act.WET] == 0
    # Common practice: two hours without dust before a finish is sprayed.
    assert minutes[Act.DUST, Act.SPRAY] == 120


def test_the_day_of_sanding_is_near_the_action_value_of_vibration() -> None:
    # Control of Vibration at Work Regulations 2005: A(8) = a * sqrt(hours / 8), here 3.5 m/s2.
    hours = 8 * (figure("HS20a").amount / Decimal("3.5")) ** 2
    assert round(hours, 1) == Decimal("4.1")
    assert hours >= defaults.SANDING_HOURS


_ASK = """
import sys
from pathlib import Path
opened = []
sys.addaudithook(lambda event, facts: opened.append(str(facts[0])) if event == "open" else None)
from shared.trade.defaults import NEVER_ALONE, acts_of
print([name for name in opened if "trade" in name and name.endswith(".csv")], "csv" in sys.modules)
from shared.trade.defaults import SANDING_HOURS
print(len([name for name in opened if "trade" in name and name.endswith(".csv")]))
"""


def test_no_table_is_read_before_a_figure_is_asked_for() -> None:
    done = subprocess.run([sys.executable, "-c", _ASK], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines() == ["[] False", str(len(TABLES))]
