"""Shapes of segments out of a drawing: SVG with one path for each, as path data. No Qt.

Path data as in SVG 2, chapter 9; arcs become curves as in its implementation notes, B.2.4.
"""

import re
from collections.abc import Iterator, Sequence
from math import acos, ceil, cos, hypot, pi, radians, sin, sqrt, tan
from xml.etree import ElementTree

from shared.book import Segment
from shared.ids import SegmentId

MOST_CHARACTERS = 2_000_000
Command = tuple[str, tuple[float, ...]]
"""M, L or C with absolute coordinates, or Z with none."""
Matrix = tuple[float, float, float, float, float, float]
_NONE: Matrix = (1, 0, 0, 1, 0, 0)
_COUNTS = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "A": 7, "Z": 0}
_tokens = re.compile(r"[A-Za-z]|[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?|[^\s,]").findall
_transforms = re.compile(r"(\w+)\s*\(([^)]*)\)").findall
_numbers = re.compile(r"[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?").findall


class NoDrawing(Exception):  # noqa: N818 - it says what it is
    """What was dropped can't be taken as a drawing: a code and facts for the sentence."""

    def __init__(self, code: str, **facts: object) -> None:
        super().__init__(code)
        self.code, self.facts = code, facts


def outlines_of(text: str, segments: Sequence[Segment]) -> dict[SegmentId, str]:
    """Return the path data of each segment that a drawing has, by its id or its name.

    Raises
    ------
    NoDrawing
        If it is no SVG, too large, has no path of a segment, or one that can't be read.
    """
    if len(text) > MOST_CHARACTERS:
        raise NoDrawing("too_large")
    if "<!DOCTYPE" in text and "<!ENTITY" in text:
        raise NoDrawing("not_svg")
    try:
        root = ElementTree.fromstring(text)
    except ElementTree.ParseError:
        raise NoDrawing("not_svg") from None
    if root.tag.rpartition("}")[2] != "svg":
        raise NoDrawing("not_svg")
    named = {_plain(name): each.id for each in segments for name in (each.id, each.name)}
    found: dict[SegmentId, str] = {}
    for identity, data, matrix in _paths(root, _NONE):
        segment = named.get(_plain(identity))
        if segment is not None:
            found[segment] = written(_under(matrix, commands(data)))
    if not found:
        raise NoDrawing("no_path")
    return found


def _plain(name: str) -> str:
    return re.sub(r"[\W_]+", " ", name).strip().casefold()


def _paths(element: ElementTree.Element, above: Matrix) -> Iterator[tuple[str, str, Matrix]]:
    matrix = _times(above, _matrix(element.get("transform", "")))
    if element.tag.rpartition("}")[2] == "path":
        label = next((v for k, v in element.attrib.items() if k.endswith("}label")), "")
        for name in (element.get("id", ""), label):
            yield name, element.get("d", ""), matrix
    for child in element:
        yield from _paths(child, matrix)


# Transforms.


def _matrix(text: str) -> Matrix:
    found = _NONE
    for name, inside in _transforms(text):
        numbers = [float(each) for each in _numbers(inside)]
        found = _times(found, _one(name, numbers))
    return found


def _one(name: str, n: list[float]) -> Matrix:
    if name == "matrix" and len(n) == 6:
        return n[0], n[1], n[2], n[3], n[4], n[5]
    if name == "translate" and n:
        return 1, 0, 0, 1, n[0], n[1] if len(n) > 1 else 0
    if name == "scale" and n:
        return n[0], 0, 0, n[-1], 0, 0
    if name == "rotate" and n:
        a = radians(n[0])
        turned: Matrix = (cos(a), sin(a), -sin(a), cos(a), 0, 0)
        if len(n) < 3:
            return turned
        about: Matrix = (1, 0, 0, 1, n[1], n[2])
        return _times(_times(about, turned), (1, 0, 0, 1, -n[1], -n[2]))
    raise NoDrawing("bad_path", name=name)


def _times(a: Matrix, b: Matrix) -> Matrix:
    return (
        a[0] * b[0] + a[2] * b[1],
        a[1] * b[0] + a[3] * b[1],
        a[0] * b[2] + a[2] * b[3],
        a[1] * b[2] + a[3] * b[3],
        a[0] * b[4] + a[2] * b[5] + a[4],
        a[1] * b[4] + a[3] * b[5] + a[5],
    )


def _under(m: Matrix, found: Sequence[Command]) -> list[Command]:
    def moved(points: tuple[float, ...]) -> tuple[float, ...]:
        pairs = zip(points[::2], points[1::2], strict=True)
        return tuple(
            each
            for x, y in pairs
            for each in (m[0] * x + m[2] * y + m[4], m[1] * x + m[3] * y + m[5])
        )

    return [(letter, moved(points)) for letter, points in found]


# Path data.


def commands(data: str) -> list[Command]:
    """Read path data as moves, lines, curves and closings with absolute coordinates.

    Raises
    ------
    NoDrawing
        If it can't be read.
    """
    made = _Path()
    for letter, numbers in _read(data):
        made.add(letter, numbers)
    if not made.found:
        raise NoDrawing("bad_path", name=data[:20])
    return made.found


def _read(data: str) -> Iterator[tuple[str, list[float]]]:
    tokens, at, letter = _flags_apart(data), 0, ""
    while at < len(tokens):
        if tokens[at].isalpha():
            letter, at = tokens[at], at + 1
            if letter.upper() not in _COUNTS:
                raise NoDrawing("bad_path", name=letter)
            if letter.upper() == "Z":
                yield letter, []
                continue
        count = _COUNTS.get(letter.upper(), 0)
        part = tokens[at : at + count]
        if not count or len(part) < count:
            raise NoDrawing("bad_path", name=letter or data[:20])
        try:
            yield letter, [float(each) for each in part]
        except ValueError:
            raise NoDrawing("bad_path", name=letter) from None
        at += count
        letter = {"M": "L", "m": "l"}.get(letter, letter)


