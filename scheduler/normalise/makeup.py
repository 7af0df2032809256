"""Who can make up a team: places for people, and people for places."""

from collections.abc import Iterable, Sequence

from scheduler.problem import Need, Worker


def can_make_up(workers: Sequence[Worker], needs: Iterable[Need], asked: Sequence[int]) -> bool:
    """Return whether distinct workers fill every need, those asked for among them.

    Two matchings, one that seats all who are asked and one that fills all seats, make one that
    does both (N.S. Mendelsohn, A.L. Dulmage, Canadian Journal of Mathematics 10, 1958, 517-534).
    """
    needs = tuple(needs)
    if sum(need.can + need.helps for need in needs) > len(workers):
        return False
    seats = [
        frozenset(at for at, worker in enumerate(workers) if need.skill in held(worker))
        for need in needs
        for count, held in ((need.can, _can), (need.helps, _helps))
        for _ in range(count)
    ]
    by_worker = [
        frozenset(seat for seat, fitting in enumerate(seats) if worker in fitting)
        for worker in asked
    ]
    return _all_matched(seats) and _all_matched(by_worker)


def _can(worker: Worker) -> frozenset[int]:
    return worker.can


def _helps(worker: Worker) -> frozenset[int]:
    return worker.helps | worker.can


def _all_matched(choices: Sequence[frozenset[int]]) -> bool:
    """Return whether each can have one of its choices to itself."""
    taken: dict[int, int] = {}
    return all(_seat(one, choices, taken, set()) for one in range(len(choices)))


def _seat(
    one: int, choices: Sequence[frozenset[int]], taken: dict[int, int], seen: set[int]
) -> bool:
    for choice in sorted(choices[one] - seen):
        seen.add(choice)
        if choice not in taken or _seat(taken[choice], choices, taken, seen):
            taken[choice] = one
            return True
    return False
