"""What people hold out (heating, a hand for hire, a sailing), as sentences. No Qt."""

from dataclasses import replace

from app.window.sheet import typed as plain
from app.window.workshop import typed
from app.window.workshop.items import BOOK, Field, Item, Owner, Sentence, Title, owned
from app.window.workshop.people import At, day_field
from app.words import workshop_view as say
from shared.book import Book, Offer
from shared.edits import Edited
from shared.edits.workshop import change_besides


def offers(book: Book, at: At) -> list[Item]:
    """Return the terms of what is held out; what it is about stands as it was written."""
    if not book.offers:
        return []
    words = at.words
    found: list[Item] = [Title(text=words.say(say.OFFERS), aside=words.say(say.OFFERS_ASIDE))]
    for index, each in enumerate(book.offers):
        its = _owner(each, index)
        days = its.figure("notice_days", each.notice_days, plain.whole)
        fields: list[tuple[str, Field | str]] = [
            ("name", its.field("name", each.name, _named, "name")),
            ("days", replace(days, is_figure=False)),
            (
                "who",
                its.field("agrees", each.agrees, _agreed, "agrees", hint=words.say(say.ANYBODY)),
            ),
            *((which, day_field(its, each, which, at)) for which in ("first", "last")),
            ("taken", its.tick("taken", is_ticked=each.taken)),
        ]
        template = say.OFFER_LINE
        if at.is_money_hidden:
            template = say.OFFER_BARE
        else:
            price = its.figure("price", each.price, plain.number)
            fields.append(("price", replace(price, is_figure=False)))
        gone = BOOK.without("offers", index, words.say(say.DO_REMOVE))
        found.append(Sentence(template=template, fields=tuple(fields), acts=(gone,), path=its.path))
    return found


def _owner(offer: Offer, index: int) -> Owner[Offer]:
    def put(book: Book, new: Offer) -> Edited:
        made = (new if each.id == new.id else each for each in book.offers)
        return change_besides(replace(book, offers=tuple(made)))

    its = owned(offer, ("offers", index), lambda book: book.offers, put)
    return replace(its, name=f"offer {offer.id}")


def _named(offer: Offer, text: str) -> Offer:
    return replace(offer, name=plain.name(text))


def _agreed(offer: Offer, text: str) -> Offer:
    return replace(offer, agrees=typed.line(text))
