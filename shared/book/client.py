"""Who answers: a client, or an engineer or inspector who must agree."""

from dataclasses import dataclass

from shared.book.workshop import Closure
from shared.value import Value


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Client(Value):
    """Who answers, and on which days: working days are Monday to Friday less holidays."""

    name: str
    zone: str
    country: str
    subdivision: str | None = None
    holiday_categories: tuple[str, ...] = ()
    closures: tuple[Closure, ...] = ()
    answer_days: int = 10
