"""Estimates in words: hours by stage, quantities, and what sum with which figures each one is."""

from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from typing import TYPE_CHECKING

from app.words.template import Template, counted, within
from app.words.voice import Voice
from shared.book import Measure
from shared.estimate.values import NOTHING as NONE
from shared.estimate.values import FormulaCode, Range, SizeFrom
from shared.trade import Confidence

if TYPE_CHECKING:
    from shared.book import Hours
    from shared.estimate.values import Estimate, Formula, Line, Quantity, Take
    from shared.trade import Figure

HEAD: Template = "{name}: {likely} person-hours are likely ({low} to {high})."
PIECES: Template = counted("count", "{count} piece of {size} m", "{count} pieces of {size} m each")
MADE: Template = "{what}, {route}."
MADE_WITH: Template = "{what}, {route}, with {options}."
HOURS_TITLE: Template = "Person-hours"
TAKES_TITLE: Template = "Material, nothing wasted"
SIZES_TITLE: Template = "Sizes"
FIGURES_TITLE: Template = "Figures, each to be changed in the book"
LINE: Template = "{name}: {likely} h ({low} to {high}): {formula}"
OWN_LINE: Template = "{name}: {likely} h ({low} to {high}), your own: {formula}"
NOTHING: Template = "There is nothing to estimate: no step with work, and no size."
_FROM: Template = "{formula}; {figures}"

_FORMULAS: dict[FormulaCode, Template] = {
    FormulaCode.FIXED: "{hours} h for all of it",
    FormulaCode.GROWS: "{amount} {measure} × {rate} h",
    FormulaCode.GROWS_BY_CLASS: "{amount} {measure} × {rate} h × {times} by class",
    FormulaCode.WITH_SETUP: counted(
        "count",
        "{fixed} h and {amount} {measure} × {rate} h",
        "{count} × {fixed} h and {amount} {measure} × {rate} h",
    ),
    FormulaCode.WITH_SETUP_BY_CLASS: counted(
        "count",
        "{fixed} h and {amount} {measure} × {rate} h × {times} by class",
        "{count} × {fixed} h and {amount} {measure} × {rate} h × {times} by class",
    ),
    FormulaCode.WRITTEN: "as the book has it",
    FormulaCode.LIKE: "{hours} h × {times} {power}, as written there",
    FormulaCode.LIKE_RECORDED: counted(
        "count",
        "{hours} h × {times} {power}, as recorded there",
        "{hours} h × {times} {power}, {recorded} of {count} steps as recorded there",
    ),
}
_AS_IT_WAS: dict[FormulaCode, Template] = {
    FormulaCode.LIKE: "{hours} h, as written there; it does not grow",
    FormulaCode.LIKE_RECORDED: "{hours} h, as recorded there; it does not grow",
}
_POWERS: tuple[Template, ...] = (
    "",
    within("power", "by length"),
    within("power", "squared"),
    within("power", "cubed"),
)
MEASURES: dict[str, Template] = {
    "m3": within("amount", "m³"),
    "m2": within("amount", "m²"),
    "m": within("amount", "m of joint"),
    "piece": counted("count", "piece", "pieces", "amount"),
}

QUANTITY: Template = "{material}: {likely} {unit} ({low} to {high})"
WASTED: Template = "{quantity}; {gross} {unit} with {percent} % wasted"
BLOCKS: Template = counted(
    "count", "{wasted}, {count} block of {size} m³", "{wasted}, {count} blocks of {size} m³ each"
)
TAKE: Template = "{stage}: {amount} {measure} × {per} {unit}"
TAKE_AS_IS: Template = "{stage}: {likely} {unit}, your own"
UNITS: dict[str, Template] = {
    "m2": within("unit", "m²"),
    "m3": within("unit", "m³"),
    "piece": within("unit", "pieces"),
}
MASS_OF_FOAM: Template = "The foam weighs {likely} kg ({low} to {high}) before it is carved."
MASS_OF_SKIN: Template = "The skin weighs {likely} kg ({low} to {high}), filler and paint aside."

