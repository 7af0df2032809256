"""Which notices and papers a journey calls for: each with what it is ahead of and why."""

from collections.abc import Callable, Iterator
from datetime import datetime

from shared.book import (
    Before,
    Book,
    Counted,
    Job,
    Journey,
    Kind,
    LegKind,
    Purpose,
    Stage,
)
from shared.delivery.judged import AT_SEA
from shared.ids import PersonId
from shared.notices.areas import crossings, customs_area
from shared.notices.crew import Abroad, abroad
from shared.notices.instants import Travelled, means_of, travellers
from shared.notices.oversize import Over, oversize
from shared.notices.quiet import is_told_closely
from shared.notices.receivers import Receivers
from shared.notices.values import Called, Facts, Paper, Receiver
from shared.passing.roads import Demand, Realm
from shared.plan import Trip
from shared.trade.figures import Figure
from shared.trade.own import Lookup, looked_up

_WET = frozenset({Kind.LAMINATE, Kind.PAINT, Kind.LACQUER, Kind.COAT})


def papers_of(
    book: Book, job: Job, journey: Journey, trip: Trip, trips: tuple[Trip, ...]
) -> Iterator[Called]:
    """Give the notices and papers that a trip calls for. trips: all of the plan."""
    of = _Papers(book, job, Travelled(journey=journey, trip=trip))
    yield from of.road()
    yield from of.sea()
    yield from of.border()
    yield from of.site()
    yield from of.people(trips)


