"""An archive that is the same to the last byte when the same files are packed again."""

import gzip
import hashlib
import stat
import tarfile
from datetime import UTC, datetime
from pathlib import Path
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo


def _below(folder: Path) -> list[Path]:
    return [folder, *sorted(folder.rglob("*"))]


def write_tar(folder: Path, target: Path, when: int) -> None:
    """Pack a folder under its own name as tar.gz.

    when: what all its files are dated, in seconds since 1970.
    """

    def alike(info: tarfile.TarInfo) -> tarfile.TarInfo:
        info.mtime, info.uid, info.gid, info.uname, info.gname = when, 0, 0, "", ""
        info.mode = 0o755 if info.mode & 0o100 or info.isdir() else 0o644
        return info

    with (
        target.open("wb") as out,
        gzip.GzipFile("", "wb", 6, out, when) as packed,
        tarfile.open(fileobj=packed, mode="w", format=tarfile.PAX_FORMAT) as tar,
    ):
        for path in _below(folder):
            name = path.relative_to(folder.parent).as_posix()
            tar.add(path, name, recursive=False, filter=alike)


def write_zip(folder: Path, target: Path, when: int) -> None:
    """Pack a folder under its own name as zip, links as links.

    when: what all its files are dated, in seconds since 1970; not before 1980.
    """
    dated = datetime.fromtimestamp(when, UTC).timetuple()[:6]
    with ZipFile(target, "w", ZIP_DEFLATED) as archive:
        for path in _below(folder):
            name = path.relative_to(folder.parent).as_posix()
            info = ZipInfo(name + "/" * (path.is_dir() and not path.is_symlink()), dated)
            info.compress_type, info.create_system = ZIP_DEFLATED, 3
            if path.is_symlink():
                info.external_attr = (stat.S_IFLNK | 0o777) << 16
                archive.writestr(info, path.readlink().as_posix())
            elif path.is_dir():
                info.external_attr = (stat.S_IFDIR | 0o755) << 16
                archive.writestr(info, b"")
            else:
                runs = path.stat().st_mode & 0o100
                info.external_attr = (stat.S_IFREG | (0o755 if runs else 0o644)) << 16
                archive.writestr(info, path.read_bytes())


def digest(path: Path) -> str:
    """Give a file's SHA-256."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()
