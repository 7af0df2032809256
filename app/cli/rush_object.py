"""An enquiry beside the book, as one object for programs."""

from typing import TYPE_CHECKING

from app.cli.books import Json
from app.outcome_json import instant_text
from app.words import Words, owner_rush
from app.words import rush as say
from shared.worktime.zones import local_date

if TYPE_CHECKING:
    from scheduler.rush import Promise, Rush, Side


def rush_object(words: Words, found: "Rush", seconds: float) -> Json:
    """Give the answer; dates by the site's calendar, money in the book's currency."""
    today = local_date(found.with_.outcome.now, words.zone)
    zone, honest = found.job.site.zone, found.honest
    date = None if honest is None else local_date(honest.window.start, zone).isoformat()
    return {
        "job": found.job.id,
        "as_of": instant_text(found.with_.outcome.now),
        "revision": found.with_.outcome.revision,
        "seconds": round(seconds, 3),
        "verdict": found.wished.verdict.value,
        "taking": found.wished.taking.value,
        "headline": say.head_line(words, found, round(seconds)),
        "without": _side(words, found.without),
        "with": _side(words, found.with_),
        "harmed": [
            {
                "job": each.job,
                "late_before": each.late_before,
                "late_after": each.late_after,
                "loses": each.loses,
            }
            for each in found.wished.harms
        ],
        "told_anew": found.told_anew,
        "earliest_honest_date": date,
        "is_earliest": found.is_earliest,
        "dates": [_promise(each, zone) for each in found.promises],
        "ways": _ways(found),
        "for_the_client": say.client_text(words, found, today),
        "costs": owner_rush.costs_object(found.wished.pricing),
        **owner_rush.least_object(found.best_pricing),
    }


def _side(words: Words, side: "Side") -> Json:
    outcome = side.outcome
    return {
        "verdict": outcome.verdict.value if outcome.jobs else None,
        "checked": outcome.check.sound,
        "levels": list(outcome.levels),
        "jobs": [
            {
                "id": job.id,
                "verdict": job.verdict.value,
                "slack_minutes": job.slack_minutes,
                "missed_by_minutes": job.missed_by_minutes,
                "chance": job.chance,
                "date_50": _day(words, found.ready_50) if found else None,
                "date_80": _day(words, found.ready_80) if found else None,
            }
            for job in outcome.jobs
            for found in [side.chances.of(job.id)]
        ],
    }


def _day(words: Words, when: object) -> str | None:
    from datetime import datetime

    return local_date(when, words.zone).isoformat() if isinstance(when, datetime) else None


def _promise(promise: "Promise", zone: str) -> Json:
    return {
        "date": local_date(promise.window.start, zone).isoformat(),
        "start": instant_text(promise.window.start),
        "end": instant_text(promise.window.end),
        "is_offered": promise.is_offered,
        "not_before": None if promise.not_before is None else promise.not_before.isoformat(),
        "verdict": promise.verdict.value,
        "taking": promise.taking.value,
        "chance": promise.chance,
        **owner_rush.least_object(promise.pricing),
    }


def _ways(found: "Rush") -> list[Json]:
    if found.ways is None:
        return []
    return [
        {
            "changes": [{"kind": lever.kind.value, "id": lever.id} for lever in way.levers],
            "price": float(way.price),
            "proved_cheapest": way.proved_cheapest,
            "verdicts": way.verdicts,
            **owner_rush.least_object(pricing),
        }
        for way, pricing in zip(found.ways.ways, found.way_pricings, strict=True)
    ]
