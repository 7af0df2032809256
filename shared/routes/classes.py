"""Classes of a segment, and how much longer than usual a class takes: all of it common practice."""

from collections.abc import Iterable
from decimal import Decimal
from typing import TYPE_CHECKING

from shared.book import ClassOf, Detail, Finish, Segment
from shared.trade import Figure, figure

if TYPE_CHECKING:
    from shared.trade.own import Lookup

_DETAIL = {
    Detail.PLAIN: "CP501",
    Detail.USUAL: "CP502",
    Detail.FINE: "CP503",
    Detail.VERY_FINE: "CP504",
}
_FINISH = {
    Finish.PLAIN: "CP511",
    Finish.USUAL: "CP512",
    Finish.FINE: "CP513",
    Finish.MIRROR: "CP514",
}


def class_figure(segment: Segment, of: ClassOf, look: "Lookup" = figure) -> Figure:
    """Give how many times the usual hours a segment's class takes."""
    if of is ClassOf.DETAIL:
        return look(_DETAIL[segment.detail or Detail.USUAL])
    return look(_FINISH[segment.finish_class or Finish.USUAL])


def times_usual(segment: Segment, classes: Iterable[ClassOf], look: "Lookup" = figure) -> Decimal:
    """Give how many times the usual hours a step takes that goes by some classes."""
    times = Decimal(1)
    for of in classes:
        times *= class_figure(segment, of, look).amount
    return times
