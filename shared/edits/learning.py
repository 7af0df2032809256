"""Taking what records say into the estimates of a workshop."""

from dataclasses import replace

from shared.book import Book, Kind, OwnFigure
from shared.edits.edited import Changed, Edited, label
from shared.edits.redo import NotNow
from shared.estimate.learning import learning_of
from shared.estimate.record import RECORD_LEAST
from shared.routes.learned import FACTOR_OF


def take_factor(book: Book, kind: Kind, note: str) -> Edited:
    """Let new estimates of a kind be multiplied by the factor that its records say.

    It becomes a figure of the workshop's own. note: its source, in words. Hours that are written
    stay as they are.

    Raises
    ------
    NotNow
        If there are no records, or too few, or this very factor was taken.
    """
    found = next((each for each in learning_of(book).kinds if each.kind is kind), None)
    if found is None:
        raise NotNow("no_record", kind=kind.value)
    if found.count < RECORD_LEAST:
        raise NotNow(
            "too_few_records", kind=kind.value, count=str(found.count), least=str(RECORD_LEAST)
        )
    if found.taken == found.factor:
        raise NotNow("factor_taken", kind=kind.value)
    own = OwnFigure(
        figure=FACTOR_OF[kind], value=found.factor, low=found.low, high=found.high, note=note
    )
    others = (each for each in book.workshop.figures if each.figure != own.figure)
    shop = replace(book.workshop, figures=(*others, own))
    new = replace(book, workshop=shop, revision=book.revision + 1)
    what = label("take_factor", kind=kind.value, count=found.count)
    return Edited(book=new, changed=Changed(workshop=True), label=what)
