"""What only the command line says."""

from app.words.template import Template, counted, within

# Findings.
STOPS: Template = within("finding", "stops")
TELLS: Template = within("finding", "tells")
NO_FINDINGS: Template = "Nothing to mend."
FINDINGS: Template = counted("count", "{count} finding: {stops}.", "{count} findings: {stops}.")
STOPPING: Template = counted("count", "{count} stops", "{count} stop")
NOTHING_STOPS: Template = "none stops"
IN: Template = "{path} ({name})"
NOT_PLANNED: Template = "Nothing is planned before that is mended."
NOT_CHECKED: Template = "Nothing is checked before that is mended."
NOT_UNDONE: Template = "Nothing is put back before that is mended."

# Plan.
AS_OF_BOOK: Template = "As of {moment}, which the book itself names."
AS_OF: Template = "As of {moment}."
JOB: Template = within("column", "Job")
VERDICT: Template = within("column", "Verdict")
TO_SPARE: Template = within("column", "To spare")
WINDOW: Template = within("column", "Window")
LATEST_START: Template = within("column", "Latest start")
LATEST_ANSWER: Template = within("column", "Latest answer")
START_LOADING_BY: Template = within("column", "Start loading by")
LOADED_BY: Template = "{start}, loaded by {end}"
LOADED_BY_ALONE: Template = "loaded by {end}"
ANSWERED_BY: Template = "The answer is that of {who}."
PLANNED: Template = "Planned in {seconds} s from revision {revision}."
TRIED_WINDOW: Template = "Tried with {job} in the window {window}; the book stays as it is."
KEPT: Template = "The plan is kept in {path}."
PLANNING: Template = counted(
    "left", "Planning, {left} second left.", "Planning, {left} seconds left."
)
PLANNING_WITH: Template = counted(
    "missed",
    "Planning, {left} s left. Best so far: {n} window missed.",
    "Planning, {left} s left. Best so far: {n} windows missed.",
)
PLANNING_GAINED: Template = "{said} Last gained: {gained}."
CALLED_OFF: Template = "Called off: this is the best so far."

# Check.
SOUND: Template = "Sound: the plan keeps every rule."
NOT_SOUND: Template = "Not called sound: nothing is broken, but not judged yet: {list}."
BROKEN: Template = counted(
    "count", "Broken: the plan breaks {count} rule.", "Broken: the plan breaks rules {count} times."
)
NOT_JUDGED: Template = "Not judged yet: {list}."
OTHER_REVISION: Template = (
    "The plan was made from revision {made}; it is held against revision {book}."
)
OTHER_BOOK: Template = "The plan was made from the same revision of a book that reads otherwise."
LEFT_OUT: Template = "Not in the plan: {step}. {reason}"

# Sample and undo.
SAMPLE_PUT: Template = "{path} is there. Next: countback plan {path}"
UNDONE: Template = "{path} is as it was before it was last saved, as revision {revision}."
