"""Paper from the command line in a process of its own, where there is no display."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from shared.book import Standing
from tests.app import pdf_read
from tests.app.cli.shell import a_file, countback
from tests.app.cli.test_rush import a_rush_book
from tests.app.exchange.scenes import a_book
from tests.house.tree import ROOT

PNG, SVG = b"\x89PNG\r\n\x1a\n", b"<?xml"


def give_elsewhere(
    path: Path, what: str, out: Path, *more: str
) -> subprocess.CompletedProcess[str]:
    bare = {k: v for k, v in os.environ.items() if k not in ("DISPLAY", "QT_QPA_PLATFORM")}
    asked = [sys.executable, "-m", "app", "give", str(path), what, str(out), *more]
    return subprocess.run(asked, cwd=ROOT, env=bare, capture_output=True, text=True, check=False)


def test_without_a_display_every_form_is_written(tmp_path: Path) -> None:
    path = a_file(tmp_path, a_book())
    said = [
        give_elsewhere(path, "board", tmp_path / f"b{suffix}")
        for suffix in (".pdf", ".svg", ".png")
    ]

    assert [(each.returncode, each.stderr) for each in said] == [(0, "")] * 3
    assert pdf_read.sizes((tmp_path / "b.pdf").read_bytes())[0] == (1191, 842)
    assert (tmp_path / "b.svg").read_bytes().startswith(SVG)
    assert (tmp_path / "b.png").read_bytes().startswith(PNG)


@pytest.mark.usefixtures("qapp")
def test_pictures_of_more_pages_lie_beside_the_first(tmp_path: Path) -> None:
    path = a_file(tmp_path, a_book())
    said = countback("give", path, "loads", tmp_path / "l.png", "--json")
    found = sorted(each.name for each in tmp_path.glob("*.png"))

    assert said.code == 0
    assert said.last["count"] == len(found) == len(a_book().jobs)
    assert found == ["l-2.png", "l-3.png", "l.png"]
    assert f"{len(found)} pictures are written, the first of them" in said.out


def test_a_letter_to_whoever_only_asked_is_refused(tmp_path: Path) -> None:
    book = a_rush_book()
    enquiry = next(job for job in book.jobs if job.standing is Standing.ENQUIRY)
    path = a_file(tmp_path, book)
    said = countback("give", path, "letter", tmp_path / "l.pdf", "--for", enquiry.id)

    assert said.code == 2
    assert "is an enquiry: what can be said to its client, countback rush BOOK" in said.err
    assert not (tmp_path / "l.pdf").exists()