_SIZES: dict[SizeFrom, Template] = {
    SizeFrom.WRITTEN: "{what}: {likely} {measure}, as written",
    SizeFrom.BOX: "{what}: {likely} {measure}, the box of each piece",
    SizeFrom.SHARE: "{what}: {likely} {measure} ({low} to {high}), a share of the surface of the "
    "box; CP134",
    SizeFrom.GIRTH: "{what}: {likely} {measure}, once around the box of each piece",
}
_WHATS: dict[Measure, Template] = {
    Measure.VOLUME: within("size", "foam"),
    Measure.SURFACE: within("size", "skin"),
    Measure.JOINTS: within("size", "seams, each from both its sides"),
}
FIGURE: Template = "{id}: {name}, {value} {unit}. {source} ({confidence})."
FIGURE_OF_PRACTICE: Template = "{id}: {name}, {value} {unit}. {source}."
FIGURE_OWN: Template = "{id}: {name}, {value} {unit}. {confidence}."
FIGURE_OWN_NOTE: Template = "{id}: {name}, {value} {unit}. {confidence}: {source}."
_RANGE: Template = "{value} ({low} to {high})"
_RANGE_ALONE: Template = "{low} to {high}"
CONFIDENCES: dict[Confidence, Template] = {
    Confidence.OFFICIAL: within("confidence", "official or primary text, read"),
    Confidence.SECONDARY: within("confidence", "secondary source, read"),
    Confidence.COMPUTED: within("confidence", "computed from other figures"),
    Confidence.MEMORY: within("confidence", "from memory, document named"),
    Confidence.PRACTICE: within("confidence", "common practice"),
    Confidence.OWN: within("confidence", "the workshop’s own"),
}
ROUNDED: Template = (
    "Each step is rounded up to a quarter of an hour. Ranges are those of the rates; where a skin "
    "is a share of its box, measure it."
)
LEFT: Template = "What the past job had besides and this one has no like of: {stages}."

_HUNDRED = 100


def number(exact: Fraction | Decimal, places: int | None = None) -> str:
    """Give a number in at most so many places: fewer, the larger it is."""
    value = Fraction(exact)
    if places is None:
        places = 0 if value >= _HUNDRED else 1 if value >= 10 else 2 if value >= 1 else 3
    whole = Decimal(value.numerator) / Decimal(value.denominator)
    made = f"{whole.quantize(Decimal(1).scaleb(-places), ROUND_HALF_UP):f}"
    return made.rstrip("0").rstrip(".") if "." in made else made


def hours_of(hours: "Hours") -> dict[str, str]:
    """Give person-hours as they stand in a line."""
    return {
        "low": number(hours.low, 2),
        "likely": number(hours.likely, 2),
        "high": number(hours.high, 2),
    }


def head_line(voice: Voice, name: str, estimate: "Estimate") -> str:
    """Give the sentence for all of it, in whole hours."""
    total = estimate.hours
    ends = {"low": total.low, "likely": total.likely, "high": total.high}
    return voice.say(HEAD, name=name, **{key: number(end, 0) for key, end in ends.items()})


def line(voice: Voice, told: "Line") -> str:
    """Give a stage: its hours, the sum that they are, and the figures in it."""
    formula = formula_words(voice, told.formula)
    figures = ", ".join(each.id for each in told.formula.figures)
    if figures:
        formula = voice.say(_FROM, formula=formula, figures=figures)
    template = OWN_LINE if told.own else LINE
    return voice.say(template, name=told.name, formula=formula, **hours_of(told.hours))


