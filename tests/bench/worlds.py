"""Itineraries of longer journeys, replayed: ``python -m tests.bench worlds [--seeds N]``.

Of each world drawn by number the latest departure is searched, and the earliest arrival of one
departure; the replay judges both by its own code. Nothing it finds may be wrong. A search that
takes too long is left, and counted.
"""

import argparse
import sys
from collections import Counter
from random import Random
from time import process_time

from scheduler.check.road.replay import replay
from shared.road.countback import earliest_arrival, latest_departure
from shared.road.itinerary import Itinerary
from shared.road.search import Watch
from tests.shared.road.drawn_worlds import Asked
from tests.shared.road.large_worlds import QUARTER, large_world


class TooLong(Exception):  # noqa: N818 - it says why a search was left
    """A world takes longer than it may."""


def watch_for(most: float) -> Watch:
    """A watch that leaves a search after so many seconds."""
    begun = process_time()

    def watch(done: int, whole: int) -> None:
        del done, whole
        if process_time() - begun > most:
            raise TooLong

    return watch


def found_in(number: int, asked: Asked, most: float) -> tuple[Itinerary | None, Itinerary | None]:
    """Search the latest departure, and the arrival of one drawn departure."""
    left = asked.longest // QUARTER
    leaves = asked.by - QUARTER * Random(number).randrange(left // 2, left)
    watch = watch_for(most)
    latest = latest_departure(asked.trip, asked.by, longest=asked.longest, watch=watch)
    longest = asked.by - leaves
    return latest, earliest_arrival(asked.trip, leaves, longest=longest, watch=watch)


def wrong_in(number: int, most: float) -> tuple[Counter[str], list[str]]:
    """Give counts of what came, and lines about what should not have."""
    asked = large_world(number)
    trip, odd = asked.trip, []
    counts: Counter[str] = Counter(worlds=1)
    try:
        latest, arrival = found_in(number, asked, most)
    except TooLong:
        return counts + Counter({"left after too long": 1}), []
    counts["departures" if latest else "no departure"] += 1
    for found in (latest, arrival):
        if found is None:
            continue
        counts["itineraries"] += 1
        told = replay(trip.journey, trip.drivers, trip.rules, found)
        if told or found.arrival > asked.by:
            counts["broken"] += 1
            odd.append(f"{number} {trip.rules.id}: {told} {found.arrival}")
    if latest is None and arrival is not None:
        counts["broken"] += 1
        odd.append(f"{number} {trip.rules.id}: no departure, but leaving {arrival.departure}")
    if latest is not None and arrival is not None and arrival.departure > latest.departure:
        counts["broken"] += 1
        odd.append(f"{number} {trip.rules.id}: latest {latest.departure} {arrival.departure}")
    return counts, odd


def main(argv: list[str]) -> int:
    """Judge so many worlds; 1 if anything is broken."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench worlds", description=__doc__)
    parser.add_argument("--seeds", type=int, default=5000)
    parser.add_argument("--first", type=int, default=1)
    parser.add_argument("--most", type=float, default=20.0, help="processor seconds for one world")
    asked = parser.parse_args(argv)
    counts: Counter[str] = Counter(broken=0)
    begun, slowest = process_time(), (0.0, 0)
    for number in range(asked.first, asked.first + asked.seeds):
        before = process_time()
        more, odd = wrong_in(number, asked.most)
        slowest = max(slowest, (process_time() - before, number))
        counts.update(more)
        for line in odd:
            print(line, flush=True)
    for name, count in sorted(counts.items()):
        print(f"{name:32} {count}")
    print(f"{'seconds':32} {process_time() - begun:.0f}")
    print(f"{'slowest, seconds':32} {slowest[0]:.1f} (world {slowest[1]})")
    return 1 if counts["broken"] else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
