"""The hand on the wall: it finds, shows only some, follows a chain, folds, moves and marks."""

from dataclasses import dataclass
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtWidgets import QWidget

from app.window.desk import Desk
from app.window.headline import Headline
from app.window.sheet.typed import NotTaken, number
from app.window.wall import moves
from app.window.wall.chain import Chain, chain_of
from app.window.wall.corner import Found as Line
from app.window.wall.corner import Typing
from app.window.wall.find import Finder, Found, Only
from app.window.wall.items import Item, Role, instant_at
from app.window.wall.mover import Mover
from app.window.wall.moves import Cursor
from app.window.wall.view import WallView
from app.words import on_wall as say
from app.words import window as wording
from app.words.voice import capital
from scheduler.outcome import JobOutcome, Verdict
from shared.edits import mark_done, mark_remaining
from shared.ids import JobId
from shared.plan import Placement

if TYPE_CHECKING:
    from collections.abc import Callable

LISTED = 40
_MET = (Verdict.FITS, Verdict.TIGHT)
_MARKED = frozenset({Role.BLOCK, Role.TRIAL_FIT, Role.LOADING})


@dataclass(frozen=True, slots=True, kw_only=True)
class _Seen:
    """A clash that is shown: of which job, and its sentence."""

    job: JobId
    sentence: str
    verdict: Verdict


