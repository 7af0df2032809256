"""The window: views, what is shown in them, and how it is drawn."""

from datetime import datetime
from pathlib import Path


def run(path: Path | None, now: datetime | None, data: Path | None = None) -> int:
    """Open the window on a book and stay until it is closed; give the exit code.

    data: another folder for settings and recovery copies.
    """
    from app.window.startup import run as run_window

    return run_window(path, now, data)
