"""Steps: ways to do them, waits that can be kept, an order without rings."""

from collections.abc import Mapping, Sequence

from shared.book import AT_SEA, Abrade, Gate, GateKind, Job, Journey, Leg, LegKind, Pin, Stage, Step
from shared.examine.jobs import touched
from shared.examine.look import Look, Path
from shared.examine.people import check_asked, check_certificates

_NEVER_USUAL = frozenset({LegKind.DRIVE, LegKind.WAIT, LegKind.RETURN})
"""Legs that take a usual time nowhere: how long they are has to be written."""


def check_stage(stage: Stage, path: Path, look: Look) -> None:
    """Hold that a stage can be done and its limits leave room between them."""
    if not stage.ways:
        look.add("stage_without_ways", (*path, "ways"))
    if stage.recoat_hours is not None and stage.recoat_hours < stage.cure_hours:
        waits = {"cure_hours": stage.cure_hours, "recoat_hours": stage.recoat_hours}
        look.add("recoat_before_cured", (*path, "recoat_hours"), **waits)
    coldest, warmest = stage.coldest_celsius, stage.warmest_celsius
    if coldest is not None and warmest is not None and coldest > warmest:
        where = (*path, "warmest_celsius")
        look.add("temperatures_reversed", where, coldest=coldest, warmest=warmest)
    check_asked(stage, path, look)
    check_certificates(stage, path, look)


def check_gate(gate: Gate, path: Path, look: Look) -> None:
    """Hold that an answer that may be a no has its rework."""
    if gate.gate is GateKind.ANSWER and gate.allow_no > 0 and gate.rework is None:
        look.add("rework_missing", (*path, "rework"), allow_no=gate.allow_no)


def check_abrade(abrade: Abrade, path: Path, look: Look) -> None:
    """Hold that the work in between can be done."""
    if not abrade.ways:
        look.add("stage_without_ways", (*path, "ways"))


def check_pin(pin: Pin, path: Path, look: Look) -> None:
    """Hold that a pin lies ahead and says one thing only."""
    start_day = None if pin.start is None else look.local_day(pin.start)
    for field, day in (("start", start_day), ("day", pin.day)):
        if look.today is not None and day is not None and day < look.today:
            at = getattr(pin, field)
            look.add("pin_before_now", (*path, field), at=at, as_of=look.as_of)
    if _contradicts(pin, look):
        told = {"start": pin.start, "day": pin.day, "not_before": pin.not_before}
        look.add("pin_contradicts", path, **told)


def _contradicts(pin: Pin, look: Look) -> bool:
    start, day, first = pin.start, pin.day, pin.not_before
    if start is not None and day is not None and look.local_day(start) != day:
        return True
    if start is not None and first is not None and start < first:
        return True
    return day is not None and first is not None and look.local_day(first) > day


def check_journey(journey: Journey, path: Path, look: Look) -> None:
    """Hold that a journey has legs, and one of them counts against the window."""
    if not journey.legs:
        look.add("journey_without_legs", (*path, "legs"))
    elif not any(leg.inside for leg in journey.legs):
        look.add("journey_without_inside", (*path, "legs"))


def check_leg(leg: Leg, path: Path, look: Look) -> None:
    """Hold that a leg takes time, and a sailing has departures in their order."""
    if leg.kind in AT_SEA:
        if not leg.departures and not leg.timetable:
            look.add("sailing_without_departures", (*path, "departures"))
    elif leg.kind in _NEVER_USUAL and not _takes_time(leg):
        look.add("leg_without_time", (*path, "minutes"), leg=leg.name or leg.kind.value)
    for index, (first, second) in enumerate(
        zip(leg.departures, leg.departures[1:], strict=False), start=1
    ):
        if second.leaves < first.leaves:
            where = (*path, "departures", index, "leaves")
            look.add("departures_out_of_order", where, leaves=second.leaves, before=first.leaves)


def _takes_time(leg: Leg) -> bool:
    lengths = (leg.driving_minutes, leg.distance_km, leg.person_hours, leg.cure_hours)
    return leg.minutes > 0 or bool(leg.departures or leg.opens) or any(lengths)


def check_order(job: Job, path: Path, look: Look) -> None:
    """Hold that no step waits, by way of others, for itself."""
    before = _before(job)
    names: dict[str, str] = {step.id: step.name or step.id for step in job.steps}
    for ring in rings(before):
        index = next(i for i, step in enumerate(job.steps) if step.id == ring[0])
        told = ", ".join(names[step] for step in ring)
        look.add("ring", (*path, "steps", index, "after"), steps=told)


def _before(job: Job) -> dict[str, list[str]]:
    """Give for each step those that it follows."""
    known = {step.id for step in job.steps}
    last: dict[str, str] = {}
    before: dict[str, list[str]] = {}
    for step in job.steps:
        if step.after is None:
            followed = [last[segment] for segment in touched(step, job) if segment in last]
        else:
            followed = [after.step for after in step.after if after.step in known]
        before.setdefault(step.id, list(dict.fromkeys(followed)))
        last.update(dict.fromkeys(touched(step, job), step.id))
    return before


def rings(before: Mapping[str, Sequence[str]]) -> list[tuple[str, ...]]:
    """Give rings of a graph, each node in one ring at most; none only if there is none.

    A ring is in the order in which its nodes wait for one another, the last for the first.
    """
    done: set[str] = set()
    found: list[tuple[str, ...]] = []
    for start in before:
        trail: dict[str, int] = {}
        pending: list[tuple[str, int]] = [(start, 0)]
        while pending:
            node, turn = pending.pop()
            if turn == 0:
                if node in done:
                    continue
                trail[node] = len(trail)
            if turn == len(before[node]):
                done.add(node)
                del trail[node]
                continue
            pending.append((node, turn + 1))
            follower = before[node][turn]
            if follower in trail:
                found.append(tuple(trail)[trail[follower] :])
            elif follower not in done:
                pending.append((follower, 0))
    return _apart(found)


def _apart(found: list[tuple[str, ...]]) -> list[tuple[str, ...]]:
    taken: set[str] = set()
    kept: list[tuple[str, ...]] = []
    for ring in found:
        if not taken.intersection(ring):
            kept.append(ring)
            taken.update(ring)
    return kept


def is_of_kind(step: Step, kind: GateKind) -> bool:
    """Say whether a step is a gate of that kind."""
    return isinstance(step, Gate) and step.gate is kind
