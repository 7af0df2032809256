"""What has happened, as somebody told it."""

from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from enum import StrEnum

from shared.ids import FactId, PersonId, PlaceId, StepId
from shared.value import Value


class FactKind(StrEnum):
    """What was told: a stage done, running or held up, an answer, material, the lorry gone."""

    DONE = "done"
    RUNNING = "running"
    ANSWER = "answer"
    PICTURES = "pictures"
    MATERIAL = "material"
    GONE = "gone"
    HELD = "held"


NOT_BEGUN = frozenset({FactKind.MATERIAL, FactKind.HELD})
"""What may be told of a step that has not begun."""


class Held(StrEnum):
    """Why work could not be begun; why somebody is away is nobody's to say here."""

    MATERIAL = "material"
    TOOL = "tool"
    PLACE = "place"
    WEATHER = "weather"
    DRAWING = "drawing"
    CLIENT = "client"
    WORK_BEFORE = "work_before"
    PERSON = "person"


class Answer(StrEnum):
    """What the client said."""

    YES = "yes"
    CHANGES = "changes"
    NO = "no"


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Fact(Value):
    """Something that happened to a step at an instant, told by somebody.

    done: the stage ended at `at`; of an answer that was yes with changes: these are done.
    running: it has run since `at`, with `remaining_hours` of person-hours still to do from now.
    material: all that the step takes was there at `at`. pictures: they went out at `at`.
    held: at `at` it had not begun, whatever the sheet said; why is `held_by`.
    shown: names of the pictures that went out or were answered.
    """

    id: FactId
    kind: FactKind
    step: StepId
    at: datetime
    told_by: str
    told_at: datetime | None = None
    people: tuple[PersonId, ...] = ()
    place: PlaceId | None = None
    way: str = ""
    remaining_hours: Decimal | None = None
    answer: Answer | None = None
    held_by: Held | None = None
    note: str = ""
    shown: tuple[str, ...] = ()