def formula_words(voice: Voice, formula: "Formula") -> str:
    """Give the sum that hours are."""
    facts: dict[str, object] = dict(formula.facts)
    measure = facts.get("measure")
    if isinstance(measure, str):
        count = 1 if facts.get("amount") == "1" else 2
        facts["measure"] = voice.say(MEASURES[measure], count=count)
    power = facts.get("power")
    if power == 0:
        return voice.say(_AS_IT_WAS[formula.code], **facts)
    if isinstance(power, int):
        facts["power"] = voice.say(_POWERS[power])
    return voice.say(_FORMULAS[formula.code], **facts)


def quantity_line(
    voice: Voice, told: "Quantity", blocks: tuple[int, Fraction] | None = None
) -> str:
    """Give how much of a material there is, and with what is wasted; blocks: of so many m3."""
    unit = unit_words(voice, told.material.unit)
    text = voice.say(QUANTITY, material=told.material.name, unit=unit, **range_of(told.net))
    if told.waste.likely:
        percent, gross = number(told.waste.likely, 0), number(told.gross.likely)
        text = voice.say(WASTED, quantity=text, gross=gross, unit=unit, percent=percent)
    if blocks is None:
        return text
    count, size = blocks
    return voice.say(BLOCKS, wasted=text, count=count, size=number(size, 3))


def take_line(voice: Voice, told: "Take", unit: str) -> str:
    """Give how much one stage takes, and the figures in that."""
    shown = unit_words(voice, unit)
    if told.own or told.measure is None:
        return voice.say(
            TAKE_AS_IS, stage=told.name, likely=number(told.quantity.likely), unit=shown
        )
    measure = voice.say(MEASURES[told.measure.value], count=1 if told.size == 1 else 2)
    text = voice.say(
        TAKE,
        stage=told.name,
        amount=number(told.size),
        measure=measure,
        per=number(told.per.likely),
        unit=shown,
    )
    figures = ", ".join(each.id for each in told.figures)
    return voice.say(_FROM, formula=text, figures=figures) if figures else text


def unit_words(voice: Voice, unit: str) -> str:
    """Give a unit as it is written."""
    return voice.say(UNITS[unit]) if unit in UNITS else unit


def range_of(told: Range) -> dict[str, str]:
    """Give a range as it stands in a line."""
    return {
        "low": number(told.low),
        "likely": number(told.likely),
        "high": number(told.high),
    }


def size_lines(voice: Voice, estimate: "Estimate") -> list[str]:
    """Give the sizes that hours and quantities go by, all pieces together, and whence they are."""
    totals: dict[tuple[Measure, SizeFrom], Range] = {}
    for size in estimate.sizes:
        key = size.measure, size.of
        totals[key] = totals.get(key, NONE) + size.amount
    return [
        voice.say(
            _SIZES[of],
            what=voice.say(_WHATS[measure]),
            measure=voice.say(MEASURES[measure.value], count=2),
            **range_of(amount),
        )
        for (measure, of), amount in totals.items()
        if amount.likely
    ]


def figure_line(voice: Voice, told: "Figure") -> str:
    """Give a figure with its range, its source and how far it is to be trusted."""
    facts = {
        "id": told.id,
        "name": voice.brought(told.name),
        "unit": told.unit,
        "source": voice.brought(told.source).rstrip("."),
        "value": _value(voice, told),
        "confidence": voice.say(CONFIDENCES[told.confidence]),
    }
    if told.confidence is Confidence.PRACTICE:
        return voice.say(FIGURE_OF_PRACTICE, **facts)
    if told.confidence is not Confidence.OWN:
        return voice.say(FIGURE, **facts)
    return voice.say(FIGURE_OWN_NOTE if told.source else FIGURE_OWN, **facts)


def _value(voice: Voice, told: "Figure") -> str:
    ends = {"low": f"{told.low}", "high": f"{told.high}"}
    if told.value is None:
        return voice.say(_RANGE_ALONE, **ends)
    if told.low is None or told.high is None or told.low == told.high:
        return voice.decimal(f"{told.value}")
    return voice.say(_RANGE, value=voice.decimal(f"{told.value}"), **ends)
