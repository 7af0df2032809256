"""What is in the folder that people get: our own files, and what of the libraries stays out."""

import re
import subprocess
import sys
from collections.abc import Callable, Iterable
from fnmatch import fnmatchcase
from importlib.metadata import packages_distributions
from pathlib import Path, PurePath

from installer.distributions import plain, shipped_distributions

ROOT = Path(__file__).resolve().parents[1]
NAME = "countback"
ROOMS = ("app", "scheduler", "shared", "sample_jobs")
APPLICATION_ID = "internal.countback.countback"
"""Of a domain that is kept for private use: the program has none of its own."""
MIME_TYPE = "application/x-countback+json"

Row = tuple[str, str, str]
"""A file as PyInstaller lists it: where it goes, where it comes from, of what kind it is."""

UNASKED = (
    *("PySide6.QtDBus", "PySide6.QtNetwork", "PySide6.QtOpenGL", "PySide6.QtQml"),
    *("_hashlib", "_sqlite3", "_ssl", "_uuid", "curses", "readline", "sqlite3", "ssl"),
    *("doctest", "ensurepip", "idlelib", "lib2to3", "pdb", "pydoc", "tkinter", "venv"),
    *("numpy.f2py", "numpy.distutils", "pandas.tests", "scheduler.typed_ints"),
)
"""Modules that somebody imports if they are there, and that nothing of ours needs."""

PLUGINS = (
    *("platforms/*qxcb.*", "platforms/*qwayland.*", "platforms/*qoffscreen.*"),
    *("platforms/qwindows.*", "platforms/*qcocoa.*", "styles/*"),
    *("wayland-shell-integration/*xdg-shell.*", "wayland-decoration-client/*bradient.*"),
    *("platformthemes/*qxdgdesktopportal.*", "platforminputcontexts/*compose*"),
    "platforminputcontexts/*ibus*",
    *("iconengines/*qsvgicon.*", "printsupport/*"),
    *(f"imageformats/*q{kind}.*" for kind in ("gif", "ico", "jpeg", "svg", "tiff", "webp")),
)
"""Qt's plug-ins that are kept; any other is left out, and what only it needs."""

TRANSLATIONS = ("qtbase_de.qm", "qtbase_en.qm")

OF_THE_SYSTEM = re.compile(
    r"lib(?:stdc\+\+|gcc_s|c|m|dl|rt|pthread|z"
    r"|glib-2\.0|gthread-2\.0|pcre.*|dbus-1|systemd|cap|lz4|gcrypt|gpg-error"
    r"|fontconfig|freetype|expat|png16|brotli.*|harfbuzz|graphite2"
    r"|X11|X11-xcb|xcb|Xau|Xdmcp|bsd|md|GL.*|EGL|OpenGL|drm|gbm"
    r"|wayland-.*|cups|gssapi.*|gnutls|avahi.*)\.so\..*"
)
"""Libraries of a Linux desktop that must fit its drivers, fonts and session, so that its own are
taken: an older copy of them beside newer ones breaks."""


