"""Figures of the trade, each with its unit, range, source and how far it is to be trusted."""

from shared.trade.figures import Confidence, Figure, UnknownFigure, figure, figures, subjects

__all__ = ["Confidence", "Figure", "UnknownFigure", "figure", "figures", "subjects"]