class _Papers:
    """The papers of one trip."""

    def __init__(self, book: Book, job: Job, travelled: Travelled) -> None:
        self._book, self._job, self._on = book, job, travelled
        self._journey = travelled.journey
        self._means = means_of(travelled.journey, travelled.trip)
        self._receivers = Receivers(book, job, travelled.journey)
        self._look: Lookup = looked_up(book.workshop)
        self._over = oversize(book, job, travelled.journey, self._means)

    # The road.

    def road(self) -> Iterator[Called]:
        """Give what an abnormal load calls for, first in Great Britain, then elsewhere."""
        british = _heaviest(over for over in self._over if over.realm is Realm.BRITAIN)
        if british:
            yield from self._in_britain(british)
        others = [over for over in self._over if over.realm is Realm.EUROPE]
        if others:
            yield from self._elsewhere(others[0])

    def _in_britain(self, over: dict[Demand, Over]) -> Iterator[Called]:
        asked = tuple(each for each in over if each is not Demand.ROUTE)
        offices = self._receivers.british()
        at = self._receivers.on_the_road("GB", self._on)
        if Demand.ROUTE in over:
            yield self._usual(Paper.ROAD_ROUTE, "CP662", at, offices, over[Demand.ROUTE])
        if not asked:
            return
        worst = over[max(asked, key=tuple(Demand).index)]
        if worst.demand is Demand.ORDER:
            weeks = self._lead("TR05b")
            yield self._called(Paper.ROAD_ORDER, at, weeks, Counted.WEEKS, offices, worst, "TR05b")
        clear = Counted.CLEAR_WORKING_DAYS
        if worst.demand is Demand.FORM:
            days = self._lead("TR03c")
            yield self._called(Paper.ROAD_FORM, at, days, clear, offices, worst, "TR03c")
        heavy = over.get(Demand.NOTICE)
        is_long = worst.demand is Demand.ORDER or (heavy is not None and heavy.figure == "TR07")
        behind = "TR05c" if is_long else "TR03c"
        longest = heavy if heavy is not None and is_long and worst.demand is Demand.FORM else worst
        days = self._lead(behind)
        yield self._called(Paper.ROAD_NOTICE, at, days, clear, offices, longest, behind)
        yield Called(
            code=Paper.ROAD_REGISTRATION,
            before=Before.DEPARTURE,
            at=at,
            lead=int(self._look("TR10").most),
            counted=Counted.WORKING_DAYS,
            receivers=offices,
            figures=("TR10",),
            ahead_of=Paper.ROAD_NOTICE,
        )
        yield self._usual(Paper.ESCORT, "CP657", at, offices, worst)

    def _elsewhere(self, over: Over) -> Iterator[Called]:
        for country in self._receivers.abroad():
            at = self._receivers.on_the_road(country, self._on)
            offices = self._receivers.of_road(country)
            weeks = self._lead("CP658")
            yield self._called(Paper.ROAD_PERMIT, at, weeks, Counted.WEEKS, offices, over, "CP658")
            yield self._usual(Paper.ESCORT, "CP657", at, offices, over)

    def _called(
        self,
        code: Paper,
        at: datetime,
        lead: int,
        counted: Counted,
        receivers: tuple[Receiver, ...],
        over: Over,
        behind: str,
    ) -> Called:
        return Called(
            code=code,
            before=Before.DEPARTURE,
            at=at,
            lead=lead,
            counted=counted,
            receivers=receivers,
            figures=tuple(dict.fromkeys((behind, over.figure))),
            because=over.facts,
        )

    def _usual(
        self, code: Paper, behind: str, at: datetime, receivers: tuple[Receiver, ...], over: Over
    ) -> Called:
        lead = self._lead(behind)
        return self._called(code, at, lead, Counted.WORKING_DAYS, receivers, over, behind)

    def _lead(self, figure_id: str) -> int:
        return _whole(self._look(figure_id))

    # Ferries.

    def sea(self) -> Iterator[Called]:
        """Give what a line is asked for: an out-of-gauge load, and dangerous goods."""
        over = next((each for each in self._over if each.realm is Realm.FERRY), None)
        wet = self._is_wet()
        for index in self._on.legs(*AT_SEA):
            name = self._journey.legs[index].name
            line: Callable[[Paper, tuple[str, ...], Facts], Called] = self._asked_of_line(index)
            if over is not None and self._journey.legs[index].kind is LegKind.SAILING:
                facts = (("sailing", name), *over.facts)
                yield line(Paper.FERRY_OVERSIZE, ("TR16", over.figure), facts)
            if wet:
                yield line(Paper.FERRY_DANGEROUS, ("TR16",), (("sailing", name),))

    def _asked_of_line(self, index: int) -> Callable[[Paper, tuple[str, ...], Facts], Called]:
        def called(code: Paper, figures: tuple[str, ...], because: Facts) -> Called:
            return Called(
                code=code,
                before=Before.SAILING,
                at=self._on.sails(index),
                lead=self._lead("TR16"),
                counted=Counted.WORKING_DAYS,
                receivers=(self._receivers.line(index),),
                figures=figures,
                because=because,
            )

        return called

    def _is_wet(self) -> bool:
        """Return whether paint or resin is likely to be left over and to go along."""
        return any(isinstance(step, Stage) and step.kind in _WET for step in self._job.steps)

    # Borders.

    def border(self) -> Iterator[Called]:
        """Give what customs ask for at each border between areas, outward."""
        for number, each in enumerate(crossings(self._book, self._job, self._journey)):
            out = self._receivers.of(each.out_of)
            there = self._receivers.of(each.into)
            because: Facts = (("from", each.out_of), ("into", each.into))
            left = self._on.leaves(each)
            if not number and self._travellers():
                at, days = self._on.trip.start, self._look("TR18a").most
                yield self._customs(Paper.CARNET, at, int(days), out, "TR18a", because)
            lead = self._lead("CP659")
            yield self._customs(Paper.EXPORT_DECLARATION, left, lead, out, "CP659", because)
            hours = int(self._look("TR20").most)
            cleared = self._on.cleared(each)
            yield self._customs(Paper.IMPORT_CLEARANCE, cleared, hours, there, "TR20", because)
            if customs_area(each.into) == "EU":
                at, hours = self._on.enters(each), self._lead("TR19")
                yield self._customs(Paper.ENTRY_DECLARATION, at, hours, there, "TR19", because)

    def _customs(
        self, code: Paper, at: datetime, lead: int, office: Receiver, behind: str, because: Facts
    ) -> Called:
        in_hours = code in (Paper.IMPORT_CLEARANCE, Paper.ENTRY_DECLARATION)
        return Called(
            code=code,
            before=Before.DEPARTURE if code is Paper.CARNET else Before.BORDER,
            at=at,
            lead=lead,
            counted=Counted.HOURS if in_hours else Counted.WORKING_DAYS,
            receivers=(office,),
            figures=(behind,),
            because=because,
        )

    def _travellers(self) -> tuple[PersonId, ...]:
        return travellers(self._journey, self._on.trip)

    # The site.

    def site(self) -> Iterator[Called]:
        """Give what the site and whoever lifts and inspects there want to have beforehand."""
        if Purpose.FIRE_TESTED in self._job.purposes:
            yield Called(
                code=Paper.FIRE_TEST,
                before=Before.DEPARTURE,
                at=self._on.trip.start,
                lead=int(self._look("HS19").most),
                counted=Counted.WEEKS,
                receivers=(self._receivers.workshop(),),
                figures=("HS19", "HS18"),
            )
        if not is_told_closely(self._journey):
            return
        lifts, inspected = self._on.at(Before.LIFT), self._on.at(Before.INSPECTION)
        if lifts is not None:
            yield self._at_site(Paper.LIFTING_PLAN, Before.LIFT, lifts, "CP651")
        if inspected is not None:
            yield self._at_site(Paper.INSPECTION_BOOKING, Before.INSPECTION, inspected, "CP652")
        yield self._at_site(Paper.METHOD_STATEMENT, Before.SITE, self._on.gate, "CP650")
        yield self._at_site(Paper.INSURANCE, Before.SITE, self._on.gate, "CP656")
        if self._travellers():
            yield self._at_site(Paper.CREW_NAMES, Before.SITE, self._on.gate, "CP653")
            yield self._at_site(Paper.PASSES, Before.SITE, self._on.gate, "CP655")
            yield self._at_site(Paper.INDUCTIONS, Before.SITE, self._on.gate, "CP654")

    def _at_site(self, code: Paper, before: Before, at: datetime, behind: str) -> Called:
        return Called(
            code=code,
            before=before,
            at=at,
            lead=self._lead(behind),
            counted=Counted.WORKING_DAYS,
            receivers=(self._receivers.site(),),
            figures=(behind,),
        )

    # People.

    def people(self, trips: tuple[Trip, ...]) -> Iterator[Called]:
        """Give what the crew themselves need abroad."""
        people = self._travellers()
        if people:
            yield from abroad(Abroad(self._book, self._job, self._on, people), trips)


def _whole(found: Figure) -> int:
    """Return a lead as a whole number, rounded up."""
    return -int(-found.amount // 1)


def _heaviest(overs: Iterator[Over]) -> dict[Demand, Over]:
    """Return for each demand what calls for it, the longer notice first."""
    found: dict[Demand, Over] = {}
    for over in overs:
        known = found.get(over.demand)
        if known is None or (over.figure == "TR07" and known.figure != "TR07"):
            found[over.demand] = over
    return found
