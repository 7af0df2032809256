"""What a stage becomes that cures faster, or is done elsewhere."""

from dataclasses import replace
from decimal import Decimal

from shared.book import Gate, Job, Offer, Stage, Step, Way

HIRED_OUT = "hired out"
"""The way of a stage that is done elsewhere."""
_HOURS_A_DAY = 24


def made_faster(job: Job, offer: Offer) -> Job:
    """Give a job whose stages cure no longer than an offer says, as far as it speaks of them."""
    steps = tuple(_faster(step, offer, of_job=job.id in offer.about) for step in job.steps)
    same = all(one is other for one, other in zip(steps, job.steps, strict=True))
    return job if same else replace(job, steps=steps)


def is_made_faster(job: Job, step: Step, offer: Offer) -> bool:
    """Return whether a step of a job cures faster by an offer."""
    return _faster(step, offer, of_job=job.id in offer.about) is not step


def _faster(step: Step, offer: Offer, *, of_job: bool) -> Step:
    most = offer.cure_hours
    if most is None or not (of_job or step.id in offer.about):
        return step
    if not isinstance(step, Stage | Gate) or step.cure_hours <= most:
        return step
    return replace(step, cure_hours=most)


def hired_out(stage: Stage, offer: Offer) -> Stage:
    """Give a stage as a wait of so many days, with nobody and no place of the workshop."""
    days = Decimal(offer.away_days or 0)
    return replace(
        stage,
        ways=(Way(id=HIRED_OUT),),
        in_one_go=False,
        stays=False,
        cure_hours=days * _HOURS_A_DAY,
        cure_celsius=None,
        coldest_celsius=None,
        warmest_celsius=None,
        most_humidity_percent=None,
        dew_point_margin_celsius=None,
        people=(),
        same_people_as=None,
        certificates=(),
        pin=None,
        does=(),
        materials=(),
    )
