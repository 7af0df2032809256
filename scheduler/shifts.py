"""The first schedule, and winning windows by moving whole jobs up or down in urgency.

Annealing on one number per job: each stage's urgency is its latest start plus its job's offset.
Acceptance is by halving: a loss as great as the temperature is taken half the time, twice as
great a quarter, so that no figure but whole ones decides.
"""

from collections import deque
from collections.abc import Callable, Sequence
from random import Random

from scheduler.aims import Levels, levels
from scheduler.calendar import Index
from scheduler.chain import Unfit
from scheduler.grid import DAY_STEPS
from scheduler.justify import justify
from scheduler.net import Nets
from scheduler.place import place
from scheduler.problem import Problem, Schedule
from scheduler.regret import regrets
from scheduler.search import Spot, Why
from scheduler.spots import spot_of
from scheduler.stop import WHOLE_SHARE, Stop
from scheduler.urgency import Urgency, countback_order, shifted_order

TRIES_MAX = 20
SOONER_STEPS, EITHER_STEPS = 8 * DAY_STEPS, 20 * DAY_STEPS
"""So far a costly job moves sooner, at the median, and any job either way, at most."""
WEIGHTS = (2_000_000, 500_000, 2_000, 50, 4_000, 400, 0, 0)
MISSED_LEVELS = 2
LOOSE_MAX = 4
"""So many schedules wait to be pulled together, which takes as long as some passes."""
FLOOR_SHARE = 20
HOT = 600_000
OnBetter = Callable[[Schedule, Levels], None]


def first_schedule(index: Index, seed: int) -> Schedule | Unfit:
    """Return the best of a few passes, forwards and then pulled together from behind.

    If the countback's order fits nowhere, some other orders of jobs are tried, drawn by seed.
    """
    found = _any_pass(index, seed)
    if isinstance(found, Unfit):
        return found
    told = _as_told(index)
    if told is not None:
        found = _better(index.problem, found, told)
    return _better(index.problem, found, justify(index, found))


def _any_pass(index: Index, seed: int) -> Schedule | Unfit:
    release = index.once(Urgency).release
    found = place(index, countback_order(index), release=release)
    draw = Random(seed)
    for _ in range(TRIES_MAX):
        if not isinstance(found, Unfit) or found.why is Why.NOBODY:
            break
        again = place(index, shifted_order(index, _drawn(index.problem, draw)), release=release)
        found = again if not isinstance(again, Unfit) else found
    return found


def _drawn(problem: Problem, draw: Random) -> dict[int, int]:
    spread = 30 * DAY_STEPS
    return {job: draw.randrange(-spread, spread) for job in range(len(problem.jobs))}


def _as_told(index: Index) -> Schedule | None:
    """Return a schedule in which nothing comes before its told start, if that can be."""
    told = [stage.told_start or 0 for stage in index.problem.stages]
    if not any(told):
        return None
    release = [max(pair) for pair in zip(told, index.once(Urgency).release, strict=True)]
    found = place(index, countback_order(index), release=release)
    return None if isinstance(found, Unfit) else found


def _worth(problem: Problem, schedule: Schedule) -> tuple[int, ...]:
    if problem.makespan is not None:
        return (schedule.starts[problem.makespan],)
    return levels(problem, schedule)


def _better(problem: Problem, first: Schedule, second: Schedule | None) -> Schedule:
    if second is None or _worth(problem, first) <= _worth(problem, second):
        return first
    return second


def improve_by_shifts(
    index: Index,
    schedule: Schedule,
    *,
    seed: int,
    stop: Stop,
    on_better: OnBetter | None = None,
) -> Schedule:
    """Return the best schedule found by shifting jobs until the rule says stop.

    Each pass spends one unit of effort. on_better: told of each schedule with better levels.
    """
    if not index.problem.jobs:
        return schedule
    search = _Annealing(index, schedule, seed, on_better)
    while stop.reason() is None:
        stop.spend(1)
        search.step(min(WHOLE_SHARE, stop.share()))
    search.pull_together()
    return search.best


