"""Why a job stands as it does, in words: how it is known, its chain, and what that sums to."""

from collections.abc import Sequence
from datetime import date, datetime, time, timedelta
from typing import TYPE_CHECKING

from app.words import amounts
from app.words.amounts import Role
from app.words.template import Template, counted, within
from app.words.voice import capital
from app.words.why_days import OF_JOB
from scheduler.outcome import Rung, Verdict
from scheduler.why.chain_links import Link, LinkKind, Then
from shared.worktime import local_instant
from shared.worktime.zones import local_date

if TYPE_CHECKING:
    from app.words import Words
    from scheduler.why.values import Why

RUNGS: dict[Rung, Template] = {
    Rung.LEGS: "That follows from what is written of the job itself: no plan can change it.",
    Rung.CHAIN: "Proved by its own steps, one after the other, in an otherwise empty workshop.",
    Rung.ENERGY: "Proved by counting hours, the job alone in an otherwise empty workshop.",
    Rung.ALONE: "Proved by a search with the job alone in an otherwise empty workshop.",
    Rung.FROZEN: "That holds as long as no booked job is moved; it may fit once one is.",
    Rung.FREE: "That is proved as long as {others} in time; work on other jobs may be moved for "
    "it. Alone it could still fit.",
    Rung.PLAN: "A plan that keeps the window was found and checked.",
}
OPEN: Template = "Nothing is proved yet: a plan that keeps the window may still exist."
KEEP_ONE: Template = within("others", "{jobs} is")
KEEP_MORE: Template = within("others", "{jobs} are")
AT_LEAST: Template = "Whatever the plan, loading ends at least {late} too late then."
AT_BEST: dict[bool, Template] = {
    True: "It holds even if every step goes as quickly as the lowest hours that are written.",
    False: "It holds for the likely hours; with the lowest that are written it would not.",
}

CHAIN: Template = "What decides, from first to last:"
CHAIN_FIRST: Template = "What decides even if it goes before all other jobs, from first to last:"
MORE_BEFORE = counted(
    "count",
    "{number} cause before that; with --json it is told as well.",
    "{number} causes before that; with --json they are told as well.",
)
LINES_MAX, LINES_OF_FIT = 16, 8
SIDES: Template = "Over nearly as late, so that none of it helps alone:"
SUM_SHORT: Template = (
    "Together this takes {needed} of working time from now, and there are {there}: {short} too few."
)
SUM_FITS: Template = (
    "Together this takes {needed} of working time from now, which leaves {left} before loading has "
    "to end."
)
SUM_EXACT: Template = "Together this takes {needed} of working time from now, all that there is."

PARTS: dict[str, Template] = {
    "": within("step", "{step}"),
    "abrade": within("step", "abrading before {step}"),
    "rework": within("step", "reworking after {step}"),
    "changes": within("step", "the changes after {step}"),
    "ready": within("step", "leaving with {step}"),
}

ROW: Template = "{steps}: one after the other, from {first} to {last}."
ROW_CURED: Template = (
    "{steps}: one after the other, from {first} to {last}, {cured} of it curing and drying."
)
_ON: Template = within("steps of a row", "{steps} on {segments}")

