"""Loads: stages of several pieces that are done as one, with one set-up.

Stages can be one load when they are alike in all but their pieces and hours: the same kind and
product (the same name where no product is given), cure, recoat time and limits, and a first way
with the same make-up, places and equipment.
"""

from collections.abc import Sequence
from dataclasses import replace
from decimal import ROUND_FLOOR, Decimal

from shared.book import Abrade, Hours, Stage, Way
from shared.findings import Fact
from shared.ids import SegmentId, StepId
from shared.needs import joined_needs
from shared.trade import figure

_NO_HOURS = Hours(low=Decimal(0), likely=Decimal(0), high=Decimal(0))
_QUARTERS = 4


class NoLoad(ValueError):  # noqa: N818 - it says what came of it
    """Stages that can't be one load: a code and facts for the sentence."""

    def __init__(self, code: str, **facts: Fact) -> None:
        super().__init__(code, facts)
        self.code = code
        self.facts = facts


def likeness(stage: Stage) -> Stage:
    """Return what the stages of a load have in common, as a stage without the rest."""
    product = stage.product or None
    return replace(
        stage,
        id=StepId(""),
        name="" if product else stage.name,
        product=product,
        segments=(),
        ways=tuple(_bare(way) for way in stage.ways[:1]),
        abrade=None if stage.abrade is None else Abrade(ways=tuple(map(_bare, stage.abrade.ways))),
        not_before=None,
        pin=None,
        after=None,
        materials=(),
    )


def _bare(way: Way) -> Way:
    """Return a way without what grows with the pieces."""
    area = None if way.area_m2 is None else Decimal(0)
    hours, cost = _NO_HOURS, Decimal(0)
    return replace(way, id="", hours=hours, area_m2=area, cost=cost, setup_hours=None, materials=())


def setup_hours(way: Way) -> Decimal:
    """Return the person-hours of a way that do not grow with its pieces, never more than it has.

    Where it says nothing of them: a share of its hours, rounded down to a quarter (CP21).
    """
    likely = way.hours.likely
    if way.setup_hours is not None:
        return min(way.setup_hours, likely)
    share = figure("CP21").amount / 100
    return (likely * share * _QUARTERS).to_integral(ROUND_FLOOR) / _QUARTERS


def usual_pieces_most() -> int:
    """Return the most pieces in a load where the booth has neither area nor slots (CP22)."""
    return int(figure("CP22").amount)


def joined(stages: Sequence[Stage]) -> Stage:
    """Return one stage in the place of several: it keeps the id and name of the first.

    Its hours are theirs, all set-ups but the longest left out. It comes after nothing by name.

    Raises
    ------
    NoLoad
        If they are fewer than two, not alike, pinned, or share a piece.
    """
    if len(stages) < 2:
        raise NoLoad("load_of_one")
    first = stages[0]
    for stage in stages:
        if likeness(stage) != likeness(first):
            raise NoLoad("load_unlike", step=first.id, other=stage.id)
        if stage.pin is not None:
            raise NoLoad("load_pinned", step=stage.id)
    days = [stage.not_before for stage in stages if stage.not_before is not None]
    abrades = [stage.abrade.ways for stage in stages if stage.abrade is not None]
    return replace(
        first,
        segments=_pieces(stages),
        ways=_joined_ways([stage.ways for stage in stages]),
        abrade=Abrade(ways=_joined_ways(abrades)) if abrades else None,
        not_before=max(days, default=None),
        after=None,
        materials=joined_needs(stage.materials for stage in stages),
    )


def _pieces(stages: Sequence[Stage]) -> tuple[SegmentId, ...]:
    pieces: dict[SegmentId, StepId] = {}
    for stage in stages:
        if not stage.segments or pieces.keys() & set(stage.segments):
            raise NoLoad("load_same_piece", step=stages[0].id, other=stage.id)
        pieces |= dict.fromkeys(stage.segments, stage.id)
    return tuple(pieces)


def _joined_ways(by_stage: Sequence[tuple[Way, ...]]) -> tuple[Way, ...]:
    """Return the ways that all have, in the order of the first."""
    found = []
    for way in by_stage[0]:
        alike = [_same(way, ways) for ways in by_stage]
        if None not in alike:
            found.append(joined_way([each for each in alike if each is not None]))
    return tuple(found)


def _same(way: Way, among: Sequence[Way]) -> Way | None:
    """Return the way among others that is like one, of the same id where there is a choice."""
    alike = [each for each in among if _bare(each) == _bare(way)]
    return next((each for each in alike if each.id == way.id), alike[0] if alike else None)


def joined_way(ways: Sequence[Way]) -> Way:
    """Return a way in the place of several that are alike: one set-up, the longest."""
    setups = [setup_hours(way) for way in ways]
    areas = [way.area_m2 for way in ways if way.area_m2 is not None]
    return replace(
        ways[0],
        hours=Hours(
            low=_sum([way.hours.low for way in ways], setups),
            likely=_sum([way.hours.likely for way in ways], setups),
            high=_sum([way.hours.high for way in ways], setups),
        ),
        setup_hours=max(setups),
        area_m2=sum(areas, Decimal(0)) if areas else None,
        cost=sum((way.cost for way in ways), Decimal(0)),
        materials=joined_needs(way.materials for way in ways),
    )


def _sum(hours: Sequence[Decimal], setups: Sequence[Decimal]) -> Decimal:
    """Return hours with one set-up; a set-up is never longer than its hours."""
    kept = [min(each, setup) for each, setup in zip(hours, setups, strict=True)]
    return sum(hours, Decimal(0)) - sum(kept, Decimal(0)) + max(kept)
