"""Who can make up a team, against trying every seating of a few people."""

from itertools import permutations
from random import Random

from scheduler.normalise.makeup import can_make_up
from scheduler.problem import Need, Worker


def by_trying(workers: list[Worker], needs: list[Need], asked: list[int]) -> bool:
    seats = [
        (need.skill, can) for need in needs for can in [True] * need.can + [False] * need.helps
    ]
    return any(
        set(asked) <= set(seated)
        and all(
            skill in workers[at].can or (not can and skill in workers[at].helps)
            for at, (skill, can) in zip(seated, seats, strict=True)
        )
        for seated in permutations(range(len(workers)), len(seats))
    )


def test_it_says_what_trying_every_seating_says() -> None:
    rng = Random(5)
    for _ in range(400):
        workers = [
            Worker(calendar=None, can=frozenset(rng.sample(range(3), rng.randrange(3))),
                   helps=frozenset(rng.sample(range(3), rng.randrange(3))))
            for _ in range(rng.randint(1, 5))
        ]  # fmt: skip
        needs = [
            Need(skill=rng.randrange(3), can=rng.randrange(3), helps=rng.randrange(2))
            for _ in range(rng.randint(1, 2))
        ]
        asked = rng.sample(range(len(workers)), rng.randrange(min(3, len(workers) + 1)))
        assert can_make_up(workers, needs, asked) == by_trying(workers, needs, asked)


def test_more_places_than_people_are_refused_without_setting_them_out() -> None:
    worker = Worker(calendar=None, can=frozenset({0}), helps=frozenset({0}))

    assert not can_make_up([worker], [Need(skill=0, can=10**12 - 1)], ())
    assert not can_make_up([worker], [Need(skill=0, can=0, helps=10**12 - 1)], [0])
