"""The one place where the program looks at a clock."""

import time
from datetime import UTC, datetime


def now() -> datetime:
    """Give the present instant, to the second, in UTC."""
    return datetime.now(UTC).replace(microsecond=0)  # noqa: TID251 - this is that place


def ticks() -> float:
    """Give seconds that only ever rise, for measuring how long something takes."""
    return time.monotonic()
