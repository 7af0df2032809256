"""A schedule held against an instance in the instance's own terms: plain, and no engine code."""

from itertools import accumulate, pairwise

from scheduler.problem import Schedule
from tests.published.instances import Instance, Mode


def broken(instance: Instance, schedule: Schedule) -> list[str]:
    """Say what the schedule breaks, one line each."""
    return [
        *_wrong_lengths(instance, schedule),
        *_wrong_order(instance, schedule),
        *_overloaded(instance, schedule),
        *_used_up(instance, schedule),
        *_wrong_people(instance, schedule),
    ]


def _modes(instance: Instance, schedule: Schedule) -> list[Mode]:
    return [modes[way] for modes, way in zip(instance.modes, schedule.ways, strict=True)]


def _wrong_lengths(instance: Instance, schedule: Schedule) -> list[str]:
    return [
        f"activity {at} runs from {start} to {end}, not {mode.duration} long"
        for at, (mode, start, end) in enumerate(
            zip(_modes(instance, schedule), schedule.starts, schedule.ends, strict=True)
        )
        if end - start != mode.duration or start < 0
    ]


def _wrong_order(instance: Instance, schedule: Schedule) -> list[str]:
    starts, ends = schedule.starts, schedule.ends
    return [f"{j} before the end of {i}" for i, j in instance.follows if starts[j] < ends[i]] + [
        f"lag {lag} from {i} to {j}" for i, j, lag in instance.lags if starts[j] < starts[i] + lag
    ]


def _overloaded(instance: Instance, schedule: Schedule) -> list[str]:
    modes = _modes(instance, schedule)
    found = []
    for resource, capacity in enumerate(instance.capacities):
        changes = [0] * (max(schedule.ends) + 1)
        for mode, start, end in zip(modes, schedule.starts, schedule.ends, strict=True):
            changes[start] += mode.units[resource]
            changes[end] -= mode.units[resource]
        most = max(accumulate(changes))
        if most > capacity:
            found.append(f"{most} units of resource {resource}, which has {capacity}")
    return found


def _used_up(instance: Instance, schedule: Schedule) -> list[str]:
    modes = _modes(instance, schedule)
    return [
        f"stock {stock} of {there} used up"
        for stock, there in enumerate(instance.stocks)
        if sum(mode.used_up[stock] for mode in modes) > there
    ]


def _wrong_people(instance: Instance, schedule: Schedule) -> list[str]:
    found = []
    held: dict[int, list[tuple[int, int]]] = {}
    for at, team in enumerate(schedule.teams):
        if instance.places and not _covers(instance, instance.places[at], team):
            found.append(f"team {team} of activity {at}")
        for person in team:
            held.setdefault(person, []).append((schedule.starts[at], schedule.ends[at]))
    for person, spans in held.items():
        spans.sort()
        if any(later[0] < earlier[1] for earlier, later in pairwise(spans)):
            found.append(f"person {person} does two things at once")
    return found


def _covers(instance: Instance, places: tuple[int, ...], team: tuple[int, ...]) -> bool:
    """Give each place somebody of the team, each at most one, by augmenting paths."""
    seats = [skill for skill, count in enumerate(places) for _ in range(count)]
    taken: dict[int, int] = {}

    def seat(at: int, seen: set[int]) -> bool:
        for person in team:
            if seats[at] in instance.people[person] and person not in seen:
                seen.add(person)
                if person not in taken or seat(taken[person], seen):
                    taken[person] = at
                    return True
        return False

    return len(team) == len(seats) and all(seat(at, set()) for at in range(len(seats)))
