"""What people hold out (heating, a hand for hire, a sailing), as sentences. No Qt."""

from dataclasses import replace
from functools import partial

from app.window.sheet import typed as plain
from app.window.workshop import typed
from app.window.workshop.items import Field, Item, Owner, Sentence, Title, with_field
from app.window.workshop.people import At
from app.words import workshop_view as say
from shared.book import Book, Offer
from shared.edits import Edited
from shared.edits.workshop import change_besides
from shared.ids import OfferId


def offers(book: Book, at: At) -> list[Item]:
    """Return the terms of what is held out; what it is about stands as it was written."""
    if not book.offers:
        return []
    words = at.words
    found: list[Item] = [Title(text=words.say(say.OFFERS), aside=words.say(say.OFFERS_ASIDE))]
    for index, each in enumerate(book.offers):
        its = _owner(each, index)
        fields: list[tuple[str, Field | str]] = [
            ("name", its.field("name", each.name, _named, "name")),
            ("days", replace(_whole(its, each), is_figure=False)),
            (
                "who",
                its.field("agrees", each.agrees, _agreed, "agrees", hint=words.say(say.ANYBODY)),
            ),
            *((which, _day(its, each, which, at)) for which in ("first", "last")),
            ("taken", its.tick("taken", is_ticked=each.taken)),
        ]
        template = say.OFFER_LINE
        if at.is_money_hidden:
            template = say.OFFER_BARE
        else:
            price = its.figure("price", each.price, plain.number)
            fields.append(("price", replace(price, is_figure=False)))
        gone = _BOOK.without("offers", index, words.say(say.DO_REMOVE))
        found.append(Sentence(template=template, fields=tuple(fields), acts=(gone,), path=its.path))
    return found


_BOOK: Owner[Book] = Owner(now=lambda book: book, put=lambda _, made: change_besides(made), path=())


def _owner(offer: Offer, index: int) -> Owner[Offer]:
    def put(book: Book, new: Offer) -> Edited:
        made = (new if each.id == new.id else each for each in book.offers)
        return change_besides(replace(book, offers=tuple(made)))

    return Owner(
        now=lambda book: _found(book, offer.id),
        put=put,
        path=("offers", index),
        name=f"offer {offer.id}",
        label=offer.name,
    )


def _found(book: Book, offer: OfferId) -> Offer:
    return next(each for each in book.offers if each.id == offer)


def _whole(its: Owner[Offer], each: Offer) -> Field:
    return its.figure("notice_days", each.notice_days, plain.whole)


def _day(its: Owner[Offer], each: Offer, which: str, at: At) -> Field:
    text = typed.day_text(getattr(each, which), at.words, at.today)
    write = partial(_with_day, which=which, at=at)
    return its.field(which, text, write, which, hint=at.words.say(say.HINT_ALWAYS))


def _with_day(offer: Offer, text: str, *, which: str, at: At) -> Offer:
    return with_field(offer, which, typed.day_or_none(text, at.words, at.today))


def _named(offer: Offer, text: str) -> Offer:
    return replace(offer, name=plain.name(text))


def _agreed(offer: Offer, text: str) -> Offer:
    return replace(offer, agrees=" ".join(text.split()))
