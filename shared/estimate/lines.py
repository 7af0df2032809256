"""The person-hours of an estimate: a line for each stage, with the sum it is and its figures."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from shared.book import Kind, Measure, Segment, Stage, Way
from shared.estimate.entries import Entry, Origin
from shared.estimate.values import (
    Formula,
    FormulaCode,
    Line,
    Range,
    Share,
    Size,
    SizeFrom,
    total_hours,
)
from shared.findings import Fact
from shared.routes.classes import class_figure
from shared.routes.learned import FACTOR_OF, times_longer
from shared.routes.measures import amount_of, field_of
from shared.routes.sums import figures_in, is_sum
from shared.trade import Figure
from shared.trade.own import Lookup
from shared.units import decimal_of

_NOTHING = Decimal(0)
_SHARE = "CP134"
_PLACES = 3


def lines_of(entries: Sequence[Entry], *, by_share: bool = False) -> tuple[Line, ...]:
    """Return a line for each stage with hours, the planner's own apart from all others.

    by_share: the skins that the pieces have are a share of their boxes' surfaces.
    """
    groups: dict[object, list[Entry]] = {}
    for each in entries:
        if each.step.ways:
            groups.setdefault(_key(each), []).append(each)
    return tuple(_line(group, by_share=by_share) for group in groups.values())


def _key(entry: Entry) -> object:
    if entry.origin is None:
        return entry.step.id
    return entry.origin.making.route.id, entry.origin.step.id, entry.own


def _line(group: list[Entry], *, by_share: bool) -> Line:
    first = group[0]
    origin = first.origin
    shares = tuple(
        Share(
            step=each.step.id,
            name=each.step.name,
            segments=tuple(piece.id for piece in each.pieces),
            hours=each.step.ways[0].hours,
        )
        for each in group
    )
    return Line(
        stage=first.step.id if origin is None else origin.step.id,
        name=first.step.name if origin is None else origin.step.name,
        kind=kind_of(first),
        hours=total_hours(share.hours for share in shares),
        formula=(
            _written()
            if first.own or origin is None
            else _formula(origin, group, by_share=by_share)
        ),
        shares=shares,
        own=first.own,
    )


def kind_of(entry: Entry) -> Kind | None:
    """Return the kind of work of a step, None for a gate."""
    return entry.step.kind if isinstance(entry.step, Stage) else None


def _written() -> Formula:
    return Formula(code=FormulaCode.WRITTEN)


def _formula(origin: Origin, group: list[Entry], *, by_share: bool) -> Formula:
    way, rule = _learned_way(origin), origin.rule
    asked = origin.making.asked(origin.step.id, "ways.0.hours.likely")
    asked = asked if is_sum(asked) else ""
    figures = [origin.making.look(name) for name in figures_in(asked)]
    figures += _learned(origin)
    if rule.per is None:
        facts = (("hours", _text(way.hours.likely)),)
        return Formula(code=FormulaCode.FIXED, facts=facts, asked=asked, figures=tuple(figures))
    amounts = _amounts(group)
    size, work = (sum(column, _NOTHING) for column in zip(*amounts, strict=True))
    if by_share and rule.per is Measure.SURFACE:
        figures.append(origin.making.look(_SHARE))
    figures += [*_shares(rule.per, group), *_classes(origin, group)]
    return Formula(
        code=_code(is_set_up=bool(way.setup_hours), is_classed=size != work),
        facts=_facts(way, rule.per, size, work, len(group)),
        asked=asked,
        figures=tuple(dict.fromkeys(figures)),
    )


def _learned_way(origin: Origin) -> Way:
    """Return the first way of a step with the hours that its factor makes of them."""
    step = origin.step
    if not isinstance(step, Stage) or step.learned_factor is None:
        return step.ways[0]
    longer = times_longer(replace(step, learned_factor=None), step.learned_factor)
    assert isinstance(longer, Stage)
    return longer.ways[0]


def _learned(origin: Origin) -> list[Figure]:
    """Give the factor from records that the hours were multiplied by, if it is still the one."""
    step = origin.step
    if not isinstance(step, Stage) or step.learned_factor is None:
        return []
    found = origin.making.look(FACTOR_OF[step.kind])
    return [found] if found.value == step.learned_factor else []


def _code(*, is_set_up: bool, is_classed: bool) -> FormulaCode:
    if is_set_up:
        return FormulaCode.WITH_SETUP_BY_CLASS if is_classed else FormulaCode.WITH_SETUP
    return FormulaCode.GROWS_BY_CLASS if is_classed else FormulaCode.GROWS


def _facts(
    way: Way, per: Measure, size: Decimal, work: Decimal, count: int
) -> tuple[tuple[str, Fact], ...]:
    fixed = way.setup_hours or _NOTHING
    times = Fraction(work) / Fraction(size) if size else Fraction(1)
    return (
        ("amount", _text(size)),
        ("measure", per.value),
        ("rate", _text(way.hours.likely - min(fixed, way.hours.likely))),
        ("fixed", _text(fixed)),
        ("count", count),
        ("times", _text(decimal_of(times, _PLACES))),
    )


def _amounts(group: list[Entry]) -> list[tuple[Decimal, Decimal]]:
    """Return the size and the work of each set of pieces once, however many sessions it takes."""
    found = {
        each.pieces: (each.origin.amount.size, each.origin.amount.work)
        for each in group
        if each.origin is not None
    }
    return list(found.values())


def _shares(per: Measure, group: list[Entry]) -> Iterator[Figure]:
    """Give the figure of the share that a skin has of its box, where some size is from it."""
    pieces = (piece for each in group for piece in each.pieces)
    if per is Measure.SURFACE and any(piece.surface_m2 is None for piece in pieces):
        origin = group[0].origin
        assert origin is not None
        yield origin.making.look(_SHARE)


def _classes(origin: Origin, group: list[Entry]) -> Iterator[Figure]:
    """Give the figures of the classes that are not usual."""
    look = origin.making.look
    for each in group:
        for piece in each.pieces:
            for of in origin.rule.classes:
                found = class_figure(piece, of, look)
                if found.amount != 1:
                    yield found


def sizes_of(
    measures: Sequence[Measure],
    segments: Sequence[Segment],
    look: Lookup,
    *,
    by_share: bool = False,
) -> tuple[Size, ...]:
    """Return the sizes that hours and quantities go by, each with where it is from."""
    is_alone = len(segments) == 1
    wanted = [each for each in measures if each is not Measure.PIECE]
    return tuple(
        _size(
            segment,
            measure,
            look,
            is_alone=is_alone,
            by_share=by_share and measure is Measure.SURFACE,
        )
        for segment in segments
        for measure in wanted
    )


def _size(
    segment: Segment, measure: Measure, look: Lookup, *, is_alone: bool, by_share: bool
) -> Size:
    exact = Fraction(amount_of(segment, measure, is_alone=is_alone, look=look))
    amount = Range(low=exact, likely=exact, high=exact)
    of = SizeFrom.SHARE if by_share else _from(segment, measure)
    if of is SizeFrom.SHARE:
        share = look(_SHARE)
        box = exact / Fraction(share.amount)
        low, high = Fraction(share.least), Fraction(share.most)
        amount = Range(low=box * low, likely=exact, high=box * high)
    return Size(segment=segment.id, measure=measure, amount=amount, of=of)


def _from(segment: Segment, measure: Measure) -> SizeFrom:
    if getattr(segment, field_of(measure)) is not None:
        return SizeFrom.WRITTEN
    return {
        Measure.VOLUME: SizeFrom.BOX,
        Measure.SURFACE: SizeFrom.SHARE,
        Measure.JOINTS: SizeFrom.GIRTH,
    }[measure]


def _text(number: Decimal) -> str:
    return f"{decimal_of(Fraction(number), _PLACES):f}"
