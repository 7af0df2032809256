"""The sentence in which it is written how a piece of work went, and who says so."""

from collections.abc import Callable

from app.window.people.form import BlankForm
from app.words import Words
from app.words import evening as say
from app.words.floor import WHY


class HowForm(BlankForm):
    """One blank for how it went, which is empty again once it is taken, and one for who says so."""

    def open(
        self,
        words: Words,
        take: Callable[[str], None],
        who: Callable[[], str],
        name: Callable[[str], None],
    ) -> None:
        """Ask; take: writes down how it went, or raises NotTaken. who, name: who says so."""
        self._clear(words)
        causes = tuple(words.say(template) for template in WHY.values())
        hint = words.say(say.HOW_HINT)
        self._add("how", say.HOW_LABEL, str, take, suggestions=causes, hint=hint)
        self._add("who", say.SAYS_LABEL, who, name)
        self._sentence(say.HOW, ("how",))
        self._sentence(say.SAYS, ("who",))
        self._end()

    def take_caret(self) -> None:
        """Put the caret where it is written how it went."""
        self.blanks["how"].setFocus()
