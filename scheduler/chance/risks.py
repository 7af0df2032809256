"""Which steps carry the risk of a job: on the chain that decides, and pulling its end along."""

from collections.abc import Sequence

import numpy as np

from scheduler.chance.arrays import Floats, Ints
from scheduler.chance.luck import Luck
from scheduler.chance.pools import Replayed
from scheduler.chance.values import Risk
from scheduler.normalise import Normal, StageName
from scheduler.problem import JobAim

RISKS_MAX = 5
LOOKED_AT = 30
"""Of the stages that lie on the chain oftenest, so many are looked at."""
CHAIN_MAX = 400
"""No chain is followed further back."""


class Risks:
    """Looks for what carries the risk of jobs in one replay."""

    def __init__(self, normal: Normal, replayed: Replayed, luck: Luck) -> None:
        """Take what was drawn and what came of it."""
        self._normal, self._replayed, self._luck = normal, replayed, luck
        self._known: dict[int, Floats | None] = {}
        draws = len(luck.weather)
        self._causes = np.full((len(replayed.ends), draws), -1, dtype=np.int32)
        for stage, row in enumerate(replayed.causes):
            if row is not None:
                self._causes[stage] = row

    def of(self, aim: JobAim, end: Ints) -> tuple[Risk, ...]:
        """Return the steps that carry the risk of a job's loading, most first.

        Of each, the share of draws in which it lies on the chain that decides, times how closely
        the end of loading follows how long it takes.
        """
        shares = self._on_chain(aim, end)
        ranks = _ranks(end)
        often = np.argsort(-shares, kind="stable")[:LOOKED_AT].tolist()
        found: dict[tuple[str, str], Risk] = {}
        for stage in often if np.ptp(end) else ():
            takes = self._takes(stage) if shares[stage] > 0 else None
            if takes is None:
                continue
            name = self._normal.stages[stage]
            risk = Risk(
                job=name.job,
                step=name.step,
                part=name.part,
                share_percent=round(100 * float(shares[stage])),
                pull_percent=round(100 * float(takes @ ranks) / len(ranks)),
            )
            known = found.get((name.step, name.part))
            if known is None or _weight(risk) > _weight(known):
                found[name.step, name.part] = risk
        driving = [risk for risk in found.values() if risk.pull_percent > 0 < risk.share_percent]
        return tuple(sorted(driving, key=lambda risk: (-_weight(risk), risk.step))[:RISKS_MAX])

    def _on_chain(self, aim: JobAim, end: Ints) -> Floats:
        """Return by stage the share of draws in which it lies on the chain back from loading."""
        draws = len(end)
        counts = np.zeros(len(self._causes), dtype=np.float64)
        current = _last(aim.lasts, self._replayed)
        every = np.arange(draws)
        for _ in range(CHAIN_MAX):
            alive = np.flatnonzero(current >= 0)
            if not len(alive):
                break
            current, every = current[alive], every[alive]
            counts += np.bincount(current, minlength=len(counts))
            current = self._causes[current, every]
        found: Floats = np.minimum(counts / draws, 1.0)
        return found

    def _takes(self, stage: int) -> Floats | None:
        """Return the ranks of how long a step takes, None where nothing of it is drawn."""
        if stage not in self._known:
            name = self._normal.stages[stage]
            drawn = _drawn(name, stage, self._luck) if name.is_told else None
            self._known[stage] = None if drawn is None else _ranks(drawn)
        return self._known[stage]


def _drawn(name: StageName, stage: int, luck: Luck) -> Floats | None:
    answers = luck.answers.get(name.step)
    if answers is not None and name.round and not name.part:
        found: Floats = answers.days[name.round].astype(np.float64) * (1 + answers.noes)
        return found
    factor = luck.factors[stage]
    return None if isinstance(factor, float) else factor


def _weight(risk: Risk) -> int:
    return risk.share_percent * risk.pull_percent


def _last(lasts: Sequence[int], replayed: Replayed) -> Ints:
    """Return by draw the stage that ends loading."""
    known = [(stage, row) for stage in lasts if (row := replayed.ends[stage]) is not None]
    row = np.stack([row for _, row in known]).argmax(axis=0)
    found: Ints = np.array([stage for stage, _ in known], dtype=np.int32)[row]
    return found


def _ranks(values: Ints | Floats) -> Floats:
    """Return the ranks of some numbers, with a mean of 0 and a spread of 1."""
    found: Floats = np.empty(len(values), dtype=np.float64)
    found[np.argsort(values, kind="stable")] = np.arange(len(values))
    found -= (len(values) - 1) / 2
    found /= found.std()
    return found