SENTENCES: dict[tuple[LinkKind, Then | str], Template] = {
    (LinkKind.NOW, ""): "{step} can start at once, {start}.",
    (LinkKind.NOW, Then.OFF): "{step} can start {start}, when work begins.",
    (LinkKind.NOW, Then.ONE_GO): "{step} can start {start}: before that no shift is long enough "
    "for it in one go.",
    (LinkKind.NOW, Then.CLIMATE): "{step} can start {start}, the first time that it may.",
    (LinkKind.NOW, Then.BESIDE): "{step} could start at once, {ready}.",
    (LinkKind.FACT, ""): "{step} may not start before {start}: that is what is written.",
    (LinkKind.FACT, "under_way"): "{step} is under way.",
    (LinkKind.PIN, ""): "{step} is pinned to {start}.",
    (LinkKind.AFTER, ""): "{step} can't start before {start}: {before} lasts until then.",
    (LinkKind.AFTER, Then.OFF): "{step} can't start before {start}: {before} lasts until {ended}, "
    "and work goes on only then.",
    (LinkKind.AFTER, Then.ONE_GO): "{step} can't start before {start}: {before} lasts until "
    "{ended}, and what is left of the shift is too short to do it in one go.",
    (LinkKind.AFTER, Then.CLIMATE): "{step} can't start before {start}: {before} lasts until "
    "{ended}, and it may not be done sooner after that.",
    (
        LinkKind.AFTER,
        Then.BESIDE,
    ): "{step} could start {ready} at the soonest: {before} lasts until then.",
    (LinkKind.CURE, ""): "{step} can't start before {start}: {before} has to cure until then.",
    (LinkKind.CURE, Then.OFF): "{step} can't start before {start}: {before} has to cure until "
    "{ready}, and work goes on only then.",
    (LinkKind.CURE, Then.ONE_GO): "{step} can't start before {start}: {before} has to cure until "
    "{ready}, and what is left of the shift is too short to do it in one go.",
    (LinkKind.CURE, Then.CLIMATE): "{step} can't start before {start}: {before} has to cure until "
    "{ready}, and it may not be done sooner after that.",
    (LinkKind.CURE, Then.BESIDE): "{step} could start {ready} at the soonest: {before} has to cure "
    "until then.",
    (LinkKind.CLIENT, "shown beside"): "{step} could start {ready} at the soonest: pictures go out "
    "{ended}, and {who} has until then to answer ({before}).",
    (LinkKind.CLIENT, ""): "{step} can't start before {start}: {who} has until {ready} to answer "
    "({before}).",
    (LinkKind.CLIENT, "shown"): "{step} can't start before {start}: pictures go out {ended}, and "
    "{who} has until {ready} to answer ({before}).",
    (LinkKind.PERSON, ""): "{step} waits for {person} until {ended}: {before} comes first.",
    (LinkKind.PERSON, "only"): "{step} waits for {person} until {ended}, and nobody else can do "
    "it: {before} comes first.",
    (LinkKind.PERSON, "work"): "{step} waits for {person} until {ended}: {work}.",
    (LinkKind.PERSON, "only work"): "{step} waits for {person} until {ended}, and nobody else can "
    "do it: {work}.",
    (LinkKind.PERSON, "journey"): "{step} waits for {person}, who is away with {journey} until "
    "{ended}.",
    (LinkKind.PERSON, "hours"): "{others}: {wanted} h of work between {first} and {until}, and "
    "{have} h there.",
    (LinkKind.PERSON, "leave"): "{step} then waits while {person} is away, until {until}, and "
    "starts {start}.",
    (
        LinkKind.PERSON,
        "only leave",
    ): "{step} then waits while {person} is away, until {until}, since "
    "nobody else can do it, and starts {start}.",
    (LinkKind.CERTIFICATE, ""): "{step} needs {certificate}, which {others} can't show.",
    (LinkKind.PLACE, ""): "{step} waits for {place} until {ready}: {before} is in it.",
    (LinkKind.PLACE, "booking"): "{step} waits for {place}, which is taken until {ended} "
    "({booking}).",
    (LinkKind.PLACE, "shut"): "{step} waits for {place}, which is not to be had until {ended}.",
    (
        LinkKind.PLACE,
        "hours",
    ): "{place}: {wanted} h of use between {first} and {until}, and {have} h there.",
    (LinkKind.FLOOR, ""): "{step} waits for room on {place} until {ready}: a piece stands there "
    "until {before} is over.",
    (LinkKind.FLOOR, "booking"): "{step} waits for room on {place}, which is taken until {ended} "
    "({booking}).",
    (LinkKind.FLOOR, "shut"): "{step} waits for room on {place}, which is not to be had until "
    "{ended}.",
    (LinkKind.EQUIPMENT, ""): "{step} waits for {equipment} until {ready}: {before} has it.",
    (LinkKind.EQUIPMENT, "booking"): "{step} waits for {equipment}, which is taken until {ended} "
    "({booking}).",
    (LinkKind.EQUIPMENT, "shut"): "{step} waits for {equipment}, which is not to be had until "
    "{ended}.",
    (LinkKind.AIR, ""): "{step} waits until {ready}: {before} shares its air, and the two may not "
    "meet.",
    (LinkKind.AIR, "shut"): "{step} waits until {ended} for clean air.",
    (LinkKind.RECOAT, ""): "{step} is put off until {start}, so that {next} can follow within its "
    "recoat time.",
    (
        LinkKind.CLIMATE,
        "",
    ): "{step} then waits until {start}: before that it is too cold, too warm or too damp for it "
    "to be done and to cure.",
    (LinkKind.JOURNEY, ""): "Loading has to end by {latest}, so that {journey} makes the window.",
    (LinkKind.JOURNEY, "loads"): "{step} is put off until {start}: the loaded lorry may not stand.",
    (LinkKind.SAILING, ""): "Loading has to end by {latest}, so that {journey} reaches the last "
    "sailing that makes the window ({leg}).",
    (LinkKind.WINDOW, ""): "The window is {window}.",
}
_NO_LEG: Template = within("sailing", "as it is written")
_BOOKED: Template = within("work", "something else that is booked")
_CLIENT: Template = within("who answers", "the client")

