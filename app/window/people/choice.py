"""What is chosen in the foreman's view. No Qt."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """A row, and maybe a bar in it on one of the days on show.

    is_whole: all that is left on its segment is spoken of. picked: those it is to be given to.
    """

    line: str = ""
    bar: str = ""
    number: int = 0
    is_whole: bool = False
    picked: tuple[str, ...] = ()
