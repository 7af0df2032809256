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
SITE_TIME: Template = "by the clock of {site}; nights and rests shaded"
SITE_TIME_ZONE: Template = "by the clock of {site}, {place} time; nights and rests shaded"
DAY_OF: Template = within("somebody’s day", "a day of {hours}")
LONG_DAY_OF: Template = within("somebody’s day", "a day of {hours}, more than 13")
REST_OF: Template = within("between two days", "{hours} of rest")
KEPT_TIMES: Template = counted("chance", "kept once in 100", "kept {chance} times in 100")
KEPT_TIMES_USUAL: Template = counted(
    "chance",
    "kept once in 100, {usual} if hours turn out longer as usual",
    "kept {chance} times in 100, {usual} if hours turn out longer as usual",
)
STANDS_LOADED: Template = "stands loaded, {hours}"
FROM_TO: Template = within("hours", "{start} to {end}")
NO_JOURNEY: Template = "No journey is planned for it yet."

CHAIN_TITLE: Template = "The chain that decides the date"
CHAIN_NOTE: Template = (
    "each piece starts when the one before lets it go; everything off this chain can wait"
)
DAYS_TITLE: Template = "Where the {total} go"
STEP_OF: Template = "{step}, {job}"
SOONER: Template = within("worth", "without it {sooner} sooner")
NO_SOONER: Template = within("worth", "without it no sooner")
ASKING_WHY: Template = "Looking for what decides it."
NO_WHY: Template = "It could not be planned, so nothing can be said of what decides it."
WAYS_TITLE: Template = "Ways out, cheapest first"
KEEPS: Template = "No way out is needed: its window is kept."
WAYS_LOOKING: Template = "Looking for ways out. What is found stands here as it comes."
WAY_TRIED: Template = "tried on the wall"
WAY_TRYING: Template = "way out {number} for {job}"
MONEY_HIDDEN: Template = within("price", "hidden")
NOT_ENOUGH: Template = within("way out", "not enough alone")

SHEET_WINDOW: Template = "{job} with its window from {start}"
WINDOW_TRYING: Template = "Planning with that window."
WINDOW_START: Template = within("field", "the site is ours from")
WINDOW_END: Template = within("field", "to")
MUST_AGREE: Template = within("way out", "{who} must agree.")

SEGMENTS: Template = "Segments"
AS_MOVED: Template = "as moved, m; kg on the hook"
WILL_IT_PASS: Template = "Will it pass?"
FIGURE: Template = "1.7 m"
NO_SIZE: Template = within("size", "no size is written")
WEIGH_IT: Template = within("mass", "weigh it")
PASS_WELL: Template = "{segment} {turn}, {mm} mm"
PASS_UNMEASURED: Template = "{segment} {turn}, {mm} mm; opening not measured"
PASS_CLOSE: Template = "{segment} {turn}, {mm}: measure it"
PASS_TOO_BIG: Template = "{segment}: {mm} mm too big"
PASS_NOTICE: Template = "{segment}: with notice"
NOTHING_TO_PASS: Template = "No opening and no vehicle is written."
CRANE: Template = within("opening", "crane")
LIFT_BY_PLAN: Template = "{kg} kg: by the lift plan"
LIFT_UNKNOWN: Template = "weigh it; by the lift plan"
PIECE: Template = "The piece"
PICTURE: Template = "A picture of the piece. Del takes it away."
DROP_PICTURE: Template = (
    "Drop a drawing or a picture here, or paste it. An SVG with one path for each segment, called "
    "like it, shows how far each is."
)
SEGMENT_BOX: Template = "{segment}, {size} m, {reached}"
REACHED: Template = "{kind} done"
NOT_BEGUN: Template = within("segment", "nothing done yet")
BY_ITS_CLOCK: Template = "{site}, by its own clock"
ORDER: Template = "order {what}"
HERE_BY: Template = "here by {day}"

NO_DRAWING: dict[str, Template] = {
    "too_large": "The drawing is not taken: it is larger than two million characters.",
    "not_svg": "The drawing is not taken: it is no SVG.",
    "no_path": "The drawing is not taken: none of its paths is called like a segment.",
    "bad_path": "The drawing is not taken: what it has at “{name}” can’t be read.",
    "not_read": "The drawing is not taken: the file can’t be read.",
}
CHEAPEST: Template = "Cheapest way out"
LANDS: Template = within("column", "loaded, and by when")
