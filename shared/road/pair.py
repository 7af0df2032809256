"""Two drivers between two quarters."""

from typing import NamedTuple

RESTED = -1
"""The duty clock of two who have ended a daily rest and begun nothing."""


class Seat(NamedTuple):
    """What is counted of each of two drivers, in quarters or counts; `halved` is 0 or 1.

    unbroken: driven since the break. halved: the first part of a split break is taken. driven,
    worked: in the duty. labour: since work was last broken. pauses: breaks in the duty. beside:
    the run beside the other, who drives. extensions, week, week_before: as of the driver.
    """

    unbroken: int
    halved: int
    driven: int
    worked: int
    labour: int
    pauses: int
    beside: int
    extensions: int
    week: int
    week_before: int


class Pair(NamedTuple):
    """Two drivers; what is counted of both at once, and each seat, the more used-up one first.

    clock: since the duty began, RESTED before. resting: the rest that runs. broken, lost: how
    often and how long it was interrupted. swapped: 1 where `first` is the second driver.
    """

    clock: int
    resting: int
    broken: int
    lost: int
    first: Seat
    second: Seat
    swapped: int
