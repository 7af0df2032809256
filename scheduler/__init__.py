"""The engine: from a book to a checked plan with verdicts.

What is asked and answered is here, and light. The doors are functions of modules that bear
their names: `scheduler.solve.solve`, `scheduler.check.check`.
"""

from pathlib import Path as _Path

from scheduler.hot import folder as _folder
from scheduler.outcome import Breach, CheckResult, JobOutcome, Outcome, StepTimes, Verdict
from scheduler.request import Cancel, Progress, SolveRequest

__all__ = [
    "Breach",
    "Cancel",
    "CheckResult",
    "JobOutcome",
    "Outcome",
    "Progress",
    "SolveRequest",
    "StepTimes",
    "Verdict",
]

_compiled = _folder(_Path(__path__[0]))
if _compiled is not None:
    __path__.insert(0, str(_compiled))
