"""The sentences of paper beside the day's sheets, in both languages."""

import pytest

from app.words import Words, printing
from app.words import give as of_command
from app.words import papers as say
from app.words.template import Template

LANGUAGES = ("en", "de")


@pytest.mark.parametrize(
    ("template", "facts", "english", "german"),
    [
        (say.WEEK, {"day": 18, "month": "May"}, "Week of 18 May", "Woche vom 18. May"),
        (
            say.BOARD_AFTER,
            {"number": 2, "moment": "Mon 07:52", "before": 1},
            "board 2, as of Mon 07:52; take board 1 down",
            "Tafel 2, Stand Mon 07:52; Tafel 1 abnehmen",
        ),
        (say.AWAY_BACK, {"back": "back Wed"}, "away, back Wed", "fehlt, back Wed"),
        (
            say.LEAVE_MORE,
            {"what": "Owl until Wed", "count": 1, "number": "one"},
            "Leave alone: Owl until Wed, and one more, see the sheet.",
            "In Ruhe lassen: Owl until Wed und noch eines, siehe Zettel.",
        ),
        (
            say.LEAVE_MORE,
            {"what": "Owl until Wed", "count": 3, "number": "three"},
            "Leave alone: Owl until Wed, and three more, see the sheet.",
            "In Ruhe lassen: Owl until Wed und noch three, siehe Zettel.",
        ),
        (
            say.CAME_LATE,
            {"answer": "model", "due": "Mon", "came": "Wed", "late": "2 days"},
            "The answer to “model” was due on Mon and came on Wed: that ate 2 days of our working "
            "time.",
            "Die Antwort zu „model“ war am Mon fällig und kam am Wed: das hat 2 days unserer "
            "Arbeitszeit gekostet.",
        ),
        (
            say.SOME_GONE,
            {"answer": "model", "due": "Mon", "spare": "2½ days", "gone": "1½ days"},
            "The answer to “model” was due on Mon, and there is none yet: of 2½ days to spare, 1½ "
            "days are gone.",
            "Die Antwort zu „model“ war am Mon fällig und ist noch nicht da: von 2½ days Puffer "
            "sind 1½ days weg.",
        ),
        (
            say.MOVED,
            {"size": "2 × 1 × 1", "mass": "80 to 120 kg"},
            "2 × 1 × 1 m wrapped, on the skid, 80 to 120 kg",
            "2 × 1 × 1 m verpackt, auf Kufen, 80 to 120 kg",
        ),
        (
            say.SUM_OF,
            {"mass": "80 to 120 kg", "payload": "1100"},
            "80 to 120 kg; it carries 1100 kg",
            "80 to 120 kg; Nutzlast 1100 kg",
        ),
        (say.MORE, {"count": 1, "number": "one"}, "And one more.", "Und noch eines."),
        (say.MORE, {"count": 4, "number": "four"}, "And four more.", "Und noch four."),
        (
            printing.THICK_OF,
            {"page": 2, "pages": 3, "key": "Thick."},
            "Page 2 of 3. Thick.",
            "Seite 2 von 3. Thick.",
        ),
        (
            of_command.WRITTEN_ONE_BY_ONE,
            {"path": "b.png", "count": 1},
            "b.png is written.",
            "b.png ist geschrieben.",
        ),
        (
            of_command.WRITTEN_ONE_BY_ONE,
            {"path": "b.png", "count": 2},
            "2 pictures are written, the first of them b.png.",
            "2 Bilder sind geschrieben, das erste ist b.png.",
        ),
    ],
)
def test_sentences(template: Template, facts: dict[str, object], english: str, german: str) -> None:
    said = [Words(language).say(template, **facts) for language in LANGUAGES]

    assert said == [english, german]


def test_no_sentence_of_paper_says_that_anything_is_safe() -> None:
    texts = [
        each if isinstance(each, str) else f"{each.text} {each.many}"
        for name, each in vars(say).items()
        if name.isupper()
    ]

    assert len(texts) > 80
    assert not [text for text in texts if "safe" in text.casefold()]
