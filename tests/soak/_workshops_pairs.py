"""A book beside an easier one: nothing proved is refuted, and what is missed may rarely rise."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from scheduler.outcome import JobOutcome, Outcome, Verdict
from scheduler.solve import solve
from tests.books.eased import EASES
from tests.soak._workshops_through import KEPT, Planned, Run


@dataclass(frozen=True, slots=True, kw_only=True)
class Pair:
    """Windows missed in a book, and in the same book made easier. ease: by what."""

    ease: str
    before: int
    after: int

    @property
    def is_worse(self) -> bool:
        return self.after > self.before


def paired(run: Run, was: Planned) -> Pair | None:
    """Ease the book in a drawn way and plan it as well; None where there is nothing to ease."""
    ease = run.draw.choice(sorted(EASES))
    with run.part(f"with {ease}"):
        easier = EASES[ease](run.book, run.draw)
        if easier is None:
            return None
        assert easier.as_of is not None
        outcome = solve(replace(was.request, book=easier, now=easier.as_of))
        run.wrong(f"with {ease}: {line}" for line in refuted(was.outcome, outcome))
        return Pair(ease=ease, before=_missed(was.outcome), after=_missed(outcome))
    return None


def refuted(hard: Outcome, easy: Outcome) -> Iterator[str]:
    """Give what is proved of the easier book and refuted by the plan of the harder one.

    A job that can't be loaded in time even alone can't with less room to do it either, nor less
    late. Of bounds that only hold as long as others keep their windows nothing is said.
    """
    before: dict[str, JobOutcome] = {job.id: job for job in hard.jobs}
    for told in easy.jobs:
        was = before[told.id]
        if told.verdict is not Verdict.CANNOT:
            continue
        if was.verdict in KEPT:
            yield f"{told.id} is {told.verdict}, without it {was.verdict}"
        elif 0 < was.missed_by_minutes < told.bound_minutes:
            yield f"{told.id} is late by {told.bound_minutes}, without it {was.missed_by_minutes}"
    if easy.bounds[0] > hard.levels[0]:
        yield f"{easy.bounds[0]} windows are missed at least, without it {hard.levels[0]}"


def _missed(outcome: Outcome) -> int:
    return sum(job.verdict not in KEPT for job in outcome.jobs)
