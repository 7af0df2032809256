"""The quick look never hides what a close one finds."""

from dataclasses import replace
from decimal import Decimal
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from shared.book import Body, LegKind, Notice, Purpose
from shared.book.journeys import Counted
from shared.notices import is_quiet
from shared.notices.instants import Travelled
from shared.notices.of_trip import OfTrip
from tests.books.plain import small
from tests.builders import a_leg, a_site, an_equipment
from tests.shared.notices.deliveries import Delivered, delivered, drive, legs_of

TIMES = legs_of("2026-03-02 06:00", "2026-03-02 08:00", "2026-03-02 12:00")
sizes = st.decimals(min_value="0.5", max_value="7", places=1)


def plain(**changes: Any) -> Delivered:
    return delivered((drive(), a_leg(LegKind.ASSEMBLE, inside=True)), TIMES, **changes)


@given(
    st.tuples(sizes, sizes, sizes),
    st.integers(min_value=1, max_value=60_000),
    st.sampled_from([None, 18, 40, 44, 46, 90]),
    st.sampled_from([(), ("upright",), ("on_side",), ("lying",)]),
    st.sampled_from([None, "0.05", "0.3"]),
    st.sampled_from([None, *Body]),
)
def test_a_quiet_job_has_nothing_that_is_due(
    box: Any,
    mass: int,
    gross: int | None,
    turns: tuple[str, ...],
    wrap: str | None,
    body: Body | None,
) -> None:
    bed = an_equipment("bed", body=body, gross_t=None if gross is None else Decimal(gross))
    made = plain(
        sizes=tuple(str(size) for size in box),
        segment={"mass_low_kg": Decimal(mass), "mass_high_kg": Decimal(mass), "turns": turns},
        book={"equipment": (bed,)},
    )
    workshop = replace(made.book.workshop, wrap_m=None if wrap is None else Decimal(wrap))
    book = replace(made.book, workshop=workshop)
    journey = made.job.steps[-1]
    of = OfTrip(book, made.job, Travelled(journey=journey, trip=made.trips[0]))  # type: ignore[arg-type]

    found = list(of.found(made.trips, is_first=True))

    assert not (is_quiet(book, made.job) and found)


def test_an_ordinary_job_is_quiet_and_others_are_looked_at_closely() -> None:
    notice = Notice(id="x", name="X", lead=1, counted=Counted.DAYS)

    assert is_quiet(small(), small().jobs[0])
    assert is_quiet(plain().book, plain(sizes=("2", "1", "1")).job)
    assert not is_quiet(plain().book, plain(sizes=("3", "1", "1")).job)
    assert not is_quiet(plain().book, plain(job={"notices": (notice,)}).job)
    assert not is_quiet(plain().book, plain(job={"purposes": (Purpose.FIRE_TESTED,)}).job)
    abroad = plain(job={"site": a_site(country="FR", subdivision=None, zone="Europe/Paris")})
    assert not is_quiet(abroad.book, abroad.job)
    closely = delivered((drive(driving_minutes=30),), TIMES[:1])
    assert not is_quiet(closely.book, closely.job)
