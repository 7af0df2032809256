"""The bans of the road and those of the check, written apart, agree in every quarter of an hour."""

from datetime import UTC, date, datetime, timedelta
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scheduler.check.road.bans import first_banned
from shared.road.bans import Lorry, Road, ban_rule, ban_spans

QUARTER = timedelta(minutes=15)
ROADS = [
    Road(country="DE"),
    Road(country="DE", subdivision="BY", listed=True),
    Road(country="FR", area=""),
    Road(country="FR", subdivision="Alsace-Moselle", area="auvergne-rhone-alpes"),
    Road(country="GB", area="london"),
    Road(country="GB"),
    Road(country="IT"),
]
LORRIES = [
    Lorry(tonnes=Decimal("7.5")),
    Lorry(tonnes=Decimal("7.5"), trailer=True),
    Lorry(tonnes=Decimal(18), abnormal=True),
]


@given(
    road=st.sampled_from(ROADS),
    lorry=st.sampled_from(LORRIES),
    days=st.integers(0, 3 * 366),
    event=st.none() | st.integers(-3, 3),
)
def test_every_quarter_of_a_day_is_banned_in_both_or_in_neither(
    road: Road, lorry: Lorry, days: int, event: int | None
) -> None:
    first = datetime(2025, 1, 1, tzinfo=UTC) + timedelta(days=days)
    on = None if event is None else first.date() + timedelta(days=event)
    _agree(road, Lorry(
        tonnes=lorry.tonnes, trailer=lorry.trailer, abnormal=lorry.abnormal, event_on=on
    ), first)  # fmt: skip


@pytest.mark.parametrize("day", ["2026-03-28", "2026-03-29", "2026-10-24", "2026-10-25"])
@pytest.mark.parametrize("road", ROADS)
def test_they_agree_when_clocks_change(road: Road, day: str) -> None:
    start = datetime.combine(date.fromisoformat(day), datetime.min.time(), UTC)
    _agree(road, LORRIES[1], start)


def _agree(road: Road, lorry: Lorry, first: datetime) -> None:
    spans = ban_spans(road, lorry, first, first + timedelta(days=1))
    for number in range(96):
        at = first + number * QUARTER
        here = any(span.start <= at < span.end for span in spans)
        found = first_banned(road, lorry, at, at + QUARTER)
        assert here == (found is not None), at
        assert (found.rule if found else "") == ban_rule(road, lorry, at)
