"""Which hours apply to whoever drives: by mass, countries of the road, day, and whose goods.

What the book does not tell is never guessed. Where it could be one set of rules or another, a set
applies in which every limit is the stricter of theirs, and it says what is not known.
"""

from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from enum import StrEnum
from functools import cache
from pathlib import Path

from shared.book import Equipment
from shared.road.rules import rule_set, validity_of
from shared.trade import figure
from shared.trade.own import Lookup

_FILE = Path(__file__).with_name("data") / "scope.json"
_HOME_OF_DOMESTIC = "GB"


class RegimeBecause(StrEnum):
    """Why these hours apply.

    TOLD: the book names them. HEAVY: the mass is in scope everywhere. VAN_ABROAD: in scope on a
    road that crosses a border. OWN_ACCOUNT: a van with the workshop's own goods, driving not the
    main job. CRAFT: goods made by hand, near home. LIGHT: too light for the regulation.
    NOT_IN_FORCE: these would be the hours, but the text that was read does not hold on that day.
    Not known, so that the stricter hours apply: MASS_UNKNOWN, OWN_ACCOUNT_UNKNOWN,
    DISTANCE_UNKNOWN (whether it is near home), COUNTRY_UNKNOWN (no hours are known for a country
    of the road), TWO_LAWS (Great Britain's apply on a part of the road only).
    """

    TOLD = "told"
    HEAVY = "heavy"
    VAN_ABROAD = "van_abroad"
    OWN_ACCOUNT = "own_account"
    CRAFT = "craft"
    LIGHT = "light"
    NOT_IN_FORCE = "not_in_force"
    MASS_UNKNOWN = "mass_unknown"
    OWN_ACCOUNT_UNKNOWN = "own_account_unknown"
    DISTANCE_UNKNOWN = "distance_unknown"
    COUNTRY_UNKNOWN = "country_unknown"
    TWO_LAWS = "two_laws"


