"""What `--help` says of what goes to other programs and comes from them."""

from app.words.template import Template

FILE_VERBS: dict[str, Template] = {
    "give": """\
countback give BOOK WHAT OUT [--of NAME] [--plan PLAN] [--told] [--bom] [--now INSTANT]
                    [--seconds N] [--workers N] [--json]

Writes a plan out for other programs, screens and phones. WHAT is one of:

  calendar    iCalendar files (RFC 5545), one for each person, place and job, into the folder
              OUT; with --of only one, as the file OUT.ics
  workbook    plan, hours and orders as sheets of the file OUT.xlsx
  tables      the same as comma-separated text (RFC 4180) in UTF-8, into the folder OUT
  page        today and the next working day as one page OUT.html, which needs no network

Every plan is held against the book first; one that breaks a rule is not given out. One that the
book has outgrown says so in every file. It goes by the plan that the book holds, if that was made
from the book as it stands, else by a new one. Why somebody is away stands in no file. The book is
only read; what was at OUT is written over.

  --of NAME        the calendar of this person, place or job alone, by id or name
  --plan PLAN      by the plan in this file
  --told           by the plan that people were last told
  --bom            tables begin with the mark by which spreadsheets know UTF-8
  --now INSTANT    as of this moment; else the book's own, else the clock's
  --seconds N      plan so long at most, where a plan is needed; 3 if not said
  --workers N      plan with so many threads; 2 if not said
  --json           say it once more, as one JSON object on the last line

It ends with 4 where the plan breaks a rule.
""",
}
