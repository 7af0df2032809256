"""What is said of copies of what was not saved: offered after a stop, taken, or not to be kept."""

from app.words.template import Template

OFFER: Template = (
    "Countback stopped before “{book}” was saved. What was written until {moment} is kept."
)
UNTOUCHED: Template = "Taking it changes nothing on the disk before you save."
BEHIND: Template = (
    "The file of the book was written by somebody else since. What is kept does not have that: "
    "saved, it takes its place."
)
GONE: Template = "The file of the book can’t be opened any more; what is taken is a new book."
NEVER_SAVED: Template = "It never had a file; what is taken is a new book."
TAKE: Template = "take it"
THROW_AWAY: Template = "throw it away"
LATER: Template = "leave it; it is asked again"
TAKEN: Template = "What was kept is on the wall, not yet saved. Undo goes back to what was saved."
NOT_KEPT: Template = "What is not saved can’t be copied for the worst case. {reason}"
CRASHED: Template = (
    "Something went wrong inside Countback. What is not saved is copied; {key} copies a report of "
    "it, which is also in {path}."
)
CRASHED_BARE: Template = (
    "Something went wrong inside Countback, and what is not saved can’t be copied: save the book, "
    "here or elsewhere. {key} copies a report of it."
)
CRASHED_BEFORE: Template = (
    "Countback stopped in the middle last time. {key} copies what the machine told of it."
)
REPORT_COPIED: Template = "The report is copied; nothing of the book and no name is in it."
REPORT_COPIED_WHOLE: Template = (
    "The report is copied; nothing of the book and no name is in it. What the fault itself said "
    "may hold such things, and is in {path} for you to add."
)
NO_REPORT: Template = "Nothing went wrong inside, so there is no report."
LEAVE_SAVE: Template = "save it first"
LEAVE_DROP: Template = "open the other without saving"
