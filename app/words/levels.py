"""What a plan comes to, aim by aim."""

from collections.abc import Callable, Sequence

from app.words import amounts
from app.words.amounts import Role
from app.words.template import counted
from app.words.voice import Voice, capital

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
_LEVELS_COUNT = 8
_MONEY_AT = 6


def lines(voice: Voice, levels: Sequence[int], proved_count: int, currency: str) -> list[str]:
    """Give a sentence for each aim that says something, then how much of it is proved."""
    said = [say(voice, level) for say, level in zip(_SAYERS, levels, strict=False)]
    if len(levels) > _MONEY_AT:
        said[_MONEY_AT] = _money(voice, levels[_MONEY_AT], currency)
    return [*filter(None, said), _proved(voice, proved_count)]


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


def _proved(voice: Voice, count: int) -> str:
    if count >= _LEVELS_COUNT:
        return voice.say(_PROVED_ALL)
    if not count:
        return voice.say(_PROVED_NONE)
    return voice.say(_PROVED, count=count, n=voice.number_word(count))
