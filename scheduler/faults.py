"""Our own bugs: raised, never shown as an answer."""

from scheduler.outcome import Breach


class EngineFault(Exception):  # noqa: N818 - a fault is ours, not the book's
    """The engine contradicts itself: its own check finds its plan broken, or a proof is false."""

    def __init__(self, told: str, breaches: tuple[Breach, ...] = ()) -> None:
        """Keep what was found, and what is broken."""
        super().__init__(told)
        self.breaches = breaches


def broken(breaches: tuple[Breach, ...]) -> EngineFault:
    """Return the fault of a plan that the check finds broken."""
    named = "; ".join(f"{breach.rule} {breach.where}" for breach in breaches[:5])
    return EngineFault(f"{len(breaches)} breaches: {named}", breaches)
