"""What is said of tables and calendars that are brought in: what they hold, what can't be taken."""

from collections.abc import Mapping
from typing import TYPE_CHECKING

from app.words.template import Template, counted, within
from app.words.voice import capital

if TYPE_CHECKING:
    from app.words import Words

NOT_BROUGHT: Template = "Nothing is brought in before that is mended."
HOLDS: Template = counted("count", "One row is in {path}.", "{number} rows are in {path}.")
HOLDS_ENTRIES: Template = counted(
    "count", "One entry is in {path}.", "{number} entries are in {path}.", "calendar"
)
COLUMNS: Template = "What the columns are taken for: {columns}. --map FIELD=COLUMN says otherwise."
COLUMN: Template = within("column that is brought in", "{field} = {column}")
UNUSED: Template = "Left aside: {columns}."
ROW: Template = "Row {row}: {cells}."
CELL: Template = within("cell that is brought in", "{field} {value}")
LEFT: Template = counted(
    "count",
    "One of them is in the book already and is left as it is.",
    "{number} of them are in the book already and are left as they are.",
)
NOTHING_NEW: Template = "Nothing in it is new, so the book stays as it is."
BAD: Template = counted(
    "count",
    "One thing can't be taken, so nothing is:",
    "{number} things can't be taken, so nothing is:",
)
STOPS: Template = "The book that comes of it would have findings that stop, so nothing is taken:"
COULD: Template = "Nothing is taken yet: --take takes it."
TAKEN: Template = (
    "It is taken; {path} is saved as revision {revision}. countback undo takes that back."
)
TEMPLATE: Template = "{path} is there, with an example to be typed over."
AT: Template = "Row {row}, column {column} ({field}): {text}"
AT_ROW: Template = "Row {row}: {text}"
AT_NAMES: Template = "The names of the columns: {text}"
AT_ENTRY: Template = "Entry {row}: {text}"

NO_TABLE: dict[str, Template] = {
    "empty": "{path} is empty.",
    "no_rows": "{path} has names of columns and no row under them.",
    "no_workbook": "{path} can't be read as a workbook: {reason}. Save it as XLSX, or as CSV.",
    "broken_text": "{path} can't be read from row {row} on: {reason}. Look for a quotation mark "
    "that has no other.",
    "too_large": "{path} is larger than {most} MB, unpacked.",
    "no_text": "{path} is no text from byte {at} on. Save it as CSV in UTF-8.",
    "no_calendar": "{path} can't be read as a calendar: {reason}. Save it as ICS.",
    "no_entries": "{path} is a calendar without entries.",
    "too_many_cells": "The first sheet of {path} has cells as far as {at}, more than {most} with "
    "the empty ones. Delete what stands beside the table, or save the table alone.",
    "too_many_columns": "{path} has {count} columns, more than {most}. Save only those that are "
    "wanted.",
    "too_many_times": "The entries of {path} come to more than {most} times. Save a shorter part "
    "of the calendar.",
}
TROUBLES: dict[str, Template] = {
    "no_column": "No column is called “{column}”; there are {known}.",
    "column_missing": "No column is there for “{wanted}”; there are {known}. Name it so, or say "
    "which with --map.",
    "no_name": "This cell stands under no name. Name its column, or empty it.",
    "cell_missing": "It is empty, and is needed. Fill it in.",
    "error_cell": "The spreadsheet shows {value} here. Mend what it works out.",
    "too_long": "“{value}” is longer than {most} characters. Shorten it.",
    "not_text": "“{value}” has characters that can't be printed. Type it anew.",
    "not_a_number": "“{value}” is no number. Write it as 12.5.",
    "two_ways": "“{value}” may be thousands or decimals. Write it with two decimals, or without "
    "any mark.",
    "out_of_bounds": "“{value}” is not from {least} to {most}.",
    "not_whole": "“{value}” is no whole number.",
    "not_a_day": "“{value}” is no day. Write it as 2027-04-03.",
    "two_days": "“{value}” may be two days. Write it as 2027-04-03.",
    "not_a_time": "“{value}” is no time of day. Write it as 07:30.",
    "not_a_moment": "“{value}” is no day with a time. Write it as 2027-04-03 07:30.",
    "not_yes_or_no": "“{value}” is neither yes nor no.",
    "not_a_weekday": "“{value}” is no day of the week. Write them as Mon, Wed, Fri.",
    "not_one_of": "“{value}” is none of these: {known}.",
    "unknown_country": "“{value}” is no country. Write its name or its two letters.",
    "ends_first": "{value} lies before its beginning, or is the same.",
    "not_between": "The likely {value} is not between low and high.",
    "no_leg": "{value} has no crossing by ship or train. Write its journey first.",
    "several_legs": "{value} has more than one crossing. Name one in the column leg.",
    "unknown_name": "Nothing in the book is called “{value}”; there are {known}.",
    "several_named": "More than one in the book is called “{value}”. Write its id.",
    "unknown_zone": "“{value}” is no time zone. Write it as Europe/Oslo.",
    "unknown_stage": "{job} has no stage “{value}” there. Write its name or its id.",
    "several_stages": "{job} has more than one stage “{value}”. Name the segment, or write its id.",
    "twice": "“{value}” stands in row {row} already. Leave one of them out.",
    "yet_to_come": "{value} is yet to come. Write down only what has happened.",
    "not_whole_days": "“{value}” has times of day; the workshop is shut for whole days.",
    "broken_entry": "It can't be read ({value}).",
    "entry_without_start": "“{value}” has no beginning.",
    "entry_ends_first": "“{value}” takes no time, or ends before it begins.",
    "entry_out_of_years": "“{value}” is not within the years {first} to {last}.",
    "too_often": "It comes again within a day ({value}). Enter it as whole days, or as one "
    "stretch of hours.",
    "comes_never": "It never comes again, or too seldom to be found ({value}). Enter its days one "
    "by one.",
}


def trouble_line(
    words: "Words", where: tuple[int, str, str], code: str, facts: Mapping[str, str | int]
) -> str:
    """Give the sentence of one thing that can't be taken. where: row, column and name of it."""
    row, column, name = where
    text = words.say(TROUBLES[code], **facts)
    if not column:
        template = AT_NAMES if code in ("no_column", "column_missing") else AT_ROW
        return words.say(template, row=row, text=text)
    return words.say(AT, row=row, column=column, field=name, text=text)


def entry_line(words: "Words", row: int, code: str, facts: Mapping[str, str | int]) -> str:
    """Give the sentence of an entry of a calendar that can't be taken."""
    return words.say(AT_ENTRY, row=row, text=words.say(TROUBLES[code], **facts))


def number_line(words: "Words", template: Template, count: int, **facts: str) -> str:
    """Give a sentence that goes by a count."""
    return capital(words.say(template, count=count, number=words.number_word(count), **facts))
