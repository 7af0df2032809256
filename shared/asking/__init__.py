"""The first answer: a job from four blanks, and the small workshop that is assumed for it."""

from shared.asking.assumed import Assumed, assumed_book, usual_assumed
from shared.asking.countries import Country, country_named, nearest_country
from shared.asking.question import Answered, Question, asked_book

__all__ = [
    "Answered",
    "Assumed",
    "Country",
    "Question",
    "asked_book",
    "assumed_book",
    "country_named",
    "nearest_country",
    "usual_assumed",
]
