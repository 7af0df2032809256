"""What a journey becomes that may go by other sailings or other means."""

from dataclasses import replace

from shared.book import AT_SEA, Departure, Journey, Means

AS_WRITTEN = "as written"
"""The means that a journey has which names none."""


def with_sailings(journey: Journey, departures: tuple[Departure, ...]) -> Journey:
    """Give a journey whose first leg by a timetable may take more departures."""
    at = next((at for at, leg in enumerate(journey.legs) if leg.kind in AT_SEA), None)
    if at is None:
        return journey
    leg = journey.legs[at]
    new = tuple(each for each in departures if each not in leg.departures)
    sails = tuple(sorted((*leg.departures, *new), key=lambda each: each.leaves))
    legs = (*journey.legs[:at], replace(leg, departures=sails), *journey.legs[at + 1 :])
    return replace(journey, legs=legs)


def with_means(journey: Journey, means: tuple[Means, ...]) -> Journey:
    """Give a journey that may go by more means; those that it has stay."""
    usual = journey.means or (Means(id=AS_WRITTEN, vehicles=journey.vehicles),)
    known = {each.id for each in usual}
    return replace(journey, means=(*usual, *(each for each in means if each.id not in known)))
