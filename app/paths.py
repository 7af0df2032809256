"""Where the program keeps what is its own: settings, recovery copies, logs. No Qt."""

import os
import sys
from pathlib import Path

NAME = "countback"


def data_folder(wanted: Path | None = None) -> Path:
    """Give the folder for settings and recovery copies, made if need be.

    wanted: another folder, as said on the command line or by a test.
    """
    folder = wanted or _usual_folder()
    folder.mkdir(parents=True, exist_ok=True)
    return folder


def rescue_folder(folder: Path) -> Path:
    """Give the folder of recovery copies in a data folder."""
    return folder / "rescued"


def _usual_folder() -> Path:
    if sys.platform == "win32":
        return Path(os.environ.get("APPDATA", Path.home() / "AppData" / "Roaming")) / NAME
    if sys.platform == "darwin":
        return Path.home() / "Library" / "Application Support" / NAME
    return Path(os.environ.get("XDG_DATA_HOME") or Path.home() / ".local" / "share") / NAME
