"""The last resort leaves a report, and has what is not saved copied."""

import sys
from datetime import UTC, datetime
from pathlib import Path

import pytest

from app.crash import REPORT, TRACE, Rescue

WHEN = datetime(2027, 1, 18, 7, 41, tzinfo=UTC)


@pytest.mark.parametrize("is_kept", [True, False])
def test_an_uncaught_error_leaves_a_report_and_tells_whether_the_book_is_kept(
    data_folder: Path, monkeypatch: pytest.MonkeyPatch, *, is_kept: bool
) -> None:
    heard: list[BaseException] = []
    monkeypatch.setattr(sys, "excepthook", lambda _, error, __: heard.append(error))
    told: list[tuple[Path, bool]] = []
    rescue = Rescue(data_folder, lambda: is_kept, lambda: WHEN, lambda *both: told.append(both))
    former = sys.excepthook
    assert rescue.begin() is False
    try:
        raise LookupError("the glue pot")
    except LookupError:
        sys.excepthook(*sys.exc_info())
    finally:
        rescue.end()

    assert sys.excepthook is former
    report = (data_folder / REPORT).read_text(encoding="utf-8")
    assert report.startswith("2027-01-18T07:41:00+00:00")
    assert "LookupError: the glue pot" in report
    assert told == [(data_folder, is_kept)]
    assert [str(error) for error in heard] == ["the glue pot"]


def test_ctrl_c_is_no_crash(data_folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "excepthook", lambda *_: None)
    told: list[tuple[Path, bool]] = []
    rescue = Rescue(data_folder, lambda: True, lambda: WHEN, lambda *both: told.append(both))
    rescue.begin()
    rescue.caught(KeyboardInterrupt, KeyboardInterrupt(), None)
    rescue.end()

    assert told == []
    assert not (data_folder / REPORT).exists()


def test_a_crash_of_the_last_run_is_known_at_the_next_start(data_folder: Path) -> None:
    (data_folder / TRACE).write_text("Fatal Python error: Segmentation fault\n", encoding="utf-8")
    rescue = Rescue(data_folder, lambda: True, lambda: WHEN, lambda *_: None)

    assert rescue.begin() is True
    rescue.end()
    assert "Segmentation" in (data_folder / "crash.before.log").read_text(encoding="utf-8")
    again = Rescue(data_folder, lambda: True, lambda: WHEN, lambda *_: None)
    assert again.begin() is False
    again.end()
