"""What a plan comes to, aim by aim."""

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from app.words import amounts
from app.words.amounts import Role
from app.words.template import counted, within
from app.words.voice import Voice, capital

if TYPE_CHECKING:
    from scheduler.outcome import Outcome

_QUARTER_MINUTES = 15
_WINDOWS = counted("count", "{n} window is missed.", "{n} windows are missed.")
_NO_WINDOW_MISSED = "No window is missed."
_ENQUIRIES = counted(
    "count",
    "{n} window of an enquiry is missed.",
    "{n} windows of enquiries are missed.",
)
_LATE = "Loading ends {amount} after the latest, all jobs together."
_SHORT = "The wished buffers are short by {amount}, all jobs together."
_SHEETS = counted(
    "count",
    "The sheet of {n} person changes today or tomorrow.",
    "The sheets of {n} people change today or tomorrow.",
)
_CHANGES = counted(
    "count",
    "What people were told changes by {n} point.",
    "What people were told changes by {n} points.",
)
_MONEY = "Overtime, hired hands, heating and freight that are taken cost {amount} {currency}."
_FLOOR = "Pieces stand on the floor for {amount}, all of them together."
_PROVED_ALL = "Each of the eight aims is proved to be met as well as can be."
_PROVED = counted(
    "count",
    "The first of the eight aims is proved to be met as well as can be.",
    "The first {n} of the eight aims are proved to be met as well as can be.",
)
_PROVED_NONE = "Better may still exist: nothing is proved yet."
_TO_GAIN = "By what is proved, this much at most could still be gained: {parts}."
_WINDOWS_GAINED = counted("count", "{n} window", "{n} windows", "to gain")
_ENQUIRIES_GAINED = counted("count", "{n} enquiry", "{n} enquiries", "to gain")
_SHEETS_GAINED = counted("count", "{n} changed sheet", "{n} changed sheets", "to gain")
_CHANGES_GAINED = counted("count", "{n} point of change", "{n} points of change", "to gain")
_LATE_GAINED = within("to gain", "{amount} of lateness")
_SHORT_GAINED = within("to gain", "{amount} of buffer")
_MONEY_GAINED = within("to gain", "{amount} {currency}")
_FLOOR_GAINED = within("to gain", "{amount} on the floor")
_LEVELS_COUNT = 8
_MONEY_AT = 6


def lines(voice: Voice, outcome: "Outcome", currency: str) -> list[str]:
    """Give a sentence for each aim that says something, what is proved, what could be gained."""
    levels = outcome.levels
    said = [say(voice, level) for say, level in zip(_SAYERS, levels, strict=False)]
    if len(levels) > _MONEY_AT:
        said[_MONEY_AT] = _money(voice, levels[_MONEY_AT], currency)
    to_gain = _to_gain(voice, outcome, currency)
    return [*filter(None, said), _proved(voice, outcome.proved_levels), *filter(None, [to_gain])]


def gain(voice: Voice, before: Sequence[int], after: Sequence[int], currency: str) -> str:
    """Give what a better plan gained, in the first aim that tells them apart."""
    pairs = enumerate(zip(before, after, strict=True))
    return next(
        (_gained(voice, at, was - now, currency) for at, (was, now) in pairs if was > now), ""
    )


def _to_gain(voice: Voice, outcome: "Outcome", currency: str) -> str:
    """Give how far the plan is from what is proved of each aim, nothing where it isn't far."""
    parts = [
        _gained(voice, at, gap, currency)
        for at, gap in enumerate(outcome.gaps)
        if gap > 0 and at >= outcome.proved_levels
    ]
    return voice.say(_TO_GAIN, parts=voice.both(parts)) if parts else ""


def _gained(voice: Voice, at: int, gap: int, currency: str) -> str:
    counts = {0: _WINDOWS_GAINED, 1: _ENQUIRIES_GAINED, 4: _SHEETS_GAINED, 5: _CHANGES_GAINED}
    if at in counts:
        return voice.say(counts[at], count=gap, n=voice.number_word(gap))
    if at == _MONEY_AT:
        return voice.say(_MONEY_GAINED, amount=voice.number(-(-gap // 100)), currency=currency)
    amount = amounts.elapsed(voice, gap * _QUARTER_MINUTES, Role.LATE)
    return voice.say(_LONG_GAINED[at], amount=amount)


def _windows(voice: Voice, count: int) -> str:
    if not count:
        return voice.say(_NO_WINDOW_MISSED)
    return capital(voice.say(_WINDOWS, count=count, n=voice.number_word(count)))


def _enquiries(voice: Voice, count: int) -> str:
    if not count:
        return ""
    return capital(voice.say(_ENQUIRIES, count=count, n=voice.number_word(count)))


def _late(voice: Voice, quarters: int) -> str:
    amount = amounts.elapsed(voice, quarters * _QUARTER_MINUTES, Role.LATE)
    return voice.say(_LATE, amount=amount) if quarters else ""


def _short(voice: Voice, quarters: int) -> str:
    amount = amounts.elapsed(voice, quarters * _QUARTER_MINUTES, Role.LATE)
    return voice.say(_SHORT, amount=amount) if quarters else ""


def _sheets(voice: Voice, count: int) -> str:
    return voice.say(_SHEETS, count=count, n=voice.number_word(count)) if count else ""


def _changes(voice: Voice, count: int) -> str:
    return voice.say(_CHANGES, count=count, n=voice.number(count)) if count else ""


def _money(voice: Voice, hundredths: int, currency: str = "") -> str:
    amount = voice.number(-(-hundredths // 100))
    return voice.say(_MONEY, amount=amount, currency=currency) if hundredths else ""


def _floor(voice: Voice, quarters: int) -> str:
    amount = amounts.elapsed(voice, quarters * _QUARTER_MINUTES)
    return voice.say(_FLOOR, amount=amount) if quarters else ""


_SAYERS: tuple[Callable[[Voice, int], str], ...] = (
    _windows,
    _enquiries,
    _late,
    _short,
    _sheets,
    _changes,
    _money,
    _floor,
)

_LONG_GAINED = {2: _LATE_GAINED, 3: _SHORT_GAINED, 7: _FLOOR_GAINED}


def _proved(voice: Voice, count: int) -> str:
    if count >= _LEVELS_COUNT:
        return voice.say(_PROVED_ALL)
    if not count:
        return voice.say(_PROVED_NONE)
    return voice.say(_PROVED, count=count, n=voice.number_word(count))
