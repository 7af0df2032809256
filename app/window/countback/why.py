"""Why a job stands as it does, laid out in time: its chain, lettered causes, its days. No Qt."""

from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from app.window.countback.one_job import OneJob
from app.window.wall.items import minute_of
from app.words import Words, amounts
from app.words import countback_view as say
from app.words.amounts import Role
from app.words.why import WhyWords
from app.words.why_days import CLASSES, WAITING_TO_LEAVE
from scheduler.why.chain_links import Link, LinkKind
from scheduler.why.day_classes import Class
from shared.book import Gate, GateKind, Journey, Kind, Stage, Step

if TYPE_CHECKING:
    from app.counsel.questions import WhyAnswer

CAUSES_MOST = 6
_DAY_MINUTES = 24 * 60
_PLAIN = frozenset({LinkKind.NOW, LinkKind.AFTER, LinkKind.CURE})
_ENDS = frozenset({LinkKind.JOURNEY, LinkKind.SAILING, LinkKind.WINDOW, LinkKind.SIZE})
_CLASS_OF: dict[LinkKind, Class] = {
    LinkKind.CLIENT: Class.CLIENT,
    LinkKind.PERSON: Class.PEOPLE,
    LinkKind.CERTIFICATE: Class.PEOPLE,
    LinkKind.PLACE: Class.PLACE,
    LinkKind.FLOOR: Class.PLACE,
    LinkKind.EQUIPMENT: Class.PLACE,
    LinkKind.AIR: Class.PLACE,
    LinkKind.CLIMATE: Class.WEATHER,
    LinkKind.RECOAT: Class.RECOAT,
    LinkKind.FACT: Class.OUTSIDE,
    LinkKind.PIN: Class.OUTSIDE,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """A step of the chain in minutes since 1970; kind None: a gate. is_other: of another job."""

    start: int
    end: int
    name: str
    label: str
    kind: Kind | None = None
    is_other: bool = False
    is_trial_fit: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Gap:
    """What lies before a block: a cure, or a wait."""

    start: int
    end: int
    kind: Kind | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Cause:
    """A wait with its letter, where it stands in time, and its sentence."""

    letter: str
    at: int
    text: str
    amount: str
    what: Class | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Share:
    """What a part of the days goes to; worth: how much sooner it would be without, in words."""

    what: Class
    name: str
    minutes: int
    amount: str
    worth: str
    letters: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """All of it. first, last: minutes that hold the chain. ends: sentences about its end."""

    first: int
    last: int
    blocks: tuple[Block, ...]
    gaps: tuple[Gap, ...]
    causes: tuple[Cause, ...]
    ends: tuple[str, ...]
    known: tuple[str, ...]
    total: str
    shares: tuple[Share, ...]
    sum_line: str


def told_of(one: OneJob, answer: "WhyAnswer", words: Words) -> Told:
    """Lay an answer out."""
    return _Teller(one, answer, words).told()


def _first(now: int, blocks: tuple[Block, ...]) -> int:
    """Return where the axis begins: now, or shortly before a chain that begins much later."""
    begins = min((block.start for block in blocks), default=now)
    return min(begins, max(now, begins - 2 * _DAY_MINUTES))


class _Teller:
    def __init__(self, one: OneJob, answer: "WhyAnswer", words: Words) -> None:
        self.one, self.words, self.why = one, words, answer.why
        self.said = WhyWords(words, answer.why, one.shown.now)
        jobs = one.shown.book.jobs
        self.steps: dict[str, Step] = {step.id: step for job in jobs for step in job.steps}
        self.links = [each for each in answer.why.chain if not each.side]
        self.timed = [each for each in self.links if each.stage >= 0 and each.step is not None]

    def told(self) -> Told:
        blocks = tuple(self._block(link) for link in self.timed)
        causes = self._causes()
        now = minute_of(self.one.shown.now)
        window = self.one.band.window
        ends = [now + _DAY_MINUTES, *(block.end for block in blocks)]
        ends += [window.end] if window is not None else []
        late = self.one.band.late
        ends += [late.end] if late is not None else []
        return Told(
            first=_first(now, blocks),
            last=max(ends),
            blocks=blocks,
            gaps=tuple(self._gaps(blocks)),
            causes=causes,
            ends=tuple(self.said.link(each) for each in self.links if each.stage < 0),
            known=tuple(self.said.known_lines()),
            total=self._long(self.why.anatomy.elapsed_minutes),
            shares=self._shares(causes),
            sum_line=self.said.sum_line(),
        )

    def _block(self, link: Link) -> Block:
        step = self.steps.get(str(link.step))
        is_other = link.fact("job") != self.one.job.id
        name = self.words.names.of("step", str(link.step))
        if is_other:
            job = self.words.names.of("job", str(link.fact("job")))
            name = self.words.say(say.STEP_OF, step=name, job=job)
        start, end = _minute(link, "start"), _minute(link, "end")
        return Block(
            start=start,
            end=max(start, end),
            name=name,
            label=name if is_other else self.words.names.bare_step(str(link.step)),
            kind=_kind(step, str(link.fact("part") or "")),
            is_other=is_other,
            is_trial_fit=isinstance(step, Gate) and step.gate is GateKind.TRIAL_FIT,
        )

    def _gaps(self, blocks: tuple[Block, ...]) -> list[Gap]:
        found = []
        for before, block, link in zip(blocks, blocks[1:], self.timed[1:], strict=False):
            if before.end < block.start:
                is_cure = link.kind is LinkKind.CURE
                cured = min(_minute(link, "ready"), block.start) if is_cure else before.end
                if cured > before.end:
                    found.append(Gap(start=before.end, end=cured, kind=before.kind))
                if cured < block.start:
                    found.append(Gap(start=cured, end=block.start))
        return found

    def _causes(self) -> tuple[Cause, ...]:
        """Give letters to the longest waits, in the order of time.

        What follows at once on the job's own work is told only where nothing else is.
        """
        ends = [_minute(self.timed[0], "start") if self.timed else 0]
        ends += [_minute(link, "end") for link in self.timed]
        found: list[tuple[int, int, Link]] = []
        for link, before in zip(self.timed, ends, strict=False):
            if link.kind not in _PLAIN | _ENDS:
                start = _minute(link, "start")
                found.append((max(0, start - before), (min(before, start) + start) // 2, link))
        own = (None, self.one.job.id)
        beside = [each for each in found if each[0] or each[2].fact("other_job") not in own]
        found = beside or found
        longest = sorted(found, key=lambda each: -each[0])[:CAUSES_MOST]
        kept = sorted(longest, key=lambda each: each[1])
        return tuple(
            Cause(
                letter=chr(ord("A") + at),
                at=middle,
                text=self.said.link(link),
                amount=self._long(minutes) if minutes else "",
                what=_CLASS_OF.get(link.kind),
            )
            for at, (minutes, middle, link) in enumerate(kept)
        )

    def _shares(self, causes: tuple[Cause, ...]) -> tuple[Share, ...]:
        worths = dict(self.why.worths)
        minutes = self.why.anatomy.minutes
        found = []
        for what, spent in sorted(minutes.items(), key=lambda each: -each[1]):
            if not spent:
                continue
            is_late = what is Class.SLACK and self.why.told.slack_minutes is None
            worth = worths.get(what)
            found.append(
                Share(
                    what=what,
                    name=self.words.say(WAITING_TO_LEAVE if is_late else CLASSES[what]),
                    minutes=spent,
                    amount=self._long(spent),
                    worth="" if worth is None else self._worth(worth.elapsed_minutes),
                    letters=tuple(each.letter for each in causes if each.what is what),
                )
            )
        return tuple(found)

    def _worth(self, minutes: int) -> str:
        if not minutes:
            return self.words.say(say.NO_SOONER)
        return self.words.say(say.SOONER, sooner=self._long(minutes))

    def _long(self, minutes: int) -> str:
        if minutes < _DAY_MINUTES:
            return amounts.hours(self.words, minutes, Role.SPAN)
        return amounts.days(self.words, minutes, _DAY_MINUTES, Role.SPAN)


def _kind(step: Step | None, part: str) -> Kind | None:
    if part == "abrade":
        return Kind.FILL
    if isinstance(step, Stage):
        return step.kind
    if isinstance(step, Journey) or step is None or not isinstance(step, Gate):
        return None
    return None if step.gate is GateKind.ANSWER and not part else Kind.PACK


def _minute(link: Link, key: str) -> int:
    return minute_of(datetime.fromisoformat(str(link.fact(key))))
