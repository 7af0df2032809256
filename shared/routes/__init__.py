"""Ways of making: those that the program brings, and how one is written into a job."""

from shared.routes.copying import Copied, copied_steps
from shared.routes.known import (
    PROGRAM_ROUTES,
    Source,
    known_routes,
    program_route,
    route_of,
    sources_of,
)
from shared.routes.measures import Missing, amount_of, missing_measures
from shared.routes.names import USUAL_NAMES, Names, bound, unknown_words

__all__ = [
    "PROGRAM_ROUTES",
    "USUAL_NAMES",
    "Copied",
    "Missing",
    "Names",
    "Source",
    "amount_of",
    "bound",
    "copied_steps",
    "known_routes",
    "missing_measures",
    "program_route",
    "route_of",
    "sources_of",
    "unknown_words",
]
