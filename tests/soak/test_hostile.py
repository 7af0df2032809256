"""That the soak of hostile files finds what is planted, and comes to the same files again."""

import sys
import time
from pathlib import Path
from random import Random

import pytest

from tests.soak import _hostile_judge, hostile
from tests.soak._hostile_files import WAYS, file_of
from tests.soak._hostile_samples import KINDS, LARGEST, samples
from tests.soak._hostile_ways import ANY
from tests.soak._hostile_worker import Watch, taken
from tests.soak.report import Report, Task

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="measured by what Linux tells")


@pytest.mark.parametrize("kind", KINDS)
def test_every_way_spoils_every_kind_and_the_same_again(kind: str) -> None:
    for way in (*ANY, *WAYS[kind]):
        made = [way(samples(kind)[0], Random(7)) for _ in range(2)]
        assert made[0] == made[1]
        assert any(way(samples(kind)[0], Random(at)) != samples(kind)[0] for at in range(20))


def test_a_round_is_about_the_same_file_however_many_there_are() -> None:
    found = [file_of(3, number) for number in (5, 900, 5)]

    assert found[0] == found[2] != found[1]
    assert all(len(data) <= LARGEST for _, _, data in found)


def judged(monkeypatch: pytest.MonkeyPatch, folder: Path, act: object) -> dict[str, object]:
    """What is told of a file with which a reader does something."""
    monkeypatch.setitem(_hostile_judge._JUDGES, "book", act)
    return taken("book", b"", folder / "file", 0, None)


def test_a_traceback_is_told_with_its_place(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    def raises(*_: object) -> None:
        raise ZeroDivisionError("planted")

    told = judged(monkeypatch, tmp_path, raises)

    assert str(told["fault"]).startswith("ZeroDivisionError: planted at test_hostile.py:")


def test_time_and_memory_are_those_of_the_file(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    def works(*_: object) -> None:
        made = bytearray(b"x") * (64 << 20)
        started = time.process_time()
        while time.process_time() - started < 0.05:
            made[0] ^= 1

    told = judged(monkeypatch, tmp_path, works)

    assert float(str(told["seconds"])) >= 0.05
    assert int(str(told["grown_kb"])) >= 60 << 10


def test_what_is_touched_outside_of_the_folder_is_told(tmp_path: Path) -> None:
    inside, outside = tmp_path / "in", tmp_path / "out"
    inside.mkdir()
    watch = Watch(inside)
    watch.is_on = True
    (inside / "a").write_bytes(b"")
    outside.write_bytes(b"")
    outside.unlink()
    watch.is_on = False

    assert [each.partition(" ")[0] for each in watch.touched] == ["open", "os.remove"]
    assert all(str(outside) in each for each in watch.touched)


def test_a_process_that_dies_is_a_failure_and_another_goes_on(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    class Dying:
        """Dies of the second file that it is given."""

        made = 0

        def __init__(self) -> None:
            Dying.made += 1
            self.scratch, self.taken = tmp_path, 0
            (tmp_path / "current").write_bytes(b"x")

        def take(self, asked: str) -> dict[str, object] | None:
            self.taken += 1
            if self.taken == 2:
                return None
            about = {"kind": "book", "how": "cut", "size": 1, "fault": "", "touched": []}
            return {**about, "seconds": 2.5 if asked == "1 0" else 0.1, "grown_kb": 0}

        def last_words(self) -> str:
            return "process ended with -6: planted"

        def end(self) -> None:
            pass

    monkeypatch.setattr(hostile, "Worker", Dying)
    monkeypatch.setattr(hostile, "CORPUS", tmp_path / "none")
    monkeypatch.setattr(hostile, "kept_folder", lambda: tmp_path / "kept")
    task = Task(rounds=4, seed=1, until=time.monotonic() + 60, say=print)
    report: Report = hostile.run(task)

    assert report.rounds == 4
    assert Dying.made == 3
    assert [line.partition(":")[0].split(" book")[0] for line in report.failed] == [
        "1 0", "1 1", "1 3",
    ]  # fmt: skip
    assert report.facts["hangs"] == 1
    assert report.facts["died"] == 2
    assert (tmp_path / "kept").is_dir()
