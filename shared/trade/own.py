"""Figures as a workshop knows them: its own where the book has one, else those of the tables."""

from collections.abc import Callable
from dataclasses import replace

from shared.book import OwnFigure, Workshop
from shared.trade.figures import Confidence, Figure, figure

Lookup = Callable[[str], Figure]
"""Gives the figure of an id; raises UnknownFigure."""


def looked_up(workshop: Workshop) -> Lookup:
    """Return how figures are looked up in a workshop.

    One of its own has its value, its range and its note for a source; name and unit are those of
    the table.
    """
    if not workshop.figures:
        return figure
    own = {each.figure: each for each in workshop.figures}

    def look(figure_id: str) -> Figure:
        found = figure(figure_id)
        return _owned(found, own[figure_id]) if figure_id in own else found

    return look


def own_ids(workshop: Workshop) -> frozenset[str]:
    """Return the ids of the figures that the workshop has its own of."""
    return frozenset(each.figure for each in workshop.figures)


def _owned(found: Figure, own: OwnFigure) -> Figure:
    return replace(
        found,
        value=own.value,
        low=own.value if own.low is None else own.low,
        high=own.value if own.high is None else own.high,
        source=own.note,
        confidence=Confidence.OWN,
    )
