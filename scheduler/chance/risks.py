"""Which steps carry the risk of a job: on the chain that decides, and pulling its end along."""

from collections.abc import Sequence

import numpy as np

from scheduler.chance.arrays import Floats, Ints
from scheduler.chance.luck import Luck
from scheduler.chance.pools import Replayed
from scheduler.chance.values import Risk
from scheduler.normalise import Normal
from scheduler.problem import JobAim

RISKS_MAX = 5
CHAIN_MAX = 400
"""No chain is followed further back."""


def risks_of(
    normal: Normal, aim: JobAim, replayed: Replayed, luck: Luck, end: Ints
) -> tuple[Risk, ...]:
    """Return the steps that carry the risk of a job's loading, most first.

    Of each, the share of draws in which it lies on the chain that decides, times how closely the
    end of loading follows how long it takes.
    """
    shares = _on_chain(aim, replayed, end)
    ranks = _ranks(end)
    found: dict[tuple[str, str], Risk] = {}
    for stage in np.flatnonzero(shares > 0).tolist():
        name = normal.stages[stage]
        if not name.is_told:
            continue
        takes = _takes(normal, stage, luck)
        if takes is None:
            continue
        pull = float(np.corrcoef(_ranks(takes), ranks)[0, 1]) if np.ptp(end) else 0.0
        risk = Risk(
            step=name.step,
            part=name.part,
            share_percent=round(100 * float(shares[stage])),
            pull_percent=round(100 * pull),
        )
        known = found.get((name.step, name.part))
        if known is None or _weight(risk) > _weight(known):
            found[name.step, name.part] = risk
    driving = [risk for risk in found.values() if risk.pull_percent > 0 and risk.share_percent > 0]
    return tuple(sorted(driving, key=lambda risk: (-_weight(risk), risk.step))[:RISKS_MAX])


def _weight(risk: Risk) -> int:
    return risk.share_percent * risk.pull_percent


def _on_chain(aim: JobAim, replayed: Replayed, end: Ints) -> Floats:
    """Return by stage the share of draws in which it lies on the chain back from loading."""
    draws = len(end)
    counts = np.zeros(len(replayed.ends), dtype=np.float64)
    current = _last(aim.lasts, replayed, draws)
    causes = np.full((len(replayed.ends), draws), -1, dtype=np.int32)
    for stage, row in enumerate(replayed.causes):
        if row is not None:
            causes[stage] = row
    every = np.arange(draws)
    for _ in range(CHAIN_MAX):
        alive = current >= 0
        if not alive.any():
            break
        counts += np.bincount(current[alive], minlength=len(counts))
        current = np.where(alive, causes[np.maximum(current, 0), every], -1)
    found: Floats = np.minimum(counts / draws, 1.0)
    return found


def _last(lasts: Sequence[int], replayed: Replayed, draws: int) -> Ints:
    """Return by draw the stage that ends loading."""
    known = [(stage, row) for stage in lasts if (row := replayed.ends[stage]) is not None]
    row = np.stack([row for _, row in known]).argmax(axis=0)
    found: Ints = np.array([stage for stage, _ in known], dtype=np.int32)[row]
    return found


def _takes(normal: Normal, stage: int, luck: Luck) -> Floats | None:
    """Return how long a step takes by draw, in any unit, None where nothing of it is drawn."""
    name = normal.stages[stage]
    answers = luck.answers.get(name.step)
    if answers is not None and name.round and not name.part:
        days = answers.days[name.round].astype(np.float64)
        found: Floats = days * (1 + answers.noes)
        return found
    factor = luck.factors[stage]
    return None if isinstance(factor, float) else factor


def _ranks(values: Ints | Floats) -> Floats:
    found = np.empty(len(values), dtype=np.float64)
    found[np.argsort(values, kind="stable")] = np.arange(len(values))
    return found