def _flags_apart(data: str) -> list[str]:
    """Return the tokens of path data; the two flags of an arc may stand without a space."""
    found: list[str] = []
    letter, since = "", 0
    for token in _tokens(data):
        if token.isalpha():
            letter, since = token, 0
            found.append(token)
            continue
        rest = token
        while (
            letter in "Aa" and letter and since % 7 in (3, 4) and len(rest) > 1 and rest[0] in "01"
        ):
            found.append(rest[0])
            rest, since = rest[1:], since + 1
        found.append(rest)
        since += 1
    return found


class _Path:
    """Follows a pen over path data."""

    def __init__(self) -> None:
        self.found: list[Command] = []
        self.x = self.y = 0.0
        self._start = (0.0, 0.0)
        self._control: tuple[str, float, float] = ("", 0.0, 0.0)

    def add(self, letter: str, n: list[float]) -> None:
        """Add one command."""
        kind, before = letter.upper(), self._control
        self._control = ("", 0.0, 0.0)
        if kind == "Z":
            self.found.append(("Z", ()))
            self.x, self.y = self._start
            return
        if kind in "HV":
            across = kind == "H"
            base = 0.0 if letter.isupper() else (self.x if across else self.y)
            n = [base + n[0], self.y] if across else [self.x, base + n[0]]
        elif letter.islower():
            ends = n[-2:] if kind == "A" else n
            moved = [each + (self.y if at % 2 else self.x) for at, each in enumerate(ends)]
            n = [*n[:5], *moved] if kind == "A" else moved
        if kind == "A":
            self._arc(n)
        elif kind in "CSQT":
            self._curve(kind, n, before)
        else:
            self.found.append(("M" if kind == "M" else "L", (n[0], n[1])))
            if kind == "M":
                self._start = (n[0], n[1])
        self.x, self.y = n[-2], n[-1]

    def _curve(self, kind: str, n: list[float], before: tuple[str, float, float]) -> None:
        x, y = self.x, self.y
        if kind in "ST":
            alike = before[0] == ("C" if kind == "S" else "Q")
            n = [2 * x - before[1], 2 * y - before[2], *n] if alike else [x, y, *n]
        if kind in "CS":
            self._control = ("C", n[2], n[3])
            self.found.append(("C", tuple(n)))
            return
        self._control = ("Q", n[0], n[1])
        first = (x + 2 * (n[0] - x) / 3, y + 2 * (n[1] - y) / 3)
        second = (n[2] + 2 * (n[0] - n[2]) / 3, n[3] + 2 * (n[1] - n[3]) / 3)
        self.found.append(("C", (*first, *second, n[2], n[3])))

    def _arc(self, n: list[float]) -> None:
        x, y = n[5], n[6]
        if (x, y) == (self.x, self.y):
            return
        if not n[0] or not n[1]:
            self.found.append(("L", (x, y)))
            return
        self.found += _curves((self.x, self.y), n, (x, y))


def _curves(begin: tuple[float, float], n: list[float], end: tuple[float, float]) -> list[Command]:
    """Return an arc as curves, each over no more than a quarter of it."""
    co, si = cos(radians(n[2])), sin(radians(n[2]))
    dx, dy = (begin[0] - end[0]) / 2, (begin[1] - end[1]) / 2
    px, py = co * dx + si * dy, -si * dx + co * dy
    grown = max(1.0, hypot(px / n[0], py / n[1]))
    rx, ry = abs(n[0]) * grown, abs(n[1]) * grown
    under = (rx * py) ** 2 + (ry * px) ** 2
    factor = sqrt(max(0.0, ((rx * ry) ** 2 - under) / under))
    factor = factor if bool(n[3]) != bool(n[4]) else -factor
    cx, cy = factor * rx * py / ry, -factor * ry * px / rx
    mx = co * cx - si * cy + (begin[0] + end[0]) / 2
    my = si * cx + co * cy + (begin[1] + end[1]) / 2
    first = ((px - cx) / rx, (py - cy) / ry)
    start = _angle((1, 0), first)
    sweep = _angle(first, ((-px - cx) / rx, (-py - cy) / ry))
    sweep += 2 * pi if n[4] and sweep < 0 else -2 * pi if not n[4] and sweep > 0 else 0
    count = max(1, ceil(abs(sweep) / (pi / 2) - 1e-9))
    step, k = sweep / count, 4 / 3 * tan(sweep / count / 4)

    def at(u: float, v: float) -> tuple[float, float]:
        return mx + co * rx * u - si * ry * v, my + si * rx * u + co * ry * v

    found: list[Command] = []
    for index in range(count):
        a, b = start + index * step, start + (index + 1) * step
        one = at(cos(a) - k * sin(a), sin(a) + k * cos(a))
        two = at(cos(b) + k * sin(b), sin(b) - k * cos(b))
        last = end if index == count - 1 else at(cos(b), sin(b))
        found.append(("C", (*one, *two, *last)))
    return found


def _angle(u: tuple[float, float], v: tuple[float, float]) -> float:
    cosine = (u[0] * v[0] + u[1] * v[1]) / (hypot(*u) * hypot(*v))
    size = acos(max(-1.0, min(1.0, cosine)))
    return -size if u[0] * v[1] - u[1] * v[0] < 0 else size


def written(found: Sequence[Command]) -> str:
    """Write commands as path data, to a hundredth."""
    return " ".join(f"{letter}{' '.join(f'{each:.2f}' for each in n)}" for letter, n in found)
