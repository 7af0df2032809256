"""`countback engine`: the engine's child."""

from app.cli.arguments import Asked
from app.cli.console import Console


def run(asked: Asked, console: Console) -> int:
    from app.engine_child import main

    return main()
