"""Bans that are to be looked up: of the roads to the site, and of nothing else on the way."""

import pytest

from shared.book import Leg, LegKind
from shared.road.bans import BanDoubt, BanNote
from tests.builders import a_leg
from tests.shared.delivery.journeys import LONDON, delivery, drive, journey, latest, shift, window

DAY = window(LONDON, "2027-03-18T08:00", "2027-03-18T18:00", shift("08:00", "18:00"))
ITALY = BanNote(doubt=BanDoubt.COUNTRY, country="IT")


@pytest.mark.parametrize(
    ("leg", "told"),
    [
        (drive(60, "IT"), (ITALY,)),
        # Only hours and public holidays are of there.
        (a_leg(LegKind.WAIT, 30, country="IT"), ()),
        (a_leg(LegKind.BORDER, 30, country="IT"), ()),
    ],
)
def test_bans_are_of_the_countries_in_which_the_lorry_rolls(
    leg: Leg, told: tuple[BanNote, ...]
) -> None:
    found = delivery(journey(drive(60), leg, drive(60)), DAY)

    assert found.ban_notes(latest(found)) == told
