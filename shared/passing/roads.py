"""What an open load may measure on the road and on a ferry before somebody must be asked.

Great Britain: police notice, special-order form VR1, special order (figures TR03 to TR06), and a
height to plan with (TR08). Elsewhere the limits of Directive 96/53/EC (TR01, TR02), above which
the road authority's permit is wanted. Ferries: TR17. None of these forbids a load.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from shared.passing.boxes import mm
from shared.trade import figure

_BRITAIN = "GB"


class Dimension(StrEnum):
    """Which size of a piece as it is moved meets which of an opening."""

    WIDTH = "width"
    HEIGHT = "height"
    LENGTH = "length"


class Demand(StrEnum):
    """What a load above a limit calls for, from the slightest to the heaviest."""

    ROUTE = "route"
    REQUEST = "request"
    PERMIT = "permit"
    NOTICE = "notice"
    FORM = "form"
    ORDER = "order"


class Realm(StrEnum):
    """Whose limits they are."""

    BRITAIN = "britain"
    EUROPE = "europe"
    FERRY = "ferry"


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """A size in millimetres above which something is called for, and the figure it is from."""

    dimension: Dimension
    most: Fraction
    demand: Demand
    figure: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Road:
    """The limits of a road or a ferry; of the height, the bed of the vehicle is taken off."""

    realm: Realm
    name: str
    limits: tuple[Limit, ...]


def roads_of(countries: Iterable[str | None]) -> tuple[Road, ...]:
    """Return the roads through countries: those of Great Britain, those of the others."""
    named = {country for country in countries if country}
    found = []
    if _BRITAIN in named:
        found.append(Road(realm=Realm.BRITAIN, name="", limits=_britain()))
    if named - {_BRITAIN}:
        found.append(Road(realm=Realm.EUROPE, name="", limits=_europe()))
    return tuple(found)


def ferry(name: str) -> Road:
    """Return the limits of a ferry above which a load is asked for beforehand."""
    return Road(realm=Realm.FERRY, name=name, limits=_ferry())


def _britain() -> tuple[Limit, ...]:
    special = figure("TR04").least
    return (
        _limit(Dimension.WIDTH, "TR03a", Demand.NOTICE),
        _at(Dimension.WIDTH, mm(special), Demand.FORM, "TR04"),
        _limit(Dimension.WIDTH, "TR05a", Demand.ORDER),
        _limit(Dimension.LENGTH, "TR06a", Demand.NOTICE),
        _limit(Dimension.LENGTH, "TR05d", Demand.ORDER),
        _above_bed("TR08", Demand.ROUTE),
    )


def _europe() -> tuple[Limit, ...]:
    return (
        _limit(Dimension.WIDTH, "TR01a", Demand.PERMIT),
        _behind_cab("TR02a", Demand.PERMIT),
        _above_bed("TR01c", Demand.PERMIT),
    )


def _ferry() -> tuple[Limit, ...]:
    return (
        _limit(Dimension.WIDTH, "TR17b", Demand.REQUEST),
        _behind_cab("TR17c", Demand.REQUEST),
        _above_bed("TR17a", Demand.REQUEST),
    )


def _at(dimension: Dimension, most: Fraction, demand: Demand, name: str) -> Limit:
    return Limit(dimension=dimension, most=most, demand=demand, figure=name)


def _limit(dimension: Dimension, name: str, demand: Demand) -> Limit:
    return _at(dimension, mm(figure(name).amount), demand, name)


def _above_bed(name: str, demand: Demand) -> Limit:
    """Return a limit of the height of a vehicle as one of what stands on its bed."""
    room = figure(name).amount - figure("CP403").amount
    return _at(Dimension.HEIGHT, mm(room), demand, name)


def _behind_cab(name: str, demand: Demand) -> Limit:
    """Return a limit of the length of an articulated lorry as one of what its trailer carries.

    What stands before the trailer is what the longest lorry has besides a usual trailer.
    """
    cab = figure("TR02a").amount - figure("TR13a").amount
    return _at(Dimension.LENGTH, mm(figure(name).amount - cab), demand, name)
