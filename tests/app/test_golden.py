"""What former programs left in the data folder is taken; what a later one wrote is left alone."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from app.recovery import ABOUT, ENDING, left_behind
from app.settings import FILE_NAME, Settings, read_settings, write_settings
from shared.book import FORMAT
from shared.files.lock import host_name, lock_path
from shared.files.read import read_book
from tests.app.cli.shell import countback

GOLDEN = Path(__file__).parents[1] / "golden"
FORMS = sorted(path.name for path in GOLDEN.glob("settings.*.json"))
WANTED = {
    "settings.1.json": Settings(look="dark", text_percent=115, solve_seconds=20),
    "settings.2.json": Settings(look="dark", language="de", text_percent=115, solve_seconds=20),
    "settings.3.json": Settings(
        look="dark", contrast="strong", language="de", text_percent=115, solve_seconds=20
    ),
    "settings.4.json": Settings(
        look="dark",
        contrast="strong",
        language="de",
        text_percent=115,
        solve_seconds=20,
        who="Edda",
    ),
}
RECENT = ("/books/snail.countback", "/books/owl.countback")


@pytest.mark.parametrize("name", FORMS)
def test_settings_of_every_form_are_taken(name: str, data_folder: Path) -> None:
    data = (GOLDEN / name).read_bytes()
    (data_folder / FILE_NAME).write_bytes(data)
    found = read_settings(data_folder)
    assert found.recent == RECENT
    wanted = WANTED[name]
    assert {**vars_of(found), "recent": ()} == vars_of(wanted)


def test_the_last_form_has_every_setting(data_folder: Path) -> None:
    assert set(json.loads((GOLDEN / FORMS[-1]).read_bytes())) == set(vars_of(Settings()))
    assert set(FORMS) == set(WANTED)
    write_settings(data_folder, read_settings(GOLDEN))
    assert set(json.loads((data_folder / FILE_NAME).read_bytes())) == set(vars_of(Settings()))


def vars_of(settings: Settings) -> dict[str, object]:
    return {name: getattr(settings, name) for name in Settings.__dataclass_fields__}


def test_settings_of_a_later_program_lose_only_what_is_not_known(data_folder: Path) -> None:
    later = {"look": "dark", "contrast": "blinding", "sounds": ["bell"], "solve_seconds": 30}
    (data_folder / FILE_NAME).write_text(json.dumps(later), encoding="utf-8")
    assert read_settings(data_folder) == Settings(look="dark", solve_seconds=30)


@pytest.mark.parametrize("name", ["small", "told"])
def test_a_copy_that_a_former_program_left_is_offered(tmp_path: Path, name: str) -> None:
    with subprocess.Popen([sys.executable, "-c", ""]) as gone:
        gone.wait()
    data = (GOLDEN / f"{name}.format1{ENDING}").read_bytes()
    about = json.loads((GOLDEN / "recovered.json").read_bytes())
    about |= {"host": host_name(), "pid": gone.pid}
    (tmp_path / f"0123456789abcdef{ABOUT}").write_text(json.dumps(about), encoding="utf-8")
    (tmp_path / f"0123456789abcdef{ENDING}").write_bytes(data)

    (found,) = left_behind(tmp_path)
    assert found.book == read_book(data).book
    assert (found.of, found.base) == (Path("/books/owl.countback"), "0" * 64)


STEP = "owl.head.carve"


@pytest.mark.parametrize(
    "asked",
    [
        ["findings"],
        ["plan"],
        ["orders"],
        ["morning"],
        ["learn"],
        ["why", "", "owl"],
        ["done", "", STEP],
        ["late", "", STEP, "3"],
        ["held", "", STEP, "--because", "client"],
        ["give", "", "tables", "out"],
    ],
    ids=lambda asked: asked[0],
)
def test_a_book_of_a_later_program_is_refused_in_words_and_left_alone(
    tmp_path: Path, asked: list[str]
) -> None:
    path = tmp_path / "later.countback"
    data = (GOLDEN / "small.format1.countback").read_bytes()
    data = data.replace(b'"format": %d' % FORMAT, b'"format": %d' % (FORMAT + 1), 1)
    path.write_bytes(data)
    verb, *more = asked
    said = countback(verb, path, *more[1:])

    assert said.code == 2
    words = " ".join((said.out + said.err).split())
    assert f"The file is of format {FORMAT + 1}" in words, words
    assert "newer version of Countback" in words
    assert path.read_bytes() == data
    assert not lock_path(path).exists()
    assert [each.name for each in tmp_path.iterdir()] == ["later.countback"]


def test_a_plan_of_a_later_program_is_refused_in_words_and_left_alone(tmp_path: Path) -> None:
    book, path = tmp_path / "small.countback", tmp_path / "later.plan"
    book.write_bytes((GOLDEN / "small.format1.countback").read_bytes())
    data = (GOLDEN / "every_field.format1.plan").read_bytes()
    data = data.replace(b'"format": %d' % FORMAT, b'"format": %d' % (FORMAT + 1), 1)
    path.write_bytes(data)
    for verb in ("check", "tell"):
        said = countback(verb, book, path)
        assert said.code == 2
        assert f"The file is of format {FORMAT + 1}" in said.out + said.err
        assert path.read_bytes() == data
