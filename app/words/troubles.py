"""What went wrong outside the program or in how it was asked, in one sentence each."""

import errno

from app.words.template import Template
from app.words.voice import Voice

SENTENCES: dict[str, Template] = {
    # Files.
    "not_loaded": "{path} could not be read: {reason}.",
    "not_saved": "{path} could not be written: {reason}. What was there is still there.",
    "not_a_file": "{path} is no file.",
    "is_folder": "{path} is a folder; a file is wanted.",
    "not_found": "There is no file {path}.",
    "no_folder": "There is no folder for {path}.",
    "not_allowed": "You may not do that with {path}.",
    "no_space": "There is no room left on the disk for {path}.",
    "exists": "{path} is there already and is left as it is.",
    "job_not_planned": "{job} is not planned: it was pencilled until a day that is past.",
    "not_over_certificate": "{path} is no certificate, so nothing is written over it.",
    "not_over": "{path} holds something else than a plan and is left as it is.",
    "nothing_before": "There is nothing to put back: no {path}.before lies beside {path}.",
    "not_a_book": "{path} can't be taken as a book: see the findings.",
    # The lock.
    "not_locked": "{path} could not be locked against others: {reason}.",
    "not_unlocked": "The lock {path} could not be taken away: {reason}. Take it away by hand.",
    "locked": "{who} on {host} has had {path} since {since}; it is left as it is.",
    "locked_open_it": "{who} on {host} has had {path} since {since} and may be gone. Open it, and "
    "take it over if nobody works on it.",
    "locked_and_left": "{who} on {host} took {path} at {since} and is gone; it is left as it is. "
    "If nobody works on it, say --take-lock as well.",
    "locked_elsewhere": "{who} on {host} has had {path} since {since}; whether that program still "
    "runs can't be known from here. If nobody works on it, say --take-lock as well.",
    "locked_unreadably": "{lock} says that somebody has {path}, and can't be read. "
    "If nobody works on it, say --take-lock as well.",
    "lock_lost": "Somebody else has taken {path} meanwhile; it is left as it is, and what was to "
    "be written is not in it.",
    "changed_outside": "{path} was changed by somebody else meanwhile; it is left as it is, and "
    "what was to be written is not in it.",
    # Usage.
    "no_verb": "Say what to do: {verbs}.",
    "unknown_verb": "“{word}” is nothing that countback can do; it can {verbs}.",
    "missing": "{what} is missing: {usage}",
    "too_many": "“{word}” is one word too many: {usage}",
    "unknown_option": "countback {verb} has no option {word}. See countback {verb} --help.",
    "option_needs": "{option} wants a value: {usage}",
    "bad_number": "“{word}” is no whole number from {least} on, which {option} wants.",
    "bad_instant": "“{word}” is no moment in time; write it as 2027-03-18T07:30.",
    "usage": "That is not how countback is asked: {usage}",
    "unknown_sample": "There is no sample “{word}”; there are {samples}.",
    "unknown_enquiry": "No enquiry is called “{word}”; there are {enquiries}.",
    "no_enquiries": "No enquiry is called “{word}”; the book has none.",
    "several_enquiries": "“{word}” could be {enquiries}: write more of the name, or its id.",
    "not_an_enquiry": "{name} is no enquiry: it is planned in any case.",
    "no_window_here": "The window can't be opened here: {package} is not installed.",
    # Ways of making.
    "unknown_route": "No way of making is called “{word}”; there are {routes}.",
    "unknown_route_option": "“{word}” is no option of {route}; there are {options}.",
    "copy_without_book": "Say into which book it is copied: countback routes BOOK --copy ROUTE",
    "unknown_job": "No job, or more than one, is called “{word}”; there are {jobs}.",
    "legs_without_job": "Say into which job they are written: countback legs BOOK JOB --as NAME",
    "unknown_legs": "No ready-made legs are called “{word}”; there are {legs}.",
    "too_few_pieces": "{job} has too few pieces to share out; {count} at least are wanted.",
    "unknown_segment": "{job} has no segment “{word}”; there are {segments}, or all.",
    "segment_made": "{segment} has its steps already; take them out first.",
    "unknown_place": "There is no place “{word}”; there are {places}.",
    "unknown_kind": "“{word}” is no kind of work; there are {kinds}.",
    "unknown_person": "There is nobody “{word}”; there are {people}.",
    "no_pair": "“{word}” is no WORD=ID, which {option} wants.",
    # Sizes as they are typed.
    "empty_size": "“{typed}” lacks a length at character {at}; write 2.4, 2400mm or 7ft 10in.",
    "not_a_size": "“{word}” in “{typed}”, from character {at} on, is no length; write 2.4 (with a "
    "point), 2400mm, 7ft 10in or 7'10\".",
    "unknown_unit": "“{word}” in “{typed}”, at character {at}, is no unit; there are m, cm, mm, "
    "ft and in.",
    "unit_missing": "“{word}” in “{typed}”, at character {at}, has no unit, and the others have "
    "not all the same one; write m, cm, mm, ft or in behind each.",
    "inches_over": "“{word}” in “{typed}”, at character {at}, is a foot or more; write so many "
    "feet more and less than 12 inches.",
    "no_size": "“{word}” in “{typed}”, at character {at}, is no size; write more than 0.",
    "too_long": "“{word}” in “{typed}”, at character {at}, is more than 100 m; a number alone is "
    "metres, so write mm or cm behind it.",
    "wrong_count": "“{typed}” is not length, width and height; write three lengths as in "
    "2.4x2.1x2.6 or 8ft x 7ft x 8ft 6in.",
    # Cuts.
    "not_a_cut": "“{word}” is no cut; write length, width or height and the places, as in "
    "length=1.2,2.4.",
    "bad_cut": "A cut at {at} m lies outside the piece, or on another: its {axis} is {most} m.",
    "piece_without_size": "{segment} lacks a size; write length, width and height into the book.",
    # Blanks that were filled in.
    "nothing_to_estimate": "Say what to estimate; a job of a book, or --size such as 2.4x2.1x2.6.",
    "like_without_book": "{option} names a past job; say in which book it is.",
    "times_without_like": "--times goes with a past job; name that with --like.",
    "like_without_times": "--like goes with how many times as large; say so with --times 1.5.",
    "blank_missing": "{option} is missing; write {example}.",
    "bad_date": "“{word}” is no day; write it as {example}.",
    "date_over": "“{word}” is over, for it is {today}; write a day to come.",
    "date_too_far": "“{word}” is too far ahead; write a day up to {last}.",
    "unknown_country_like": "“{word}” is no country; write {nearest}, if that was meant.",
    "unknown_country_named": "“{word}” is no country; write its name in English or its two "
    "letters, such as NO.",
    "unknown_assumption": "“{word}” is nothing that is assumed here; there are {known}.",
    "bad_assumption": "“{word}” is no value of {name}; write {wanted}.",
    "what_missing": "Nothing says what is asked for; write what the piece is, in any words.",
    "bad_times": "“{word}” is not how many times as large; write a number such as 1.5, above 0 and "
    "up to {most}.",
    "bad_area": "“{word}” is no area; write square metres such as 24.5, above 0.",
    "bad_count": "“{word}” is no number of pieces; write 1 to {most}.",
    "unknown_detail": "“{word}” is no class of detail; there are {known}.",
    "unknown_finish": "“{word}” is no class of finish; there are {known}.",
    # Loads.
    "no_loads": "There is nothing to take: no pieces could be sprayed at once.",
    "unknown_load": "“{word}” is none of them; there are 1 to {count}, or all.",
    "load_of_one": "One stage alone is no load.",
    "load_other_jobs": "A load is of one job; {step} and what was named beside it are of several.",
    "load_no_stage": "{step} is no stage of work, so it can't be part of a load.",
    "load_unlike": "{other} differs from {step} in more than its piece: they are no load.",
    "load_pinned": "{step} is pinned; a load would lift the pin.",
    "load_same_piece": "{step} and {other} are on the same piece: they are no load.",
    "load_begun": "Something was told of {step}: it is no longer part of a load.",
    "load_in_a_ring": "{step} would come after itself: one of its pieces waits for another.",
    # Answers, changes and repairs.
    "unknown_away": "Nobody and nothing here is called {word}. There are {known}.",
    "away_ends_first": "Who is away from {start} on can't be back by {end}, or that is past.",
    "no_such_answer": "There is no answer number {word}; {count} were found.",
    "plan_of_another": "The plan was made from revision {made} of a book, and this one is revision "
    "{revision} or reads otherwise: plan it again, then tell that plan.",
    "no_such_way": "There is no way out number {word}; {count} were found.",
    "bad_try": "“{word}” is no JOB=START/END, as in owl=2027-03-18T08:00/2027-03-19T17:00.",
    "try_and_out": "A plan that only tries a window is not kept: leave out --out or --try.",
    "unknown_answer": "No answer is called “{word}”; there are {known}.",
    "unknown_stage": "No stage is called “{word}”; there are {known}.",
    "unknown_step": "No step is called “{word}”; there are {known}.",
    "unknown_piece": "No segment is called “{word}”; there are {known}.",
    "not_a_job": "{path} holds no job: it is one job as in a book, with its id and its steps.",
    "job_there": "The book holds a job of the id {job} already: name that one, or give it another.",
    "no_window_held": "{job} holds no window that could move.",
    "several_meant": "“{word}” could be {known}: write the id.",
    "unknown_word_of_answer": "“{word}” is no answer; there are {answers}.",
    "answered": "{step} has its yes: {who} told so on {moment}.",
    "not_yet": "{moment} is yet to come; it is {now}.",
    # The floor.
    "done_or_as_told": "Say which step is done, or of which day all is done as told: countback "
    "done BOOK STEP [--at INSTANT], or countback done BOOK --as-told DATE.",
    "answer_not_done": "{step} is an answer, which is never marked done: write down what was said "
    "with countback answer.",
    "no_hours": "{step} is no work that takes hours: say countback done when it is over, or "
    "countback answer when the answer is there.",
    "done_already": "{step} is marked done {moment}, as {who} told: countback undo takes back what "
    "was told last.",
    "done_by_nobody": "{step} is marked done {moment}: countback undo takes back what was told "
    "last.",
    "done_before_begun": "{step} began {moment}, so it can't have been done before: check --at.",
    "begun_already": "{step} began {moment}, so it was not held up before: say how many hours are "
    "left with countback late.",
    "nothing_told": "Nobody was told a plan, so nothing can be done as told: countback tell makes "
    "a plan the told one.",
    "day_to_come": "{day} is yet to come: tick a day that is over, or today.",
    "bad_hours": "“{word}” is no number of hours still to do: write one above 0 such as 6.5, or "
    "countback done when nothing is left.",
    "nothing_ordered": "Nothing is on order of {material}: name the step whose material came.",
    # Learning.
    "too_few_records": "Of {kind} there are {count} records; {least} at least are wanted before a "
    "factor is offered.",
    "no_record": "Of {kind} nothing is on record.",
    "factor_taken": "The factor of {kind} is taken already, as it is.",
    # What is given out.
    "unknown_what": "“{word}” is nothing that can be given out; there are {known}.",
    "for_a_calendar": "--of goes with a calendar only, not with {word}.",
    "folder_wanted": "{path} is a file; {word} goes into a folder.",
    "other_suffix": "{path} is left as it is: the name of the file has to end in {suffix}.",
    "option_of_others": "{option} goes with {known} only, not with {word}.",
    "no_such_paper": "“{word}” is no paper that is printed on; there are {known}.",
    "letter_to_whom": "A letter goes to the client of one job: say which with --for; there are "
    "{jobs}.",
    "letter_of_enquiry": "{job} is an enquiry: what can be said to its client, countback rush BOOK "
    "{id} says.",
    "nothing_leaves": "Nothing leaves in this plan, so there is no load list.",
    "plan_and_told": "Say --plan or --told, not both.",
    "nobody_told": "Nobody was told a plan yet: countback tell makes a plan the told one.",
    # What is brought in.
    "unknown_table": "“{word}” is nothing that can be brought in; there are {known}.",
    "no_template": "{word} comes from a calendar and has no template; there are {known}.",
    "map_of_a_table": "--map goes with a table only, not with {word}.",
    "leave_of_whom": "Say whose leave it is, with --of.",
    "bad_map": "“{word}” is no FIELD=COLUMN; the fields are {known}.",
    "unknown_feed": "No person, place or job is called “{word}”; there are {known}.",
    "unknown_cause": "“{word}” is no cause; there are {causes}.",
    "bad_share": "“{word}” is no share; {option} wants 1 to 100 per cent.",
    "no_stage": "{step} is no stage of work: name one of the segment's stages.",
    "on_which_segment": "{step} is work on {segments}: say on which with --on.",
    "not_on_segment": "{step} is no work on {segment}.",
    "not_begun": "{step} has not begun, so that nothing of it must be done again.",
    "nothing_begun": "Nothing on {segment} has begun: what changes is only to be carved so.",
    "nothing_again": "From {step} on nothing was done that this calls for again.",
    "no_yes_yet": "{step} has no yes yet: what changes before it is told as an answer.",
    "loaded_already": "{step} of {job} has begun: take back what was told of it first.",
    # The engine.
    "cancelled": "It was called off before it began.",
    "not_json": "A line to the engine is no JSON.",
    "not_an_ask": "A line to the engine lacks {field} or has it wrong.",
    "book_stops": "The book has findings that stop.",
    "wrong_revision": "The book is of revision {found}, not {revision} as the line says.",
    "fault": "The engine itself is at fault.",
    "ended": "The planner stopped unexpectedly.",
    "hung": "The planner no longer answered and was stopped.",
    "no_memory": "The planner ran out of memory.",
    "nonsense": "What the planner answered can’t be read, and it was stopped.",
}
_BY_NUMBER = {
    ("not_loaded", errno.ENOENT): "not_found",
    ("not_loaded", errno.EISDIR): "is_folder",
    ("not_loaded", errno.EACCES): "not_allowed",
    ("not_saved", errno.ENOENT): "no_folder",
    ("not_saved", errno.ENOTDIR): "no_folder",
    ("not_saved", errno.EACCES): "not_allowed",
    ("not_saved", errno.EPERM): "not_allowed",
    ("not_saved", errno.EROFS): "not_allowed",
    ("not_locked", errno.ENOENT): "no_folder",
    ("not_locked", errno.EACCES): "not_allowed",
    ("not_locked", errno.EROFS): "not_allowed",
    ("not_saved", errno.ENOSPC): "no_space",
}
_UNKNOWN: Template = "{path}: {code}."
_FAULT: Template = (
    "Countback itself is at fault, and nothing was written. What happened is in {path}."
)
_FAULT_UNWRITTEN: Template = "Countback itself is at fault, and nothing was written: {what}"
_STOPPED: Template = "Stopped."


def trouble(voice: Voice, code: str, **facts: object) -> str:
    """Give the sentence for a trouble by its code."""
    number = facts.get("number")
    told = _BY_NUMBER.get((code, number), code) if isinstance(number, int) else code
    return voice.say(SENTENCES.get(told, _UNKNOWN), code=code, **facts)


def fault(voice: Voice, note: str, what: str) -> str:
    """Give the sentence for a fault of ours, and where its note lies, if it could be written."""
    if note:
        return voice.say(_FAULT, path=note)
    return voice.say(_FAULT_UNWRITTEN, what=what)


def stopped(voice: Voice) -> str:
    """Give the word for having been stopped by a key."""
    return voice.say(_STOPPED)