class _Annealing:
    def __init__(
        self, index: Index, schedule: Schedule, seed: int, on_better: OnBetter | None
    ) -> None:
        self.best = schedule
        self._index = index
        self._problem = index.problem
        self._draw = Random(seed)
        self._on_better = on_better
        self._best_levels = levels(self._problem, schedule)
        self._offsets = dict.fromkeys(range(len(self._problem.jobs)), 0)
        self._current = schedule
        self._order: list[int] | None = None
        self._loose: deque[Schedule] = deque(maxlen=LOOSE_MAX)
        self._befores = index.once(Befores)
        self._energy = self._least_energy = _energy(self._best_levels)

    def step(self, share: int) -> None:
        """Try one shift. share: of the search that is over, in thousandths."""
        offsets = self._shifted()
        order = shifted_order(self._index, offsets)
        fixed = self._placed_alike(order)
        temperature = HOT * (WHOLE_SHARE - share) // WHOLE_SHARE
        bar = _Bar(self._problem, self._energy + temperature * halvings(self._draw))
        found = place(
            self._index,
            order,
            release=self._index.once(Urgency).release,
            fixed=fixed,
            inserted=frozenset(stage for stage in fixed if self._problem.stages[stage].optional),
            over=bar.is_over,
        )
        if isinstance(found, Unfit):
            return
        reached = levels(self._problem, found)
        energy = _energy(reached)
        if energy <= bar.most:
            self._current, self._energy, self._offsets = found, energy, offsets
            self._order = order
        wins = reached[:MISSED_LEVELS] < self._best_levels[:MISSED_LEVELS]
        is_least = energy < self._least_energy
        self._least_energy = min(energy, self._least_energy)
        if self._keep(found) or is_least:
            self._loose.append(found)
        if wins:
            self.pull_together()

    def pull_together(self) -> None:
        """Pull the last schedules worth it together from behind, if that has not been done."""
        while self._loose:
            schedule = self._loose.popleft()
            for by_start in (False, True):
                justified = justify(self._index, schedule, by_start=by_start)
                if justified is not None:
                    self._keep(justified)

    def _placed_alike(self, order: Sequence[int]) -> dict[int, Spot]:
        """Return what a pass in another order places as the last one that was kept did.

        All that comes before the orders part, with all that it waits for.
        """
        if self._order is None:
            return {}
        parts = next(
            (
                at
                for at, (one, other) in enumerate(zip(self._order, order, strict=True))
                if one != other
            ),
            len(order),
        )
        current = self._current
        return {
            stage: spot_of(current, stage)
            for stage in self._befores.closed(order[:parts])
            if current.ways[stage] >= 0
        }

    def _keep(self, schedule: Schedule) -> bool:
        """Take a schedule with better levels; return whether it is one."""
        reached = levels(self._problem, schedule)
        if reached >= self._best_levels:
            return False
        self.best, self._best_levels = schedule, reached
        if self._on_better is not None:
            self._on_better(schedule, reached)
        return True

    def _shifted(self) -> dict[int, int]:
        """Return other offsets: a costly job sooner, any job either way, or two swapped."""
        draw, offsets = self._draw, dict(self._offsets)
        jobs = range(len(offsets))
        move = draw.randrange(10)
        if move < 5 or len(offsets) == 1:
            job = draw.choices(jobs, self._costs())[0]
            offsets[job] -= SOONER_STEPS * halvings(draw) + draw.randrange(SOONER_STEPS)
        elif move < 8:
            offsets[draw.choice(jobs)] += draw.randrange(-EITHER_STEPS, EITHER_STEPS + 1)
        else:
            one, other = draw.sample(jobs, 2)
            offsets[one], offsets[other] = offsets[other], offsets[one]
        return offsets

    def _costs(self) -> list[int]:
        return [1 + regret for regret in regrets(self._index, self._current)]


class _Bar:
    """What a schedule may cost at most to be taken; asked job by job while it is being made."""

    def __init__(self, problem: Problem, most: int) -> None:
        self._jobs, self.most = problem.jobs, most
        self._costs: dict[int, int] = {}

    def is_over(self, job: int, end: int) -> bool:
        """Return whether what is late so far costs more. end: of the job's loading."""
        aim = self._jobs[job]
        late = 0 if aim.latest is None else max(0, end - aim.latest)
        missed = WEIGHTS[0 if aim.firm else 1] if late else 0
        self._costs[job] = missed + late * WEIGHTS[2]
        return sum(self._costs.values()) > self.most


class Befores:
    """Which units wait for which; made once for each index."""

    def __init__(self, index: Index) -> None:
        optional = frozenset(
            stage for stage, asked in enumerate(index.problem.stages) if asked.optional
        )
        self._net = index.once(Nets).net(optional)

    def closed(self, first: Sequence[int]) -> list[int]:
        """Return the stages of all units with one of the first, that wait for such units only."""
        net = self._net
        chosen = {net.unit_of[stage] for stage in first}
        waits = [0] * len(net.units)
        for unit, followers in enumerate(net.followers):
            if unit not in chosen:
                for follower in followers:
                    waits[follower] += 1
        left = [unit for unit in chosen if waits[unit]]
        gone = set(left)
        while left:
            for follower in net.followers[left.pop()]:
                if follower in chosen and follower not in gone:
                    gone.add(follower)
                    left.append(follower)
        return [stage for unit in sorted(chosen - gone) for stage in net.units[unit]]


def halvings(draw: Random) -> int:
    """Return 0 half the time, 1 a quarter, 2 an eighth and so on, at most 15."""
    bits = draw.getrandbits(15)
    count = 0
    while bits & 1:
        bits >>= 1
        count += 1
    return count


def _energy(reached: Levels) -> int:
    weighed = sum(weight * level for weight, level in zip(WEIGHTS, reached, strict=True))
    return weighed + reached[-1] // FLOOR_SHARE
