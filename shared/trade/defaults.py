"""What holds where the book says nothing: usual acts, company, air and limits of a day.

The figures come from the tables (`shared.trade.figures`), when the first of them is asked for;
the acts stand here. All of it is common practice and can be written otherwise in the book.
"""

from collections.abc import Callable, Mapping
from decimal import Decimal
from functools import cache
from itertools import product
from types import MappingProxyType

from shared.book import Act, Apart, Kind, LegKind, Stage
from shared.trade.figures import figure

USUAL_ACTS: Mapping[Kind, tuple[Act, ...]] = MappingProxyType(
    {
        Kind.FOAM: (Act.HOT_WIRE, Act.DUST),
        Kind.LAMINATE: (Act.RESIN,),
        Kind.COAT: (Act.RESIN, Act.WET),
        Kind.FILL: (Act.DUST,),
        Kind.PAINT: (Act.SPRAY, Act.WET),
        Kind.LACQUER: (Act.SPRAY, Act.WET),
        Kind.PACK: (),
    }
)
"""What is done in a stage of a kind that does not say what it does."""

USUAL_LEG: Mapping[LegKind, tuple[str, ...]] = MappingProxyType(
    {
        LegKind.BORDER: ("CP627",),
        LegKind.ARRIVE: ("CP620", "CP621"),
        LegKind.UNLOAD: ("CP159",),
        LegKind.ASSEMBLE: ("CP160",),
        LegKind.SEAL: ("CP161",),
        LegKind.INSPECT: ("CP624",),
        LegKind.SIGN_OFF: ("CP162",),
        LegKind.TAKE_AWAY: ("CP625",),
        LegKind.SNAGS: ("CP626",),
    }
)
"""The figures, in minutes, that a leg of a kind takes where nothing is written."""

USUAL_LEG_PER_PIECE: Mapping[LegKind, str] = MappingProxyType(
    {LegKind.LOAD: "CP157", LegKind.LIFT: "CP622", LegKind.CARRY: "CP623"}
)
"""The same for each piece."""

ABRADING: tuple[Act, ...] = (Act.DUST, Act.POWER_SAND)
"""What is done where a recoat time that ran out calls for abrading."""

NEVER_ALONE: tuple[Act, ...] = (
    Act.SPRAY,
    Act.ISOCYANATE,
    Act.RESIN,
    Act.HOT_WIRE,
    Act.GRIND,
    Act.LIFT,
    Act.WELD,
)
"""What nobody does alone in the building: figure CP03."""

APART: tuple[Apart, ...]
"""Acts kept apart where they share air: vapour from sparks, dust from what is wet."""

WET_HOURS: Mapping[Kind, Decimal]
"""How long dust spoils the surface that a stage of a kind leaves, in hours from its end."""

PIECES_PER_HALF_DAY: int
"""How many different pieces a person works on in half a day: figure CP02."""

SANDING_HOURS: Decimal
"""How long a person sands with power tools in a day, in hours: figure CP01."""

CLEARANCE_MINUTES: int
"""How long a booth clears after spraying where no time is measured, in minutes: figure HS03."""

_VAPOUR = (Act.RESIN, Act.SOLVENT, Act.SPRAY)
_SPARKS = (Act.HOT_WIRE, Act.WELD, Act.GRIND, Act.FLAME)
_WET_FIGURES: dict[Kind, str] = {
    Kind.FOAM: "CP09",
    Kind.LAMINATE: "CP07",
    Kind.COAT: "CP04",
    Kind.FILL: "CP08",
    Kind.PAINT: "CP05",
    Kind.LACQUER: "CP06",
    Kind.PACK: "CP10",
}
_MINUTES = {"min": 1, "h": 60}


def acts_of(stage: Stage) -> tuple[Act, ...]:
    """Give what is done in a stage: what it says, else the usual for its kind."""
    return USUAL_ACTS[stage.kind] if stage.does is None else stage.does


def _apart() -> tuple[Apart, ...]:
    return (
        *(Apart(first=first, second=second) for first, second in product(_VAPOUR, _SPARKS)),
        Apart(first=Act.DUST, second=Act.WET, minutes=_minutes("CP11")),
        Apart(first=Act.DUST, second=Act.SPRAY, minutes=_minutes("HS14")),
    )


def _wet_hours() -> Mapping[Kind, Decimal]:
    return MappingProxyType({kind: figure(name).amount for kind, name in _WET_FIGURES.items()})


def _minutes(figure_id: str) -> int:
    found = figure(figure_id)
    return int(found.amount * _MINUTES[found.unit])


_FROM_TABLES: dict[str, Callable[[], object]] = {
    "APART": _apart,
    "WET_HOURS": _wet_hours,
    "PIECES_PER_HALF_DAY": lambda: int(figure("CP02").amount),
    "SANDING_HOURS": lambda: figure("CP01").amount,
    "CLEARANCE_MINUTES": lambda: _minutes("HS03"),
}


@cache
def __getattr__(name: str) -> object:
    """Give what comes from the tables; who never asks never reads them."""
    make = _FROM_TABLES.get(name)
    if make is None:
        raise AttributeError(name)
    return make()
