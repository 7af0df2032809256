"""Pure edits: each takes a book and gives back a new one, what changed, and a label for undo.

An edit adds one to the revision. It refuses only what can't be meant (NoSuchThing); whether
the new book makes sense is for the findings to say.
"""

from shared.edits.away import mark_away, take_answer
from shared.edits.changes import change_after_yes
from shared.edits.edited import Changed, Edited, Label, NoSuchThing, fresh_id
from shared.edits.enquiries import book_job, let_go, pencil_job
from shared.edits.floor import (
    Ticked,
    mark_done,
    mark_remaining,
    placed_of,
    tell_done,
    tell_held,
    tell_left,
    tell_material,
    tick_as_told,
)
from shared.edits.given import give_segment, give_stage, left_on, seated
from shared.edits.jobs import (
    add_job,
    change_job,
    change_window,
    copy_job,
    move_job,
    remove_job,
)
from shared.edits.journeys import take_legs
from shared.edits.learning import take_factor
from shared.edits.levers import pull, pull_all
from shared.edits.loads import take_load, take_loads
from shared.edits.orders import move_delivery, order_material, take_delivery
from shared.edits.people import (
    add_leave,
    add_person,
    change_person,
    change_workshop,
    remove_person,
    take_plan,
    tell_fact,
)
from shared.edits.redo import NotNow
from shared.edits.repairs import again_from
from shared.edits.rescued import take_others, take_rescued
from shared.edits.routes import copy_route, take_route
from shared.edits.segments import (
    add_segment,
    change_segment,
    copy_segment,
    move_segment,
    remove_segment,
)
from shared.edits.steps import (
    add_step,
    change_step,
    copy_step,
    move_step,
    pin_person,
    pin_step,
    remove_step,
    unpin_person,
)
from shared.edits.told import tell_plan
from shared.edits.windows import add_arrangement, give_notice, move_window, set_arrangement

LABELS = (
    "add_job", "remove_job", "move_job", "change_job", "change_window", "copy_job", "bring_in",
    "add_segment", "change_segment", "move_segment", "remove_segment", "copy_segment",
    "paste_segments", "cut_segment",
    "add_step", "change_step", "move_step", "remove_step", "copy_step",
    "pin", "unpin", "pin_person", "unpin_person", "take_load", "take_loads",
    "add_person", "remove_person", "change_person", "add_leave",
    "change_workshop", "add_fact", "tick_as_told", "take_plan", "tell_plan", "mark_away",
    "take_answer", "take_factor", "give_stage", "give_segment", "take_rescued",
    "take_others",
    "change_after_yes", "again", "take_route", "copy_route", "take_legs",
    "move_window", "add_arrangement", "set_arrangement", "give_notice",
    "pull_lever", "take_way_out",
    "order_material", "move_delivery", "take_delivery",
    "add_people", "change_people", "add_place", "change_place", "remove_place",
    "change_bought", "remove_bought", "change_thing", "remove_thing", "tell_where",
    "book_job", "pencil_job", "let_go",
)  # fmt: skip
"""Every code that a label may have: app's catalogue has words for each."""

__all__ = [
    "LABELS",
    "Changed",
    "Edited",
    "Label",
    "NoSuchThing",
    "NotNow",
    "Ticked",
    "add_arrangement",
    "add_job",
    "add_leave",
    "add_person",
    "add_segment",
    "add_step",
    "again_from",
    "book_job",
    "change_after_yes",
    "change_job",
    "change_person",
    "change_segment",
    "change_step",
    "change_window",
    "change_workshop",
    "copy_job",
    "copy_route",
    "copy_segment",
    "copy_step",
    "fresh_id",
    "give_notice",
    "give_segment",
    "give_stage",
    "left_on",
    "let_go",
    "mark_away",
    "mark_done",
    "mark_remaining",
    "move_delivery",
    "move_job",
    "move_segment",
    "move_step",
    "move_window",
    "order_material",
    "pencil_job",
    "pin_person",
    "pin_step",
    "placed_of",
    "pull",
    "pull_all",
    "remove_job",
    "remove_person",
    "remove_segment",
    "remove_step",
    "seated",
    "set_arrangement",
    "take_answer",
    "take_delivery",
    "take_factor",
    "take_legs",
    "take_load",
    "take_loads",
    "take_others",
    "take_plan",
    "take_rescued",
    "take_route",
    "tell_done",
    "tell_fact",
    "tell_held",
    "tell_left",
    "tell_material",
    "tell_plan",
    "tick_as_told",
    "unpin_person",
]
