import os
import stat
import tarfile
from pathlib import Path
from zipfile import ZipFile

from installer.archive import digest, write_tar, write_zip
from installer.laid import told_in_binaries, told_in_text

WHEN = 1_790_000_000


def a_folder(parent: Path, *, seconds: int) -> Path:
    folder = parent / "countback-0"
    (folder / "lib").mkdir(parents=True)
    for name in ("zeta", "alpha", "lib/one") if seconds % 2 else ("lib/one", "alpha", "zeta"):
        (folder / name).write_text(name)
        os.utime(folder / name, (seconds, seconds))
    (folder / "alpha").chmod(0o775 if seconds % 2 else 0o711)
    (folder / "link").symlink_to("lib/one")
    return folder


def test_the_same_files_give_the_same_archive_whenever_they_were_written(tmp_path: Path) -> None:
    for write, ending in ((write_tar, "tar.gz"), (write_zip, "zip")):
        sums = set()
        for seconds in (1_000_000_000, 1_000_000_001):
            folder = a_folder(tmp_path / f"{ending}{seconds}", seconds=seconds)
            target = tmp_path / f"{seconds}.{ending}"
            write(folder, target, WHEN)
            sums.add(digest(target))
        assert len(sums) == 1


def test_a_tar_keeps_links_and_what_may_run_and_tells_of_nobody(tmp_path: Path) -> None:
    folder = a_folder(tmp_path, seconds=1)
    write_tar(folder, tmp_path / "a.tar.gz", WHEN)
    with tarfile.open(tmp_path / "a.tar.gz") as tar:
        found = {each.name: each for each in tar}

    assert list(found) == [
        "countback-0",
        *(f"countback-0/{name}" for name in ("alpha", "lib", "lib/one", "link", "zeta")),
    ]
    assert found["countback-0/alpha"].mode == 0o755
    assert found["countback-0/zeta"].mode == 0o644
    assert found["countback-0/link"].linkname == "lib/one"
    assert {(each.uid, each.uname, each.mtime) for each in found.values()} == {(0, "", WHEN)}


def test_a_zip_keeps_them_too(tmp_path: Path) -> None:
    folder = a_folder(tmp_path, seconds=1)
    write_zip(folder, tmp_path / "a.zip", WHEN)
    with ZipFile(tmp_path / "a.zip") as archive:
        modes = {each.filename: each.external_attr >> 16 for each in archive.infolist()}
        link = archive.read("countback-0/link")

    assert stat.S_ISLNK(modes["countback-0/link"])
    assert link == b"lib/one"
    assert modes["countback-0/alpha"] & 0o111
    assert not modes["countback-0/zeta"] & 0o111


def test_files_that_tell_of_a_place_are_named(tmp_path: Path) -> None:
    place = "/somewhere/of/mine"
    (tmp_path / "text").write_text(f"see {place}/x")
    (tmp_path / "binary").write_bytes(b"\0" + place.encode() + b"\0")
    (tmp_path / "other").write_text(f"{place}-like and {place}2 and a{place}")

    assert told_in_text(tmp_path, [place]) == ["text"]
    assert told_in_binaries(tmp_path, [place]) == ["binary"]
