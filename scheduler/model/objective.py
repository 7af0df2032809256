"""What is to be least, as expressions of the model."""

from scheduler.model.variables import Expr, Frame


def makespan(frame: Frame) -> Expr | None:
    """Return the start of the stage that closes a plain instance, or None for a book."""
    last = frame.problem.makespan
    return None if last is None else frame.stages[last].start
