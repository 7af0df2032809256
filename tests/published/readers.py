"""The published formats, read into instances.

.sm and .mm: R. Kolisch, A. Sprecher, "PSPLIB - a project scheduling problem library", European
Journal of Operational Research 96 (1996/97) 205-216. .rcp: J.H. Patterson, Management Science
30 (1984) 854-867. .sch: C. Schwindt's ProGen/max, in R. Kolisch, C. Schwindt, A. Sprecher,
"Benchmark instances for project scheduling problems" (in: Weglarz (ed.), Project Scheduling,
1999). .dzn: K.D. Young, T. Feydy, A. Schutt, "Constraint programming applied to the multi-skill
project scheduling problem", CP 2017. No extension: job shops in the form of D. Applegate,
W. Cook, ORSA Journal on Computing 3 (1991) 149-156.
"""

import re
from collections.abc import Callable
from pathlib import Path

from tests.published.instances import Instance, Mode


def read(path: Path) -> Instance:
    """Read a file by what its name ends with; ValueError if it is not what it seems."""
    reader = _READERS.get(path.suffix.lower())
    if reader is None:
        raise ValueError(f"no reader for {path.name}")
    return reader(path.read_text(encoding="latin-1"))


def _numbers(text: str) -> list[int]:
    return [int(word) for word in re.findall(r"-?\d+", text)]


def _rows(text: str) -> list[list[int]]:
    return [numbers for line in text.splitlines() if (numbers := _numbers(line))]


def _block(text: str, heading: str) -> str:
    return text.partition(heading)[2].partition("****")[0]


def _count(text: str, label: str) -> int:
    found = re.search(rf"{label}\s*:\s*(\d+)", text)
    if found is None:
        raise ValueError(f"no line {label!r}")
    return int(found.group(1))


def read_sm(text: str) -> Instance:
    """Single-mode (.sm) and multi-mode (.mm) project files."""
    renewable_count, stock_count = _count(text, "- renewable"), _count(text, "- nonrenewable")
    successors = [row[3:] for row in _rows(_block(text, "PRECEDENCE RELATIONS:"))]
    modes: list[list[Mode]] = [[] for _ in successors]
    for row in _rows(_block(text, "REQUESTS/DURATIONS:").partition("----")[2]):
        if len(row) == 3 + renewable_count + stock_count:
            job = row.pop(0) - 1
        _, duration, *units = row
        modes[job].append(_mode(duration, units, renewable_count))
    capacities = _rows(_block(text, "RESOURCEAVAILABILITIES:"))[-1]
    return Instance(
        modes=tuple(map(tuple, modes)),
        follows=_follows(successors),
        capacities=tuple(capacities[:renewable_count]),
        stocks=tuple(capacities[renewable_count:]),
    )


def _mode(duration: int, units: list[int], renewable_count: int) -> Mode:
    return Mode(
        duration=duration,
        units=tuple(units[:renewable_count]),
        used_up=tuple(units[renewable_count:]),
    )


def _follows(successors: list[list[int]]) -> tuple[tuple[int, int], ...]:
    return tuple((i, j - 1) for i, found in enumerate(successors) for j in found)


def read_rcp(text: str) -> Instance:
    """Patterson's files: numbers only, lines mean nothing."""
    numbers = iter(_numbers(text))

    def take(count: int) -> list[int]:
        return [next(numbers) for _ in range(count)]

    job_count, resource_count = take(2)
    capacities = take(resource_count)
    modes, successors = [], []
    for _ in range(job_count):
        duration, *units = take(1 + resource_count)
        modes.append((Mode(duration=duration, units=tuple(units)),))
        successors.append(take(next(numbers)))
    if modes[-1][0].duration:
        raise ValueError("the last activity is no dummy")
    return Instance(modes=tuple(modes), follows=_follows(successors), capacities=tuple(capacities))


def read_sch(text: str) -> Instance:
    """Projects with least and greatest lags from start to start."""
    rows = _rows(text)
    count = rows[0][0] + 2
    lags = []
    for i, _, arc_count, *rest in rows[1 : count + 1]:
        heads, weights = rest[:arc_count], rest[arc_count:]
        lags += [(i, j, weight) for j, weight in zip(heads, weights, strict=True)]
    modes = tuple(
        (Mode(duration=duration, units=tuple(units)),)
        for _, _, duration, *units in rows[count + 1 : 2 * count + 1]
    )
    return Instance(modes=modes, lags=tuple(lags), capacities=tuple(rows[2 * count + 1]))


def read_dzn(text: str) -> Instance:
    """Projects of people with several skills."""
    text = re.sub(r"%.*", "", text)
    said: dict[str, str] = dict(re.findall(r"(\w+)\s*=\s*(.*?);", text, re.DOTALL))
    skill_count = int(said["nSkills"])
    held = [word == "true" for word in re.findall(r"true|false", said["mastery"])]
    wanted = _numbers(said["sreq"])
    durations = _numbers(said["dur"])
    before, after = _numbers(said["pred"]), _numbers(said["succ"])
    return Instance(
        modes=tuple((Mode(duration=duration),) for duration in durations),
        follows=tuple((i - 1, j - 1) for i, j in zip(before, after, strict=True)),
        people=tuple(
            frozenset(skill for skill in range(skill_count) if held[first + skill])
            for first in range(0, len(held), skill_count)
        ),
        places=tuple(
            tuple(wanted[first : first + skill_count])
            for first in range(0, len(wanted), skill_count)
        ),
    )


def read_job_shop(text: str) -> Instance:
    """Job shops: per job its machines and durations in pairs; a start and an end are added."""
    rows = _rows("\n".join(line for line in text.splitlines() if not line.startswith("#")))
    machine_count = rows[0][1]
    nothing = (Mode(duration=0, units=(0,) * machine_count),)
    modes, follows = [nothing], []
    lasts = []
    for route in rows[1 : rows[0][0] + 1]:
        before = 0
        for machine, duration in zip(route[::2], route[1::2], strict=True):
            units = tuple(int(at == machine) for at in range(machine_count))
            modes.append((Mode(duration=duration, units=units),))
            follows.append((before, len(modes) - 1))
            before = len(modes) - 1
        lasts.append(before)
    modes.append(nothing)
    follows += [(last, len(modes) - 1) for last in lasts]
    return Instance(modes=tuple(modes), follows=tuple(follows), capacities=(1,) * machine_count)


_READERS: dict[str, Callable[[str], Instance]] = {
    ".sm": read_sm,
    ".mm": read_sm,
    ".rcp": read_rcp,
    ".sch": read_sch,
    ".dzn": read_dzn,
    "": read_job_shop,
}
