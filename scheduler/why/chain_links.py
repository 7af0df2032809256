"""The links of a deciding chain as values: what held a step up, and what that speaks of."""

from dataclasses import dataclass
from enum import StrEnum

from shared.findings import Fact
from shared.ids import StepId

Facts = tuple[tuple[str, Fact], ...]


class LinkKind(StrEnum):
    """What keeps a step from being sooner, by what it is.

    now: the plan begins there. fact: a day that is written, something under way. after: the step
    before it had to end first; cure, client: and its cure, or an answer, had to pass. person: they
    do something else or are away; certificate: nobody else holds it. place, floor, equipment: what
    is taken. air: another step shares it. recoat: the next coat could not follow in time. climate:
    too cold or damp. journey, sailing, window: what loading has to be over for. size: it does not
    pass.
    """

    NOW = "now"
    FACT = "fact"
    PIN = "pin"
    AFTER = "after"
    CURE = "cure"
    CLIENT = "client"
    PERSON = "person"
    CERTIFICATE = "certificate"
    PLACE = "place"
    FLOOR = "floor"
    AIR = "air"
    EQUIPMENT = "equipment"
    RECOAT = "recoat"
    CLIMATE = "climate"
    JOURNEY = "journey"
    SAILING = "sailing"
    WINDOW = "window"
    SIZE = "size"


class Then(StrEnum):
    """What else passed between the cause of a link and the start: nothing, hours off, a shift.

    beside: what the link behind it tells, somebody's leave for one. off: nobody of the team works
    then. one_go: it does not fit what is left of the shift. climate: it may not be worked then.
    """

    NOTHING = ""
    BESIDE = "beside"
    OFF = "off"
    ONE_GO = "one_go"
    CLIMATE = "climate"


@dataclass(frozen=True, slots=True, kw_only=True)
class Link:
    """Why one step of a chain is no sooner.

    id: what is spoken of: a step, a person, a place ... step: the step held up (None: the job as a
    whole). ready, start, end: steps of the grid: from when on the cause let it be, when it starts
    then at the soonest and ends. stage, before: positions in the problem of what is held up and of
    what held it, -1 for none. facts: for the sentence, ids by what they are.
    """

    kind: LinkKind
    id: str
    step: StepId | None = None
    ready: int = 0
    start: int = 0
    end: int = 0
    stage: int = -1
    before: int = -1
    then: Then = Then.NOTHING
    side: bool = False
    facts: Facts = ()

    def fact(self, key: str) -> Fact:
        """Return the fact of that name, or None."""
        return dict(self.facts).get(key)
