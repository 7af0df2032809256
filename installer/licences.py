"""The list of everything shipped that others made, with the texts of its licences."""

import json
import sysconfig
import tomllib
from collections.abc import Iterable
from dataclasses import dataclass
from fnmatch import fnmatchcase
from importlib.metadata import Distribution, distribution
from pathlib import Path, PurePath
from platform import python_version

from installer.distributions import shipped_distributions

TEXTS = Path(__file__).with_name("texts")
BUILD_TOOLS = ("pyinstaller", "mypy")
"""Parts of them are in the program: the loader, and the run-time code of what mypyc compiles."""
_NAMES = ("licen", "copying", "notice", "authors")
_RULE = "=" * 100
_HEAD = """\
What Countback {version} is made of

Countback itself is under the MIT licence, see LICENSE. With it come the works of others that are
listed here, each under its own licence; the texts follow the list.

Qt, PySide and Shiboken are used under the GNU Lesser General Public License, version 3. They are
libraries of their own in this folder (PySide6, shiboken6), unchanged. You may replace them by your
own builds of the same version, and take the program apart to mend what then doesn't work. Their
sources are those of the version that PySide6_Essentials has below, at
https://download.qt.io/official_releases/ (qt and QtForPython). What Qt holds of others (among them
FreeType, HarfBuzz, PCRE2, libpng, libjpeg-turbo, libtiff, libwebp, zlib, md4c, double-conversion
and the Unicode data) is listed with its texts at https://doc.qt.io/qt-6/licenses-used-in-qt.html.
"""


class NoLicence(Exception):  # noqa: N818 - it says what happened
    """Something would be shipped of which no licence is known."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """One work of others: its name with the version, its licence and the texts of it."""

    name: str
    licence: str
    texts: tuple[str, ...]


def texts_of(found: Distribution) -> tuple[str, ...]:
    """Give the licence texts that came with a distribution, the plainest path first."""
    paths = [
        path
        for path in found.files or ()
        if ".dist-info" in path.as_posix()
        and any(word in path.name.lower() for word in _NAMES)
        and path.suffix not in {".py", ".pyc"}
    ]
    paths.sort(key=lambda path: (len(path.parts), path.as_posix()))
    texts = [Path(str(found.locate_file(path))).read_text(encoding="utf-8") for path in paths]
    return tuple(dict.fromkeys(text.strip() for text in [*texts, *_compiled_into(found)]))


def _compiled_into(found: Distribution) -> list[str]:
    """Name what was compiled into a distribution, where it brings a CycloneDX list of that."""
    texts = []
    for path in found.files or ():
        if path.name.endswith(".cyclonedx.json"):
            told = json.loads(Path(str(found.locate_file(path))).read_text(encoding="utf-8"))
            lines = [f"Compiled into {found.name}, as its authors list it:"]
            for each in told["components"]:
                licences = [
                    it.get("expression") or it["license"].get("id") or it["license"].get("name")
                    for it in each.get("licenses", [])
                ]
                author = each.get("author", "its authors")
                line = f"{each['name']} {each['version']}, by {author}: {', '.join(licences)}"
                lines.append(line)
            texts.append("\n".join(lines))
    return texts


def work_of(found: Distribution) -> Work:
    """Give a distribution as a work.

    Raises
    ------
    NoLicence
        If no text came with it, nor is one known.
    """
    told = found.metadata
    fields = ("License-Expression", "License")
    said = next((told[field] for field in fields if field in told), "Dual License")
    licence = said.strip().partition("\n")[0]
    licence = _of_classifiers(found) if licence == "Dual License" else licence
    texts = texts_of(found) or _texts_of_bundled(found.name)
    if not texts or not licence:
        raise NoLicence(f"{found.name} {found.version} came without a licence text")
    return Work(name=f"{found.name} {found.version}", licence=licence, texts=texts)


def _of_classifiers(found: Distribution) -> str:
    said = found.metadata.get_all("Classifier") or []
    names = [each.rpartition(" :: ")[2] for each in said if each.startswith("License ::")]
    return ", ".join(names) or ("see its text" if texts_of(found) else "")


def _texts_of_bundled(name: str) -> tuple[str, ...]:
    """Give the texts of PySide's and Shiboken's wheels, which bring none."""
    stem = name.lower().partition("_")[0]
    return next((_texts(each["text"]) for each in _bundled() if f"lib{stem}*" in each["files"]), ())


def _bundled() -> list[dict[str, list[str]]]:
    table = tomllib.loads((TEXTS / "bundled.toml").read_text(encoding="utf-8"))
    rows: list[dict[str, list[str]]] = table["library"]
    return rows


def _texts(names: Iterable[str]) -> tuple[str, ...]:
    found: list[str] = []
    for name in names:
        if name == "python":
            found.append(_text_of_python())
        elif name.startswith("of "):
            found += texts_of(distribution(name.removeprefix("of ")))
        else:
            found.append((TEXTS / name).read_text(encoding="utf-8").strip())
    return tuple(found)


def _text_of_python() -> str:
    """Give the licence that this Python came with."""
    folders = [sysconfig.get_path("stdlib"), sysconfig.get_config_var("prefix")]
    places = [Path(folder) / "LICENSE.txt" for folder in folders]
    for place in places:
        if place.is_file():
            return place.read_text(encoding="utf-8").strip()
    raise NoLicence(f"this Python has no LICENSE.txt in any of {places}")


def is_library(path: PurePath) -> bool:
    """Say whether a shipped file is a shared library and no module of Python's."""
    name = path.name.lower()
    if ".cpython-" in name or ".abi3" in name or ".pyd" in name:
        return False
    return name.endswith((".so", ".dll", ".dylib")) or ".so." in name or name == "python"


