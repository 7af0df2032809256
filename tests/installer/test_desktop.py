"""What a Linux desktop reads, held against specifications of freedesktop.org, named beside it."""

import re
import shutil
import subprocess
from configparser import ConfigParser
from pathlib import Path
from xml.etree import ElementTree

import pytest

from app import VERSION
from installer.laid import lay_for_desktop
from installer.shipped import APPLICATION_ID, MIME_TYPE

MIME = "{http://www.freedesktop.org/standards/shared-mime-info}"
LANG = "{http://www.w3.org/XML/1998/namespace}lang"
# Desktop Entry Specification 1.5, "Recognized desktop entry keys": those of an application.
KEYS = {
    *("Type", "Version", "Name", "GenericName", "NoDisplay", "Comment", "Icon", "Hidden"),
    *("OnlyShowIn", "NotShowIn", "DBusActivatable", "TryExec", "Exec", "Path", "Terminal"),
    *("Actions", "MimeType", "Categories", "Implements", "Keywords", "StartupNotify"),
    *("StartupWMClass", "PrefersNonDefaultGPU", "SingleMainWindow"),
}
TRANSLATED = {"Name", "GenericName", "Comment", "Keywords"}
LISTS = {"MimeType", "Categories", "Keywords"}
# Desktop Menu Specification 1.1, "Registered Categories".
CATEGORIES = {"Office", "ProjectManagement"}


@pytest.fixture
def share(tmp_path: Path) -> Path:
    lay_for_desktop(tmp_path, "2026-11-01")
    return tmp_path


def entry(share: Path) -> dict[str, str]:
    parser = ConfigParser(interpolation=None, delimiters=("=",), comment_prefixes=("#",))
    parser.optionxform = str  # type: ignore[assignment,method-assign]
    parser.read_string((share / f"{APPLICATION_ID}.desktop").read_text(encoding="utf-8"))
    assert parser.sections() == ["Desktop Entry"]
    return dict(parser["Desktop Entry"])


def test_the_entry_has_keys_that_the_specification_knows(share: Path) -> None:
    found = entry(share)

    assert {"Type", "Name", "Exec"} <= found.keys()
    assert found["Type"] == "Application"
    assert found["Version"] in {"1.0", "1.1", "1.2", "1.3", "1.4", "1.5"}
    for key, value in found.items():
        name, _, language = key.partition("[")
        assert name in KEYS
        assert not language or (name in TRANSLATED and name in found and language == "de]")
        assert value.endswith(";") == (name in LISTS)
    assert set(found["Categories"].split(";")) - {""} <= CATEGORIES
    assert {found["Terminal"], found["StartupNotify"]} <= {"true", "false"}
    assert found["MimeType"] == f"{MIME_TYPE};"
    assert found["Exec"].split()[1:] == ["open", "%f"]
    assert found["Icon"] == APPLICATION_ID
    assert all(found.get(f"{name}[de]") for name in TRANSLATED - {"Name"})


def test_books_are_a_kind_of_file(share: Path) -> None:
    """Shared MIME-info Database specification 0.21."""
    root = ElementTree.parse(share / f"{APPLICATION_ID}.mime.xml").getroot()
    (kind,) = root

    assert (root.tag, kind.tag) == (f"{MIME}mime-info", f"{MIME}mime-type")
    assert kind.get("type") == MIME_TYPE
    assert [each.get("pattern") for each in kind.iter(f"{MIME}glob")] == ["*.countback"]
    assert [each.get("name") for each in kind.iter(f"{MIME}icon")] == [APPLICATION_ID]
    assert {each.get(LANG) for each in kind.iter(f"{MIME}comment")} == {None, "de"}
    # RFC 6838, 4.2: the names that a type may have.
    assert re.fullmatch(r"[a-z]+/[a-z0-9][a-z0-9!#$&^_.+-]{0,126}", MIME_TYPE)


def test_the_description_agrees_with_the_entry_and_the_program(share: Path) -> None:
    """AppStream 1.0, "Desktop Applications"."""
    root = ElementTree.parse(share / f"{APPLICATION_ID}.metainfo.xml").getroot()

    assert root.get("type") == "desktop-application"
    assert root.findtext("id") == APPLICATION_ID
    assert root.findtext("name") == entry(share)["Name"]
    assert root.findtext("summary") == entry(share)["Comment"]
    assert root.findtext("launchable") == f"{APPLICATION_ID}.desktop"
    assert root.findtext("provides/mediatype") == MIME_TYPE
    assert root.findtext("metadata_license") == "CC0-1.0"
    assert root.findtext("project_license") == "MIT"
    (release,) = root.iter("release")
    assert release.attrib == {"version": VERSION, "date": "2026-11-01"}
    assert not re.search("@[A-Z]+@", ElementTree.tostring(root, "unicode"))


@pytest.mark.parametrize(
    ("command", "ending"),
    [
        (("appstreamcli", "validate", "--no-net"), "metainfo.xml"),
        (("desktop-file-validate",), "desktop"),
    ],
)
def test_the_freedesktop_tools_find_nothing(
    share: Path, command: tuple[str, ...], ending: str
) -> None:
    if shutil.which(command[0]) is None:
        pytest.skip(f"{command[0]} is not here")
    path = share / f"{APPLICATION_ID}.{ending}"
    path.write_text(path.read_text(encoding="utf-8").replace("@PROGRAM@", "countback"))
    path.write_text(path.read_text(encoding="utf-8").replace("@PLACE@", "countback"))
    done = subprocess.run([*command, str(path)], capture_output=True, text=True, check=False)

    assert done.returncode == 0, done.stdout + done.stderr