class WallHand(QObject):
    """What keys and hands do on the wall beside choosing; its sentence and what lies in the corner.

    changed: its sentence, its corner or what it veils is another.
    """

    changed = Signal()

    def __init__(self, desk: Desk, wall: WallView, parent: QWidget) -> None:
        super().__init__(parent)
        self._desk, self._wall = desk, wall
        self.mover = Mover(desk, self)
        self.find_part, self.hours_part = Typing(parent), Typing(parent)
        self.parts = (self.find_part, self.hours_part)
        self._part: Typing | None = None
        self._found: Found | None = None
        self._finder: Finder | None = None
        self._only: tuple[str, str] | None = None
        self._chain: tuple[str, Chain] | None = None
        self._clash: _Seen | None = None
        self._note = ""
        for part in self.parts:
            part.hide()
            part.left.connect(self.back)
        self.find_part.typed.connect(self._on_typed)
        self.find_part.entered.connect(self._take)
        self.hours_part.entered.connect(lambda _: self._take_hours())
        wall.mover = self.mover
        self.mover.changed.connect(self._on_moved)
        wall.chosen.connect(self._on_chosen)

    # What is said and shown.

    @property
    def part(self) -> Typing | None:
        """What lies in the corner in the slip's place, if anything."""
        return self._part

    @property
    def notes(self) -> tuple[str, ...]:
        """What the slip says besides: the waits of the chain by their letters."""
        if self._chain is None:
            return ()
        words = self._desk.words
        return tuple(
            words.say(say.LETTERED, letter=w.letter, text=w.text) for w in self._chain[1].waits
        )

    @property
    def hint(self) -> tuple[str, str]:
        """What a key does, and the key, to stand at the right of the masthead."""
        if self._part is not None:
            return "", ""
        if self._only is not None or self._chain is not None:
            return self._desk.words.say(say.ALL_AGAIN), "Esc"
        return self._desk.words.say(say.FIND), "F"

    def headline(self) -> Headline | None:
        """Return what the masthead says of it, None where nothing of it is going on."""
        words, moving = self._desk.words, self.mover.moving
        if moving is not None and not moving.is_dropped:
            keys = ((words.say(say.MOVE_KEYS), False),)
            name, lines = moving.item.name, moving.lines
            if not lines:
                return Headline(sentence=words.say(say.MOVING, item=name), next=keys)
            sentence = words.say(say.MOVING_TO, item=name, line=lines[0].text)
            return Headline(sentence=sentence, next=keys)
        if self._part is self.find_part:
            return Headline(sentence=self._found_line())
        if self._clash is not None:
            return Headline(sentence=self._clash.sentence, verdict=self._clash.verdict)
        if self._chain is not None:
            item = self._wall.wall.item(self._chain[0])
            count = len(self._chain[1].waits)
            told = words.say(say.CHAIN_WAITS, count=count, number=capital(words.number_word(count)))
            sentence = words.say(say.CHAIN_OF, item=item.name if item else "")
            return Headline(sentence=sentence, next=((told, False),))
        only = self._only_shown()
        if only is not None:
            return Headline(sentence=self._only_line(only))
        return Headline(sentence=self._note) if self._note else None

    def _found_line(self) -> str:
        words, found = self._desk.words, self._found
        if found is None or not found.text.strip():
            return words.say(say.FIND_NOTHING_YET)
        count = len(found.hits)
        if not count:
            template = say.FOUND_NEAR if found.near else say.FOUND_NONE
            return words.say(template, near=found.near)
        number = words.number_word(count)
        return words.say(say.FOUND, count=count, number=number, all=words.number(found.all_count))

    def _only_line(self, only: Only) -> str:
        number = self._desk.words.number_word(only.count)
        return self._desk.words.say(say.ONLY_SHOWN, name=only.name, count=only.count, number=number)

    def _only_shown(self) -> Only | None:
        if self._only is None or self._finder is None:
            return None
        return self._finder.only(*self._only)

    def _show(self) -> None:
        """Veil what has to be veiled."""
        lit: frozenset[str] | None = None
        letters: tuple[tuple[str, str], ...] = ()
        only = self._only_shown()
        if self._part is self.find_part and self._found is not None and self._found.text.strip():
            lit = self._found.lit
        elif self._chain is not None:
            chain = self._chain[1]
            lit, letters = chain.lit, tuple((w.item, w.letter) for w in chain.waits)
        elif only is not None:
            lit = only.lit
        self._wall.show_lit(lit, letters)
        self.changed.emit()

    def refresh(self) -> None:
        """Look at another state of the wall."""
        self.mover.settle()
        self._finder = None
        self._clash = None
        if self._part is self.find_part or self._only is not None:
            self._make_finder()
        if self._part is self.find_part:
            self._look_for(self.find_part.field.text())
        if self._chain is not None:
            item = self._wall.wall.item(self._chain[0])
            self._chain = None if item is None else self._chain_of(item)
        self._show()

    # Keys.

    def plain_key(self, key: Qt.Key, *, shift: bool) -> bool:
        """Do what a letter does on the wall; whether it does anything."""
        doing: dict[tuple[Qt.Key, bool], Callable[[], object]] = {
            (Qt.Key.Key_F, False): self.find,
            (Qt.Key.Key_C, False): self.follow,
            (Qt.Key.Key_X, False): self.next_clash,
            (Qt.Key.Key_Z, False): self.fold,
            (Qt.Key.Key_Z, True): self.fold_others,
            (Qt.Key.Key_D, False): self.done,
            (Qt.Key.Key_R, False): self.ask_hours,
        }
        if (key, shift) not in doing or self._desk.document is None:
            return False
        self._note = ""
        doing[key, shift]()
        return True

    def back(self) -> bool:
        """Put back one thing; whether there was any."""
        if self.mover.put_back():
            return True
        if self._part is not None:
            self._close_part()
        elif self._clash is not None or self._note:
            self._clash, self._note = None, ""
        elif self._chain is not None:
            self._chain = None
        elif self._only is not None:
            self._only = None
        else:
            return False
        self._show()
        return True

    def _close_part(self) -> None:
        self._part = None
        self._found = None
        self._wall.setFocus()

    @property
    def _item(self) -> Item | None:
        spot = self._wall.spot
        return self._wall.wall.item(spot.item) if spot else None

    # Finding.

    def find(self) -> None:
        """Ask what to find."""
        self._make_finder()
        self._part, self._clash = self.find_part, None
        self._look_for("")
        self._show()
        self.find_part.begin()

    def _make_finder(self) -> None:
        assert self._desk.document is not None
        self._finder = Finder(self._wall.wall, self._desk.shown.book, self._desk.words)

    def _on_typed(self, text: str) -> None:
        self.find_part.at = 0
        self._look_for(text)
        self._show()

    def _look_for(self, text: str) -> None:
        assert self._finder is not None
        self._found = self._finder.find(text)
        words = self._desk.words
        hint = words.say(
            say.FIND_HINT,
            day=say.day_sought(words, self._desk.now.date()),
            **{key: words.say(say.SOUGHT[key]) for key in ("answer", "late", "just", "pinned")},
        )
        keys = (
            ("Enter", words.say(say.GO_THERE)),
            ("↑ ↓", words.say(say.CHOOSE)),
            ("Esc", words.say(say.DONE_FINDING)),
        )
        title = words.say(say.FIND)
        self.find_part.show_content(title, hint, self._lines(self._found), keys)

    def _lines(self, found: Found) -> list[Line]:
        """Return what can be chosen: what is named whole first, then what was found."""
        words, finder = self._desk.words, self._finder
        zone = ZoneInfo(words.zone)
        assert finder is not None
        made = [
            Line(words.say(say.ONLY, name=only.name), "", words.number(only.count))
            for only in found.only
        ]
        for item in found.hits[:LISTED]:
            band = self._wall.wall.bands[item.band]
            name = item.name
            if item.role is Role.BLOCK:
                name = words.say(say.ITEM_OF_JOB, job=band.name, item=name)
            elif item.role is Role.WINDOW:
                name = words.say(say.ITEM_OF_JOB, job=band.name, item=band.window_text)
            when = wording.short_day(words, instant_at(item.start).astimezone(zone).date())
            made.append(Line(name, when, finder.people_of(item), item.kind))
        return made

    def _take(self, at: int) -> None:
        """Go to what was chosen, or show only what is of a person, place or job."""
        found = self._found
        if found is None:
            return
        if at < len(found.only):
            only = found.only[at]
            self._only = (only.sort, only.id)
            self._chain = None
        elif at - len(found.only) < len(found.hits):
            item = found.hits[at - len(found.only)]
            self._close_part()
            self._wall.choose(moves.at(self._wall.wall, item.id))
            self._show()
            return
        elif found.near:
            self.find_part.field.setText(found.near)
            self._on_typed(found.near)
            return
        else:
            return
        self._close_part()
        self._show()

    # The chain, clashes, folding.

    def follow(self) -> None:
        """Show the chain of what is chosen, or all again."""
        item = self._item
        if self._chain is not None and (item is None or item.id == self._chain[0]):
            self._chain = None
            self._show()
            return
        if item is None:
            return
        self._chain = self._chain_of(item)
        self._show()

    def _chain_of(self, item: Item) -> tuple[str, Chain] | None:
        chain = chain_of(self._desk.shown, self._wall.wall, self._desk.words, item)
        return None if chain is None else (item.id, chain)

    def next_clash(self) -> None:
        """Go to the next job that doesn't keep its window, and say why."""
        outcome, wall, words = self._desk.outcome, self._wall.wall, self._desk.words
        known = {job.id: job for job in outcome.jobs} if outcome else {}
        order = [band.job for band in wall.bands if band.job in known]
        failing = [job for job in order if known[job].reasons or known[job].verdict not in _MET]
        if not failing:
            self._note = words.say(say.NO_CLASH)
            self._show()
            return
        before = self._clash.job if self._clash else None
        at = failing.index(before) + 1 if before in failing else 0
        job = known[failing[at % len(failing)]]
        cursor = self._clash_at(job)
        self._wall.choose(cursor)
        sentence = words.reason(job) or words.verdict_line(job)
        self._clash = _Seen(job=job.id, sentence=sentence, verdict=job.verdict)
        self._show()

    def _clash_at(self, job: JobOutcome) -> Cursor | None:
        """Return where a clash is: the step that it speaks of, else what is late, the window."""
        wall = self._wall.wall
        named = {str(value) for reason in job.reasons[:1] for _, value in reason.facts}
        item = next((i for i in wall.items if i.step in named and i.role is not Role.CURE), None)
        band = wall.band_of(job.id)
        if item is None and band is not None:
            item = band.window or band.header
        return moves.at(wall, item.owner or item.id) if item else None

    def fold(self) -> None:
        """Fold the chosen job into one row, or unfold it."""
        item = self._item
        if item is not None:
            self._wall.fold(self._wall.folded ^ {item.job})
            self.changed.emit()

    def fold_others(self) -> None:
        """Fold all jobs but the chosen one; all again when they are."""
        item = self._item
        every = frozenset(band.job for band in self._wall.wall.bands)
        others = every - ({item.job} if item else set())
        self._wall.fold(frozenset() if self._wall.folded == others else others)
        self.changed.emit()

    # Marking.

    def _placed(self, item: Item) -> Placement | None:
        plan = self._desk.plan
        placements = plan.placements if plan else ()
        return next((p for p in placements if p.step == item.step and not p.part), None)

    def _markable(self) -> Placement | None:
        """Return where the chosen stage is placed; else say why it can't be marked."""
        item, words = self._item, self._desk.words
        placed = self._placed(item) if item is not None and item.role in _MARKED else None
        if item is not None and item.role is Role.ANSWER:
            self._note = words.say(say.ANSWER_NOT_MARKED)
        elif item is None or placed is None or item.part:
            self._note = words.say(say.NOT_MARKED)
        elif item.stands == "done" or item.state == "done":
            self._note = words.say(say.MARKED_ALREADY, item=item.name)
        else:
            return placed
        self._show()
        return None

    def done(self) -> None:
        """Note that the chosen stage is done."""
        placed, document = self._markable(), self._desk.document
        if placed is not None and document is not None:
            self._desk.edit(mark_done(document.book, placed, self._desk.now, self._desk.who))

    def ask_hours(self) -> None:
        """Ask how many person-hours are left of the chosen stage."""
        item = self._item
        if self._markable() is None or item is None:
            return
        words = self._desk.words
        self._part = self.hours_part
        title = words.say(say.HOURS_LEFT, item=item.name)
        self.hours_part.show_content(title, words.say(say.HOURS_LEFT_HINT))
        self._show()
        self.hours_part.begin(item.remaining)

    def _take_hours(self) -> None:
        placed, document = self._markable(), self._desk.document
        if placed is None or document is None:
            return
        words, part = self._desk.words, self.hours_part
        try:
            hours = number(part.field.text())
        except NotTaken as no:
            hint = words.say(wording.NOT_TAKEN[no.code], **no.facts)
            part.show_content(part.title, hint, is_refused=True)
            self.changed.emit()
            return
        self._close_part()
        edited = mark_remaining(document.book, placed, hours, self._desk.now, self._desk.who)
        self._desk.edit(edited)

    # Moving.

    def drop(self) -> bool:
        """Pin what is in the hand where it lies; whether there was anything."""
        return self.mover.drop()

    def _on_moved(self) -> None:
        if self.mover.why_not:
            self._note = self.mover.why_not
        self._wall.update()
        self.changed.emit()

    def _on_chosen(self, item: Item | None) -> None:
        if self._clash is not None and (item is None or item.job != self._clash.job):
            self._clash = None
        self._note = ""
        self.changed.emit()
