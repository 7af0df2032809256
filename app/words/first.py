"""What stands on an empty wall: a sentence with four blanks, other ways in, what is assumed."""

from app.words.template import Template, within

UNDER_SENTENCE: Template = "Write one job; everything else can be filled in while you look at it."
SENTENCE: Template = "We make {what}, about {size}, to stand by {by}; holidays of {country}."
SENTENCE_NOTE: Template = "four blanks are enough; Enter answers"
ASK_ANOTHER: Template = "What else must stand where, and by when?"
SENTENCE_LIKE: Template = "Made like {past}, {times} times as large."
HINT_WHAT: Template = within("hint in a blank", "what")
HINT_SIZE: Template = within("hint in a blank", "length × width × height")
HINT_DATE: Template = within("hint in a blank", "date")
HINT_COUNTRY: Template = within("hint in a blank", "country")
HINT_PAST: Template = within("hint in a blank", "a past job")
HINT_TIMES: Template = within("hint in a blank", "1.5")
ARTICLES: Template = within("articles before what is made, with commas", "a, an, the")

OPEN: Template = "Open a book"
OPEN_NOTE: Template = "one file: workshop, people, places, ways of making and jobs"
LOOK_ROUND: Template = "Look round a made-up workshop"
LOOK_ROUND_NOTE: Template = (
    "twelve people, twelve jobs, two booths; change anything, nothing of yours is touched"
)
SAMPLES: dict[str, Template] = {
    "small": within("sample", "one owl"),
    "rush": within("sample", "a rush"),
    "crossing": within("sample", "a crossing"),
    "impossible": within("sample", "one that cannot"),
}
BEGIN: Template = "Begin a book with the workshop"
BEGIN_NOTE: Template = "people, places and hours first, jobs later; I brings them in from files"
FREE_THE_KEYS: Template = "Esc frees the letters"

UNTIL: Template = "Until you say otherwise"
USUAL_HOURS: Template = (
    "Monday to Friday {hours}; {people} people who do everything; {booths} booth and {floor} m² "
    "of floor; the shop at {day} °C by day, {night} °C at night with the heating as it is; money "
    "in {money}."
)
USUAL_OTHERS: Template = (
    "Over Christmas we are shut {christmas}; in August suppliers are shut {august}; a client takes "
    "{answer} working days; we want {buffer} working days to spare."
)
USUAL_NAMES: dict[str, Template] = {
    "hours": within("what is assumed", "the working day"),
    "people": within("what is assumed", "people"),
    "booths": within("what is assumed", "booths"),
    "floor": within("what is assumed", "floor in square metres"),
    "day": within("what is assumed", "degrees by day"),
    "night": within("what is assumed", "degrees at night"),
    "money": within("what is assumed", "currency"),
    "christmas": within("what is assumed", "shut over Christmas"),
    "august": within("what is assumed", "suppliers shut in August"),
    "answer": within("what is assumed", "working days for an answer"),
    "buffer": within("what is assumed", "working days to spare"),
}
USUAL_NOTE: Template = (
    "All of these are ordinary practice, not law. Type over any of them; later they are in the "
    "workshop’s own pages."
)
MONEY_OF_COUNTRY: Template = within("currency", "the country’s money")
NOT_AT_ALL: Template = within("shut", "not at all")
HOURS_SPAN: Template = within("hours of a day", "{first} to {last}")
DAYS_SPAN: Template = within("days of a year", "{first} to {last}")
DAY_OF_YEAR: Template = "{day} {month}"
BETWEEN: Template = within("between the ends of a span", "to")

# What is assumed here may be told in the book.
SHUT_NAME: Template = within("closure", "Christmas")
AUGUST_NAME: Template = within("closure", "August")

# The ghost of a wall.
GHOST_TODAY: Template = "today"
GHOST_WORK: Template = "work, as thick as the people on it"
GHOST_SPARE: Template = "days to spare"
GHOST_ANSWER: Template = "the client’s answer, one line across"
GHOST_WINDOW: Template = "The window"
GHOST_WINDOW_NOTE: Template = "when you may be on site,\nin the site’s own time"
