"""What the two pages say on which files are brought in and given out."""

from app.words.template import Template, counted, within

THERE_ALREADY: Template = "{path} is there already; write its name in full to write over it."

# Bringing in: before a file is there.
BRING: Template = "Bring in: choose a file, or paste a table."
BRING_NEXT: Template = (
    "Jobs, stages, people, timetables and hours from CSV or XLSX; leave and closures from ICS."
)
PICK_FILE: Template = "a file"
PASTE: Template = "the table on the clipboard"
TO_FILL: Template = "A table to be filled in"
TO_FILL_TOLD: Template = (
    "It is written out with the names of all columns and one row as an example."
)
PICK_TITLE: Template = "Bring in a file"
PICK_KINDS: Template = "Tables and calendars (*.csv *.tsv *.txt *.xlsx *.ics)"
TEMPLATE_TITLE: Template = "A table to be filled in"
TEMPLATE_KINDS: Template = "Tables (*.csv *.xlsx)"
CLIPBOARD: Template = "the clipboard"
NO_TEXT: Template = "There is no text on the clipboard."
KINDS: dict[str, Template] = {
    "jobs": within("what a file holds", "jobs"),
    "stages": within("what a file holds", "stages"),
    "people": within("what a file holds", "people"),
    "timetables": within("what a file holds", "timetables"),
    "hours": within("what a file holds", "recorded hours"),
    "leave": within("what a file holds", "leave of one person"),
    "closures": within("what a file holds", "days the workshop is shut"),
}

# While it is read, and what came of it.
READING: Template = "Reading {path}."
READING_NEXT: Template = "The window can be used meanwhile; Esc calls it off."
CALLED_OFF: Template = "Called off; nothing is taken."
READY: Template = counted("count", "One row can be taken.", "{number} rows can be taken.")
READY_ENTRIES: Template = counted(
    "count", "One entry can be taken.", "{number} entries can be taken.", "calendar"
)
READY_NEXT: Template = "Nothing is taken yet. Enter takes all of it as one step; Esc leaves it."
BAD_HEAD: Template = counted(
    "count",
    "One thing can't be taken, so nothing is.",
    "{number} things can't be taken, so nothing is.",
)
BAD_NEXT: Template = (
    "Each stands below with its row and column and what mends it. Esc leaves the file."
)
STOPS_HEAD: Template = "The book that comes of it would have findings that stop."
WHAT: Template = "What it holds"
WHOSE: Template = "Whose leave it is"
TURN_TOLD: Template = "← and → take another column for the field chosen, or none."
FIELD_HEAD: Template = within("heading of what is brought in", "field")
COLUMN_HEAD: Template = within("heading of what is brought in", "column")
ROW_HEAD: Template = within("heading of what is brought in", "row {row}")
NEEDED: Template = within("field that is brought in", "{field} (needed)")
NO_COLUMN: Template = within("column that is brought in", "none")
COLUMN_OF: Template = within("column that is brought in", "{letter}: {column}")
CHOSEN_OF: Template = "{field}: {value}"
FIGURE: Template = "{figure}"
YES: Template = within("cell that is brought in", "yes")
NO: Template = within("cell that is brought in", "no")
AT_FIELD: Template = "Row {row}, {field}: {text}"
MISSING: Template = "No column is there for “{wanted}”. Choose one above, or name one so."
TROUBLE_LIST: Template = "What can't be taken"
FROM_TO: Template = "{first} to {last} of {count}."
MORE: Template = "the next of them"
BEFORE: Template = "those before them"
DO_TAKE: Template = "take all of it"
DO_LEAVE: Template = "leave it"
DONE: Template = counted(
    "count",
    "One row is taken, as one step. Ctrl Z takes it back.",
    "{number} rows are taken, as one step. Ctrl Z takes that back.",
)

# Giving out.
GIVE: Template = "Give out: what is written, for whom, by which plan."
GIVE_NEXT: Template = "Reasons for absence are in none of it."
NO_PLAN: Template = "There is no plan yet, so nothing can be given out."
BY_PLAN: Template = "By which plan"
PLAN_SHOWN: Template = within("plan that is given out", "the plan on the wall")
PLAN_TOLD: Template = within("plan that is given out", "the plan that people were told")
FOR_WHOM: Template = "For whom"
FOR_ALL: Template = within("for whom", "everybody and everything")
FOR_ONE: dict[str, Template] = {
    "person": within("for whom", "{name}, a person"),
    "place": within("for whom", "{name}, a place"),
    "job": within("for whom", "{name}, a job"),
}
PAPER_SIZE: Template = "Paper of the wall"
WHAT_IS_WRITTEN: Template = "What is written"
SORTS: dict[str, Template] = {
    "calendar": within("what is given out", "calendars (ICS), a file each in a folder"),
    "calendar one": within("what is given out", "the calendar of {name} (ICS)"),
    "workbook": within("what is given out", "a workbook of plan, hours and orders (XLSX)"),
    "tables": within("what is given out", "the same as tables in a folder (CSV)"),
    "page": within("what is given out", "a page for the workshop’s screen (HTML)"),
    "board": within("what is given out", "the week board (PDF, SVG, PNG)"),
    "wall": within("what is given out", "the wall (PDF, SVG, PNG)"),
    "wall one": within("what is given out", "the wall of {name} (PDF, SVG, PNG)"),
    "letter": within("what is given out", "the letter to a client (PDF, SVG, PNG)"),
    "letter one": within("what is given out", "the letter to the client of {name} (PDF, SVG, PNG)"),
    "loads": within("what is given out", "the load lists (PDF, SVG, PNG)"),
    "loads one": within("what is given out", "the load lists of {name} (PDF, SVG, PNG)"),
    "owner": within("what is given out", "the owner’s page (PDF, SVG, PNG)"),
}
WHERE_TITLE: Template = "Give out {what}"
FILES_OF: dict[str, Template] = {
    ".ics": "Calendars (*.ics)",
    ".xlsx": "Workbooks (*.xlsx)",
    ".html": "Pages (*.html *.htm)",
    ".pdf": "Paper and pictures (*.pdf *.svg *.png)",
    "": "Folders (*)",
}
WHICH_LETTER: Template = "Choose under “For whom” to which job’s client the letter goes."
LETTER_OF_ENQUIRY: Template = "{name} is an enquiry still; the enquiry view has the words for it."
NOTHING_LEAVES: Template = "Nothing leaves the workshop in that plan."
OTHER_ENDING: Template = "The name must end in {endings}."
FILE_THERE: Template = "A folder is wanted, and {path} is a file."
BROKEN_RULES: Template = "What the plan breaks"
