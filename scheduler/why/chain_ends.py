"""The end of a chain: what loading has to be over for; and what is written against a job."""

from collections.abc import Iterator

from scheduler.normalise import Normal
from scheduler.problem import Schedule
from scheduler.reasons import Reason
from scheduler.why.chain_links import Facts, Link, LinkKind
from shared.book import Journey, Leg
from shared.book.journeys import AT_SEA
from shared.findings import Clash
from shared.ids import JobId
from shared.units import instant_of

_KINDS: dict[LinkKind, tuple[Reason, ...]] = {
    LinkKind.PERSON: (
        Reason.NOBODY_CAN,
        Reason.TOO_FEW_CAN,
        Reason.ASKED_CANNOT,
        Reason.NOBODY_ELSE,
        Reason.OTHER_PEOPLE,
        Reason.SANDING_TOO_LONG,
        Reason.CREW_AWAY,
        Reason.SAME_CREW,
    ),
    LinkKind.CERTIFICATE: (Reason.NO_CERTIFICATE, Reason.CERTIFICATE_OVER),
    LinkKind.PLACE: (
        Reason.PLACE_UNKNOWN,
        Reason.PLACE_TOO_SMALL,
        Reason.NO_PLACE_OF_KIND,
        Reason.PLACE_OVER,
    ),
    LinkKind.EQUIPMENT: (Reason.EQUIPMENT_TOO_FEW, Reason.EQUIPMENT_OVER, Reason.SAME_LORRY),
    LinkKind.FLOOR: (Reason.FLOOR_TOO_SMALL,),
    LinkKind.SIZE: (Reason.TOO_BIG, Reason.TOO_HEAVY),
    LinkKind.AIR: (Reason.OPEN_SPRAYING,),
    LinkKind.PIN: (Reason.PIN_PAST,),
    LinkKind.RECOAT: (Reason.RECOAT_OVER,),
    LinkKind.CLIMATE: (Reason.TOO_COLD, Reason.TOO_WARM, Reason.TOO_DAMP),
    LinkKind.SAILING: (Reason.NO_SAILING, Reason.SAILING_MISSED),
    LinkKind.JOURNEY: (
        Reason.NO_DEPARTURE,
        Reason.WEEKLY_REST_DUE,
        Reason.CREW_HOURS,
        Reason.JOURNEYS_AT_ONCE,
        Reason.GONE,
    ),
    LinkKind.WINDOW: (Reason.NO_WINDOW, Reason.WINDOW_PAST, Reason.SITE_TOO_SHORT),
}
_KIND_OF = {reason.value: kind for kind, reasons in _KINDS.items() for reason in reasons}
_SPOKEN_OF = ("person", "certificate", "place", "equipment", "step", "segment", "skill", "journey")


def clash_links(normal: Normal, job: JobId) -> tuple[Link, ...]:
    """Return what is written that keeps a job from every window, as links."""
    return tuple(of_clash(clash, job) for clash in normal.clashes_of(job))


def of_clash(clash: Clash, job: JobId) -> Link:
    """Return a reason as a link; it speaks of the first thing that it names, else of the job."""
    facts = dict(clash.facts)
    spoken = next((facts[key] for key in _SPOKEN_OF if facts.get(key)), job)
    kind = _KIND_OF.get(clash.code, LinkKind.FACT)
    return Link(kind=kind, id=str(spoken), facts=(("code", clash.code), *clash.facts))


def end_links(normal: Normal, schedule: Schedule, position: int) -> Iterator[Link]:
    """Give the journey, the sailing that it takes, and the window."""
    aim, name = normal.problem.jobs[position], normal.jobs[position]
    job = name.job
    latest = aim.latest
    by: Facts = () if latest is None else (("latest", _at(normal, latest)),)
    for journey in (step for step in job.steps if isinstance(step, Journey)):
        if latest is None:
            break
        yield _of_journey(journey, by)
    held = job.held_window
    if held is not None:
        facts = (("first", held.start.isoformat()), ("until", held.end.isoformat()), *by)
        yield Link(kind=LinkKind.WINDOW, id=held.id, facts=facts)


def _of_journey(journey: Journey, by: Facts) -> Link:
    sailing = _sailing(journey)
    if sailing is None:
        return Link(kind=LinkKind.JOURNEY, id=journey.id, step=journey.id, facts=by)
    facts: Facts = (("leg", sailing.name), *by)
    return Link(kind=LinkKind.SAILING, id=journey.id, step=journey.id, facts=facts)


def _sailing(journey: Journey) -> Leg | None:
    return next((leg for leg in journey.legs if leg.kind in AT_SEA), None)


def _at(normal: Normal, step: int) -> str:
    return instant_of(normal.origin, step).isoformat()
