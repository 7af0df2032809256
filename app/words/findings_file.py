"""Findings of the reader: what can't be understood in a file, and how to mend it."""

from app.words.template import Template, counted, within

SENTENCES: dict[str, tuple[Template, Template]] = {
    "too_big": (
        "The file is larger than {limit_megabytes} MB.",
        "A book is far smaller: check that this is one.",
    ),
    "not_utf8": (
        "The file is no text in UTF-8: byte {byte} fits no character.",
        "Save it as UTF-8, or open the book from before.",
    ),
    "not_json": (
        "The file breaks off or is no JSON, at line {line}, column {column}.",
        "Look at that line: a comma, a bracket or a quotation mark is missing or too many.",
    ),
    "too_deep": (
        "Parts lie inside parts more than {limit} deep.",
        "No book needs that: take the innermost parts out.",
    ),
    "not_countback": (
        "The file doesn't say that it is a {wanted} of Countback.",
        'Its first field must be "countback", with its kind and its format.',
    ),
    "wrong_kind": (
        "The file is a {kind}, and a {wanted} is wanted here.",
        "Name the other file.",
    ),
    "bad_format": (
        "{value} is no number of a file format.",
        "Write a whole number from 1 on.",
    ),
    "newer_format": (
        "The file is of format {format}; this version knows formats up to {known}.",
        "Open it with a newer version of Countback.",
    ),
    "locked": (
        "{who} on {host} has had the book since {since}.",
        "Wait until they are done, or open it to read only.",
    ),
    "more_findings": (
        counted(
            "count",
            "There is {count} more finding that is not listed.",
            "There are {count} more findings that are not listed.",
        ),
        "Mend the first ones and look again.",
    ),
    "doubled_field": (
        "{field} stands here twice.",
        "Take one of the two away.",
    ),
    "missing_field": (
        "{field} is missing.",
        "Write it down; nothing can be guessed for it.",
    ),
    "unknown_field": (
        "{field} is no field that this version knows. It is kept as it is and not used.",
        "If {nearest} was meant, write that.",
    ),
    "wrong_type": (
        "{value} is {found}; {wanted} is wanted here.",
        "Write {wanted}.",
    ),
    "broken_text": (
        "The text {value} holds half of a character.",
        "Write the text again.",
    ),
    "unknown_word": (
        "{word} is none of the words that can stand here.",
        "Write one of: {known}.",
    ),
    "not_a_number": (
        "{value} is no number.",
        "Write a number in figures, or leave the field out.",
    ),
    "not_whole": (
        "{value} is not a whole number.",
        "Write a whole number without a point.",
    ),
    "number_too_large": (
        "{value} is too large a number; its size must stay below {limit}.",
        "Check the unit and the zeros.",
    ),
    "number_too_fine": (
        "{value} has more than {limit} decimals.",
        "Round it.",
    ),
    "bad_date": (
        "{value} is no date of the calendar.",
        "Write year, month and day, as in 2027-03-18.",
    ),
    "bad_time": (
        "{value} is no time of day.",
        "Write hours and minutes, as in 07:30.",
    ),
    "bad_instant": (
        "{value} is no moment in time.",
        "Write date, time and distance from UTC, as in 2027-03-18T07:00+00:00.",
    ),
    "instant_without_offset": (
        "{value} doesn't say how far its clock is from UTC.",
        "Add it at the end, as in +00:00, or Z for UTC itself.",
    ),
    "year_out_of_range": (
        "The year in {value} is not from {first} to {last}.",
        "Check the year.",
    ),
    "break_without_length": (
        "The break ends when it starts.",
        "Write when it ends, or take it out.",
    ),
    "not_allowed": (
        "The values of this part don't go together.",
        "Look at each of its fields.",
    ),
}

OF_NO_NEAREST: dict[str, Template] = {
    "unknown_field": "If it is not yours, take it out.",
}
"""The cure where nothing known is like what was written."""

WITH_NEAREST: dict[str, Template] = {
    "unknown_word": "If {nearest} was meant, write that; possible are {known}.",
}
"""The cure where something known is like what was written."""

SORTS: dict[str, Template] = {
    "nothing": within("sort of value", "nothing"),
    "truth": within("sort of value", "true or false"),
    "number": within("sort of value", "a number"),
    "whole_number": within("sort of value", "a whole number"),
    "text": within("sort of value", "a text"),
    "word": within("sort of value", "a word"),
    "list": within("sort of value", "a list"),
    "object": within("sort of value", "an object"),
    "date": within("sort of value", "a date"),
    "time": within("sort of value", "a time of day"),
    "instant": within("sort of value", "a moment in time"),
    "book": within("sort of file", "book"),
    "plan": within("sort of file", "plan"),
}
"""What `wanted`, `found` and `kind` can be."""