_NOT_KNOWN = frozenset(
    {
        RegimeBecause.MASS_UNKNOWN,
        RegimeBecause.OWN_ACCOUNT_UNKNOWN,
        RegimeBecause.DISTANCE_UNKNOWN,
        RegimeBecause.COUNTRY_UNKNOWN,
        RegimeBecause.TWO_LAWS,
    }
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Regime:
    """The rule set that applies, why, and the figures that decided it."""

    rules_id: str
    because: RegimeBecause
    figures: tuple[str, ...] = ()

    @property
    def is_told(self) -> bool:
        """Say whether the book names the rules itself."""
        return self.because is RegimeBecause.TOLD

    @property
    def is_stricter(self) -> bool:
        """Say whether these are the stricter rules for want of knowing: never said as a fact."""
        return self.because in _NOT_KNOWN


@dataclass(frozen=True, slots=True, kw_only=True)
class Errand:
    """What is driven, where, when and for whom.

    vehicles: of the means; tonnes are those of the heaviest, with its trailer. countries: of the
    road. home: the country the vehicle comes from. own_account: the workshop's own goods, driving
    not the main job; False with hired drivers, None not known. km: of the whole way, None not
    known. drivers: at the wheel in turn.
    """

    vehicles: tuple[Equipment, ...]
    countries: frozenset[str]
    home: str
    day: date
    own_account: bool | None = None
    km: Decimal | None = None
    drivers: int = 1

    @property
    def tonnes(self) -> Decimal | None:
        """Return the greatest mass on the road, trailer and all; None where one isn't known."""
        masses = [_mass_of(each) for each in self.vehicles]
        known = [mass for mass in masses if mass is not None]
        return max(known) if known and len(known) == len(masses) else None

    @property
    def is_abroad(self) -> bool:
        """Say whether a border is crossed, or the road lies in another country than home."""
        return len(self.countries | {self.home}) > 1


def told(rules_id: str) -> Regime:
    """Give the regime of rules that the book names.

    Raises
    ------
    UnknownRules
        If no set has this id.
    """
    return Regime(rules_id=rule_set(rules_id).id, because=RegimeBecause.TOLD)


def regime_of(errand: Errand, look: Lookup = figure) -> Regime:
    """Give the hours that apply to whoever drives on an errand."""
    found = _by_scope(errand, look)
    if found.is_stricter or validity_of(found.rules_id).includes(errand.day):
        return found
    return replace(found, because=RegimeBecause.NOT_IN_FORCE)


def _by_scope(errand: Errand, look: Lookup) -> Regime:
    tonnes = errand.tonnes
    if tonnes is None:
        return _stricter(errand, RegimeBecause.MASS_UNKNOWN, "DR11a", "DR11b")
    if not errand.countries <= validity_of("eu_one_driver").countries:
        return _stricter(errand, RegimeBecause.COUNTRY_UNKNOWN)
    if tonnes > look("DR11a").amount:
        return _heavy(errand, tonnes, look)
    if tonnes > look("DR11b").amount and errand.is_abroad and errand.day >= _abroad_from():
        return _van_abroad(errand)
    return _outside(errand, RegimeBecause.LIGHT, "DR11a", "DR11b")


def crew_rules_of(countries: frozenset[str]) -> str:
    """Give the rule set of people on site and on their way to it, by the countries of both."""
    at_home = bool(countries) and countries <= validity_of("workers_uk").countries
    return "workers_uk" if at_home else "workers_eu"


def _heavy(errand: Errand, tonnes: Decimal, look: Lookup) -> Regime:
    """Decide for a vehicle in scope: goods made by hand may be carried near home without it."""
    limits = ("DR12", "DR12c")
    near = errand.km is None or errand.km <= look("DR12").amount
    if errand.own_account is False or tonnes > look("DR12c").amount or not near:
        return _in_scope(errand, RegimeBecause.HEAVY, "DR11a")
    if errand.own_account is None:
        return _stricter(errand, RegimeBecause.OWN_ACCOUNT_UNKNOWN, *limits)
    if errand.km is None:
        return _stricter(errand, RegimeBecause.DISTANCE_UNKNOWN, *limits)
    return _outside(errand, RegimeBecause.CRAFT, *limits)


def _van_abroad(errand: Errand) -> Regime:
    if errand.own_account is None:
        return _stricter(errand, RegimeBecause.OWN_ACCOUNT_UNKNOWN, "DR11b", "DR12b")
    if errand.own_account:
        return _outside(errand, RegimeBecause.OWN_ACCOUNT, "DR12b")
    return _in_scope(errand, RegimeBecause.VAN_ABROAD, "DR11b")


def _in_scope(errand: Errand, because: RegimeBecause, *figures: str) -> Regime:
    rules_id = "eu_two_drivers" if errand.drivers > 1 else "eu_one_driver"
    return Regime(rules_id=rules_id, because=because, figures=figures)


def _outside(errand: Errand, because: RegimeBecause, *figures: str) -> Regime:
    """Decide for who is not in scope of the regulation: domestic hours, else those of workers."""
    domestic = _HOME_OF_DOMESTIC in errand.countries
    if domestic and len(errand.countries) > 1:
        # Ten hours of driving and eleven of duty are stricter than anything workers have.
        return Regime(rules_id="gb_domestic", because=RegimeBecause.TWO_LAWS, figures=("DR13b",))
    if domestic:
        return Regime(rules_id="gb_domestic", because=because, figures=(*figures, "DR13b"))
    if not errand.countries <= validity_of("workers_eu").countries:
        return _stricter(errand, RegimeBecause.COUNTRY_UNKNOWN)
    return Regime(rules_id="workers_eu", because=because, figures=(*figures, "DR15a"))


def _stricter(errand: Errand, because: RegimeBecause, *figures: str) -> Regime:
    rules_id = "stricter_gb" if _HOME_OF_DOMESTIC in errand.countries else "stricter"
    return Regime(rules_id=rules_id, because=because, figures=figures)


def _mass_of(vehicle: Equipment) -> Decimal | None:
    if vehicle.gross_t is None:
        return None
    return vehicle.gross_t + (vehicle.trailer_t or 0)


@cache
def _abroad_from() -> date:
    import json

    told_of = json.loads(_FILE.read_text(encoding="utf-8"))
    return date.fromisoformat(told_of["abroad"]["valid_from"])
