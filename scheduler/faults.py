"""Our own bugs: raised, never shown as an answer."""

from scheduler.outcome import Breach


class EngineFault(Exception):  # noqa: N818 - a fault is ours, not the book's
    """The engine made a plan that its own check finds broken."""

    def __init__(self, breaches: tuple[Breach, ...]) -> None:
        """Keep what is broken."""
        told = "; ".join(f"{breach.rule} {breach.where}" for breach in breaches[:5])
        super().__init__(f"{len(breaches)} breaches: {told}")
        self.breaches = breaches
