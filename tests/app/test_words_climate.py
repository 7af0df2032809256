"""Sentences about the weather: what is never warm enough, and what a plan breaks."""

import pytest

from app.words import Words
from scheduler.outcome import Breach
from scheduler.reasons import Reason
from scheduler.rules import Rule
from shared.findings import Clash
from tests.builders import a_book, a_job, a_stage

WORDS = Words("en", book=a_book(a_job(steps=(a_stage("skin"),))))
COMMON = (("job", "Heron"), ("step", "Skin"), ("part", ""), ("round", 0))


@pytest.mark.parametrize(
    ("reason", "place", "said"),
    [
        (
            Reason.TOO_COLD,
            "bay",
            "Skin needs 15 °C until it is ready; it is never that warm for long enough in Bay "
            "before Tue 3 Mar 2026.",
        ),
        (
            Reason.TOO_WARM,
            None,
            "Skin stands no more than 15 °C until it is ready; it is never that cool for long "
            "enough in the workshop before Tue 3 Mar 2026.",
        ),
        (
            Reason.TOO_DAMP,
            "bay",
            "Skin must be kept dry until it is ready; it is never dry enough for long enough in "
            "Bay before Tue 3 Mar 2026.",
        ),
    ],
)
def test_weather_that_forbids_every_start_is_said(
    reason: Reason, place: str | None, said: str
) -> None:
    facts = (
        ("step", "skin"),
        ("way", "bench"),
        ("place", place),
        ("limit", "15"),
        ("first", "2026-03-03"),
    )

    assert WORDS.clash(Clash(code=reason, facts=facts)) == said


@pytest.mark.parametrize(
    ("rule", "facts", "said"),
    [
        (
            Rule.TEMPERATURE,
            (("place", "Bay"), ("celsius", "9.5"), ("limit", "15")),
            "Heron: Skin: in Bay it is 9.5 °C Tue 6 Jan 2026 03:00, and its material's limit is "
            "15 °C until it is ready.",
        ),
        (
            Rule.HUMIDITY,
            (("place", None), ("humidity", "80"), ("limit", "70")),
            "Heron: Skin: in the workshop the air is 80 % damp Tue 6 Jan 2026 03:00, and its "
            "material stands 70 % until it is ready.",
        ),
        (
            Rule.DEW_POINT,
            (
                ("place", "Bay"),
                ("celsius", "18"),
                ("air", "22"),
                ("humidity", "80"),
                ("limit", "3"),
            ),
            "Heron: Skin: in Bay a surface of 18 °C is less than 3 °C above the dew point "
            "Tue 6 Jan 2026 03:00, the air being 22 °C warm and 80 % damp.",
        ),
    ],
)
def test_an_hour_that_breaks_a_limit_is_said(
    rule: Rule, facts: tuple[tuple[str, str | None], ...], said: str
) -> None:
    hour = ("hour", "2026-01-06T03:00:00+00:00")
    breach = Breach(rule=rule.value, where="skin", facts=(*COMMON, hour, *facts))

    assert WORDS.breach(breach) == said
