"""Cautions in words: what to mind in a step, who said so, and who decides."""

from typing import TYPE_CHECKING

from app.words.facts import facts_in_words
from app.words.template import Template, within

if TYPE_CHECKING:
    from collections.abc import Sequence

    from app.words import Words
    from shared.cautions import Caution

SENTENCES: dict[str, Template] = {
    "isocyanate_spray": (
        "Isocyanates are sprayed only in an enclosed, extracted place that nobody else is in, with "
        "air-fed breathing apparatus; it stays empty until the clearance that was measured there "
        "is over, or {minutes} where none was."
    ),
    "isocyanate_training": (
        "Who uses a product with more than {percent} % of isocyanates is trained first: the EU "
        "has asked for that since {since}, and again within {years} years."
    ),
    "isocyanate_glue": (
        "Foam glue, adhesive and sealant may hold isocyanates: fresh air, gloves, and cover for "
        "eyes and lungs as the data sheet says, above {percent} % with training."
    ),
    "styrene": (
        "Styrene vapour: extraction that draws it away from faces, and the filter that the data "
        "sheet names; limits differ by country (UK {limit} ppm over 8 hours; the industry aims at "
        "{aim})."
    ),
    "styrene_cure": (
        "Styrene vapour goes on where it cures: extraction there too, and nobody at work beside it "
        "without need."
    ),
    "hot_wire": ("Hot wire: extraction at the wire, never in still air, however old the foam is."),
    "peroxide": (
        "Peroxide has a store of its own, away from accelerator; at the bench stands only what the "
        "job needs."
    ),
    "laminate_dust": (
        "Dust of hardened laminate: extraction at the tool, and a mask; any dust counts as "
        "hazardous above {inhalable} mg/m³, fine dust above {respirable}."
    ),
    "vibration": (
        "Vibration of hand tools: measures from {action} m/s² over a day, and no more than "
        "{limit}; take turns and change tools."
    ),
    "no_flame": (
        "No flame, no sparks and no heater that nobody watches near foam, fresh laminate or vapour."
    ),
    "lifting": (
        "A lift with gear is planned by a competent person; by hand, close to the body, the "
        "guideline is {men} kg for men and {women} kg for women."
    ),
    "hung_piece": "Nobody stands or works under a piece that hangs.",
    "tower": "Work above {metres} m is done from a tower or platform, not from a ladder.",
    "playground": (
        "A piece to play on is inspected by a competent person once it stands, then every {least} "
        "to {most} months and once a year."
    ),
    "slide": "A slide has its documents, and its acceptance test before anybody uses it.",
    "fire_test": (
        "The fire test is of the real build-up in its worst colour; a laboratory takes {least} to "
        "{most} weeks."
    ),
}

NAMES: dict[str, Template] = {
    "isocyanate_spray": within("caution", "isocyanates in spray"),
    "isocyanate_training": within("caution", "training for isocyanates"),
    "isocyanate_glue": within("caution", "isocyanates in glue"),
    "styrene": within("caution", "styrene"),
    "styrene_cure": within("caution", "styrene where it cures"),
    "hot_wire": within("caution", "extraction at the wire"),
    "peroxide": within("caution", "peroxide"),
    "laminate_dust": within("caution", "dust of laminate"),
    "vibration": within("caution", "vibration"),
    "no_flame": within("caution", "no flame or spark"),
    "lifting": within("caution", "lifting"),
    "hung_piece": within("caution", "nobody under the piece"),
    "tower": within("caution", "work high up"),
    "playground": within("caution", "inspection before play"),
    "slide": within("caution", "acceptance of the slide"),
    "fire_test": within("caution", "fire test"),
}
"""Each in a few words."""

NAMED: Template = "Mind: {names}."
DO_IN_FULL: Template = within("cautions", "in full")
DO_IN_SHORT: Template = within("cautions", "in short")

CURES_IN: Template = "Here that is {places}."
DEFERS: Template = (
    "What local codes, the product's data sheet and licensed people say comes before all of this."
)
SOURCE: Template = "Source: {source}."
SOURCE_FROM_MEMORY: Template = "Source, from memory: {source}."

TITLE: Template = "Cautions"
NONE: Template = "No cautions are known for this."
STEP: Template = "{step}, {job}"
IN_STEPS: Template = "In {steps}."


def sentence(words: "Words", caution: "Caution") -> str:
    """Give what to mind, with the places where that also holds."""
    facts = facts_in_words(words, caution.facts, words.zone)
    told = words.say(SENTENCES[caution.id], **facts)
    if not caution.places:
        return told
    places = words.both(words.names.of("place", place) for place in caution.places)
    return f"{told} {words.say(CURES_IN, places=places)}"


def names_line(words: "Words", found: "Sequence[Caution]") -> str:
    """Give which cautions there are, in a few words each."""
    names = words.series(words.say(NAMES[each.id]) for each in found)
    return words.say(NAMED, names=names)


def source(words: "Words", caution: "Caution") -> str:
    """Give where a caution is from."""
    template = SOURCE_FROM_MEMORY if caution.is_from_memory else SOURCE
    return words.say(template, source=caution.source)


def whole(words: "Words", caution: "Caution") -> str:
    """Give a caution by itself: what to mind, where that is from, and who decides."""
    return " ".join((sentence(words, caution), source(words, caution), words.say(DEFERS)))
