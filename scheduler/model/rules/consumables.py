"""What is used up for good is not used up twice.

For each consumable: sum over stages and ways of units x way <= units there are.
Pinned by tests/scheduler/test_model_rules.py, "consumables".
"""

from scheduler.model.variables import Frame, Literal


def post(frame: Frame) -> None:
    """Keep within what there is of every consumable."""
    for position, units_in_all in enumerate(frame.problem.consumables):
        frame.model.add(
            sum(units * literal for units, literal in _uses(frame, position)) <= units_in_all
        )


def _uses(frame: Frame, consumable: int) -> list[tuple[int, Literal]]:
    return [
        (units, literal)
        for stage, found in zip(frame.problem.stages, frame.stages, strict=True)
        for way, literal in zip(stage.ways, found.ways, strict=True)
        for used, units in way.consumes
        if used == consumable and units
    ]
