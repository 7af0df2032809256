"""Colour arithmetic for the tests of the tokens, from the published formulas.

Contrast: W3C, Web Content Accessibility Guidelines 2.2 (2023), "relative luminance" and
"contrast ratio". Difference: G. Sharma, W. Wu, E. N. Dalal, "The CIEDE2000 color-difference
formula", Color Research and Application 30 (2005). Colour blindness: G. M. Machado,
M. M. Oliveira, L. A. F. Fernandes, "A Physiologically-based Model for Simulation of Color
Vision Deficiency", IEEE TVCG 15 (2009), matrices at full severity, on linear light.
"""

from math import atan2, cos, degrees, exp, hypot, radians, sin, sqrt

Triple = tuple[float, float, float]
Matrix = tuple[Triple, Triple, Triple]

SIGHTS: dict[str, Matrix] = {
    "usual": ((1, 0, 0), (0, 1, 0), (0, 0, 1)),
    "protan": (
        (0.152286, 1.052583, -0.204868),
        (0.114503, 0.786281, 0.099216),
        (-0.003882, -0.048116, 1.051998),
    ),
    "deutan": (
        (0.367322, 0.860646, -0.227968),
        (0.280085, 0.672501, 0.047413),
        (-0.011820, 0.042940, 0.968881),
    ),
    "tritan": (
        (1.255528, -0.076749, -0.178779),
        (-0.078411, 0.930809, 0.147602),
        (0.004733, 0.691367, 0.303900),
    ),
}
_TO_XYZ: Matrix = (
    (0.4124564, 0.3575761, 0.1804375),
    (0.2126729, 0.7151522, 0.0721750),
    (0.0193339, 0.1191920, 0.9503041),
)
_D65 = (0.95047, 1.0, 1.08883)


def linear(colour: str) -> Triple:
    """Give the linear light of "#RRGGBB" (IEC 61966-2-1)."""
    r, g, b = (_undone(int(colour[at : at + 2], 16) / 255) for at in (1, 3, 5))
    return r, g, b


def _undone(value: float) -> float:
    return value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4


def _applied(matrix: Matrix, colour: Triple) -> Triple:
    r, g, b = (sum(m * c for m, c in zip(row, colour, strict=True)) for row in matrix)
    return r, g, b


def luminance(colour: str) -> float:
    r, g, b = linear(colour)
    return 0.2126 * r + 0.7152 * g + 0.0722 * b


def contrast(one: str, other: str) -> float:
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def lab(colour: str, sight: str = "usual") -> Triple:
    """Give CIELAB (D65) as somebody with that sight sees it."""
    r, g, b = (min(1.0, max(0.0, c)) for c in _applied(SIGHTS[sight], linear(colour)))
    xyz = _applied(_TO_XYZ, (r, g, b))
    x, y, z = (_root(value / white) for value, white in zip(xyz, _D65, strict=True))
    return 116 * y - 16, 500 * (x - y), 200 * (y - z)


def _root(t: float) -> float:
    return t ** (1 / 3) if t > 216 / 24389 else (24389 / 27 * t + 16) / 116


def _hue(a: float, b: float) -> float:
    return 0.0 if a == 0 and b == 0 else degrees(atan2(b, a)) % 360


def _hue_step(c1: float, c2: float, h1: float, h2: float) -> float:
    if c1 * c2 == 0:
        return 0.0
    step = h2 - h1
    return step - 360 if step > 180 else step + 360 if step < -180 else step


def _hue_mean(c1: float, c2: float, h1: float, h2: float) -> float:
    if c1 * c2 == 0:
        return h1 + h2
    if abs(h1 - h2) <= 180:
        return (h1 + h2) / 2
    return (h1 + h2 + 360) / 2 if h1 + h2 < 360 else (h1 + h2 - 360) / 2


def difference(one: Triple, other: Triple) -> float:
    """Give the CIEDE2000 difference of two colours in CIELAB."""
    (l1, a1, b1), (l2, a2, b2) = one, other
    mean = ((hypot(a1, b1) + hypot(a2, b2)) / 2) ** 7
    g = 0.5 * (1 - sqrt(mean / (mean + 25**7)))
    a1, a2 = a1 * (1 + g), a2 * (1 + g)
    c1, c2 = hypot(a1, b1), hypot(a2, b2)
    h1, h2 = _hue(a1, b1), _hue(a2, b2)
    dh = 2 * sqrt(c1 * c2) * sin(radians(_hue_step(c1, c2, h1, h2) / 2))
    lm, cm, hm = (l1 + l2) / 2, (c1 + c2) / 2, _hue_mean(c1, c2, h1, h2)
    t = 1 - 0.17 * cos(radians(hm - 30)) + 0.24 * cos(radians(2 * hm))
    t += 0.32 * cos(radians(3 * hm + 6)) - 0.20 * cos(radians(4 * hm - 63))
    sl = 1 + 0.015 * (lm - 50) ** 2 / sqrt(20 + (lm - 50) ** 2)
    sc, sh = 1 + 0.045 * cm, 1 + 0.015 * cm * t
    turn = 30 * exp(-(((hm - 275) / 25) ** 2))
    rt = -sin(radians(2 * turn)) * 2 * sqrt(cm**7 / (cm**7 + 25**7))
    parts = ((l2 - l1) / sl, (c2 - c1) / sc, dh / sh)
    return sqrt(sum(part * part for part in parts) + rt * parts[1] * parts[2])
