"""What stands on paper beside the day's sheets: board, wall, letter, load lists, owner's page."""

from app.words.template import Template, counted, within

PAGE: Template = within("paper", "{page} of {pages}")

# The week board.
WEEK: Template = within("paper", "Week of {day} {month}")
BOARD: Template = within("paper", "board {number}, as of {moment}")
BOARD_AFTER: Template = within("paper", "board {number}, as of {moment}; take board {before} down")
BOARD_DRAFT: Template = within("paper", "draft of board {number}, as of {moment}")
DAY: Template = within("column of the board", "{weekday} {day}")
AWAY: Template = within("cell of the board", "away")
AWAY_BACK: Template = within("cell of the board", "away, {back}")
OF_JOB: Template = within("cell of the board", "{job}: {stage}")
ON_THE_ROAD: Template = within("cell of the board", "on the road")
ANEW: Template = within("key of the board", "changed since the sheet of {day}")
LEAVE: Template = within("board", "Leave alone: {what}.")
LEAVE_ONE: Template = within("board", "{what} {until}")
LEAVE_MORE: Template = counted(
    "count",
    "Leave alone: {what}, and one more, see the sheet.",
    "Leave alone: {what}, and {number} more, see the sheet.",
    "board",
)
LEAVE_NOTHING: Template = within("board", "Nothing cures at the beginning of the week.")
NOBODY: Template = within("board", "Nobody works in this week.")

# The letter.
LETTER: Template = within("letter", "{job}: the dates you keep")
LETTER_LINE: Template = within("letter", "for {client}, {day}")
HANGS: Template = within("letter", "It hangs on the dates below.")
SITE: Template = within("heading of a letter", "Your site")
SITE_FREE: Template = within("letter", "{site} is ours from")
SITE_UNTIL: Template = within("letter", "{site} is ours until")
ACCESS: Template = within("letter", "The gate is open, {days}")
ACCESS_HOURS: Template = within("letter", "{start} to {end}")
MOMENT: Template = within("letter", "{day}, {clock}")
CLOCK_OF: Template = within("letter", "Hours of the site are by the clock of {place}.")
ANSWERS: Template = within("heading of a letter", "Your answers")
NO_ANSWERS: Template = within("letter", "Nothing waits for an answer of yours.")
PICTURES: Template = within("letter", "Pictures for “{answer}” reach you")
ANSWER_DUE: Template = within("letter", "Your answer to “{answer}”, by")
ANSWER_GIVEN: Template = within("letter", "Your answer to “{answer}”, given")
ANSWER_LATE: Template = within("letter", "Your answer to “{answer}”, overdue since")
EATEN: Template = within("heading of a letter", "What late days ate")
EATEN_NOTHING: Template = within("letter", "No answer of yours came late.")
CAME_LATE: Template = within(
    "letter",
    "The answer to “{answer}” was due on {due} and came on {came}: that ate {late} of our working "
    "time.",
)
ALL_GONE: Template = within(
    "letter",
    "The answer to “{answer}” was due on {due}, and there is none yet: nothing of what it had to "
    "spare is left.",
)
SOME_GONE: Template = within(
    "letter",
    "The answer to “{answer}” was due on {due}, and there is none yet: of {spare} to spare, {gone} "
    "are gone.",
)
PRICE: Template = within("heading of a letter", "Price")

# Load lists.
LOADS: Template = within("load list", "{job}: load list")
LOADS_LINE: Template = within("load list", "{journey} to {site}")
TIMES: Template = within("heading of a load list", "By when")
LOADING: Template = within("load list", "Start loading")
AT_LORRY: Template = within("load list", "All of it at the lorry and loaded")
LEAVES: Template = within("load list", "The lorry leaves")
LAST_LOADED: Template = within("load list", "Loaded at the latest, or the window is lost")
CREW: Template = within("load list", "Along with it: {people}")
ORDER: Template = within("heading of a load list", "{vehicle}, loaded in this order")
HIRED: Template = within("load list", "The haulier’s lorry")
NO_ROOM: Template = within(
    "load list",
    "Nobody has measured what it holds: this is the order of need, and whether all of it goes in "
    "is not known.",
)
PIECE: Template = within("load list", "{number}. {piece}, {turn}")
PIECE_BARE: Template = within("load list", "{number}. {piece}")
MOVED: Template = within("load list", "{size} m wrapped, on the skid, {mass}")
NO_SIZE: Template = within("load list", "no size yet: measure it, {mass}")
MASS: Template = within("load list", "{low} to {high} kg")
NO_MASS: Template = within("load list", "weigh it")
SUM: Template = within("load list", "Together")
SUM_OF: Template = within("load list", "{mass}; it carries {payload} kg")
WEIGH: Template = within("load list", "That may be more than it carries: weigh it.")
TOO_HEAVY: Template = within("load list", "That is more than it carries.")
NOT_ON: Template = within("heading of a load list", "Goes on none of them in one trip")
LAST_IN: Template = within("load list", "What is needed first at the site goes in last.")
PAPERS: Template = within("heading of a load list", "Papers and notices")
NO_PAPERS: Template = within("load list", "None is known to be called for.")
PAPER_BY: Template = within("load list", "by {day}")
PAPER_DONE: Template = within("load list", "given {day}")
PAPER_OVER: Template = within("load list", "not given, was due {day}")
LAST_WORD: Template = within(
    "load list",
    "Masses are written by hand or estimated: weigh before lifting. How it is lashed and lifted is "
    "for competent people, and local rules come before this list.",
)

# The owner's page.
OWNER: Template = within("owner", "For the owner")
OWNER_LINE: Template = within("owner", "as of {moment}")
HOW_JOBS_STAND: Template = within("heading for the owner", "How the windows stand")
JOB_STANDS: Template = within("owner", "{job}, window from {day}")
SPARE: Template = within("owner", "{verdict}, {spare} to spare")
LATE: Template = within("owner", "{verdict}, {late}")
ALONE: Template = within("owner", "{verdict}")
IN_DANGER: Template = within("heading for the owner", "In danger")
NO_DANGER: Template = within("owner", "Every job has the days to spare that were wished for.")
THIS_WEEK: Template = within("heading for the owner", "To order and to answer this week")
NOTHING_DUE: Template = within("owner", "Nothing has to be ordered or answered this week.")
OVERDUE: Template = within("owner", "overdue")
EXTRA: Template = within("heading for the owner", "Extra hours of the last eight weeks")
NO_EXTRA: Template = within("owner", "Nobody worked any.")
MORE: Template = counted("count", "And one more.", "And {number} more.", "owner")
NO_CHANCE: Template = within(
    "owner",
    "By the plan alone: illness, breakage and late material are not in it. How sure it is, "
    "countback chance says.",
)

# In the window.
DO_BOARD: Template = "the board of this week as PDF, A3"
SAVE_BOARD: Template = "Save the week board"
BOARD_SAVED: Template = "The week board is in {path}."
