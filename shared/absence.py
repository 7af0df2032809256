"""Somebody or something that is not there for a while."""

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from shared.ids import StepId


class AwayKind(StrEnum):
    """Who or what is away."""

    PERSON = "person"
    PLACE = "place"
    EQUIPMENT = "equipment"
    DELIVERY = "delivery"


@dataclass(frozen=True, slots=True, kw_only=True)
class Absence:
    """Who or what is away from when to when, half-open; why is nobody's business here.

    id: of the person, place, equipment or, of a delivery, of the material. steps: of a delivery,
    those that wait for it.
    """

    kind: AwayKind
    id: str
    start: datetime
    end: datetime
    steps: tuple[StepId, ...] = ()
