"""The bench: worlds of a load, each lived through by the engine, four hand rules and who knew."""

import argparse
import json
import sys
from collections.abc import Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass

from tests.bench.year.by_rule import ByRule
from tests.bench.year.knowing import Knowing, would_have_fitted
from tests.bench.year.ours import Ours
from tests.bench.year.rules import RULES
from tests.bench.year.score import MONTHS, Score, median_days, score_of
from tests.bench.year.season import Season
from tests.bench.year.world import world_of

LOAD, SEEDS = 75, 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Year:
    """A world with what came of it for everybody. knowing: windows missed by who knew it."""

    seed: int
    ours: Score
    rules: tuple[Score, ...]
    knowing: int
    fitting: int


def year_of(seed: int, load: int) -> Year:
    """Let everybody live through a world."""
    world = world_of(seed, load)
    ours = Season(world, Ours()).run()
    knowing = Knowing(world)
    return Year(
        seed=seed,
        ours=score_of(ours),
        rules=tuple(score_of(Season(world, ByRule(rule)).run()) for rule in RULES),
        knowing=knowing.missed(ours.accepted),
        fitting=would_have_fitted(knowing, ours.accepted, ours.declined),
    )


def figures(years: Sequence[Year], load: int) -> dict[str, int | float | None]:
    """Return the figures of a load, summed over its worlds.

    The best hand rule is the one that missed fewest windows in all of them; of equals the one
    with less overtime.
    """
    ours = [year.ours for year in years]
    windows = sum(each.windows for each in ours)
    missed = sum(each.missed for each in ours)
    best = best_rule(years)
    weeks = sum(each.person_weeks for each in ours)
    return {
        "load": load,
        "seeds": len(years),
        "windows": windows,
        "missed_ours": missed,
        "missed_best_hand_rule": sum(each.missed for each in best),
        "missed_all_knowing": sum(year.knowing for year in years),
        "on_time_percent": round(100 * (windows - missed) / max(1, windows), 1),
        "overtime_ours_hours": round(sum(each.overtime_hours for each in ours), 1),
        "overtime_hand_hours": round(sum(each.overtime_hours for each in best), 1),
        "days_warning_median": median_days(ours),
        "false_alarms_per_month": round(
            sum(each.false_alarms for each in ours) / MONTHS / len(years), 2
        ),
        "changes_today_per_person_week": round(sum(each.changes for each in ours) / weeks, 3),
        "accepted": sum(each.accepted for each in ours),
        "declined_that_would_have_fitted": sum(year.fitting for year in years),
    }


def best_rule(years: Sequence[Year]) -> tuple[Score, ...]:
    """Return the scores of the hand rule that missed fewest windows."""
    by_rule = zip(*(year.rules for year in years), strict=True)
    return min(
        by_rule,
        key=lambda scores: (
            sum(each.missed for each in scores),
            sum(each.overtime_hours for each in scores),
        ),
    )


def table(years: Sequence[Year]) -> str:
    """Return one line for each planner."""
    rows = [[year.ours for year in years], *map(list, zip(*(y.rules for y in years), strict=True))]
    lines = [f"{'':28}{'windows':>8}{'missed':>8}{'overtime h':>12}{'changes':>9}  by world"]
    for scores in rows:
        missed = [each.missed for each in scores]
        lines.append(
            f"{scores[0].name:28}{sum(each.windows for each in scores):8}{sum(missed):8}"
            f"{sum(each.overtime_hours for each in scores):12.0f}"
            f"{sum(each.changes for each in scores):9}  {missed}"
        )
    known = [year.knowing for year in years]
    lines.append(f"{'who knew all draws':28}{'':8}{sum(known):8}{'':12}{'':9}  {known}")
    return "\n".join(lines)


def main(argv: list[str]) -> int:
    """Run the years of a load and print what came of them."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench year", description=__doc__)
    parser.add_argument("--seeds", type=int, default=SEEDS, help="so many worlds")
    parser.add_argument("--first", type=int, default=1, help="the first of them")
    parser.add_argument("--load", type=int, default=LOAD, help="of what people get done, per cent")
    parser.add_argument("--workers", type=int, default=1, help="worlds at once")
    parser.add_argument("--json", action="store_true", help="the figures as JSON, last")
    said = parser.parse_args(argv)
    seeds = range(said.first, said.first + said.seeds)
    years = _years(seeds, said.load, said.workers)
    print(f"load {said.load} %, {len(years)} worlds")
    print(table(years))
    found = figures(years, said.load)
    if said.json:
        print(json.dumps(found))
    else:
        print("\n".join(f"{name}: {value}" for name, value in found.items()))
    return 0


def _years(seeds: range, load: int, workers: int) -> list[Year]:
    if workers == 1:
        return [year_of(seed, load) for seed in seeds]
    with ProcessPoolExecutor(workers) as pool:
        return list(pool.map(year_of, seeds, [load] * len(seeds)))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