def module_files() -> dict[str, Path]:
    """Give our modules by their dotted names."""
    return {
        ".".join(path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__"): path
        for room in ROOMS
        for path in sorted((ROOT / room).rglob("*.py"))
    }


def hidden_modules() -> list[str]:
    """Give what no import statement names: our own modules, and the zones' tables."""
    return [*(name for name in module_files() if name not in UNASKED), "tzdata"]


def data_files() -> list[tuple[str, str]]:
    """Give our files that are not Python, each with the folder it goes to."""
    return [
        (str(path), path.parent.relative_to(ROOT).as_posix())
        for room in ROOMS
        for path in sorted((ROOT / room).rglob("*"))
        if path.is_file() and path.suffix not in {".py", ".pyc"}
    ]


def hot_files() -> list[tuple[str, str]]:
    """Give the engine's compiled files with their folder; none where they are not compiled."""
    from scheduler import hot

    folder = hot.folder(ROOT / "scheduler")
    if folder is None:
        return []
    goes_to = folder.relative_to(ROOT).as_posix()
    return [(str(path), goes_to) for path in sorted(folder.iterdir()) if path.is_file()]


def excluded_modules() -> list[str]:
    """Give what stays out: all that is installed here and not needed, and what nobody asks for."""
    wanted = {plain(each.name) for each in shipped_distributions()}
    strangers = {
        module
        for module, owners in packages_distributions().items()
        if not wanted & {plain(owner) for owner in owners}
    }
    return sorted(strangers - set(ROOMS)) + list(UNASKED)


def is_wanted(target: str) -> bool:
    """Say of a file by where it goes whether it is shipped."""
    path = PurePath(target).as_posix()
    if "/plugins/" in path and "PySide6" in path:
        return any(fnmatchcase(path.split("/plugins/")[1], pattern) for pattern in PLUGINS)
    if "/translations/" in path and "PySide6" in path:
        return PurePath(path).name in TRANSLATIONS
    if ".dist-info/" in path:
        return _is_shipped_info(path)
    return not OF_THE_SYSTEM.fullmatch(PurePath(path).name)


def _is_shipped_info(path: str) -> bool:
    owners = {plain(each.name) for each in shipped_distributions()}
    return plain(path.split(".dist-info/")[0].rpartition("-")[0]) in owners


def imports_of(path: str) -> list[str]:
    """Give the names of the libraries that a file asks the system for by itself."""
    if sys.platform != "linux":
        from PyInstaller.depend.bindepend import get_imports

        return [name for name, _ in get_imports(path)]
    told = subprocess.run(["objdump", "-p", path], capture_output=True, text=True, check=True)
    return re.findall(r"^\s+NEEDED\s+(\S+)", told.stdout, re.MULTILINE)


def needed(rows: Iterable[Row], imports: Callable[[str], Iterable[str]] = imports_of) -> list[Row]:
    """Leave out the libraries that nothing else needs.

    imports: gives the names of the libraries that a file asks the system for by itself.
    """
    rows = [row for row in rows if is_wanted(row[0])]
    by_name: dict[str, list[Row]] = {}
    for row in rows:
        by_name.setdefault(PurePath(row[0]).name, []).append(row)
    reached = {PurePath(row[0]).name for row in rows if _is_asked_by_name(row)}
    ahead = list(reached)
    while ahead:
        for row in by_name[ahead.pop()]:
            if row[2] == "SYMLINK":
                continue
            found = {PurePath(name).name for name in imports(row[1])} & by_name.keys()
            ahead += found - reached
            reached |= found
    return [row for row in rows if PurePath(row[0]).name in reached]


def _is_asked_by_name(row: Row) -> bool:
    """Say whether Python or Qt opens it by its own name, not because another file needs it."""
    target, _, kind = row
    name = PurePath(target).name
    return (
        kind == "EXTENSION"
        or "/plugins/" in PurePath(target).as_posix()
        or name.startswith(("libpython", "python3"))
        or not re.search(r"\.(?:so|dll|dylib)\b", name)
        or any(fnmatchcase(target, f"build/*/{end}") for end in ("*.so", "*.pyd"))
    )


def property_list(version: str) -> dict[str, object]:
    """Give what a Mac is told of the program and its kind of file."""
    kind = f"{APPLICATION_ID}.book"
    return {
        "CFBundleName": "Countback",
        "CFBundleIdentifier": APPLICATION_ID,
        "CFBundleShortVersionString": version,
        "NSHighResolutionCapable": True,
        "CFBundleDocumentTypes": [
            {
                "CFBundleTypeName": "Countback book",
                "CFBundleTypeRole": "Editor",
                "LSItemContentTypes": [kind],
                "LSHandlerRank": "Owner",
            }
        ],
        "UTExportedTypeDeclarations": [
            {
                "UTTypeIdentifier": kind,
                "UTTypeDescription": "Countback book",
                "UTTypeConformsTo": ["public.json"],
                "UTTypeTagSpecification": {
                    "public.filename-extension": [NAME],
                    "public.mime-type": [MIME_TYPE],
                },
            }
        ],
    }
