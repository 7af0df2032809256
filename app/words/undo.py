"""What an edit is called where it can be taken back."""

from app.words.template import Template, counted
from app.words.voice import Voice

LABELS: dict[str, Template] = {
    "bring_in": counted("count", "bring in one row", "bring in {count} rows"),
    "add_job": "add the job {name}",
    "remove_job": "remove the job {name}",
    "move_job": "move the job {name}",
    "change_job": "change the job {name}",
    "change_window": "change the window of {name}",
    "copy_job": "copy the job {name}",
    "add_segment": "add the segment {name}",
    "change_segment": "change the segment {name}",
    "move_segment": "move the segment {name}",
    "remove_segment": "remove the segment {name}",
    "cut_segment": counted("count", "cut {name} in one", "cut {name} in {count}"),
    "paste_segments": counted(
        "count", "paste one segment into {name}", "paste {count} segments into {name}"
    ),
    "copy_segment": "copy the segment {name}",
    "add_step": "add the step {name}",
    "change_step": "change the step {name}",
    "move_step": "move the step {name}",
    "remove_step": "remove the step {name}",
    "copy_step": "copy the step {name}",
    "pin": "pin {name}",
    "unpin": "take the pin from {name}",
    "pin_person": "pin {person} to {name}",
    "unpin_person": "take {person} off {name}",
    "take_load": "do {name} on {count} pieces as one load",
    "take_loads": "spray {count} pieces of {name} together",
    "add_person": "add {name}",
    "remove_person": "remove {name}",
    "change_person": "change {name}",
    "add_leave": "write down when {name} is away",
    "change_workshop": "change the workshop {name}",
    "add_fact": "note what happened to {name}",
    "tick_as_told": counted(
        "count", "tick {day} as told: one piece of work", "tick {day} as told: {count} pieces"
    ),
    "take_factor": "take the factor for {kind} from {count} records",
    "take_plan": "take over the plan",
    "mark_away": "write down when {name} is away",
    "take_answer": "take an answer to {name} being away",
    "give_stage": "give {name} to {people}",
    "give_segment": "give all that is left of {name} to {people}",
    "tell_plan": "tell people sheet number {number}",
    "change_after_yes": "mark what changes on {name} after the yes",
    "again": "do {name} on {segment} again",
    "take_route": "write the way of making “{route}” into {name}",
    "copy_route": "copy the way of making “{name}” into the book",
    "take_legs": "write the legs “{legs}” into {name}",
    "move_window": "move the window of {name}",
    "add_arrangement": "write down {what} to be arranged for {name}",
    "set_arrangement": "set how far {what} is arranged for {name}",
    "give_notice": "write down when {what} was given for {name}",
    "pull_lever": "take a way out",
    "take_way_out": "take a way out of {count} changes",
    "order_material": "order {name}",
    "move_delivery": "write down when {name} comes",
    "take_delivery": "note that {name} has come",
    "add_people": counted("count", "add one person", "add {count} people"),
    "change_people": "change what people can do: {name}",
    "add_place": "add the place {name}",
    "change_place": "change the place {name}",
    "remove_place": "remove the place {name}",
    "change_bought": "change {name}, which is bought",
    "remove_bought": "remove {name}, which is bought",
    "change_thing": "change {name} among tools and vehicles",
    "remove_thing": "remove {name} from tools and vehicles",
    "tell_where": "note that {name} has reached {step}",
    "book_job": "book {name}",
    "pencil_job": "pencil {name}",
    "let_go": "let {name} go",
    "take_others": "take what somebody else saved of {name}",
    "take_rescued": "take what was kept of {name}",
}
_UNKNOWN: Template = "change the book"


def undo_label(voice: Voice, code: str, **facts: object) -> str:
    """Give the label of an edit, to stand behind "Undo" or "Redo"."""
    return voice.say(LABELS.get(code, _UNKNOWN), **facts)
