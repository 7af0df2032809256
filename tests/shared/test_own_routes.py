"""Ways of making of the program where the workshop knows a figure better."""

from decimal import Decimal

import pytest

from shared.book import Gate, Journey, OwnFigure, Route
from shared.routes import program_route
from shared.routes.own import with_own_figures
from tests.builders import a_workshop


def the() -> Route:
    route = program_route("hollow")
    assert route is not None
    return route


def step(figure: str, value: str, name: str) -> object:
    workshop = a_workshop(figures=(OwnFigure(figure=figure, value=Decimal(value)),))
    route = with_own_figures(the(), workshop)
    return next(each for each in route.steps if each.id == name)


@pytest.mark.parametrize(("minutes", "whole"), [("240", 240), ("240.4", 241), ("241", 241)])
def test_whole_minutes_stay_whole_and_are_rounded_up(minutes: str, whole: int) -> None:
    """CP158 is the way to the site, and the way back."""
    journey = step("CP158", minutes, "ship")

    assert isinstance(journey, Journey)
    assert (journey.legs[0].minutes, journey.back_minutes) == (whole, whole)
    assert journey.legs[1].minutes == 60


def test_days_to_answer_are_those_of_the_workshop() -> None:
    gate = step("CP126", "7", "engineer")

    assert isinstance(gate, Gate)
    assert gate.answer_days == 7


def test_without_figures_of_its_own_it_is_the_programs() -> None:
    assert with_own_figures(the(), a_workshop()) == the()
