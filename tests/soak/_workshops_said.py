"""What is said of a planned book, as on the command line: plan, why, chance, ways out, rush."""

import json
from dataclasses import replace
from datetime import date
from pathlib import Path

from app.cli import chance as chance_said
from app.cli import levers as levers_said
from app.cli import rush as rush_said
from app.cli import why as why_said
from app.cli.arguments import read_arguments
from app.cli.beside import beside, with_beside
from app.cli.deliver_object import delivery_object
from app.cli.deliver_said import Teller
from app.cli.delivered import delivered
from app.cli.levers_object import levers_object
from app.cli.report import plan_object, say_plan
from app.cli.rush_object import rush_object
from app.words import Words
from app.words.why import WhyWords
from scheduler.chance import chances_of
from scheduler.dues import dues
from scheduler.levers.search import ways_out
from scheduler.rush import rush
from scheduler.why.answer import why
from shared.book import Journey, Standing
from shared.worktime.zones import local_date
from tests.soak._workshops_through import KEPT, Planned, Run, small, ticks

WHYS = 1
DRAWS = 16
LEVER_SECONDS, RUSH_SECONDS = 0.15, 0.0


def dumped(run: Run, told: object) -> None:
    """Write an answer for programs out, and leave it."""
    json.dumps(told, ensure_ascii=False)
    run.said.write("\n")


def today(run: Run, was: Planned) -> date:
    """Give the day of a plan by the workshop's clock."""
    return local_date(was.request.now, run.book.workshop.zone)


def plan_said(run: Run, was: Planned) -> None:
    """Say the plan with all that stands beside it, and give it for programs."""
    outcome, book = was.outcome, run.book
    with run.part("plan said"):
        more = beside(book, outcome, was.request.asked)
        found = dues(book, outcome.plan, outcome.now)
        say_plan(
            run.console, run.words, book, outcome, 1.0, is_own=True, dues=found, beside=more
        )  # fmt: skip
        told = plan_object(run.words, outcome, 1.0, found)
        dumped(run, with_beside(told, run.words, outcome, more))


def whys_said(run: Run, was: Planned) -> None:
    """Say why some jobs stand as they do, those that miss first."""
    before = was.kept.before
    assert before is not None
    jobs = sorted(was.outcome.jobs, key=lambda job: job.verdict in KEPT)
    for told in jobs[:WHYS]:
        with run.part("why"):
            found = why(before.normal, before.schedule, told)
            if (found.told.verdict in KEPT) != (told.verdict in KEPT):
                run.found.append(f"why: {told.id} {found.told.verdict}, planned {told.verdict}")
            answered = why_said.Answered(
                told=found.told, why=found, normal=before.normal, seconds=1
            )
            words = WhyWords(run.words, found, was.request.now)
            why_said._say(run.console, run.words, answered, words)
            dumped(run, why_said.why_object(answered, words))


def chances_said(run: Run, was: Planned) -> None:
    """Draw a few times, hold what comes of it against the verdicts, and say it."""
    with run.part("chance"):
        found = chances_of(run.book, was.plan, draws=DRAWS)
        verdicts = {job.id: job.verdict for job in was.outcome.jobs}
        for job in found.jobs:
            if job.chance is not None and not 1 <= job.chance <= 99:
                run.found.append(f"chance: {job.id} {job.chance}")
            if verdicts[job.id] in KEPT and not job.is_planned_in_time:
                run.found.append(f"chance: {job.id} is {verdicts[job.id]}, and planned late")
        chance_said._say(run.console, run.words, found, was.plan)
        dumped(run, chance_said.chances_object(run.words, found))


def levers_asked(run: Run, was: Planned) -> None:
    """Look for ways out for a job that misses; who keeps its window needs none."""
    missing = [job for job in was.outcome.jobs if job.verdict not in KEPT]
    if not missing:
        return
    job = run.draw.choice(missing)
    with run.part("levers"):
        request = small(was.request, run.book, LEVER_SECONDS)
        found = ways_out(request, job.id, base=was.outcome, kept=was.kept, clock=ticks())
        for way in found.ways:
            mine = next(each for each in way.jobs if each.id == job.id)
            if way.keeps and mine.verdict not in KEPT:
                run.found.append(f"levers: a way that keeps {job.id} leaves it {mine.verdict}")
            if way.check.breaches:
                run.found.append(f"levers: {way.check.breaches[0]}")
        asked = read_arguments(["levers", "BOOK", "JOB"])
        levers_said._said(asked, run.console, (Path("book"), run.book), found, None)
        dumped(run, levers_object(run.words, found, today(run, was), taken=None))


def rush_asked(run: Run, was: Planned) -> None:
    """Ask for one of the jobs beside the others, as if it were an enquiry."""
    jobs = [job for job in run.book.jobs if job.held_window is not None and job.steps]
    gone = {fact.step for fact in run.book.facts}
    jobs = [job for job in jobs if gone.isdisjoint(step.id for step in job.steps)]
    if not jobs:
        return
    chosen = run.draw.choice(jobs)
    with run.part("rush"):
        enquiry = replace(chosen, standing=Standing.ENQUIRY)
        others = (enquiry if job is chosen else job for job in run.book.jobs)
        book = replace(run.book, jobs=tuple(others))
        request = small(was.request, book, RUSH_SECONDS)
        request = replace(request, asked=())
        found = rush(request, chosen.id, clock=ticks())
        told = next(job for job in found.with_.outcome.jobs if job.id == chosen.id)
        if found.wished.verdict is not told.verdict:
            run.found.append(f"rush: {found.wished.verdict}, in the plan {told.verdict}")
        rush_said._say(run.console, Words(book=book), found, 1.0)
        dumped(run, rush_object(Words(book=book), found, 1.0))


def delivered_said(run: Run, was: Planned) -> None:
    """Count every journey back and tell it; what is met must be met in the plan."""
    verdicts = {job.id: job.verdict for job in was.outcome.jobs}
    with run.part("deliver"):
        teller = Teller(run.console, run.words, run.book, was.request.now)
        for job in run.book.jobs:
            for journey in (step for step in job.steps if isinstance(step, Journey)):
                made = delivered(run.book, job, journey, was.plan, was.request.now, _unwatched)
                teller.say(made)
                dumped(run, delivery_object(run.book, made))
                if verdicts.get(job.id) in KEPT and made.trip is not None and not made.is_met:
                    run.found.append(f"deliver: {job.id} not met, planned {verdicts[job.id]}")


def _unwatched(done: int, of: int) -> None:
    del done, of
