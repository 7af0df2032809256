"""`countback came`: a delivery has come, or all that a step takes is there."""

from app.cli.arguments import Asked, Usage
from app.cli.console import Console
from app.cli.floor import Told, run_told
from app.cli.meant import material_meant, step_meant
from app.words import floor as say
from shared.book import Material
from shared.edits import Edited, take_delivery, tell_material


def run(asked: Asked, console: Console) -> int:
    return run_told(asked, console, _came)


def _came(told: Told) -> tuple[Edited | None, list[str]]:
    material = material_meant(told.book, told.asked.words[1])
    if material is not None:
        return _delivered(told, material)
    step = step_meant(told.book, told.asked.words[1])
    edited = tell_material(told.book, step.id, told.now, told.by, told.at)
    fact = edited.book.facts[-1]
    return edited, [say.came_line(told.words, told.job(fact), step.id, fact.at, told.who)]


def _delivered(told: Told, material: Material) -> tuple[Edited | None, list[str]]:
    """Note that the delivery of a material that was to come first has come."""
    at, words = told.at or told.now, told.words
    if at > told.now:
        facts = {"moment": words.moment(at, after=None), "now": words.moment(told.now, after=None)}
        raise Usage("not_yet", **facts)
    ordered = [
        each for each in told.book.deliveries if each.material == material.id and not each.arrived
    ]
    if not ordered:
        raise Usage("nothing_ordered", material=material.name)
    edited = take_delivery(told.book, min(ordered, key=lambda each: each.at), at, told.by)
    name = words.names.of("material", material.id)
    moment = words.moment(at, after=None)
    return edited, [words.say(say.DELIVERED, material=name, moment=moment, who=told.who)]
