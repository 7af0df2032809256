"""The figures that chances go by, the workshop's own where it has them."""

from dataclasses import dataclass
from math import log

from shared.book import Workshop
from shared.trade.own import looked_up

_NINE_OF_TEN = 1.2815515655446004
"""Below so many times its spread a normal number lies nine times of ten."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Figures:
    """usual: hours in fact over hours as written. alike, overall: as of Draws.

    again: the share of answers that call for a second round. answer_spread: of the logarithm of the
    days that an answer takes.
    """

    usual: float
    alike: float
    overall: float
    again: float
    answer_spread: float


def figures_of(workshop: Workshop) -> Figures:
    """Return the figures of a workshop."""
    look = looked_up(workshop)

    def value(figure_id: str) -> float:
        found = look(figure_id).value
        assert found is not None
        return float(found)

    return Figures(
        usual=value("CP701"),
        alike=value("CP702"),
        overall=value("CP703"),
        again=value("CP704") / 100,
        answer_spread=log(value("CP705")) / _NINE_OF_TEN,
    )
