"""How long a leg takes: as written, by person-hours, at the wheel, or as long as is usual."""

from shared.book import Journey, Leg, Workshop


def minutes_of(leg: Leg, workshop: Workshop, pieces: int = 1) -> int:
    """Return the minutes of a leg that is not driven by judged hours, rounded up; judged or not.

    person_hours of `hands` (None: one) with the workshop's loss per further pair of hands; else
    its minutes; where neither is given, as usual for its kind and so many pieces (figures of the
    table "site"). A drive takes its minutes, a sailing none.
    """
    raise NotImplementedError


def wheel_quarters(leg: Leg, workshop: Workshop) -> int:
    """Return the quarters at the wheel of a drive or way home, rounded up, at least one.

    driving_minutes, else distance by speed (None: figure TR22b), else minutes.
    """
    raise NotImplementedError


def shares_of(leg: Leg, quarters: int) -> tuple[tuple[int, str, str | None], ...]:
    """Cut quarters of a drive by country: (quarters, country, subdivision), none empty.

    Running sums are rounded up and the last takes the rest. A drive without shares or country
    gives ().
    """
    raise NotImplementedError


def home_minutes(journey: Journey, workshop: Workshop) -> int:
    """Return the minutes of the way home: its return legs, else back_minutes.

    A return leg with driving_minutes or a distance takes these and the least breaks and daily
    rests of one driver (DR01, DR02, DR04); others take their minutes. Not judged.
    """
    raise NotImplementedError
