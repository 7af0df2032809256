"""What is done in a stage of the problem, and what follows for its place."""

from decimal import Decimal
from functools import lru_cache
from itertools import chain

from shared.book import Act, Job, Place, PlaceKind, Stage, Step, Way
from shared.order import afters_of
from shared.trade import defaults


def acts_done(job: Job, step: Step, part: str = "") -> frozenset[Act]:
    """Return what is done in a step, or in a part of it that is worked besides.

    Rework and changes repeat what was done right before the answer.
    """
    if part == "abrade":
        return frozenset(defaults.ABRADING)
    return _all_of(tuple(defaults.acts_of(stage) for stage in _worked(job, step, part)))


@lru_cache(maxsize=1024)
def _all_of(several: tuple[tuple[Act, ...], ...]) -> frozenset[Act]:
    """Return all acts; whoever works with isocyanates in the air sprays."""
    acts = frozenset(chain.from_iterable(several))
    return acts | {Act.SPRAY} if Act.ISOCYANATE in acts else acts


def wet_hours(job: Job, step: Step, part: str = "") -> Decimal:
    """Return how long what is done stays wet, 0 where it leaves nothing wet."""
    return max((wet_hours_of(stage) for stage in _worked(job, step, part)), default=Decimal(0))


def _worked(job: Job, step: Step, part: str) -> tuple[Stage, ...]:
    if not part:
        return (step,) if isinstance(step, Stage) else ()
    if part == "abrade":
        return ()
    by_id = {each.id: each for each in job.steps}
    shown = (by_id.get(after.step) for after in afters_of(job)[step.id])
    return tuple(each for each in shown if isinstance(each, Stage))


def wet_hours_of(stage: Stage) -> Decimal:
    """Return how long what a stage does stays wet."""
    if Act.WET not in defaults.acts_of(stage):
        return Decimal(0)
    return defaults.WET_HOURS[stage.kind] if stage.wet_hours is None else stage.wet_hours


def clear_out_minutes(place: Place, acts: frozenset[Act]) -> int:
    """Return how long a place is held after a stage: a booth for its clearance after spraying."""
    if place.clear_out_minutes or place.kind is not PlaceKind.BOOTH or Act.SPRAY not in acts:
        return place.clear_out_minutes
    return defaults.CLEARANCE_MINUTES


def is_sprayed_openly(acts: frozenset[Act], way: Way, place: Place | None) -> bool:
    """Return whether isocyanates would be sprayed elsewhere than in an enclosed place taken whole.

    Source: HSE, COSHH essentials, MR series: never in the open workshop.
    """
    if Act.ISOCYANATE not in acts:
        return False
    return place is None or not place.is_enclosed or not (place.whole or way.whole_place)
