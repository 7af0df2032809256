"""How an enquiry can be taken, and from when on a job counts as harmed by it."""

from enum import StrEnum

NOISE_POINTS = 3
"""A job that was below what is asked for already is harmed where it loses so many points."""


class Taking(StrEnum):
    """Whether an enquiry can be taken, best to worst.

    take: its window is kept as surely as asked for, and no other job is worse than it may be.
    just: kept, but less sure or with less to spare than asked for. at_risk: kept only by making
    another job less sure than it may be, or by its missing its window. not: not kept.
    """

    TAKE = "take"
    JUST = "only_just"
    AT_RISK = "only_at_risk"
    NOT = "not"
