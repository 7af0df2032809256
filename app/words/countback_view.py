"""What only the view of one job says: ladder, strands, piece, openings, chain, ways out."""

from app.words.template import Template, counted, within
from shared.book import LegKind

NO_JOB: Template = "No job to count back yet. N writes one."
COUNTING_BACK: Template = "Counting back"
DAYS_LEFT: Template = within("column", "days left")
WHAT: Template = within("column", "what")
AT_THE_LATEST: Template = within("column", "at the latest")
PLANNED: Template = within("column", "planned")
TO_SPARE: Template = within("column", "to spare")

TODAY: Template = within("ladder", "today")
WINDOW_OPENS: Template = "window opens"
LEAVE: Template = "leave the yard"
LOADING: Template = "start loading by"
ANSWER: Template = "the answer"
PICTURES: Template = "pictures go out"
ALL_SEGMENTS: Template = "all segments"
IN_ONE_GO: Template = within("stage", "in one go")
LEGS: dict[LegKind, Template] = {
    LegKind.LIFT: "piece on the hook",
    LegKind.SIGN_OFF: within("ladder", "sign off"),
    LegKind.SAILING: within("ladder", "sailing"),
}
LEFT_COUNT: Template = counted("count", "{number} working day left.", "{number} working days left.")
LATEST_AT: Template = "At the latest {moment}."
PLANNED_AT: Template = "Planned {moment}."
TOO_LATE: Template = "{late} too late."

STRANDS: Template = "Planned and latest"
CAPTION: Template = (
    "Upper strand: as planned, as thick as the people at work. Lower strand: the latest it may "
    "be, everybody else’s work left aside. The step between the two is to spare."
)
LATEST_OF: Template = "{stage} at the latest {span}."
WORKING_DAYS_LEFT: tuple[Template, Template] = (
    within("axis, first line", "working"),
    within("axis, second line", "days left"),
)
DO_NEXT_JOB: Template = "next job"
DO_WHY: Template = "why, and ways out"
DO_BACK: Template = "counting back"
DO_ANOTHER_DATE: Template = "another date"
PLANNED_IN_LINE: Template = within("ladder", "planned {moment}")

JOURNEY: Template = "The last days, hour by hour"
SITE_TIME: Template = "by the clock of {site}; nights shaded"
STANDS_LOADED: Template = "stands loaded, {hours}"
FROM_TO: Template = within("hours", "{start} to {end}")
NO_JOURNEY: Template = "No journey is planned for it yet."
