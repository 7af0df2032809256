"""What hangs together in a problem, by stage: links, edges that lift, stands, pairs, jobs."""

from collections.abc import Callable, Iterable
from math import ceil
from typing import TYPE_CHECKING

from scheduler.calendar import Index
from scheduler.problem import Problem

if TYPE_CHECKING:
    from scheduler.terms import Link


class Ties:
    """By stage, what a part of the problem that holds it has to know; made once for each index.

    ins, outs: links to and from it. lifting: edges that a stage may lift which concern it. holds:
    stands that begin or end with it. mates: whose team is its own. jobs: whose loading it is.
    firsts, lasts: how many segments begin, end with it. shortest: steps that it takes at least.
    """

    def __init__(self, index: Index) -> None:
        problem = index.problem
        stages = range(len(problem.stages))
        self.ins: list[list[Link]] = [[] for _ in stages]
        self.outs: list[list[Link]] = [[] for _ in stages]
        for link in index.terms.links:
            self.ins[link.after].append(link)
            self.outs[link.before].append(link)
        self.edges: list[list[int]] = [[] for _ in stages]
        self.lifting: list[list[int]] = [[] for _ in stages]
        for number, edge in enumerate(problem.edges):
            self.edges[edge.before].append(number)
            self.edges[edge.after].append(number)
            if edge.insert is not None:
                for stage in (edge.before, edge.after, edge.insert):
                    self.lifting[stage].append(number)
        self._note_stands_and_pairs(problem)
        self._note_jobs(problem)
        paces = [worker.pace for worker in problem.workers]
        fastest = max(paces, default=1)
        self.shortest = [
            min(ceil(way.work / fastest) for way in stage.ways) for stage in problem.stages
        ]

    def _note_stands_and_pairs(self, problem: Problem) -> None:
        self.holds: list[list[int]] = [[] for _ in problem.stages]
        for number, hold in enumerate(problem.holds):
            for stage in {hold.first, hold.last}:
                if stage is not None:
                    self.holds[stage].append(number)
        self.mates: list[list[int]] = [[] for _ in problem.stages]
        for number, asked in enumerate(problem.stages):
            if asked.same_team_as is not None:
                self.mates[number].append(asked.same_team_as)
                self.mates[asked.same_team_as].append(number)

    def _note_jobs(self, problem: Problem) -> None:
        self.jobs: list[list[int]] = [[] for _ in problem.stages]
        self.firsts = [0] * len(problem.stages)
        self.lasts = [0] * len(problem.stages)
        for number, job in enumerate(problem.jobs):
            for stage in {*job.lasts, *job.loads}:
                self.jobs[stage].append(number)
            for first, last in job.floor:
                self.firsts[first] += 1
                self.lasts[last] += 1

    def along(self, first: int, last: int) -> list[int]:
        """Return the stages on the ways from one to another, both included."""
        after = self._reached(first, lambda stage: (link.after for link in self.outs[stage]))
        before = self._reached(last, lambda stage: (link.before for link in self.ins[stage]))
        return sorted(after & before | {first, last})

    @staticmethod
    def _reached(start: int, following: Callable[[int], Iterable[int]]) -> set[int]:
        found, left = {start}, [start]
        while left:
            for other in following(left.pop()):
                if other not in found:
                    found.add(other)
                    left.append(other)
        return found
