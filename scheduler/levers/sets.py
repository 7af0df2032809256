"""Sets of levers: which were enough, which were not, and what follows for others."""

from collections.abc import Collection, Iterable

from scheduler.levers.trying import Tried
from shared.levers import Lever, LeverKind, price_of

Ids = frozenset[str]
FRIDAY = 4


def ids_of(levers: Iterable[Lever]) -> Ids:
    """Return the ids of levers."""
    return frozenset(lever.id for lever in levers)


def cost_of(levers: Collection[Lever]) -> tuple[object, ...]:
    """Return what levers are sorted by.

    Price, how many must agree, how many there are, how many days are left for answers.
    """
    agree = {lever.agrees for lever in levers if lever.agrees}
    days = sum(lever.days or 0 for lever in levers)
    return price_of(levers), len(agree), len(levers), -days, sorted(ids_of(levers))


def likeness(levers: Iterable[Lever]) -> frozenset[tuple[object, ...]]:
    """Return what levers have in common with others that are much the same.

    Other Saturdays of the same person, other weeks of the same hand, another number of days for
    the same answer.
    """
    return frozenset(
        (lever.kind, lever.offer, lever.about, _is_at_weekend(lever)) for lever in levers
    )


def _is_at_weekend(lever: Lever) -> bool:
    start = lever.start
    return lever.kind is LeverKind.OVERTIME and start is not None and start.weekday() > FRIDAY


class Known:
    """What is known of sets of levers.

    tried: by ids, with how many passes. disproved: sets that are proved not to be enough; so are
    their parts, as far as what is left out of them only helps.
    """

    def __init__(self, levers: Iterable[Lever]) -> None:
        """Start with nothing known of any set of some levers."""
        self.levers = {lever.id: lever for lever in levers}
        self.tried: dict[Ids, tuple[int, Tried]] = {}
        self.disproved: set[Ids] = set()

    def note(self, tried: Tried, passes: int) -> None:
        """Keep a trial."""
        self.tried[ids_of(tried.levers)] = (passes, tried)

    def note_enough(self, ids: Ids, tried: Tried) -> None:
        """Keep that a set is enough because a part of it is."""
        self.tried[ids] = (0, tried)

    def disprove(self, ids: Ids) -> None:
        """Keep that a set is proved not to be enough."""
        self.disproved.add(ids)

    def is_disproved(self, ids: Ids) -> bool:
        """Return whether a set is proved not to be enough, or is part of one that is."""
        return any(ids <= each and self.only_help(each - ids) for each in self.disproved)

    def is_enough(self, ids: Ids) -> bool:
        """Return whether a part of a set was enough, to which the rest only adds freedom."""
        return any(
            tried.keeps and known <= ids and self.only_help(ids - known)
            for known, (_, tried) in self.tried.items()
        )

    def only_help(self, ids: Ids) -> bool:
        """Return whether all of these only add freedom."""
        return all(self.levers[each].only_helps for each in ids)
