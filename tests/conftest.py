"""What every test runs under: no screen, no home, one locale, and silence in the log."""

import logging
import os
import shutil
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

_home = Path(tempfile.mkdtemp(prefix="countback-tests-"))

# Before anything can import Qt. TZ stays as it is: tests must pass under any.
os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
os.environ["LC_ALL"] = "C.UTF-8"
# Plain code is what tests are of; tests/scheduler/test_hot.py lays the compiled beside it.
os.environ.setdefault("COUNTBACK_PURE", "1")
os.environ.pop("LANGUAGE", None)
os.environ["HOME"] = str(_home)
for _name in ("CONFIG", "DATA", "CACHE", "STATE"):
    os.environ[f"XDG_{_name}_HOME"] = str(_home / _name.lower())

settings.register_profile(
    "house",
    deadline=None,
    derandomize=True,
    database=None,
    print_blob=True,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile("house")


class _Recorder(logging.Handler):
    """Keeps what is logged at WARNING or above."""

    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.records: list[logging.LogRecord] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.records.append(record)


@pytest.fixture(autouse=True)
def _log_recorder(request: pytest.FixtureRequest) -> Iterator[_Recorder]:
    recorder = _Recorder()
    root = logging.getLogger()
    root.addHandler(recorder)
    yield recorder
    root.removeHandler(recorder)
    said = [
        f"{record.levelname} {record.name}: {record.getMessage()}" for record in recorder.records
    ]
    if "expected_log" in request.fixturenames:
        assert said, "the test expected a log record at WARNING or above and none came"
    else:
        assert not said, f"logged at WARNING or above; take `expected_log` if meant: {said}"


@pytest.fixture
def expected_log(_log_recorder: _Recorder) -> list[logging.LogRecord]:
    """Records at WARNING or above that the test wants and looks at itself."""
    return _log_recorder.records


@pytest.fixture
def data_folder(tmp_path: Path) -> Path:
    """An empty folder for what the program keeps about its user, thrown away afterwards."""
    folder = tmp_path / "data"
    folder.mkdir()
    return folder


def pytest_unconfigure() -> None:
    shutil.rmtree(_home, ignore_errors=True)
