"""One book for each thing that can be wrong with ways of making."""

from dataclasses import replace
from decimal import Decimal

from shared.book import Measure, OwnFigure, RouteRule, Segment
from shared.ids import RouteId, StepId
from tests.builders import a_book, a_job, a_route, a_segment, a_stage
from tests.shared.examine_books import Case, with_segments, with_workshop

STEP = StepId("block")
ROUTE = a_route(steps=(a_stage("block", segments=()),))


def _with_rules(*rules: RouteRule, options: tuple[str, ...] = ()) -> Case:
    """Give a case whose route has these rules; its code and path are still to be said."""
    book = a_book(routes=(replace(ROUTE, rules=rules, options=options),))
    return "", book, ("routes", 0, "rules"), {}


def _case(code: str, case: Case, *path: str | int, **facts: str | None) -> Case:
    return code, case[1], (*case[2], *path), {**facts}


def _sized() -> Segment:
    two, one, three = Decimal(2), Decimal(1), Decimal(3)
    return a_segment(route=RouteId("own"), length_m=two, width_m=one, height_m=three)


def _with_figures(*figures: OwnFigure) -> Case:
    """Give a case whose workshop has these figures of its own."""
    return "", with_workshop(figures=figures), ("workshop", "figures"), {}


def _own(figure: str = "QL03b", value: str = "0.3", **ends: str) -> OwnFigure:
    own = OwnFigure(figure=figure, value=Decimal(value))
    return replace(own, **{key: Decimal(end) for key, end in ends.items()})  # type: ignore[arg-type]


FINE = [
    with_workshop(figures=(_own(), _own("CP501", "0.5", low="0.5", high="0.5"))),
    with_workshop(figures=(_own("DR01d", "45"),)),
    with_workshop(figures=(_own("DR01b", "60"), _own("DR01d", "60"))),
]
"""Books in which none of this is wrong, though it is near."""

CASES: list[Case] = [
    _case(
        "figure_unknown",
        _with_figures(_own("QL3b")),
        *(0, "figure"),
        figure="QL3b",
        nearest="QL03b",
    ),
    _case("figure_doubled", _with_figures(_own(), _own()), *(1, "figure"), figure="QL03b"),
    _case("break_part_over", _with_figures(_own(), _own("DR01d", "60")), *(1, "value")),
    _case("break_part_over", _with_figures(_own("DR01b", "25")), *(0, "value")),
    _case("not_above_zero", _with_figures(_own(value="0")), *(0, "value")),
    _case("below_zero", _with_figures(_own(low="-1")), *(0, "low")),
    _case("low_above_high", _with_figures(_own(low="0.4")), *(0, "low"), low="0.4", high="0.3"),
    _case("low_above_high", _with_figures(_own(high="0.2")), *(0, "high"), low="0.3", high="0.2"),
    _case(
        "unknown_id",
        _with_rules(RouteRule(step=StepId("blok"))),
        *(0, "step"),
        sort="step",
        id="blok",
        nearest="block",
    ),
    _case(
        "rule_doubled",
        _with_rules(RouteRule(step=STEP), RouteRule(step=STEP)),
        *(1, "step"),
        step="block",
    ),
    _case(
        "option_unknown",
        _with_rules(RouteRule(step=STEP, only_if=("walked",)), options=("walked-on",)),
        *(0, "only_if", 0),
        option="walked",
        nearest="walked-on",
    ),
    _case(
        "option_unknown",
        _with_rules(RouteRule(step=STEP, unless=("bare",))),
        *(0, "unless", 0),
        option="bare",
        nearest=None,
    ),
    _case(
        "not_above_zero",
        _with_rules(RouteRule(step=STEP, session_hours=Decimal(0))),
        *(0, "session_hours"),
    ),
    _case(
        "below_zero",
        _with_rules(RouteRule(step=STEP, session_recoat_hours=Decimal(-1))),
        *(0, "session_recoat_hours"),
    ),
    (
        "measure_missing",
        a_book(
            a_job(segments=(_sized(),)),
            routes=(a_route("own", rules=(RouteRule(step=STEP, per=Measure.VOLUME),)),),
        ),
        ("jobs", 0, "segments", 0, "volume_m3"),
        {"field": "volume_m3", "taken": "6"},
    ),
    (
        "not_above_zero",
        with_segments(a_segment(volume_m3=Decimal(0))),
        ("jobs", 0, "segments", 0, "volume_m3"),
        {},
    ),
    (
        "below_zero",
        with_segments(a_segment(joints_m=Decimal(-1))),
        ("jobs", 0, "segments", 0, "joints_m"),
        {},
    ),
    (
        "unknown_id",
        with_segments(a_segment(route=RouteId("hollw"))),
        ("jobs", 0, "segments", 0, "route"),
        {"sort": "route", "id": "hollw"},
    ),
]
