"""Estimates: hours and quantities from sizes and a way of making, or from a past job."""

from shared.estimate.reckon import estimate_of_job, estimate_of_segments
from shared.estimate.three_point import three_point_mean, three_point_sd, three_point_variance
from shared.estimate.values import (
    Estimate,
    Formula,
    FormulaCode,
    Line,
    Mass,
    Quantity,
    Range,
    Share,
    Size,
    SizeFrom,
    Take,
)

__all__ = [
    "Estimate",
    "Formula",
    "FormulaCode",
    "Line",
    "Mass",
    "Quantity",
    "Range",
    "Share",
    "Size",
    "SizeFrom",
    "Take",
    "estimate_of_job",
    "estimate_of_segments",
    "three_point_mean",
    "three_point_sd",
    "three_point_variance",
]
