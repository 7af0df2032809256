import plistlib
import shutil
import subprocess
import sys
from importlib.metadata import packages_distributions
from pathlib import Path

import pytest

from installer import shipped
from installer.distributions import plain, shipped_distributions
from tests.house.tree import ROOT, ours, python_files

WITHOUT = """
import sys

class Refused:
    def find_spec(self, name, path=None, target=None):
        if name in {names!r}:
            raise ModuleNotFoundError(name)

sys.meta_path.insert(0, Refused())
from app.cli.run import main
sys.exit(main(["plan", "sample_jobs/small.countback", "--seconds", "1"]))
"""


def test_all_our_modules_and_files_are_shipped_and_no_tests() -> None:
    modules = set(shipped.hidden_modules())
    for path in python_files(*shipped.ROOMS):
        name = ".".join(path.with_suffix("").parts).removesuffix(".__init__")
        assert name in modules or name in shipped.UNASKED
    carried = {path for path, _ in shipped.data_files()}
    wanted = {
        str(ROOT / path)
        for path in ours()
        if path.parts[0] in shipped.ROOMS and path.suffix != ".py"
    }

    assert wanted == carried
    assert "tzdata" in modules
    assert not [name for name in modules if name.partition(".")[0] in {"tests", "installer"}]


def test_each_file_goes_where_the_program_looks_for_it() -> None:
    places = dict(shipped.data_files())

    assert places[str(ROOT / "sample_jobs/small.countback")] == "sample_jobs"
    german = ROOT / "app/resources/locale/de/LC_MESSAGES/countback.mo"
    assert places[str(german)] == "app/resources/locale/de/LC_MESSAGES"


def test_what_is_needed_is_not_excluded_and_tools_are() -> None:
    excluded = set(shipped.excluded_modules())
    needed = {plain(each.name) for each in shipped_distributions()}
    for module, owners in packages_distributions().items():
        if needed & {plain(owner) for owner in owners}:
            assert module not in excluded

    assert {"pytest", "hypothesis", "mypy", "setuptools", "tkinter"} <= excluded


def test_a_plan_is_made_without_the_modules_that_stay_out() -> None:
    code = WITHOUT.format(names=shipped.UNASKED)
    asked = [sys.executable, "-c", code]
    done = subprocess.run(asked, cwd=ROOT, capture_output=True, text=True, check=False)

    assert done.returncode == 0, done.stderr


@pytest.mark.parametrize(
    ("target", "is_wanted"),
    [
        ("PySide6/Qt/plugins/platforms/libqxcb.so", True),
        ("PySide6/Qt/plugins/platforms/libqoffscreen.so", True),
        ("PySide6/Qt/plugins/platforms/libqwayland.so", True),
        ("PySide6/plugins/platforms/qwindows.dll", True),
        ("PySide6/Qt/plugins/platforms/libqcocoa.dylib", True),
        ("PySide6/Qt/plugins/printsupport/libcupsprintersupport.so", True),
        ("PySide6/Qt/plugins/iconengines/libqsvgicon.so", True),
        ("PySide6/Qt/plugins/platforms/libqvnc.so", False),
        ("PySide6/Qt/plugins/sqldrivers/libqsqlite.so", False),
        ("PySide6/Qt/plugins/tls/libqopensslbackend.so", False),
        ("PySide6/Qt/translations/qtbase_de.qm", True),
        ("PySide6/Qt/translations/qtbase_fr.qm", False),
        ("numpy-2.4.6.dist-info/METADATA", True),
        ("pytest-9.2.0.dist-info/METADATA", False),
        ("app/resources/countback.svg", True),
        ("libstdc++.so.6", False),
        ("libGL.so.1", False),
        ("libcups.so.2", False),
        ("libxcb.so.1", False),
        ("libxcb-cursor.so.0", True),
        ("libcrypt.so.1", True),
    ],
)
def test_what_of_the_libraries_is_wanted(target: str, is_wanted: bool) -> None:
    assert shipped.is_wanted(target) is is_wanted


def test_a_library_that_nothing_kept_needs_stays_out() -> None:
    asks = {
        "/a.so": ["libneeded.so.1", "libc.so.6"],
        "/xcb": ["libxcb-cursor.so.0"],
        "/vnc": ["libonly-vnc.so.1"],
        "/needed": ["libdeeper.so.1"],
    }
    rows = [
        ("a.cpython-311-x86_64-linux-gnu.so", "/a.so", "EXTENSION"),
        ("PySide6/Qt/plugins/platforms/libqxcb.so", "/xcb", "BINARY"),
        ("PySide6/Qt/plugins/platforms/libqvnc.so", "/vnc", "BINARY"),
        ("libneeded.so.1", "/needed", "BINARY"),
        ("lib/libdeeper.so.1", "/deeper", "BINARY"),
        ("libdeeper.so.1", "lib/libdeeper.so.1", "SYMLINK"),
        ("libxcb-cursor.so.0", "/cursor", "BINARY"),
        ("libonly-vnc.so.1", "/only", "BINARY"),
        ("libpython3.11.so.1.0", "/python", "BINARY"),
        ("build/hot-1/aims.so", "/hot", "BINARY"),
    ]

    kept = shipped.needed(rows, lambda path: asks.get(path, []))

    assert rows == [row for row in rows if row in kept or "vnc" in row[0]]
    assert not [row for row in kept if "vnc" in row[0]]


@pytest.mark.skipif(shutil.which("objdump") is None, reason="objdump of binutils is not here")
def test_the_libraries_that_a_real_file_asks_for_are_found() -> None:
    import shiboken6

    folder = Path(shiboken6.__file__).parent
    module = next(folder.glob("Shiboken.*.so"))

    assert any(name.startswith("libshiboken6") for name in shipped.imports_of(str(module)))


def test_a_mac_is_told_of_books() -> None:
    told = plistlib.loads(plistlib.dumps(shipped.property_list("1.2.3")))
    (declared,) = told["UTExportedTypeDeclarations"]
    (document,) = told["CFBundleDocumentTypes"]

    assert document["LSItemContentTypes"] == [declared["UTTypeIdentifier"]]
    assert declared["UTTypeTagSpecification"]["public.filename-extension"] == ["countback"]
    assert told["CFBundleShortVersionString"] == "1.2.3"
