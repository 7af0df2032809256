"""What the workshop's records say of its estimates, as a part of its page. No Qt."""

from app.window.workshop.items import Item, Part, Records, Text, Title
from app.window.workshop.people import At
from app.words import learn, learn_view
from app.words import workshop_view as say
from app.words.voice import capital
from shared.book import Book, Kind
from shared.edits import Edited, take_factor
from shared.edits.lookup import job_of_step
from shared.estimate.learning import Learning, learning_of


def learned_part(book: Book, at: At) -> Part:
    """Return the picture of the records, how it is read, and the records that can't be."""
    words, found = at.words, learning_of(book)
    title = words.say(say.PARTS["learned"])
    items: list[Item] = [Text(text=line) for line in head_lines(found, at)]
    if found.kinds:
        items += [Records(), Text(text=words.say(learn_view.HOW))]
        items.append(Text(text=words.say(learn.NEVER_SILENT)))
    if found.left_out:
        items.append(Title(text=words.say(learn.ODD_TITLE)))
    for odd in found.left_out:
        line = learn.odd_line(words, odd, job_of_step(book, odd.step).id)
        items.append(Text(text=capital(line)))
    return Part(name="learned", title=title, items=tuple(items))


def head_lines(found: Learning, at: At) -> list[str]:
    """Return how many records there are, and what they say on the whole."""
    if not found.count:
        return [at.words.say(learn_view.NOTHING)]
    return learn.head_lines(at.words, found)


def take(book: Book, kind: Kind, at: At) -> tuple[Edited, str]:
    """Return the edit by which new estimates use a kind's factor, and what it does in words.

    Raises NotNow where it is not offered any more.
    """
    found = learning_of(book).of(kind)
    edited = take_factor(book, kind, learn.source(at.words, found.count))
    return edited, learn.took_line(at.words, found)
