"""`countback open`: the window."""

from importlib.util import find_spec
from pathlib import Path

from app.cli.arguments import Asked, Usage
from app.cli.console import Console
from app.cli.moments import instant_typed


def run(asked: Asked, console: Console) -> int:
    if find_spec("PySide6") is None:
        raise Usage("no_window_here", package="PySide6")
    now = instant_typed(asked.now, "UTC") if asked.now else None
    from app.window import run as run_window

    code: int = run_window(Path(asked.words[0]) if asked.words else None, now)
    return code
