"""Colours, type, spacing and strokes of the window and of its pictures, as plain values."""

from dataclasses import dataclass, replace
from types import MappingProxyType

from shared.book import Kind


@dataclass(frozen=True, slots=True, kw_only=True)
class Hue:
    """The two colours of a kind of work: what fills a block, and its lines."""

    fill: str
    line: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Tokens:
    """The colour roles of one ground.

    opening: the window and nothing else. off: nights, weekends. shut: holidays, closures.
    ink3: marks, never text. on_fill: words on a block. pattern_towards, pattern_percent: what
    the ink of patterns is mixed from, beside the fill; "" is the line of the kind.
    is_strong: of the stronger contrast, with every outline in ink.
    """

    name: str
    paper: str
    sheet: str
    opening: str
    off: str
    shut: str
    line: str
    ink: str
    ink2: str
    ink3: str
    miss: str
    missbg: str
    on_fill: str
    on_opening: str
    on_opening2: str
    pattern_towards: str
    pattern_percent: int
    outline_darker_percent: int
    lacquer_shine_percent: int
    kinds: MappingProxyType[Kind, Hue]
    is_strong: bool = False


def _hues(**pairs: tuple[str, str]) -> MappingProxyType[Kind, Hue]:
    made = {Kind(kind): Hue(fill=fill, line=line) for kind, (fill, line) in pairs.items()}
    return MappingProxyType(made)


LIGHT = Tokens(
    name="light",
    paper="#F6F3EC",
    sheet="#FFFDF8",
    opening="#FFFFFF",
    off="#ECE7DC",
    shut="#E2DBCD",
    line="#D8D2C6",
    ink="#1E262C",
    ink2="#566068",
    ink3="#788086",
    miss="#B3261E",
    missbg="#F7DDD6",
    on_fill="#1E262C",
    on_opening="#1E262C",
    on_opening2="#566068",
    pattern_towards="",
    pattern_percent=60,
    outline_darker_percent=0,
    lacquer_shine_percent=75,
    kinds=_hues(
        foam=("#A4E0FD", "#2A7FA8"),
        laminate=("#C2D149", "#69730A"),
        coat=("#EFE094", "#96831D"),
        fill=("#E6E5E2", "#505050"),
        paint=("#EF9576", "#84300C"),
        lacquer=("#FEB3C1", "#BC4169"),
        pack=("#59C2A3", "#06503C"),
    ),
)

DARK = Tokens(
    name="dark",
    paper="#15191D",
    sheet="#1E2429",
    opening="#FFF6DC",
    off="#0F1215",
    shut="#0A0C0E",
    line="#323A41",
    ink="#ECE7DC",
    ink2="#A7AEB3",
    ink3="#727B82",
    miss="#FF8A6B",
    missbg="#46231C",
    on_fill="#12171B",
    on_opening="#1E262C",
    on_opening2="#566068",
    pattern_towards="#15191D",
    pattern_percent=34,
    outline_darker_percent=25,
    lacquer_shine_percent=30,
    kinds=_hues(
        foam=("#84BEDB", "#9AD0EC"),
        laminate=("#A0AF2F", "#BFCF4A"),
        coat=("#CBBE77", "#E2D58C"),
        fill=("#BDBEBE", "#D0D0D0"),
        paint=("#CB765A", "#E8937A"),
        lacquer=("#DA93A2", "#F0AEBC"),
        pack=("#3CA185", "#5CC4A6"),
    ),
)


def mixed(one: str, other: str, percent: int) -> str:
    """Return a colour so many percent of the way from one to another."""
    pairs = zip(_channels(one), _channels(other), strict=True)
    return "#" + "".join(
        f"{round((a * (100 - percent) + b * percent) / 100):02X}" for a, b in pairs
    )


def _channels(colour: str) -> tuple[int, int, int]:
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)


STRONG = " strong"
"""What follows the name of a ground in its stronger contrast."""


def stronger(of: Tokens) -> Tokens:
    """Return a ground without tints: days off as paper, patterns and marks in darker ink."""
    return replace(
        of,
        name=of.name + STRONG,
        off=of.paper,
        shut=of.paper,
        line=mixed(of.line, of.ink3, 50),
        ink3=of.ink2,
        pattern_percent=100,
        is_strong=True,
    )


