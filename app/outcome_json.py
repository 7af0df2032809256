"""What the engine answers as plain JSON values, and back: for the child's lines and `--json`."""

import json
from collections.abc import Mapping
from dataclasses import fields
from datetime import UTC, datetime
from decimal import Decimal
from typing import Any

from scheduler.outcome import (
    Breach,
    CheckResult,
    InReach,
    JobOutcome,
    OtherWindow,
    Outcome,
    Rung,
    StepTimes,
    Verdict,
)
from shared.files.read import read_plan
from shared.files.write import write_plan
from shared.findings import Clash, Fact
from shared.ids import JobId, StepId, WindowId
from shared.plan import Plan

Json = dict[str, Any]
Facts = tuple[tuple[str, Fact], ...]

_INSTANTS = ("latest_start", "latest_answer", "latest_loading", "loading_end")


def instant_text(when: datetime | None) -> str | None:
    """Give an instant in UTC, as files write it."""
    if when is None:
        return None
    return when.astimezone(UTC).replace(tzinfo=None).isoformat() + "Z"


def instant_of(text: str | None) -> datetime | None:
    """Give the instant of such a text."""
    return None if text is None else datetime.fromisoformat(text)


def plan_object(plan: Plan) -> Json:
    """Give a plan as a JSON object."""
    made: Json = json.loads(write_plan(plan))
    return made


def plan_of(made: Json) -> Plan | None:
    """Give the plan of such an object; None if it is none."""
    return read_plan(json.dumps(made).encode()).plan


def job_object(job: JobOutcome) -> Json:
    """Give everything that is known of a job."""
    plain = {field.name: getattr(job, field.name) for field in fields(job)}
    return {
        **plain,
        "verdict": job.verdict.value,
        **{name: instant_text(plain[name]) for name in _INSTANTS},
        "reasons": [_clash_object(reason) for reason in job.reasons],
        "steps": [_step_object(times) for times in job.steps],
        "windows": [window_object(window) for window in job.windows],
        "rung": None if job.rung is None else job.rung.value,
        "beside": list(job.beside),
    }


def job_of(made: Mapping[str, Any]) -> JobOutcome:
    """Give the job's outcome of such an object; fields that are not known are left aside."""
    known = {field.name for field in fields(JobOutcome)}
    plain = {name: value for name, value in made.items() if name in known}
    return JobOutcome(
        **{
            **plain,
            "id": JobId(made["id"]),
            "verdict": Verdict(made["verdict"]),
            **{name: instant_of(made.get(name)) for name in _INSTANTS},
            "reasons": tuple(_clash_of(reason) for reason in made.get("reasons", ())),
            "steps": tuple(_step_of(times) for times in made.get("steps", ())),
            "windows": tuple(_window_of(window) for window in made.get("windows", ())),
            "rung": None if made.get("rung") is None else Rung(made["rung"]),
            "beside": tuple(JobId(job) for job in made.get("beside", ())),
        }
    )


def window_object(window: OtherWindow) -> Json:
    """Give a window on offer; its price as a text, exactly as the book has it."""
    return {
        "id": window.id,
        "start": instant_text(window.start),
        "end": instant_text(window.end),
        "price": f"{window.price:f}",
        "in_reach": window.in_reach.value,
    }


def _window_of(made: Json) -> OtherWindow:
    return OtherWindow(
        id=WindowId(made["id"]),
        start=datetime.fromisoformat(made["start"]),
        end=datetime.fromisoformat(made["end"]),
        price=Decimal(made["price"]),
        in_reach=InReach(made["in_reach"]),
    )


def outcome_object(outcome: Outcome) -> Json:
    """Give an outcome as a JSON object."""
    return {
        "revision": outcome.revision,
        "now": instant_text(outcome.now),
        "verdict": outcome.verdict.value,
        "levels": list(outcome.levels),
        "proved_levels": outcome.proved_levels,
        "bounds": list(outcome.bounds),
        "stopped": outcome.stopped,
        "check": check_object(outcome.check),
        "jobs": [job_object(job) for job in outcome.jobs],
        "plan": plan_object(outcome.plan),
    }


def outcome_of(made: Json) -> Outcome:
    """Give the outcome of such an object.

    Raises
    ------
    ValueError, KeyError, TypeError
        If it is none.
    """
    plan, now = plan_of(made["plan"]), instant_of(made["now"])
    if plan is None or now is None:
        raise ValueError("an outcome without a plan or without its now")
    return Outcome(
        revision=made["revision"],
        now=now,
        plan=plan,
        check=_check_of(made["check"]),
        verdict=Verdict(made["verdict"]),
        levels=tuple(made["levels"]),
        proved_levels=made["proved_levels"],
        bounds=tuple(made["bounds"]),
        jobs=tuple(job_of(job) for job in made["jobs"]),
        stopped=made["stopped"],
    )


def check_object(result: CheckResult) -> Json:
    """Give what the check says, as codes and facts."""
    return {
        "sound": result.sound,
        "breaches": [
            {"rule": breach.rule, "where": breach.where, "facts": dict(breach.facts)}
            for breach in result.breaches
        ],
        "not_judged": [str(rule) for rule in result.not_judged],
    }


def _check_of(made: Json) -> CheckResult:
    breaches = tuple(
        Breach(rule=breach["rule"], where=breach["where"], facts=_facts_of(breach["facts"]))
        for breach in made["breaches"]
    )
    return CheckResult(breaches=breaches, not_judged=tuple(made["not_judged"]))


def _clash_object(clash: Clash) -> Json:
    return {"code": str(clash.code), "kind": clash.kind, "facts": dict(clash.facts)}


def _clash_of(made: Json) -> Clash:
    return Clash(code=made["code"], kind=made["kind"], facts=_facts_of(made["facts"]))


def _facts_of(made: Mapping[str, Fact]) -> Facts:
    return tuple(made.items())


def _step_object(times: StepTimes) -> Json:
    return {
        "step": times.step,
        "latest_start": instant_text(times.latest_start),
        "latest_end": instant_text(times.latest_end),
    }


def _step_of(made: Json) -> StepTimes:
    return StepTimes(
        step=StepId(made["step"]),
        latest_start=instant_of(made["latest_start"]),
        latest_end=instant_of(made["latest_end"]),
    )
