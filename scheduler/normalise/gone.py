"""Jobs whose lorry has gone: where it is by now, and whom it still holds."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from itertools import pairwise

from scheduler.grid import Grid, origin_of
from scheduler.normalise.facts import Told, trips_as_told
from scheduler.normalise.frame import Frame
from scheduler.normalise.goers import Goer, goers_of
from scheduler.normalise.names import Gone
from scheduler.normalise.order import journeys_of
from scheduler.trip_times import trip_of, trip_of_run
from shared.book import Job, Journey
from shared.plan import LegTime, Trip


def gone_job(frame: Frame, job: Job) -> Gone | None:
    """Return a job whose journeys are all under way or over, None for any other."""
    journeys = journeys_of(job)
    told = [frame.told(journey.id) for journey in journeys]
    if not journeys or not all(one.gone or one.done for one in told):
        return None
    found = [_trip(frame, job, *pair) for pair in zip(journeys, told, strict=True)]
    return Gone(
        job=job,
        trips=tuple(trip for trip, _ in found if trip is not None),
        kept=all(kept for _, kept in found),
    )


def hold_crew(frame: Frame, gone: Gone) -> None:
    """Let the crew and the vehicles of a job that has gone be away until they are back."""
    journeys = {journey.id: journey for journey in journeys_of(gone.job)}
    for trip in gone.trips:
        journey = journeys[trip.step]
        means = next((one for one in journey.means if one.id == trip.means), None)
        drivers = () if means is None else means.driven_by
        vehicles = journey.vehicles if means is None else means.vehicles
        for person in dict.fromkeys((*journey.crew, *drivers)):
            if person in frame.worker_positions:
                frame.keep_away(frame.worker_positions[person], trip.free)
        for vehicle in dict.fromkeys((*vehicles, *journey.travel_vehicles)):
            if vehicle in frame.rooms.equipment:
                frame.rooms.take(frame.rooms.of_equipment(vehicle), 1, trip.back)


def _trip(frame: Frame, job: Job, journey: Journey, told: Told) -> tuple[Trip | None, bool]:
    """Return a journey as it was told, and whether it makes the window."""
    if told.done is not None:
        start = told.done.at if told.gone is None else min(told.gone.at, told.done.at)
        return _over(frame, job, journey, start, told.done.at)
    window = job.held_window
    if told.gone is None or window is None:
        return None, False
    grid = Grid(origin=origin_of(told.gone.at), horizon=frame.grid.horizon, zone=frame.grid.zone)
    goer = _as_told(frame, goers_of(frame, job, journey, window, left=grid), journey)
    found = None if goer is None else goer.leaving(0)
    if found is None:
        return None, False
    rest_hours = frame.book.workshop.rest_hours
    if found.run is not None:
        return trip_of_run(rest_hours, job, found.run, found.means), found.run.kept
    ends = [grid.instant(end) for end in (0, *found.ride.ends)]
    legs = tuple(LegTime(start=start, end=end) for start, end in pairwise(ends))
    trip = trip_of(rest_hours, job, journey, ends[0], legs)
    return replace(trip, means=found.means), found.ride.kept


def _as_told(frame: Frame, goers: Sequence[Goer], journey: Journey) -> Goer | None:
    """Return the way to go that people were told, the first where they weren't."""
    trips = trips_as_told(frame.book)
    means = next((trip.means for trip in trips if trip.step == journey.id), None)
    fitting = (one for one in goers if one.means is not None and one.means.id == means)
    return next(fitting, next(iter(goers), None))


def _over(
    frame: Frame, job: Job, journey: Journey, start: datetime, end: datetime
) -> tuple[Trip, bool]:
    window = job.held_window
    legs = tuple(LegTime(start=end, end=end) for _ in journey.legs)
    trip = trip_of(frame.book.workshop.rest_hours, job, journey, start, legs)
    return trip, window is not None and end <= window.end
