"""What only the workshop's page says of its records: how the picture is read, what is offered."""

from typing import TYPE_CHECKING

from app.words import learn
from app.words.template import Template, counted
from shared.estimate.record import RECORD_LEAST

if TYPE_CHECKING:
    from app.words.words import Words
    from shared.estimate.learning import Learned

NOTHING: Template = (
    "Nothing is on record yet. A stage is on record when it was told as begun and as done, and by "
    "whom: T in People ticks a day, and that is on record."
)
PICTURE: Template = "Recorded hours against estimates, by kind of work"
HOW: Template = (
    "Each dot is a finished stage: left of the upright it took less than estimated, right of it "
    "more. The bar is the factor, between low and high eight times of ten. A hollow mark is the "
    "factor that estimates use."
)
RECORDS = counted("count", "one record", "{number} records")
RANGE: Template = "{factor} ({low} to {high})"
DO_TAKE: Template = "take {factor} for new estimates"
TAKE_NAME: Template = "{kind}: take {factor} for new estimates"


def state_line(words: "Words", found: "Learned") -> str:
    """Give what of a kind is in use, or why nothing is offered; "" where it is offered."""
    if found.is_offered:
        return ""
    if found.taken is not None:
        return words.say(learn.TAKEN, taken=f"{found.taken:.2f}")
    if found.count < RECORD_LEAST:
        return words.say(learn.FEW, least=RECORD_LEAST)
    return words.say(learn.BY_CHANCE)


def told(words: "Words", found: "Learned") -> str:
    """Give a kind as it is read out."""
    parts = [learn.kind_line(words, found)]
    if found.taken is not None:
        parts.append(words.say(learn.TAKEN, taken=f"{found.taken:.2f}"))
    if found.is_offered:
        parts.append(words.say(DO_TAKE, factor=f"{found.factor:.2f}"))
    elif found.taken is None:
        parts.append(state_line(words, found))
    return " ".join(parts)
