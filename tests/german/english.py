"""English words in a German sentence."""

import re
from pathlib import Path

ENGLISH_WORDS = frozenset(
    Path(__file__).with_name("english.txt").read_text(encoding="utf-8").split()
)
"""Words that are English and nothing else: what is spelt alike in German is left out."""

_A_WORD = re.compile(r"[^\W\d_]+(?:['’][a-z]+)?")
_AS_TYPED = re.compile(
    r"\{[^}]*\}|--?[a-z_-]+|countback [a-z]+|\S*[/=_]\S*|\S+\.[a-z]+\S*|[A-Z]{2,}\S*"
)


def english_in(sentence: str) -> list[str]:
    """Return the English words of a sentence; what is typed as it stands doesn't count."""
    plain = _AS_TYPED.sub(" ", sentence)
    return [word for word in _A_WORD.findall(plain) if word.casefold() in ENGLISH_WORDS]
