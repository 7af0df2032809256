"""Hours that hold a learned factor already are not made longer by the record a second time."""

from decimal import Decimal
from math import log

import numpy as np
import pytest

from scheduler.chance.draws import Draws
from scheduler.chance.figures import figures_of
from scheduler.chance.luck import luck_of
from scheduler.normalise import normalise
from shared.book import Kind
from shared.estimate.record import Record
from shared.routes.learned import times_longer
from tests.builders import NOW, a_book, a_gate, a_job, a_journey, a_stage

RECORD = Record(logs={Kind.FOAM: (log(1.5),) * 8}, usual=1.25)


@pytest.mark.parametrize("factor", ["0.8", "1.25", "1.6"])
def test_drawn_hours_are_the_same_whether_the_factor_is_written_in_or_not(factor: str) -> None:
    carve = a_stage("heron-carve", hours=8)
    drawn = []
    for step in (carve, times_longer(carve, Decimal(factor))):
        job = a_job(steps=(step, a_gate("heron-loading"), a_journey("heron-journey")))
        normal = normalise(a_book(job), NOW, (job.id,))
        draws = Draws(alike=0.5, overall=0.15, count=64)
        figures = figures_of(normal.book.workshop)
        luck = luck_of(normal, draws, figures, 4000, record=RECORD)
        at = next(at for at, name in enumerate(normal.stages) if name.step == carve.id)
        hours = float(step.ways[0].hours.likely)  # type: ignore[union-attr]
        drawn.append(hours * np.asarray(luck.factors[at]))
    assert drawn[0] == pytest.approx(drawn[1])
    assert drawn[0].mean() > 8 * 1.25
