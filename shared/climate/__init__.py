"""How warm and damp the workshop is expected to be, or was measured to be."""

from shared.climate.lookup import HEATING, Climate, Day, Hour, heating_of, measured

__all__ = ["HEATING", "Climate", "Day", "Hour", "heating_of", "measured"]
