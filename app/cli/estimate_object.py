"""An estimate for programs: every number with its sum, its figures and their sources."""

from fractions import Fraction

from app.cli.books import Json
from app.words import Words
from app.words import estimate as say
from shared.book import Hours
from shared.estimate import Estimate, Formula, FormulaCode, Line, Quantity, Range, Size, Take
from shared.trade import Figure
from shared.units import decimal_of

_PLACES = 4


def estimate_object(words: Words, estimate: Estimate) -> Json:
    """Give an estimate; figures are told once, by their ids."""
    mass = estimate.mass
    return {
        "hours": _hours(estimate.hours),
        "lines": [_line(words, each) for each in estimate.lines],
        "quantities": [_quantity(words, each) for each in estimate.quantities],
        "sizes": [_size(each) for each in estimate.sizes],
        "mass_kg": None if mass is None else {"foam": _range(mass.foam), "skin": _range(mass.skin)},
        "left": list(estimate.left),
        "figures": {each.id: figure_object(each) for each in _figures(estimate)},
    }


def figure_object(told: Figure) -> Json:
    """Give a figure of the trade."""
    return {
        "name": told.name,
        "value": None if told.value is None else float(told.value),
        "low": None if told.low is None else float(told.low),
        "high": None if told.high is None else float(told.high),
        "unit": told.unit,
        "source": told.source,
        "confidence": told.confidence.value,
    }


def _line(words: Words, told: Line) -> Json:
    return {
        "stage": told.stage,
        "name": told.name,
        "kind": None if told.kind is None else told.kind.value,
        "hours": _hours(told.hours),
        "own": told.own,
        **_formula(words, told.formula),
        "steps": [
            {
                "step": each.step,
                "name": each.name,
                "segments": list(each.segments),
                "hours": _hours(each.hours),
            }
            for each in told.shares
        ],
    }


def _formula(words: Words, told: Formula) -> Json:
    confidence = told.confidence
    return {
        "formula": {
            "code": told.code.value,
            "facts": dict(told.facts),
            "text": say.formula_words(words, told),
            "rate": told.asked or None,
        },
        "figures": [each.id for each in told.figures],
        "confidence": None if confidence is None else confidence.value,
    }


def _quantity(words: Words, told: Quantity) -> Json:
    material = told.material
    return {
        "material": material.id,
        "name": material.name,
        "unit": material.unit,
        "kind": material.kind.value,
        "net": _range(told.net),
        "with_waste": _range(told.gross),
        "waste_percent": _range(told.waste),
        "waste_figure": None if told.waste_figure is None else told.waste_figure.id,
        "takes": [_take(words, each, material.unit) for each in told.takes],
    }


def _take(words: Words, told: Take, unit: str) -> Json:
    formula = Formula(code=FormulaCode.WRITTEN, figures=told.figures)
    confidence = formula.confidence
    return {
        "stage": told.stage,
        "name": told.name,
        "net": _range(told.quantity),
        "per": None if told.measure is None else told.measure.value,
        "amount": _number(told.size),
        "rate": told.asked or None,
        "text": say.take_line(words, told, unit),
        "figures": [each.id for each in told.figures],
        "confidence": None if confidence is None else confidence.value,
        "own": told.own,
    }


def _size(told: Size) -> Json:
    return {
        "segment": told.segment,
        "measure": told.measure.value,
        "amount": _range(told.amount),
        "from": told.of.value,
    }


def _figures(estimate: Estimate) -> list[Figure]:
    """Give every figure of an estimate, each once."""
    found = dict.fromkeys(each for line in estimate.lines for each in line.formula.figures)
    for quantity in estimate.quantities:
        found |= dict.fromkeys(each for take in quantity.takes for each in take.figures)
        if quantity.waste_figure is not None:
            found[quantity.waste_figure] = None
    return list(found)


def _hours(hours: Hours) -> Json:
    return {"low": float(hours.low), "likely": float(hours.likely), "high": float(hours.high)}


def _range(told: Range) -> Json:
    return {
        "low": _number(told.low),
        "likely": _number(told.likely),
        "high": _number(told.high),
    }


def _number(exact: Fraction) -> float:
    return float(decimal_of(exact, _PLACES))
