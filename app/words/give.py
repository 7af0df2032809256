"""What stands in calendars, tables and pages for other programs, and what is said of them."""

from app.words.template import Template, counted, within

# What must be said along with a plan.
OLD_SAME: Template = "OLD PLAN. The book reads otherwise than when it was made."

# Calendars.
ENTRY: Template = within("entry of a calendar", "{what}: {stage}")
WITH: Template = within("entry of a calendar", "With {people}.")
OF_JOB: Template = within("entry of a calendar", "Job: {job}.")
LEAVE_ALONE: Template = within("entry of a calendar", "Leave alone.")
WINDOW: Template = within("entry of a calendar", "Window of {job}")

# Tables.
ABOUT: Template = within("sheet of a workbook", "about")
PLAN: Template = within("sheet of a workbook", "plan")
HOURS_TITLE: Template = within("sheet of a workbook", "hours")
ORDERS: Template = within("sheet of a workbook", "orders")
JOB: Template = within("column of a table", "job")
PIECES: Template = within("column of a table", "pieces")
STEP: Template = within("column of a table", "step")
KIND: Template = within("column of a table", "kind")
START: Template = within("column of a table", "start")
END: Template = within("column of a table", "end")
ZONE: Template = within("column of a table", "by the clock of")
PEOPLE: Template = within("column of a table", "people")
PLACE: Template = within("column of a table", "place")
THINGS: Template = within("column of a table", "vehicles and tools")
ROUND: Template = within("column of a table", "round")
LOW: Template = within("column of a table", "person-hours, low")
LIKELY: Template = within("column of a table", "person-hours, likely")
HIGH: Template = within("column of a table", "person-hours, high")
RECORDED: Template = within("column of a table", "person-hours, recorded")
STANDS: Template = within("column of a table", "how far")
STEP_ID: Template = within("column of a table", "id of the step")
DAY: Template = within("column of a table", "day")
PERSON: Template = within("column of a table", "person")
HOURS: Template = within("column of a table", "hours at work")
ORDER_BY: Template = within("column of a table", "order by")
HERE_BY: Template = within("column of a table", "here by")
NEEDED_ON: Template = within("column of a table", "needed on")
NOT_BEFORE: Template = within("column of a table", "not before")
MATERIAL: Template = within("column of a table", "material")
SUPPLIER: Template = within("column of a table", "supplier")
QUANTITY: Template = within("column of a table", "quantity")
UNIT: Template = within("column of a table", "unit")
PACKS: Template = within("column of a table", "packs")
NEEDED: Template = within("column of a table", "needed, waste included")
JOBS: Template = within("column of a table", "for the jobs")
COST: Template = within("column of a table", "cost")
CURRENCY: Template = within("column of a table", "currency")
OVERDUE: Template = within("column of a table", "working days overdue")
DEPOSITS: Template = within("column of a table", "deposits to be paid first")
MATERIAL_ID: Template = within("column of a table", "id of the material")
MADE: Template = within("column of a table", "which plan")
REMARK: Template = within("column of a table", "remark")
STATES: dict[str, Template] = {
    "": "",
    "done": within("how far a step is", "done"),
    "running": within("how far a step is", "running"),
}

# The page.
TODAY: Template = within("day on a page", "Today: {day}")
NEXT: Template = within("day on a page", "Next: {day}")
WHO_DOES_WHAT: Template = within("heading on a page", "Who does what")
PLACES: Template = within("heading on a page", "What is where")
DUE_NONE: Template = within("due on a page", "Nothing is due in the next days.")
CURES_NONE: Template = within("cure on a page", "Nothing cures.")
PLACES_NONE: Template = within("place on a page", "Nothing is worked on.")
CHANGED: Template = within("row on a page", "changed")
IS_DONE: Template = within("row on a page", "done")

# The command.
NOT_GIVEN: Template = "Nothing is given out before that is mended."
BROKEN: Template = counted(
    "count",
    "Nothing is given out: the plan breaks a rule of the book as it is now.",
    "Nothing is given out: the plan breaks rules of the book as it is now {count} times.",
)
WRITTEN: Template = counted("count", "{path} is written.", "{count} files are in {path}.")
WRITTEN_ONE_BY_ONE: Template = counted(
    "count", "{path} is written.", "{count} pictures are written, the first of them {path}."
)
BY_FILE: Template = "By the plan in {path}."
BY_TOLD: Template = "By the plan that people were told."
