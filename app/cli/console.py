"""What is written where: answers on stdout, progress and troubles on stderr, plain or coloured."""

import os
import sys
from typing import TextIO

_LEAST_WIDTH = 80
_MOST_WIDTH = 120
_USUAL_WIDTH = 100
_STRONG = "\x1b[1m"
_ALARM = "\x1b[1;31m"
_PLAIN = "\x1b[0m"
_CLEAR_LINE = "\r\x1b[K"


class Console:
    """The two streams of one command."""

    def __init__(self, out: TextIO | None = None, err: TextIO | None = None) -> None:
        self.out = out or sys.stdout
        self.err = err or sys.stderr
        self.has_colour = self.out.isatty() and "NO_COLOR" not in os.environ
        self.is_live = self.err.isatty()
        self.width = self._width()
        self._has_passing = False

    def _width(self) -> int:
        if not self.out.isatty():
            return _USUAL_WIDTH
        import shutil

        columns = shutil.get_terminal_size((_USUAL_WIDTH, 24)).columns
        return max(_LEAST_WIDTH, min(_MOST_WIDTH, columns - 1))

    def say(self, text: str = "") -> None:
        """Write an answer."""
        self.out.write(text + "\n")

    def tell(self, text: str) -> None:
        """Write something that is no answer: a trouble, or progress that stays."""
        self.pass_by("")
        self.err.write(text + "\n")
        self.err.flush()

    def pass_by(self, text: str) -> None:
        """Show progress that the next line of it takes the place of; on a terminal only."""
        if self.is_live and (text or self._has_passing):
            self.err.write(_CLEAR_LINE + text[: self.width])
            self.err.flush()
            self._has_passing = bool(text)

    def wrapped(self, text: str, indent: str = "", first: str | None = None) -> None:
        """Write a text over as many lines as it needs."""
        import textwrap

        head = indent if first is None else first
        lines = textwrap.wrap(
            text, self.width, initial_indent=head, subsequent_indent=indent, break_long_words=False
        )
        self.say("\n".join(lines))

    def strong(self, text: str) -> str:
        """Give a text that stands out, where there is colour."""
        return f"{_STRONG}{text}{_PLAIN}" if self.has_colour else text

    def alarm(self, text: str) -> str:
        """Give a text in the alarm colour, where there is colour."""
        return f"{_ALARM}{text}{_PLAIN}" if self.has_colour else text