END_OF_DAY: Template = within("until", "the end of {day}")


class WhyWords:
    """The sentences about one job. today: no year is told that is this day's."""

    def __init__(self, words: "Words", why: "Why", now: datetime) -> None:
        self._words, self._why = words, why
        self._today: date = local_date(now, words.zone)

    # How it is known

    def known_lines(self) -> list[str]:
        """Give how the verdict is known, and what it speaks of."""
        told, words = self._why.told, self._words
        if told.rung is None:
            return [words.say(OPEN)]
        facts: dict[str, object] = {}
        if told.rung is Rung.FREE:
            jobs = words.both(words.names.of("job", job) for job in told.beside)
            keep = KEEP_ONE if len(told.beside) == 1 else KEEP_MORE
            facts["others"] = words.say(keep, jobs=jobs)
        lines = [words.say(RUNGS[told.rung], **facts)]
        if told.bound_minutes and told.rung is not Rung.PLAN:
            late = amounts.elapsed(words, told.bound_minutes, Role.SPARE)
            lines.append(words.say(AT_LEAST, late=late))
        if self._why.even_at_best is not None:
            lines.append(words.say(AT_BEST[self._why.even_at_best]))
        return lines

    # The chain

    @property
    def chain_title(self) -> str:
        """Give what stands above the chain."""
        return self._words.say(CHAIN_FIRST if self._why.goes_first else CHAIN)

    @property
    def sides_title(self) -> str:
        """Give what stands above what is over nearly as late."""
        return self._words.say(SIDES)

    def side_lines(self) -> list[str]:
        """Give what is over nearly as late as the chain, in lines to read; of a miss only."""
        if self._why.told.verdict is Verdict.FITS:
            return []
        return self._lines([link for link in self._why.chain if link.side])

    def chain_lines(self) -> list[str]:
        """Give the chain in lines to read, rows of a job's own steps as one; the last of many."""
        lines = self._lines([link for link in self._why.chain if not link.side])
        is_fit = self._why.told.verdict is Verdict.FITS
        before = len(lines) - (LINES_OF_FIT if is_fit else LINES_MAX)
        if before <= 1:
            return lines
        words = self._words
        more = words.say(MORE_BEFORE, count=before, number=words.number_word(before))
        return [capital(more), *lines[before:]]

    def _lines(self, chain: Sequence[Link]) -> list[str]:
        lines: list[str] = []
        row: list[Link] = []
        for link in chain:
            folds = link.kind in _IN_A_ROW and _minutes(link) <= _LONG_CURE
            if folds and (not row or row[-1].fact("job") == link.fact("job")):
                row.append(link)
                continue
            lines += self._row(row)
            row = [link] if folds else []
            lines += [] if row else [self.link(link)]
        lines += self._row(row)
        return list(dict.fromkeys(lines))

    def _row(self, row: Sequence[Link]) -> list[str]:
        if len(row) < _ROW_LEAST:
            return [self.link(link) for link in row]
        words = self._words
        cured = sum(_minutes(link) for link in row if link.kind is LinkKind.CURE)
        text = words.say(
            ROW_CURED if cured else ROW,
            steps=self._steps(row),
            first=self._at(row[0].fact("ended") or row[0].fact("start")),
            last=self._at(row[-1].fact("end")),
            cured=words.elapsed(cured),
        )
        return [capital(text)]

    def _steps(self, row: Sequence[Link]) -> str:
        """Give the steps of a row, those on the same pieces together."""
        words = self._words
        groups: list[tuple[str, list[str]]] = []
        for link in row:
            step, part = str(link.fact("step")), link.fact("part")
            on = "" if part else words.names.pieces_of(step)
            name = words.names.bare_step(step) if on else self._step(step, part)
            if not groups or groups[-1][0] != on:
                groups.append((on, []))
            groups[-1][1].append(name if not groups[-1][1] else words.inside(name))
        told = [
            words.say(_ON, steps=words.both(names), segments=on) if on else words.both(names)
            for on, names in groups
        ]
        told = [told[0], *(words.inside(each) for each in told[1:])]
        text = words.series(told)
        return self._for(text, row[0].fact("job"))

    def link(self, link: Link) -> str:
        """Give one link of the chain as a sentence."""
        code = link.fact("code")
        if code is not None:
            from shared.findings import Clash

            facts = tuple(pair for pair in link.facts if pair[0] != "code")
            return self._words.clash(Clash(code=str(code), facts=facts))
        key = (link.kind, _variant(link))
        template = SENTENCES.get(key) or SENTENCES[link.kind, ""]
        return capital(self._words.say(template, **self._facts(link)))

    def _facts(self, link: Link) -> dict[str, object]:
        words = self._words
        told: dict[str, object] = {}
        for key, fact in link.facts:
            told[key] = fact
            if key in _MOMENTS:
                told[key] = self._until(fact) if key in _LASTING else self._at(fact)
        for key in ("person", "place", "equipment"):
            if link.fact(key):
                told[key] = words.names.of(key, str(link.fact(key)))
        step = self._step(link.fact("step") or link.step, link.fact("part"))
        told["step"] = self._for(step, link.fact("job"))
        told["before"] = self._before(link)
        told["next"] = words.inside(self._step(link.fact("next"), ""))
        told["journey"] = self._step(link.fact("journey") or link.step, "")
        told["who"] = link.fact("who") or words.say(_CLIENT)
        told["work"] = link.fact("work") or words.say(_BOOKED)
        told["leg"] = link.fact("leg") or words.say(_NO_LEG)
        if link.kind is LinkKind.WINDOW:
            told["window"] = words.span(
                _instant(link.fact("first")), _instant(link.fact("until")), after=self._today
            )
        return told

    def _before(self, link: Link) -> str:
        text = self._step(link.fact("before"), link.fact("before_part"))
        return self._for(self._words.inside(text), link.fact("other_job") or link.fact("job"))

    def _for(self, text: str, job: object) -> str:
        """Give a step with its job, where that is another than is spoken of."""
        if not job or job == self._why.told.id:
            return text
        return self._words.say(OF_JOB, step=text, job=self._words.names.of("job", str(job)))

    def _step(self, step: object, part: object) -> str:
        if not step:
            return ""
        name = self._words.names.of("step", str(step))
        return self._words.say(PARTS.get(str(part or ""), PARTS[""]), step=name)

    def _at(self, fact: object) -> str:
        return "" if not fact else self._words.moment(_instant(fact), after=self._today)

    def _until(self, fact: object) -> str:
        """Give the end of something that lasts; where it is midnight, the end of the day before."""
        if not fact:
            return ""
        words, when = self._words, _instant(fact)
        day = local_date(when, words.zone)
        if when != local_instant(day, time(0), words.zone, opening=True):
            return self._at(fact)
        return words.say(END_OF_DAY, day=words.day(day - timedelta(days=1), after=self._today))

    def sum_line(self) -> str:
        """Give what all of it comes to beside what there is, or nothing."""
        needed, there = self._why.needed_minutes, self._why.there_minutes
        if needed is None or there is None:
            return ""
        words = self._words
        template = SUM_SHORT if needed > there else SUM_FITS if needed < there else SUM_EXACT
        return words.say(
            template,
            needed=words.late(needed),
            there=words.spare(there),
            short=words.late(max(0, needed - there)),
            left=words.spare(max(0, there - needed)),
        )


