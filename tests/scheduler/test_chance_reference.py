"""Chances against a whole placement pass for each draw, and against worlds of another family."""

from math import comb

import numpy as np
import pytest

from scheduler.chance.estimate import _Asking
from scheduler.kept import Kept
from tests.bench._placed_draws import NEVER, placed_ends
from tests.bench._warm import Warm
from tests.bench.chance import a_world, drawn_otherwise, in_band
from tests.books.sized import Size, sized_book
from tests.builders import NOW
from tests.scheduler.test_chance import a_tall_book, planned


def test_where_nobody_has_to_choose_pools_end_when_passes_do() -> None:
    book = a_tall_book(answers=True, window_days=60, as_of=NOW)
    asking = _Asking(book, planned(book).plan, 64, 1, Kept())
    replay = asking.replay()
    passes = placed_ends(asking._normal, asking._planned, replay.luck, range(40), asking._bank.upto)

    assert [ends[0] for ends in passes] == replay.loaded[0][:40].tolist()


def test_on_a_workshop_pools_end_about_when_passes_do() -> None:
    """Of a job by itself, in a workshop of six: within some days on the average, late together."""
    book = sized_book(Size(stages=60, people=6, seed=4, jobs=1))
    _, _, plan = Warm().first(book, justified=True)
    asking = _Asking(book, plan, 64, 1, Kept())
    replay = asking.replay()
    passes = placed_ends(asking._normal, asking._planned, replay.luck, range(16), asking._bank.upto)
    other = np.array([ends[0] for ends in passes])
    mine = replay.loaded[0][:16]

    assert int(other.max()) < NEVER
    assert abs(float((mine - other).mean())) < 6 * 96
    assert float(np.corrcoef(mine, other)[0, 1]) > 0.6


def test_a_world_is_drawn_from_its_seed_and_otherwise_than_chances_are() -> None:
    book = a_world(5)
    _, _, plan = Warm().first(book, justified=True)
    asking = _Asking(book, plan, 64, 1, Kept())
    luck = asking.replay().luck
    first, again, other = (drawn_otherwise(asking, luck, seed) for seed in (1, 1, 2))

    def drawn(world: object) -> list[float]:
        return [float(f[0]) for f in world.factors if not isinstance(f, float)]  # type: ignore[attr-defined]

    assert drawn(first) == drawn(again) != drawn(other)
    assert np.mean(drawn(first)) == pytest.approx(1.1, abs=0.4)


@pytest.mark.parametrize(
    ("count", "kept", "share", "holds"),
    [(20, 19, 0.95, True), (20, 13, 0.95, False), (40, 30, 0.72, True), (40, 40, 0.72, False)],
)
def test_a_band_holds_where_as_many_were_kept_as_chance_allows(
    count: int, kept: int, share: float, *, holds: bool
) -> None:
    assert in_band(count, kept, share) is holds
    assert sum(
        comb(count, n) * share**n * (1 - share) ** (count - n) for n in range(count + 1)
    ) == (pytest.approx(1))
