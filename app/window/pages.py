"""What the pages say. No Qt of its own."""

from collections.abc import Callable
from dataclasses import replace
from typing import Protocol

from app.settings import LANGUAGES, Settings
from app.window.page import Choice, Content
from app.window.session import Opened
from app.words import Words
from app.words import window as say
from shared.book import Book

_FINDINGS_SHOWN = 12


class _Kept(Protocol):
    """Holds the settings, and takes others."""

    settings: Settings

    def keep(self, settings: Settings) -> None: ...


def keys_page(
    words: Words, kept: _Kept, show: Callable[[], object], back: Callable[[], object]
) -> Content:
    """Return all keys and what they do; show: shows the page once more."""

    def speak_next() -> None:
        at = LANGUAGES.index(kept.settings.language) + 1
        kept.keep(replace(kept.settings, language=LANGUAGES[at % len(LANGUAGES)]))
        show()

    found = kept.settings
    rows = [(words.say(keys), words.say(template)) for keys, template in say.KEY_WORDS]
    rows += [("", words.say(say.KEYS_POINTER)), ("", words.say(say.GROUNDS[found.look]))]
    rows.append(("", words.say(say.LANGUAGES[found.language])))
    return Content(
        title=words.say(say.KEYS_TITLE),
        rows=tuple(rows),
        choices=(
            Choice(key="1", text=words.say(say.NEXT_LANGUAGE), do=speak_next),
            Choice(key="Esc", text=words.say(say.DO_BACK), do=back),
        ),
    )


def damaged_page(
    words: Words,
    opened: Opened,
    take: Callable[[Book], object],
    back: Callable[[], object],
) -> Content:
    """Return what is wrong with a file that can't be taken as it stands."""
    if opened.read is None:
        trouble = opened.trouble
        text = words.trouble(trouble.code, **trouble.facts) if trouble else ""
        return Content(title=text, choices=(_back(words, back),), is_sentence=True)
    read = opened.read
    rows = [
        ("", f"{words.path(found.path)}: {' '.join(words.finding(found))}")
        for found in read.findings
        if found.stops
    ]
    choices = [_back(words, back)]
    title = words.say(say.NEWER if read.newer else say.DAMAGED)
    next_ = "" if read.newer else words.say(say.NOTHING_OVER)
    if read.whole is not None:
        whole = read.whole
        lost = sum(1 for field, _ in read.left_out if field == "jobs")
        count = len(whole.jobs)
        if count:
            names = words.both(job.name for job in whole.jobs)
            rows.insert(0, ("", words.say(say.WHOLE_JOBS, jobs=names)))
        title = words.say(say.DAMAGED_WHOLE, whole=count, all=count + lost)
        open_ = Choice(key="1", text=words.say(say.OPEN_WHOLE), do=lambda: take(whole))
        choices.insert(0, open_)
    shown = tuple(rows[:_FINDINGS_SHOWN])
    return Content(title=title, next=next_, rows=shown, choices=tuple(choices), is_sentence=True)


def closing_page(
    words: Words,
    last: str,
    texts: tuple[str, str],
    doing: tuple[Callable[[], object], Callable[[], object], Callable[[], object]],
) -> Content:
    """Return the one question of its kind: what to do with what is not saved.

    texts: for saving and for going on without. doing: that, that, and staying.
    """
    save, drop, stay = doing
    return Content(
        title=words.say(say.CLOSE_ASK, label=last),
        choices=(
            Choice(key="1", text=texts[0], do=save),
            Choice(key="2", text=texts[1], do=drop),
            Choice(key="Esc", text=words.say(say.CLOSE_STAY), do=stay),
        ),
        is_sentence=True,
    )


def _back(words: Words, back: Callable[[], object]) -> Choice:
    return Choice(key="Esc", text=words.say(say.DO_BACK), do=back)