_MOMENTS = frozenset({"start", "ready", "end", "ended", "until", "first", "due", "latest"})
_IN_A_ROW = (LinkKind.AFTER, LinkKind.CURE)
_ROW_LEAST = 2
_LONG_CURE = 3 * 24 * 60
"""A cure of more minutes stands in a line of its own."""
_LASTING = frozenset({"until", "ended"})
_ROOMS = frozenset({LinkKind.PLACE, LinkKind.FLOOR, LinkKind.EQUIPMENT, LinkKind.AIR})


def _variant(link: Link) -> Then | str:
    """Return which of the sentences of its kind a link has."""
    if link.fact("wanted") is not None:
        return "hours"
    if link.kind in _ROOMS:
        return "" if link.fact("before") else "booking" if link.fact("booking") else "shut"
    found = {
        LinkKind.FACT: str(link.fact("what") or ""),
        LinkKind.CLIENT: _of_client(link),
        LinkKind.PERSON: _of_person(link),
        LinkKind.JOURNEY: "loads" if link.fact("start") else "",
    }
    return found.get(link.kind, link.then)


def _of_client(link: Link) -> str:
    if not link.fact("ended"):
        return ""
    return "shown beside" if link.then is Then.BESIDE else "shown"


def _of_person(link: Link) -> str:
    if link.fact("journey"):
        return "journey"
    only = "only" if link.fact("only") else ""
    if link.fact("leave"):
        return f"{only} leave".strip()
    return only if link.fact("before") else f"{only} work".strip()


def _minutes(link: Link) -> int:
    """Return how long a cure of a link lasts."""
    if not link.fact("ended"):
        return 0
    return int((_instant(link.fact("ready")) - _instant(link.fact("ended"))).total_seconds()) // 60


def _instant(fact: object) -> datetime:
    return datetime.fromisoformat(str(fact))