def works_of_libraries(files: Iterable[PurePath]) -> list[Work]:
    """Give the libraries among the shipped files as works, and those compiled into others.

    Raises
    ------
    NoLicence
        If one is of nobody known.
    """
    names = {path.name.lower() for path in files if is_library(path)}
    found = []
    for each in _bundled():
        mine = {name for name in names if any(fnmatchcase(name, it) for it in each["files"])}
        names -= mine
        if mine or not each["files"]:
            title = str(each["name"])
            title += f" {python_version()}" if title == "Python" else ""
            work = Work(name=title, licence=str(each["licence"]), texts=_texts(each["text"]))
            found.append(work)
    if names:
        raise NoLicence(f"add to installer/texts/bundled.toml whose these are: {sorted(names)}")
    return found


def works_of_fonts(folder: Path) -> list[Work]:
    """Give the fonts in a folder as works, by the texts beside them."""
    return [
        Work(
            name=f"the font {path.name.removesuffix('-OFL.txt')}",
            licence="OFL-1.1",
            texts=(path.read_text(encoding="utf-8").strip(),),
        )
        for path in sorted(folder.glob("*-OFL.txt"))
    ]


def all_works(
    files: Iterable[PurePath], fonts: Path, tools: Iterable[str] = BUILD_TOOLS
) -> list[Work]:
    """Give all works of others that are shipped.

    files: what is in the folder. tools: those whose parts are in it too.

    Raises
    ------
    NoLicence
        If one is of nobody known, or its licence is not.
    """
    others = [each for each in shipped_distributions() if each.name != "countback"]
    others += [distribution(name) for name in tools]
    return [
        *(work_of(each) for each in others),
        *works_of_libraries(files),
        *works_of_fonts(fonts),
    ]


def licence_list(works: Iterable[Work], version: str) -> str:
    """Write the list; a text that several works share stands there once."""
    lines = [_HEAD.format(version=version)]
    numbers: dict[str, int] = {}
    for work in sorted(works, key=lambda work: work.name.lower()):
        told = [numbers.setdefault(text, len(numbers) + 1) for text in work.texts]
        texts = ", ".join(map(str, told))
        lines.append(f"{work.name}\n    {work.licence}\n    text {texts}")
    for text, number in numbers.items():
        lines.append(f"{_RULE}\nText {number}\n{_RULE}\n{text}")
    return "\n".join(lines) + "\n"