LIGHT_STRONG, DARK_STRONG = stronger(LIGHT), stronger(DARK)
PAPER = replace(
    LIGHT,
    name="paper",
    paper="#FFFFFF",
    sheet="#FFFFFF",
    off="#EEEEEE",
    shut="#E0E0E0",
    line="#BBBBBB",
    ink="#000000",
    ink2="#333333",
    ink3="#555555",
    miss="#000000",
    missbg="#DDDDDD",
    on_fill="#000000",
    on_opening="#000000",
    on_opening2="#333333",
    pattern_percent=100,
    kinds=_hues(
        foam=("#FFFFFF", "#000000"),
        laminate=("#F2F2F2", "#000000"),
        coat=("#FAFAFA", "#000000"),
        fill=("#FFFFFF", "#000000"),
        paint=("#C4C4C4", "#000000"),
        lacquer=("#E2E2E2", "#000000"),
        pack=("#FFFFFF", "#000000"),
    ),
)
"""What is printed: black, and greys that a copier keeps apart."""
GROUNDS = MappingProxyType(
    {each.name: each for each in (LIGHT, DARK, LIGHT_STRONG, DARK_STRONG, PAPER)}
)

VEIL_ALPHA = 150
CURE_TOWARDS_PAPER_PERCENT = 28

SANS = "Barlow Semi Condensed"
SERIF = "Source Serif 4"

HAIRLINE = 1
SELECTION = 1.5
NECK = 2
POST = 2.5
HEAVY = 3
"""Strokes: hairline and outline; today and selection; neck; posts; lintel and loading."""

BLOCK_LEAST_WIDTH = 2.5
WINDOW_LEAST_WIDTH = 9
LINTEL_OVERHANG = 4
PATTERN_PITCH = 8
HATCH_PITCH = 5
PATTERN_FROM_PIXELS_PER_DAY = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class Sizes:
    """Pixels of the parts for one size of screen."""

    margin: int
    text_margin: int
    masthead: int
    sentence_px: int
    axis: int
    header: int
    row: int
    row_gap: int
    job_gap: int
    names: int
    foot: int
    slip_width: int
    slip_height: int


SMALL = Sizes(
    margin=12,
    text_margin=16,
    masthead=62,
    sentence_px=22,
    axis=46,
    header=19,
    row=14,
    row_gap=2,
    job_gap=8,
    names=212,
    foot=26,
    slip_width=420,
    slip_height=214,
)
LARGE = Sizes(
    margin=12,
    text_margin=16,
    masthead=72,
    sentence_px=26,
    axis=48,
    header=24,
    row=24,
    row_gap=3,
    job_gap=13,
    names=250,
    foot=26,
    slip_width=480,
    slip_height=268,
)
LARGE_FROM_WIDTH = 1700
ROW_LEAST = 12
ROW_MOST = 30
LEAST_WINDOW = (1180, 660)


class _Text:
    """How large text is, in percent: one for the whole program."""

    percent = 100


def set_text_percent(percent: int) -> None:
    """Take another size of text; whoever keeps fonts or sizes asks for them anew."""
    _Text.percent = percent


def text_percent() -> int:
    """Return how large text is."""
    return _Text.percent


def px(pixels: float) -> int:
    """Return a height or width that text needs, as large as text is at present."""
    return round(pixels * _Text.percent / 100)


def sizes_for(width: int) -> Sizes:
    """Return the sizes for a view so many pixels wide, at the present size of text."""
    base = LARGE if width * 100 >= LARGE_FROM_WIDTH * _Text.percent else SMALL
    if _Text.percent == 100:
        return base
    return replace(
        base,
        masthead=px(base.masthead),
        axis=px(base.axis),
        header=px(base.header),
        row=px(base.row),
        names=px(base.names),
        foot=px(base.foot),
        slip_width=px(base.slip_width),
        slip_height=px(base.slip_height),
    )


def pattern_ink(tokens: Tokens, kind: Kind) -> str:
    """Return the ink in which a kind's pattern is drawn on its fill."""
    hue = tokens.kinds[kind]
    return mixed(hue.fill, tokens.pattern_towards or hue.line, tokens.pattern_percent)


def outline(tokens: Tokens, kind: Kind) -> str:
    """Return the outline of a block."""
    if tokens.is_strong:
        return tokens.ink
    hue = tokens.kinds[kind]
    darker = tokens.outline_darker_percent
    return mixed(hue.fill, tokens.pattern_towards, darker) if darker else hue.line


def cure_ink(tokens: Tokens, kind: Kind) -> str:
    """Return the ink of a cure's hatch: nearer to paper, so that work outweighs waiting."""
    percent = 0 if tokens.is_strong else CURE_TOWARDS_PAPER_PERCENT
    return mixed(tokens.kinds[kind].line, tokens.paper, percent)
