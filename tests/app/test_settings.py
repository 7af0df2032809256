"""Settings survive what lies in their file."""

from pathlib import Path

import pytest

from app.paths import data_folder as folder_for
from app.settings import FILE_NAME, Settings, read_settings, write_settings


def test_what_was_written_is_read_again(data_folder: Path) -> None:
    chosen = Settings(
        look="dark",
        contrast="strong",
        language="de",
        text_percent=130,
        recent=("/a", "/b"),
        solve_seconds=40,
    )
    write_settings(data_folder, chosen)

    assert read_settings(data_folder) == chosen


@pytest.mark.parametrize(
    "text",
    [
        "",
        "{",
        "[]",
        "null",
        '{"look": "pink"}',
        '{"look": 5}',
        '{"contrast": "loud"}',
        '{"solve_seconds": 0}',
        '{"x": 1}',
        '{"who": "\\ud800"}',
        '{"text_percent": 1e999}',
        "[" * 100_000,
    ],
)
def test_a_broken_setting_means_its_default(data_folder: Path, text: str) -> None:
    (data_folder / FILE_NAME).write_text(text, encoding="utf-8")

    assert read_settings(data_folder) == Settings()


def test_a_good_setting_beside_a_broken_one_is_kept(data_folder: Path) -> None:
    (data_folder / FILE_NAME).write_text('{"look": "dark", "text_percent": 7}', encoding="utf-8")

    assert read_settings(data_folder) == Settings(look="dark")


def test_without_a_file_all_are_defaults(data_folder: Path) -> None:
    assert read_settings(data_folder) == Settings()


def test_the_folder_is_the_one_asked_for_else_the_persons_own(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert folder_for(tmp_path / "mine") == tmp_path / "mine"
    assert (tmp_path / "mine").is_dir()
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "xdg"))
    assert folder_for() == tmp_path / "xdg" / "countback"
