from importlib.metadata import PathDistribution
from pathlib import Path, PurePath
from tomllib import loads

import pytest

from installer.distributions import plain, shipped_distributions
from installer.licences import (
    TEXTS,
    NoLicence,
    all_works,
    is_library,
    licence_list,
    work_of,
    works_of_libraries,
)
from tests.house.tree import ROOT

FONTS = ROOT / "app/resources/fonts"
DEBIAN = Path("/usr/share/common-licenses")


def test_what_is_asked_for_is_shipped_with_all_that_asks_for_and_no_tool_of_ours() -> None:
    project = loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    shipped = {plain(each.name) for each in shipped_distributions()}
    asked = {plain(pin.partition("==")[0]) for pin in project["dependencies"]}
    tools = {plain(pin.partition("==")[0]) for pin in project["optional-dependencies"]["test"]}

    assert asked < shipped
    assert {"shiboken6", "six", "absl-py", "protobuf"} <= shipped
    assert not tools & shipped


def test_every_shipped_distribution_and_font_is_in_the_list_with_a_text() -> None:
    works = all_works([], FONTS, tools=["mypy"])
    told = licence_list(works, "1.2.3")

    for each in shipped_distributions():
        if each.name != "countback":
            assert f"\n{each.name} {each.version}\n" in told
    for path in FONTS.glob("*.ttf"):
        assert f"\nthe font {path.name.partition('-')[0]}\n" in told
    for work in works:
        assert work.licence
        assert max(map(len, work.texts)) > 400, work.name
        assert all(text in told for text in work.texts)


def test_every_library_that_the_wheels_bring_is_known() -> None:
    """OR-Tools and numpy bring theirs in folders of their own; PySide its Qt."""
    brought = [
        PurePath(path)
        for each in shipped_distributions()
        for path in each.files or ()
        if "libs/" in path.as_posix() or "/Qt/lib/" in path.as_posix()
    ]
    libraries = [path for path in brought if is_library(path)]
    names = {work.name for work in works_of_libraries(libraries)}

    assert {"OR-Tools", "SCIP 10", "HiGHS", "Qt 6", "ICU 73", "Abseil"} <= names


def test_what_is_of_nobody_known_is_not_shipped() -> None:
    with pytest.raises(NoLicence, match=r"libnobody\.so\.1"):
        works_of_libraries([PurePath("a/libnobody.so.1"), PurePath("a/libz.so.1")])


def test_modules_of_python_are_no_libraries_of_others() -> None:
    assert not is_library(PurePath("_x.cpython-311-x86_64-linux-gnu.so"))
    assert not is_library(PurePath("QtGui.abi3.so"))
    assert is_library(PurePath("libQt6Gui.so.6"))
    assert is_library(PurePath("Qt6Gui.dll"))


def test_a_distribution_without_a_text_is_refused(tmp_path: Path) -> None:
    folder = tmp_path / "bare-1.0.dist-info"
    folder.mkdir()
    (folder / "METADATA").write_text("Metadata-Version: 2.1\nName: bare\nVersion: 1.0\n")
    (folder / "RECORD").write_text("bare-1.0.dist-info/METADATA,,\n")
    with pytest.raises(NoLicence, match=r"bare 1\.0"):
        work_of(PathDistribution(folder))

    (folder / "LICENSE").write_text("Do what you will.")
    (folder / "RECORD").write_text("bare-1.0.dist-info/LICENSE,,\n")
    assert work_of(PathDistribution(folder)).texts == ("Do what you will.",)


@pytest.mark.parametrize("name", ["LGPL-3.0", "GPL-3.0", "MPL-2.0"])
@pytest.mark.skipif(not DEBIAN.is_dir(), reason="only Debian keeps the texts there")
def test_texts_of_the_gnu_and_mozilla_licences_are_those_that_debian_keeps(name: str) -> None:
    same = (DEBIAN / name.replace("GPL-3.0", "GPL-3")).read_text(encoding="utf-8")

    assert (TEXTS / f"{name}.txt").read_text(encoding="utf-8") == same


def test_every_text_in_the_table_is_there_and_no_other() -> None:
    table = loads((TEXTS / "bundled.toml").read_text(encoding="utf-8"))["library"]
    named = {name for each in table for name in each["text"] if name.endswith(".txt")}

    assert named == {path.name for path in TEXTS.glob("*.txt")}
