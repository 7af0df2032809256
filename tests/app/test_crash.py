"""The last resort leaves a report that can be given away, and has what is not saved copied."""

import stat
import sys
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import pytest

import app.crash
from app.crash import BEFORE, REPORT, TRACE, WHOLE, Rescue, last_report
from app.story import story, without_folders
from shared.errors import DiskError

WHEN = datetime(2027, 1, 18, 7, 41, tzinfo=UTC)
PRIVATE = ("Dilys", "Brambleford", "4711.50", "in hospital", "/people/agnes", "least price")


def private_error() -> BaseException:
    """An error that holds all that may not be given away: text, note, cause, locals, file."""
    name, price = PRIVATE[0], PRIVATE[2]
    try:
        try:
            raise OSError(28, f"no room for {name}", f"{PRIVATE[4]}/{PRIVATE[1]}.countback")
        except OSError as cause:
            error = KeyError(f"{name}: {price}", {PRIVATE[3]: PRIVATE[5]})
            error.add_note(f"{name} of {PRIVATE[1]}")
            raise error from cause
    except KeyError as error:
        try:
            raise ExceptionGroup(PRIVATE[1], [error, DiskError("not_saved", path=PRIVATE[4])])
        except ExceptionGroup as group:
            return group


def fall(rescue: Rescue, error: BaseException) -> None:
    rescue.caught(type(error), error, error.__traceback__)


@pytest.fixture
def silent(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "excepthook", lambda *_: None)


def rescuing(
    folder: Path, keep: Callable[[], bool] = lambda: True, tell: Callable[..., None] | None = None
) -> Rescue:
    return Rescue(folder, keep, lambda: WHEN, tell or (lambda *_: None))


def test_a_story_says_where_and_what_and_nothing_private() -> None:
    told = story(private_error())
    assert not [word for word in PRIVATE if word in told]
    assert "builtins.OSError ENOSPC" in told
    assert "builtins.KeyError" in told
    assert "shared.errors.DiskError not_saved" in told
    assert f"  {__name__}, line " in told
    assert "in private_error" in told
    assert story(LookupError()) == "builtins.LookupError\n"


def test_a_ring_of_causes_ends() -> None:
    first, second = KeyError(), LookupError()
    first.__cause__, second.__cause__ = second, first
    assert story(first).split() == ["builtins.LookupError", "builtins.KeyError"]


def test_a_trace_of_the_machine_keeps_files_and_no_folders() -> None:
    ours = Path(app.crash.__file__)
    trace = f'File "{ours}", line 3 in begin\n  File "/people/agnes/of mine/x.py", line 2 in f'
    assert without_folders(trace) == (
        'File "app/crash.py", line 3 in begin\n  File "x.py", line 2 in f'
    )


@pytest.mark.usefixtures("silent")
def test_the_report_holds_nothing_private_and_the_whole_is_for_its_owner_only(
    data_folder: Path,
) -> None:
    rescue = rescuing(data_folder)
    fall(rescue, private_error())
    fall(rescue, LookupError("Dilys"))
    fall(rescue, LookupError("Dilys again, in the same place"))

    report = last_report(data_folder)
    assert report == (data_folder / REPORT).read_text(encoding="utf-8")
    assert not [word for word in PRIVATE if word in report]
    assert report.startswith("2027-01-18T07:41:00+00:00\nCountback ")
    assert report.count("LookupError") == 1
    whole = data_folder / WHOLE
    assert all(
        word in whole.read_text(encoding="utf-8") for word in PRIVATE if word != "in hospital"
    )
    assert stat.S_IMODE(whole.stat().st_mode) == 0o600


@pytest.mark.usefixtures("silent")
def test_what_fails_while_it_copies_or_tells_is_in_the_report_too(data_folder: Path) -> None:
    told: list[bool] = []

    def keep() -> bool:
        raise ZeroDivisionError

    def tell(_: Path, is_kept: bool) -> None:
        told.append(is_kept)
        fall(rescue, IndexError())
        raise AttributeError

    rescue = rescuing(data_folder, keep, tell)
    fall(rescue, LookupError())
    report = last_report(data_folder)
    for name in ("LookupError", "ZeroDivisionError", "IndexError", "AttributeError"):
        assert f"builtins.{name}" in report
    assert told == [False], "an error while it is told of does not tell once more"


@pytest.mark.usefixtures("silent")
def test_without_a_disk_it_is_still_told(tmp_path: Path) -> None:
    told: list[Path] = []
    fall(rescuing(tmp_path / "none", tell=lambda folder, _: told.append(folder)), LookupError())
    assert told == [tmp_path / "none"]
    assert last_report(tmp_path / "none") == ""


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
    assert "builtins.LookupError" in report
    assert "the glue pot" not in report
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
    trace = 'Fatal Python error: Segmentation fault\n  File "/people/agnes/x.py", line 2 in f\n'
    (data_folder / TRACE).write_text(trace, encoding="utf-8")
    rescue = Rescue(data_folder, lambda: True, lambda: WHEN, lambda *_: None)

    assert rescue.begin() is True
    rescue.end()
    kept = (data_folder / BEFORE).read_text(encoding="utf-8")
    assert "Segmentation" in kept
    assert "agnes" not in kept
    assert last_report(data_folder) == kept
    again = Rescue(data_folder, lambda: True, lambda: WHEN, lambda *_: None)
    assert again.begin() is False
    again.end()
