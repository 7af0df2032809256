"""What `--help` says of what goes to other programs and comes from them."""

from app.words.template import Template

FILE_VERBS: dict[str, Template] = {
    "give": """\
countback give BOOK WHAT OUT [--of NAME] [--for JOB] [--paper A3|A4] [--plan PLAN] [--told]
                    [--bom] [--now INSTANT] [--seconds N] [--workers N] [--json]

Writes a plan out for other programs, screens and phones. WHAT is one of:

  calendar    iCalendar files (RFC 5545), one for each person, place and job, into the folder
              OUT; with --of only one, as the file OUT.ics
  workbook    plan, hours and orders as sheets of the file OUT.xlsx
  tables      the same as comma-separated text (RFC 4180) in UTF-8, into the folder OUT
  page        today and the next working day as one page OUT.html, which needs no network
  board       the week on A3: people down, days across, to be read from two metres
  wall        the wall, or with --for one job's piece of it
  letter      with --for: the dates that the client of a job keeps, and what late days ate
  loads       for each journey what goes on which vehicle in which order, and by when
  owner       how the windows stand, what is in danger, what this week asks for, on one page

The last five are paper: OUT.pdf, or pictures of it as OUT.svg or OUT.png, then OUT-2.svg and so on.

Every plan is held against the book first; one that breaks a rule is not given out. One that the
book has outgrown says so in every file. It goes by the plan that the book holds, if that was made
from the book as it stands, else by a new one. Why somebody is away stands in no file. The book is
only read; what was at OUT is written over.

  --of NAME        the calendar of this person, place or job alone, by id or name
  --for JOB        wall, letter and loads of this job alone, by id or name
  --paper SIZE     the wall on A3 or A4; A3 if not said
  --plan PLAN      by the plan in this file
  --told           by the plan that people were last told
  --bom            tables begin with the mark by which spreadsheets know UTF-8
  --now INSTANT    as of this moment; else the book's own, else the clock's
  --seconds N      plan so long at most, where a plan is needed; 3 if not said
  --workers N      plan with so many threads; 2 if not said
  --json           say it once more, as one JSON object on the last line

It ends with 4 where the plan breaks a rule.
""",
    "bring": """\
countback bring BOOK KIND FILE [--map FIELD=COLUMN] [--of NAME] [--take] [--template]
                    [--now INSTANT] [--json]

Brings tables of other programs (CSV or XLSX, the first sheet) or a calendar (ICS) into a book. It
says what each column is taken for, shows the first rows, and names everything that can't be taken
with its row and column. Nothing is written before --take, and never a part: one bad row, and the
book stays as it is. What is in the book already is left as it is. KIND is one of:

  jobs          commissions with client, country and window, by the clock of that country
  stages        work on segments of jobs, in order, before the loading; without low and high the
                likely hours stand for them too
  people        who is there, what they can do and help with
  timetables    departures that recur, for the crossing of a job's journey
  hours         when stages were begun and done, and by whom
  leave         entries of a calendar when --of NAME is away; what they are called is not read
  closures      whole days of a calendar on which the workshop is shut

  --map FIELD=COLUMN   this column, by name or letter, holds that; may be said more than once
  --of NAME        whose leave it is
  --take           take it; countback undo takes that back
  --template       write FILE as an empty table of that kind, with one row as an example
  --now INSTANT    as of this moment; else the book's own, else the clock's
  --json           say it once more, as one JSON object on the last line

It ends with 2 where anything can't be taken.
""",
}
