"""Whose hours hold on a road and why, and what is to be looked up about lorry bans, in words."""

from typing import TYPE_CHECKING

from app.words.template import Template
from shared.road.bans import BanDoubt
from shared.road.regime import RegimeBecause

if TYPE_CHECKING:
    from app.words import Words
    from shared.road.bans import BanNote
    from shared.road.regime import Regime

REGIMES: dict[RegimeBecause, Template] = {
    RegimeBecause.TOLD: "The book names these hours.",
    RegimeBecause.HEAVY: "The mass of the vehicle is in their scope ({figures}).",
    RegimeBecause.VAN_ABROAD: "A van that crosses a border is in their scope ({figures}).",
    RegimeBecause.OWN_ACCOUNT: "A van with the workshop’s own goods, driven by somebody whose main "
    "job is another, is out of the European rules ({figures}).",
    RegimeBecause.CRAFT: "Goods made by hand and carried near home are out of the European rules "
    "({figures}).",
    RegimeBecause.LIGHT: "The vehicle is too light for the European rules ({figures}).",
    RegimeBecause.NOT_IN_FORCE: "The text of these hours that was read is not in force that day. "
    "Open the current one.",
    RegimeBecause.MASS_UNKNOWN: "Under the stricter rules: nobody wrote the mass of the vehicle "
    "({figures}).",
    RegimeBecause.OWN_ACCOUNT_UNKNOWN: "Under the stricter rules: nobody wrote whether these are "
    "the workshop’s own goods ({figures}).",
    RegimeBecause.DISTANCE_UNKNOWN: "Under the stricter rules: nobody wrote how far each drive is "
    "({figures}).",
    RegimeBecause.COUNTRY_UNKNOWN: "Under the stricter rules: the hours of a country on the way "
    "are not known.",
    RegimeBecause.TWO_LAWS: "Under the stricter rules: Great Britain’s hours hold on a part of the "
    "road only ({figures}).",
}

DOUBTS: dict[BanDoubt, Template] = {
    BanDoubt.LISTED_ROADS: "{country}, {day}: lorries are banned that day on listed roads "
    "({rule}), and the book doesn’t say whether this is one. Look it up.",
    BanDoubt.AREA: "{country}, {day}: lorries are banned that day in {area} ({rule}), and the book "
    "doesn’t say whether the road goes there. Look it up.",
    BanDoubt.DATES: "{country}, {day}: which Saturdays of that year are banned is not known "
    "({rule}). Open the current text.",
    BanDoubt.RELIEF: "{country}, {day}: a ban is taken to give way to the event ({rule}). Read the "
    "order in force before you rely on it.",
    BanDoubt.COUNTRY: "Lorry bans of {country} are not known. Look them up.",
}

AREAS: dict[str, Template] = {
    "auvergne-rhone-alpes": "Auvergne-Rhône-Alpes, on its roads to the snow",
    "london": "London, with a load that the police is told of",
}


def regime(words: "Words", found: "Regime") -> str:
    """Give why these hours hold, or that the stricter hold for want of knowing."""
    return words.say(REGIMES[found.because], figures=", ".join(found.figures))


def doubt(words: "Words", note: "BanNote") -> str:
    """Give what is to be looked up about a ban."""
    from shared.asking.countries import country_named

    country = country_named(note.country)
    return words.say(
        DOUBTS[note.doubt],
        country=note.country if country is None else country.name,
        day="" if note.day is None else words.day(note.day, after=None),
        rule=note.rule,
        area=words.say(AREAS[note.area]) if note.area in AREAS else note.area,
    )
