"""Sums with figures of the trade, as the numbers of a way of making name them: `1/QL03b.high`.

A figure by its id stands for its value and its range, with `.low` or `.high` for that end alone;
besides there are whole numbers, + - * / and brackets. All of it is exact.
"""

import re
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from typing import TYPE_CHECKING

from shared.trade import figure

if TYPE_CHECKING:
    import ast

    from shared.trade.own import Lookup

_FIGURE = re.compile(r"\b[A-Z]{2,3}[0-9]+[a-z]?\b")
_QUARTERS = re.compile(r"quarters\((.*)\)")
_IN_A_NAME = "in the name of "
_QUARTERS_IN_ONE = 4


@dataclass(frozen=True, slots=True)
class Worth:
    """What a sum comes to: at least, likely, at most."""

    low: Fraction
    likely: Fraction
    high: Fraction


@cache
def figures_in(asked: str) -> tuple[str, ...]:
    """Give the ids of the figures in a sum, each once."""
    return tuple(dict.fromkeys(_FIGURE.findall(asked)))


def is_sum(asked: str) -> bool:
    """Say whether a number is a sum; else it stands in the name of a figure."""
    return not asked.startswith(_IN_A_NAME)


def worth(asked: str, look: "Lookup" = figure) -> Worth:
    """Work out a sum, its ends by the ends of the figures in it.

    Raises
    ------
    UnknownFigure
        If a figure is not known, or has no value.
    ValueError
        If it is no sum.
    """
    in_quarters = _QUARTERS.fullmatch(asked)
    if in_quarters is None:
        return _worth(_parsed(asked), look)
    found = worth(in_quarters[1], look)
    return Worth(_quarters(found.low), _quarters(found.likely), _quarters(found.high))


def _quarters(exact: Fraction) -> Fraction:
    return Fraction(-(-exact * _QUARTERS_IN_ONE // 1), _QUARTERS_IN_ONE)


@cache
def _parsed(asked: str) -> "ast.expr":
    # Only who works a sum out pays for the parser.
    import ast

    try:
        return ast.parse(asked, mode="eval").body
    except SyntaxError:
        raise ValueError(asked) from None


def _worth(part: "ast.expr", look: "Lookup") -> Worth:
    import ast

    match part:
        case ast.Constant(value=int(number)):
            exact = Fraction(number)
            return Worth(exact, exact, exact)
        case ast.Name(id=name):
            return _of_figure(name, look)
        case ast.Attribute(value=ast.Name(id=name), attr="low" | "high" as end):
            found = look(name)
            exact = Fraction(found.least if end == "low" else found.most)
            return Worth(exact, exact, exact)
        case ast.BinOp(left=left, op=sign, right=right):
            return _joined(_sign(sign), _worth(left, look), _worth(right, look))
    raise ValueError(ast.dump(part))


def _of_figure(name: str, look: "Lookup") -> Worth:
    found = look(name)
    likely = found.amount
    low = likely if found.low is None else min(found.low, likely)
    high = likely if found.high is None else max(found.high, likely)
    return Worth(Fraction(low), Fraction(likely), Fraction(high))


def _sign(sign: "ast.operator") -> Callable[[Fraction, Fraction], Fraction]:
    import operator

    return {
        "Add": operator.add,
        "Sub": operator.sub,
        "Mult": operator.mul,
        "Div": operator.truediv,
    }[type(sign).__name__]


def _joined(sign: Callable[[Fraction, Fraction], Fraction], left: Worth, right: Worth) -> Worth:
    ends = [sign(a, b) for a in (left.low, left.high) for b in (right.low, right.high)]
    return Worth(min(ends), sign(left.likely, right.likely), max(ends))
