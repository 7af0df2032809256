"""Ways of making in words: which there are, what is in one, and what was written from one."""

from app.words.template import Template, counted, within

BROUGHT: Template = within("way of making", "the program’s")
OWN: Template = within("way of making", "the book’s own")
LINE: Template = "{id}: {name} ({whose})"
STEPS: Template = "Steps: {steps}."
OPTIONS: Template = "Options: {options}."
STEP: Template = "{name}: {told}"
STEP_WITH: Template = "{name} ({when}): {told}"
ONLY_IF: Template = "with {options}"
UNLESS: Template = "without {options}"
BOTH: Template = "{only_if}, {unless}"
HOURS: Template = "{hours} h"
HOURS_PER: Template = "{hours} h a {measure}"
HOURS_AND_PER: Template = "{fixed} h and {hours} h a {measure}"
CURE: Template = "then {hours} h"
CURE_AT: Template = "then {hours} h at {celsius} °C"
RECOAT: Template = "at most {hours} h to the next"
FROM_FIGURES: Template = "from {figures}"
FIGURES: Template = "Figures:"
FIGURE: Template = "{id}: {name}, {value} {unit}. {source}."
RANGE: Template = "{value} ({low} to {high})"
RANGE_ALONE: Template = "{low} to {high}"
NOTHING: Template = "nothing that takes hours"
COPIED: Template = (
    "The book has a copy of “{name}” as {id}, to be changed there; {path} is saved as revision "
    "{revision}. countback undo takes that back."
)
MADE: Template = counted(
    "count",
    "{job}: {count} step of “{route}” is written for {segments}; {path} is saved as revision "
    "{revision}. countback undo takes that back.",
    "{job}: {count} steps of “{route}” are written for {segments}; {path} is saved as revision "
    "{revision}. countback undo takes that back.",
)
LEFT_OUT: Template = (
    "The workshop has nothing that is called {words}. Say what it is called with --as WORD=ID, "
    "or add it; equipment of that name is left out, skills and certificates are asked for all "
    "the same."
)
NOT_WRITTEN: Template = "Nothing is written before that is mended."
MEASURES: dict[str, Template] = {
    "m3": within("measure", "m³"),
    "m2": within("measure", "m²"),
    "m": within("measure", "m of joint"),
    "piece": within("measure", "piece"),
}
