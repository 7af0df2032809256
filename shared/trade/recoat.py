"""From one coat to the next: the least and greatest wait, by temperature where it is published."""

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from shared.book import RecoatBand
from shared.trade.figures import figure

_POLYURETHANE = ("PT01a", "PT01b", "PT01c", "PT01d", "PT01e", "PT01f")
_DEGREES_PER_FACTOR = 10


@dataclass(frozen=True, slots=True, kw_only=True)
class RecoatWindow:
    """When the next coat may follow: least and greatest hours in a band of temperature.

    coldest_celsius, warmest_celsius: of the hottest surface that lasts an hour between the coats
    (PT02), both included.
    """

    coldest_celsius: Decimal
    warmest_celsius: Decimal
    least_hours: Decimal
    most_hours: Decimal

    @property
    def band(self) -> RecoatBand:
        """Return the greatest wait as a stage carries it."""
        return RecoatBand(upto_celsius=self.warmest_celsius, most_hours=self.most_hours)


def polyurethane_windows() -> tuple[RecoatWindow, ...]:
    """Give the windows of polyurethane over polyurethane (PT01), by rising temperature."""
    return tuple(_window(name) for name in _POLYURETHANE)


def polyurethane_bands() -> tuple[RecoatBand, ...]:
    """Give their greatest waits as the `recoat_bands` of a stage.

    A temperature between two of the published bands belongs to the warmer one, whose wait is
    no longer: the safe side.
    """
    return tuple(window.band for window in polyurethane_windows())


def polyurethane_cure() -> tuple[Decimal, Decimal]:
    """Give `cure_hours` and the `cure_celsius` they are for, of polyurethane before its next coat.

    A stage whose cure goes by the temperature waits 2^((T0 - T) / 10) times as long at T (PL07).
    This is the one least wait of the table, at the warm end of its band, from which that factor
    gives none of the others too short.
    """
    longest = max(polyurethane_windows(), key=_at_one_temperature)
    return longest.least_hours, longest.warmest_celsius


def over_laminating_most_hours() -> Decimal:
    """Give how long a laminate can be laminated over without abrading: PL22, common practice."""
    return figure("PL22").amount


def colour_to_clear_most_hours() -> Decimal:
    """Give the longest wait from colour to clear coat of one system: PT15."""
    return figure("PT15").amount


def _window(name: str) -> RecoatWindow:
    wait, surface = figure(name), figure(f"{name}t")
    return RecoatWindow(
        coldest_celsius=surface.least,
        warmest_celsius=surface.most,
        least_hours=wait.least,
        most_hours=wait.most,
    )


def _at_one_temperature(window: RecoatWindow) -> Fraction:
    """Give (hours at 0 degC)^10, which orders waits as the waits themselves do, and is exact."""
    factor = Fraction(figure("PL07").amount) ** int(window.warmest_celsius)
    return Fraction(window.least_hours) ** _DEGREES_PER_FACTOR * factor
