"""Builds the archive for this system: python -m installer [--out DIR] [--try].

Run it in the checkout, in an environment with the extra [build]. Linux, Windows and macOS alike;
each builds its own, on the oldest of its kind that is to be served.
"""

import argparse
import os
import shutil
import subprocess
import sys
import tempfile
from collections import Counter
from datetime import UTC, datetime
from pathlib import Path

from installer.archive import digest, write_tar, write_zip
from installer.icons import icns, ico
from installer.laid import SYSTEM, archive_name, lay_beside, told_in_binaries, told_in_text
from installer.shipped import NAME, ROOT

BEFORE_ZIP = 315_532_800
"""1980, where a zip's clock begins."""


def say(words: str) -> None:
    """Say a line of what is done."""
    sys.stdout.write(f"installer: {words}\n")
    sys.stdout.flush()


def built_when() -> int:
    """Give the moment that all files are dated: SOURCE_DATE_EPOCH, or that of the last commit."""
    told = os.environ.get("SOURCE_DATE_EPOCH")
    if told is None:
        command = ["git", "log", "-1", "--format=%ct"]
        done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
        told = done.stdout.strip() or str(BEFORE_ZIP)
    return int(told)


def freeze(work: Path, when: int) -> Path:
    """Let PyInstaller build; give the folder that people get the program in."""
    if SYSTEM != "windows":
        subprocess.run([sys.executable, str(ROOT / ".ci/hot.py")], check=True)
    (work / f"{NAME}.ico").write_bytes(ico())
    (work / f"{NAME}.icns").write_bytes(icns())
    environment = os.environ | {
        "COUNTBACK_ICONS": str(work),
        "PYTHONHASHSEED": "0",
        "PYTHONPATH": str(ROOT),
        "SOURCE_DATE_EPOCH": str(when),
    }
    folders = ["--distpath", str(work / "dist"), "--workpath", str(work / "work")]
    command = [sys.executable, "-m", "PyInstaller", "--noconfirm", "--log-level", "WARN", *folders]
    spec = str(Path(__file__).with_name(f"{NAME}.spec"))
    subprocess.run([*command, spec], cwd=work, env=environment, check=True)
    built = work / "made" / archive_name()
    built.parent.mkdir()
    if SYSTEM == "macos":
        built.mkdir()
        shutil.move(work / "dist/Countback.app", built / "Countback.app")
    else:
        shutil.move(work / "dist" / NAME, built)
    return built


def build(out: Path) -> Path:
    """Build the archive and give its path.

    Raises
    ------
    SystemExit
        If a text in it tells of this machine.
    installer.licences.NoLicence
        If something in it is of nobody known.
    """
    when = built_when()
    with tempfile.TemporaryDirectory(prefix="countback-build-") as name:
        work = Path(name).resolve()
        folder = freeze(work, when)
        lay_beside(folder, datetime.fromtimestamp(when, UTC).date().isoformat())
        places = {str(ROOT), str(work), sys.prefix, sys.base_prefix, str(Path.home())}
        telling = told_in_text(folder, places)
        if telling:
            raise SystemExit(f"these tell of this machine: {telling}")
        holding = Counter(Path(name).parent.as_posix() for name in told_in_binaries(folder, places))
        told = ", ".join(f"{count} in {where}" for where, count in holding.items())
        say(f"binary files that name a place of this machine: {told or 'none'}")
        files = [path for path in folder.rglob("*") if path.is_file() and not path.is_symlink()]
        size = sum(path.stat().st_size for path in files)
        out.mkdir(parents=True, exist_ok=True)
        archive = out / (folder.name + (".tar.gz" if SYSTEM == "linux" else ".zip"))
        (write_tar if SYSTEM == "linux" else write_zip)(folder, archive, when)
    sums = f"{digest(archive)}  {archive.name}\n"
    archive.with_name(f"{archive.name}.sha256").write_text(sums, encoding="ascii")
    packed = archive.stat().st_size
    say(f"{len(files)} files, {size / 1e6:.0f} MB, packed {packed / 1e6:.0f} MB: {archive}")
    return archive


def main() -> int:
    """Do what was asked."""
    parser = argparse.ArgumentParser(prog="python -m installer", description=__doc__)
    parser.add_argument("--out", type=Path, default=ROOT / "dist", help="where the archive goes")
    parser.add_argument("--try", action="store_true", dest="tries", help="unpack and run it too")
    parser.add_argument("--archive", type=Path, help="with --try: this one, built before")
    asked = parser.parse_args()
    archive = asked.archive or build(asked.out)
    if asked.tries:
        from installer.trying import try_archive

        return try_archive(archive, asked.out, say)
    return 0


if __name__ == "__main__":
    sys.exit(main())
