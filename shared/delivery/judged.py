"""Which journeys are held against drivers' hours, and the parts that their legs fall into."""

from shared.book import AT_SEA, ON_SITE, Journey, Leg, LegKind

__all__ = ["AT_SEA", "ON_SITE", "goal_of", "home_from", "is_judged", "is_whole", "site_from"]

_WHOLE = frozenset({LegKind.LIFT, LegKind.INSPECT, LegKind.SIGN_OFF, LegKind.BORDER})


def is_judged(journey: Journey) -> bool:
    """Say whether a journey is held against drivers' hours.

    It is when a means has rules, or a drive has rules, minutes at the wheel or a distance. All
    others take the minutes that were written.
    """
    if any(means.rules is not None for means in journey.means):
        return True
    return any(_is_driven(leg) for leg in (*journey.legs, *journey.travel))


def is_whole(leg: Leg) -> bool:
    """Say whether a leg happens whole in one of its openings, instead of going on in the next.

    So do lifting, an inspection, a sign-off, a border, anything with slots, and anything that is
    neither at the site nor inside the window.
    """
    if leg.slots or leg.kind in _WHOLE:
        return True
    return leg.kind not in ON_SITE and not leg.inside


def site_from(journey: Journey) -> int:
    """Return the number of the first leg at the site; of the way home or the end if there is none.

    What lies before it is the lorry's.
    """
    home = home_from(journey)
    return next((at for at in range(home) if journey.legs[at].kind in ON_SITE), home)


def home_from(journey: Journey) -> int:
    """Return the number of the first leg of the way home; the end if there is none."""
    at = len(journey.legs)
    while at and journey.legs[at - 1].kind is LegKind.RETURN:
        at -= 1
    return at


def goal_of(journey: Journey) -> int:
    """Return how many legs have to be over by the window's end.

    Up to the last leg inside the window; where none is, all but the way home.
    """
    inside = [at + 1 for at, leg in enumerate(journey.legs) if leg.inside]
    return inside[-1] if inside else home_from(journey)


def _is_driven(leg: Leg) -> bool:
    if leg.kind is not LegKind.DRIVE:
        return False
    return not (leg.rules is None and leg.driving_minutes is None and leg.distance_km is None)
