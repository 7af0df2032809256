"""What an edit is called where it can be taken back."""

from app.words.template import Template
from app.words.voice import Voice

LABELS: dict[str, Template] = {
    "add_job": "add the job {name}",
    "remove_job": "remove the job {name}",
    "change_job": "change the job {name}",
    "copy_job": "copy the job {name}",
    "move_job": "move the job {name}",
    "take_enquiry": "take the enquiry {name}",
    "add_segment": "add the segment {name}",
    "remove_segment": "remove the segment {name}",
    "change_segment": "change the segment {name}",
    "copy_segment": "copy the segment {name}",
    "move_segment": "move the segment {name}",
    "add_step": "add the step {name}",
    "remove_step": "remove the step {name}",
    "change_step": "change the step {name}",
    "copy_step": "copy the step {name}",
    "move_step": "move the step {name}",
    "add_cure": "add a cure to {name}",
    "remove_cure": "remove the cure of {name}",
    "pin_person": "pin {person} to {name}",
    "unpin_person": "take {person} off {name}",
    "pin": "pin {name}",
    "unpin": "take the pin from {name}",
    "change_workshop": "change the workshop",
    "change_person": "change {name}",
    "add_fact": "note what happened to {name}",
    "remove_fact": "take back what was noted of {name}",
    "take_plan": "take over the plan",
    "tell_plan": "give out the sheets",
}
_UNKNOWN: Template = "change the book"


def undo_label(voice: Voice, code: str, **facts: object) -> str:
    """Give the label of an edit, to stand behind "Undo" or "Redo"."""
    return voice.say(LABELS.get(code, _UNKNOWN), **facts)
