"""What `--help` says."""

from app.words.help_files import FILE_VERBS
from app.words.help_floor import FLOOR_VERBS
from app.words.template import Template

OVERVIEW: Template = """\
countback counts a workshop's jobs back from their windows: what must start, be answered
and be loaded by when, and whether every window holds.

  countback plan BOOK         plan a book and say of each job whether its window holds
  countback check BOOK PLAN   hold a plan against a book, rule by rule
  countback findings BOOK     all that a book contradicts itself in, at once
  countback loads BOOK        pieces that could be sprayed at once, and what that saves
  countback orders BOOK       what to order by when, how much of it, from whom and for which jobs
  countback through BOOK [JOB]    what each piece must pass on its way, what decides, and the loads
  countback split BOOK SEGMENT    the fewest cuts with which a piece passes, and what they add
  countback cautions BOOK [STEP]       what to mind in a step, or in all, and who says so
  countback ask WHAT          a first answer from size, date and country: by when what must happen
  countback estimate [BOOK [JOB]]      hours and material of a job, of a size, or like a past job
  countback routes [BOOK]     ways of making: those that the program brings, and the book's own
  countback deliver BOOK [JOB]         a delivery counted back from its window, leg by leg
  countback legs [BOOK JOB]   ready-made legs of a journey, and one of them written into a job
  countback make BOOK JOB SEGMENT...   write a way of making into a job
  countback answer BOOK GATE ANSWER    write down what was said to the pictures: yes, changes or no
  countback done BOOK STEP    a step is over; --as-told DATE: all work of a day as the sheet has it
  countback late BOOK STEP HOURS       so many person-hours are still to do
  countback held BOOK STEP    a step has not begun, whatever the sheet says
  countback came BOOK WHAT    a delivery has come, or all that a step takes is there
  countback learn BOOK        recorded hours against estimates, by kind of work
  countback change BOOK SEGMENT        what changes after the yes, tried before it is taken
  countback move BOOK JOB START END    a window moved, with dates, calls and costs, tried first
  countback again BOOK STEP            repairs from a stage on, tried before they are taken
  countback levers BOOK JOB   the cheapest ways to let a job that misses keep its window
  countback why BOOK JOB      what decides when a job is loaded, what its days are spent on
  countback away BOOK WHO FROM TO      who or what is missing, and the best answers to it
  countback chance BOOK       how often each job would be in time, and what carries the risk
  countback rush BOOK ENQUIRY whether an enquiry can be taken, what it costs, what to promise
  countback morning BOOK      who does what today, what is in danger, and whom to ask to come in
  countback tell BOOK PLAN    make a plan the told one: later plans list their changes against it
  countback give BOOK WHAT OUT         calendars, tables, a page, paper from a checked plan
  countback bring BOOK KIND FILE       tables and calendars of others, looked at first
  countback sample NAME DIR   put a sample book there: small, tight, full, impossible, one for
                              a way of making, or crossing
  countback undo BOOK         put back the book as it was before it was last saved
  countback open [BOOK]       the window with the wall
  countback engine            the engine for other programs, JSON lines in and out

  --now INSTANT               speak as of this moment, as in 2027-03-18T07:30 (every verb)
  --take-lock                 write although somebody has the book who is gone, on your word
                              (every verb that writes a book)
  --help                      after a verb: more about it
  --version                   which version this is

It ends with 0 when every window holds, 2 when the book or the command can't be taken,
3 when some window doesn't hold, 4 when a plan doesn't stand up to the check, 1 when
Countback itself is at fault.
"""

VERBS: dict[str, Template] = {
    "plan": """\
countback plan BOOK [--now INSTANT] [--seconds N] [--workers N] [--seed N]
                    [--with ENQUIRY] [--try JOB=START/END] [--out PLAN] [--json] [--quiet]

Plans the book and says of each job whether its window holds, by when it must start, be
answered and be loaded, and how much is to spare. The book is only read.

  --now INSTANT    plan as of this moment; else the book's own, else the clock's. Without a
                   distance from UTC it is by the workshop's clock
  --seconds N      take so long at most; 3 if not said
  --workers N      work with so many threads; 2 if not said
  --seed N         another number may find another plan of the same worth; 1 if not said
  --with ENQUIRY   plan this enquiry too, by its id or the beginning of its name; may be
                   said more than once
  --try JOB=START/END   plan as if the job had that window, as in
                   owl=2027-03-18T08:00/2027-03-19T17:00; may be said more than once
  --out PLAN       keep the plan in this file, for countback check
  --json           say it once more, as one JSON object on the last line
  --quiet          only the sentence about the whole book, and no progress

Ctrl-C ends the search and gives the best plan so far.
""",
    "check": """\
countback check BOOK PLAN [--now INSTANT] [--json]

Replays a plan against a book, by code that shares nothing with the planning, and names
every rule that it breaks. A missed window is no broken rule. A certificate that countback why
kept takes the place of PLAN as well: its proof is followed step by step.

  --now INSTANT    judge as of this moment; else as of the plan's own
  --json           say it once more, as one JSON object on the last line
""",
    "findings": """\
countback findings BOOK [--now INSTANT] [--json]

Says all that is wrong in a book, at once: where, what, and the cure. What stops must be
mended before anything is planned; what only tells deserves a look.

  --now INSTANT    taken, and changes nothing here
  --json           say it once more, as one JSON object on the last line
""",
    "loads": """\
countback loads BOOK [--take N] [--pieces N] [--now INSTANT] [--json]

Lists pieces of a job that could be sprayed at once, coat by coat: coats alike in kind and
product, none waiting for another, within the area of the booth, the number of pieces and a
shift. Says what that saves in the booth, and in the plan by itself. Nothing is written
before something is taken.

  --take N         do so with those of that number, or all; may be said more than once.
                   The book is written; countback undo takes all of it back
  --pieces N       so many in one load at most; else by area and slots of the booth, and a
                   usual few where it has neither. With --take as when it was listed
  --now INSTANT    plan as of this moment; else the book's own, else the clock's
  --json           say it once more, as one JSON object on the last line
""",
    "orders": """\
countback orders BOOK [--now INSTANT] [--seconds N] [--workers N] [--json]

Lists what the jobs in the plan need and what is neither there nor on order: by the day on
which it must be ordered, whole packs with what is wasted, joined over jobs; not so early that
it grows too old, and early enough for the age of foam under a hard coat. It goes by the plan
that the book holds, if that was made from the book as it stands, else by a new one. The book
is only read.

  --now INSTANT    as of this moment; else the book's own, else the clock's
  --seconds N      plan so long at most, where a plan is needed; 3 if not said
  --workers N      plan with so many threads; 2 if not said
  --json           say it once more, as one JSON object on the last line
""",
    "through": """\
countback through BOOK [JOB] [--size SIZE] [--now INSTANT] [--json]

Says of each piece of a job, or of all jobs, whether it passes the openings of the workshop, its
vehicle and door, road and ferry, and the openings of the site, wrapped and on skates, every way
round that it may be turned: what decides, and how much is to spare. Then the trips of its
vehicles, in which order they are loaded (the book names first what is needed first at the site),
and what goes along. The book is only read.

  --size SIZE      judge a piece of this size instead: length x width x height as in
                   2.4x2.1x2.6, 2400x2100x2600mm or "8ft x 7ft x 8ft 6in"
  --now INSTANT    taken, and changes nothing here
  --json           say it once more, as one JSON object on the last line

It ends with 3 where a piece is too big for something that was measured.
""",
    "split": """\
countback split BOOK SEGMENT [--cut SIDE=PLACES] [--now INSTANT] [--json]

Says with how few straight cuts the parts of a piece pass everything on their way, which limit
decides, and how many person-hours flanges and joints add. The book is only read.

  --cut SIDE=PLACES
                   judge these cuts instead: side is length, width or height, places are lengths
                   from one end, as in length=1.2,2.4; may be said more than once
  --now INSTANT    taken, and changes nothing here
  --json           say it once more, as one JSON object on the last line

It ends with 3 where no cut helps, or a part is too big.
""",
    "cautions": """\
countback cautions BOOK [STEP] [--now INSTANT] [--json]

Says what to mind in a step: by what is done in it, its materials, the legs of a journey, the
height of the piece and what it is for. Without a step each caution once, with the names of
the steps it goes with. It names where each is from. What local codes, the product's data
sheet and licensed people say comes before all of it.

  --now INSTANT    taken, and changes nothing here
  --json           say it once more, as one JSON object on the last line
""",
    "ask": """\
countback ask WHAT --size LxWxH --by DATE --country COUNTRY [--like JOB --times N]
              [--book BOOK] [--out BOOK] [--assume LINE] [--now INSTANT] [--seconds N]
              [--workers N] [--json] [--quiet]

A first answer: by when to start, to order, to have the answer and to be loaded, and whether
it can stand by that day. Without a book a small workshop is assumed, in one line that can be
typed again. With one, the piece is planned beside its jobs as an enquiry, and what it takes
from them is said. The book is only read.

  --size LxWxH     length, width and height of the whole, as 2.4x2.1x2.6 or 8ft x 7ft x 8ft 6in
  --by DATE        the last day on which it may be put up, as 2027-05-11
  --country NAME   where site and client are: a name in English, or two letters
  --like JOB       with the hours of that past job of the book,
  --times N        its lengths so many times as large
  --book BOOK      beside the jobs of this book
  --out BOOK       keep the book that was assumed, or the book with the enquiry, in a new file
  --assume LINE    of workshop and client, such as people=4,vans=0,answer_days=5,home=GB
  --now INSTANT    as of this moment; else the book's own, else the clock's
  --seconds N      plan for so long at most each time; less than 1 if not said
  --workers N      plan with so many threads; 2 if not said
  --json           say it once more, as one JSON object on the last line
  --quiet          only the verdict, and no progress

As for countback estimate: --surface, --pieces, --detail, --finish, --route, --option. As for
countback make, with a book: --as, --in, --crew.
""",
    "estimate": """\
countback estimate [BOOK [JOB]] [--size LxWxH] [--surface M2] [--pieces N] [--detail CLASS]
                   [--finish CLASS] [--route ROUTE] [--option NAME] [--like JOB --times N]
                   [--now INSTANT] [--json]

Person-hours by stage, low, likely and high, and material, each with the sum it is and the
figures in it: their source, and how far they are to be trusted. Of a job of the book, or of
pieces of a size, as countback make would write them; hours that you wrote yourself stand and
are marked as your own. A book changes a figure under figures of its workshop.

  --size LxWxH     length, width and height of the whole, as 2.4x2.1x2.6 or 8ft x 7ft x 8ft 6in
  --surface M2     its surface in square metres; else a share of that of its box
  --pieces N       cut into so many equal pieces; 1 if not said
  --detail CLASS   how much is carved into it: plain, usual, fine or very_fine
  --finish CLASS   how smooth it has to be: plain, usual, fine or mirror
  --route ROUTE    which way of making; hollow if not said
  --option NAME    with this option of it; may be said more than once
  --like JOB       like that past job of the book, from its recorded hours where there are any
  --times N        so many times as large: areas by the square, volumes by the cube
  --now INSTANT    taken, and changes nothing here
  --json           say it once more, as one JSON object on the last line
""",
    "routes": """\
countback routes [BOOK] [--of ROUTE] [--copy ROUTE] [--now INSTANT] [--json]

Lists the ways of making: those that the program brings, and with a book its own. A book's own
goes before one of the program of the same id.

  --of ROUTE       only this one, with its hours, waits and the figures they are from
  --copy ROUTE     copy it into the book, to be changed there; countback undo takes that back
  --now INSTANT    taken, and changes nothing here
  --json           say it once more, as one JSON object on the last line
""",
    "make": """\
countback make BOOK JOB SEGMENT... [--route ROUTE] [--option NAME] [--as WORD=ID]
                   [--in KIND=PLACE,PLACE] [--crew PERSON] [--now INSTANT]

Writes a way of making into a job for some of its segments, by id or name, or for all: hours by
their sizes, sessions cut, gates over all of them. They wait for no other segments; where the
job has a loading and a journey already, they go with it. The book is written; countback undo
takes that back.

  --route ROUTE    which way of making; hollow if not said
  --option NAME    with this option of it; may be said more than once
  --as WORD=ID     what the workshop calls a skill, a thing or a certificate of it
  --in KIND=PLACE  in which bays work of a kind is done, such as laminate=bay-3,bay-4; else in
                   any bay
  --crew PERSON    who travels with it; may be said more than once
  --now INSTANT    taken, and changes nothing here
""",
    "deliver": """\
countback deliver BOOK [JOB] [--now INSTANT] [--seconds N] [--workers N] [--json]

Counts the delivery of a job, or of all jobs, back from its window and tells it forwards: every
leg in the local time of where it happens, each wait with its reason and the figure behind it,
the latest departure and all other departures that are in time, the means to choose from and
what each costs, loading, notices and bookings by when. Drivers' hours are counted for journeys
that say how long the way is at the wheel; open the current text of the law before a live job.
It goes by the plan that the book holds, if that was made from the book as it stands, else by a
new one. The book is only read.

  --now INSTANT    as of this moment; else the book's own, else the clock's
  --seconds N      plan so long at most, where a plan is needed; 3 if not said
  --workers N      plan with so many threads; 2 if not said
  --json           say it once more, as one JSON object on the last line

It ends with 3 where a journey can't make its window. Ctrl-C ends it; nothing is changed.
""",
    "legs": """\
countback legs [BOOK JOB] [--as NAME] [--now INSTANT] [--json]

Lists the ready-made legs of a journey: local-van, domestic-lorry, crossing, container,
collected and trips. With a job it says which legs its journeys have, and what is to be filled
in before they can be counted back: distances, sailings, opening hours, cranes.

  --as NAME        write these into the job, in the place of the legs of its journeys; the book
                   is written, and countback undo takes that back
  --now INSTANT    taken, and changes nothing here
  --json           say it once more, as one JSON object on the last line
""",
    "answer": """\
countback answer BOOK GATE ANSWER --by NAME [--at INSTANT] [--shown NAME] [--now INSTANT]
                 [--seconds N] [--workers N] [--json]

Writes down what was said to the pictures of a gate, by its id or name: yes, changes (yes,
with changes) or no. Says what that means and how the job stands now. countback undo takes
it back.

  --by NAME        who told it
  --at INSTANT     when it was said; now if not said
  --shown NAME     a picture that it was about; may be said more than once
  --now INSTANT    plan as of this moment; else the book's own, else the clock's
  --seconds N      plan for so long at most; 3 if not said
  --workers N      plan with so many threads; 2 if not said
  --json           say it once more, as one JSON object on the last line
""",
    "change": """\
countback change BOOK SEGMENT --what TEXT --share PERCENT [--answer] [--take]
                 [--now INSTANT] [--seconds N] [--workers N] [--json]

Marks what changes on a segment after the yes. What was done to it comes in once more with a
share of its hours: the skin stripped where it is laminated, carved, skinned and finished
again as far as it was. Without --take it is tried and nothing is written: hours, date, cost
and the verdict before and after. countback undo takes back what was taken.

  --what TEXT      what changes, as it will stand on the sheet
  --share PERCENT  how much of the segment, 1 to 100
  --answer         ask for a new answer between carving and skin
  --take           write it into the book
  --now INSTANT    plan as of this moment; else the book's own, else the clock's
  --seconds N      plan for so long at most each time; 3 if not said
  --workers N      plan with so many threads; 2 if not said
  --json           say it once more, as one JSON object on the last line
""",
    "move": """\
countback move BOOK JOB START END [--take] [--now INSTANT] [--seconds N] [--workers N]
               [--json]

Moves the window that a job holds: START and END as in 2027-03-22T08:00, without a distance from
UTC by the site's clock. The book is planned as it is and with the window moved: the verdict
before and after, how other jobs stand, where pieces stand in the meantime, every date that
changes, and each call to make: whom, what it was for and is for, free until when, and its cost.
Access hours stay; booked slots and other trades' stretches shift with the window. Without
--take it is tried and nothing is written. countback undo takes back what was taken.

  --take           write it into the book
  --now INSTANT    plan as of this moment; else the book's own, else the clock's
  --seconds N      plan for so long at most each time; 3 if not said
  --workers N      plan with so many threads; 2 if not said
  --json           say it once more, as one JSON object on the last line
""",
    "again": """\
countback again BOOK STEP --because CAUSE [--share PERCENT] [--on SEGMENT] [--take]
                [--now INSTANT] [--seconds N] [--workers N] [--json]

Something went wrong: what was done to a segment from a stage on is done again, as far as
the cause calls for it, behind what is done and before what is not. Without --take it is
tried and nothing is written: hours, date, cost and the verdict before and after. countback
undo takes back what was taken.

  --because CAUSE  dropped, soft (resin), run (lacquer), sanded_through or broken
  --share PERCENT  how much of the hours of each stage, 1 to 100; else as the cause says
  --on SEGMENT     on which segment, where the stage is on several
  --take           write it into the book
  --now INSTANT    plan as of this moment; else the book's own, else the clock's
  --seconds N      plan for so long at most each time; 3 if not said
  --workers N      plan with so many threads; 2 if not said
  --json           say it once more, as one JSON object on the last line
""",
    "levers": """\
countback levers BOOK JOB [--apply N] [--now INSTANT] [--seconds N] [--workers N] [--json]

What could be changed so that a job, named by its id or the beginning of its name, keeps its
window and no other job loses one that it keeps: hours, days and hands that are offered,
heating, other windows, an answer sooner, a pin lifted, and what else the book has. The
cheapest set that is enough, the next two that differ, and what costs nothing; each is planned
and checked, nobody is left alone at what is never done alone, and the law on hours holds.

  --apply N        write the N-th into the book; countback undo takes it back
  --now INSTANT    plan as of this moment; else the book's own, else the clock's
  --seconds N      look for so long at most; 30 if not said
  --workers N      work with so many threads; 2 if not said
  --json           say it once more, as one JSON object on the last line
""",
    "why": """\
countback why BOOK JOB [--out CERTIFICATE] [--now INSTANT] [--seconds N] [--workers N] [--json]

Plans the book and says why the job stands as it does: how the verdict is known and what it speaks
of; what decides when it is loaded, cause after cause; what its days are spent on, every quarter
of an hour once, and how much sooner it could be loaded without waiting for people, places, cures
or answers, everything else in its order; what its work has to spare along everyone's order, and
which steps share that. JOB is an id or the beginning of a name.

  --out CERTIFICATE   keep the proof in this file, for countback check; only where one was
                      found by counting, step by step
  --now INSTANT       plan as of this moment; else the book's own, else the clock's
  --seconds N         plan for so long at most; 3 if not said
  --workers N         work with so many threads; 2 if not said
  --json              say it once more, as one JSON object on the last line
""",
    "away": """\
countback away BOOK WHO FROM TO [--apply N] [--with ENQUIRY] [--now INSTANT] [--seconds N]
               [--workers N] [--json]

Somebody or something is not there: WHO is a person, a vehicle or tool, a place, or a material
whose delivery comes only at TO, by id or the unique beginning of a name. FROM and TO as in
2027-01-27T12:00, by the workshop's clock; a TO without an hour is a whole day. Up to three
answers, planned and checked, best first: windows kept and buffers with them, fewest people told
something new for today and tomorrow, least change, least overtime, least money. What is only
offered (overtime, Saturdays, hired hands) is tried where nothing free is enough. With --apply
the N-th is written as one edit, and where people have a sheet it is what they are told from then
on; countback undo takes it back. A reason is neither asked for nor said.

  --apply N        take the N-th answer
  --with ENQUIRY   plan this enquiry too; may be said again
  --now INSTANT    as of this moment; else the book's own, else the clock's
  --seconds N      look for so long at most; 3 if not said
  --workers N      plan with so many threads; 2 if not said
  --json           say it once more, as one JSON object on the last line
""",
    "morning": """\
countback morning BOOK [--now INSTANT] [--seed N] [--with ENQUIRY] [--out PLAN] [--json]

Plans for the floor: work begins as soon as people are free, not as late as windows allow. Says how
often each job would be in time, least sure first, who does what today and on the next day of work,
and whether it is worth asking people to come who offer extra hours within a week. Today and
tomorrow stay as told unless windows are less sure with that; then what is told otherwise is listed,
person by person, and countback tell makes the plan in PLAN what people are told. The book is only
read.

  --now INSTANT    as of this moment; else the book's own, else the clock's
  --seed N         another number may find another plan; 1 if not said
  --with ENQUIRY   plan this enquiry too, by its id or the beginning of its name; may be
                   said more than once
  --out PLAN       keep the plan in this file
  --json           say it once more, as one JSON object on the last line
""",
    "chance": """\
countback chance BOOK [--now INSTANT] [--seconds N] [--workers N] [--seed N] [--with ENQUIRY]
                      [--json]

Says of each job how many times in 100 it would be in time, by when it is loaded in half and in
80 of 100, and which steps carry the risk. Hours are drawn between low and high, answers and cures
as well; each draw is replayed with whoever is free first. Until five finished stages are on record
the hours are taken as written, with a second figure for hours that turn out longer as usual; then
the workshop's own record corrects them. It goes by the plan that the book holds, if that was made
from the book as it stands, else by a new one. The book is only read.

  --now INSTANT    as of this moment; else the book's own, else the clock's
  --seconds N      plan so long at most, where a plan is needed; 3 if not said
  --workers N      plan with so many threads; 2 if not said
  --seed N         other draws; the same number draws the same again, 1 if not said
  --with ENQUIRY   plan this enquiry too, by its id or the beginning of its name; may be
                   said more than once
  --json           say it once more, as one JSON object on the last line
""",
    "rush": """\
countback rush BOOK ENQUIRY [--now INSTANT] [--seconds N] [--json]

Lays an enquiry beside the book and plans both, with it and without: whether it can be taken and at
whose risk, every other job's time to spare and how sure it is, the earliest date that can be
promised honestly, the ways out that bring it into its window, and what may be said to the client.
What it costs stands apart: that is for the owner's eyes. ENQUIRY is an id, the beginning of a
name, or a file that holds one job as a book does. The book is only read.

  --now INSTANT    as of this moment; else the book's own, else the clock's
  --seconds N      look for dates and ways out so long; 10 if not said
  --json           say it once more, as one JSON object on the last line

It ends with 0 when the enquiry keeps its window and harms no other job, with 3 otherwise.
""",
    "tell": """\
countback tell BOOK PLAN [--by NAME] [--now INSTANT] [--json]

Makes a plan (kept with plan --out) the one that people were told, on a sheet with the next
number, and says person by person what changes for them. From then on work told for today and
tomorrow stays as told while it can, later plans list their changes against it, and what is past
and unmarked counts as done as told, never as cured, answered or loaded. The plan must be of this
very book and break no rule. countback undo takes it back.

  --by NAME        who tells it
  --now INSTANT    told at this moment; else the plan's own now
  --json           say it once more, as one JSON object on the last line
""",
    "sample": """\
countback sample NAME DIR [--now INSTANT]

Puts a sample book into a folder: small, tight, full or impossible; one for each way of
making: hollow, foam-kept, cast, hard-coat or repair; or crossing, with a delivery over the
sea by night. A file that is there already is left as it is.

  --now INSTANT    taken, and changes nothing here
""",
    "undo": """\
countback undo BOOK [--now INSTANT]

Puts back the book as it was before it was last saved. A second undo brings the later one
again; each makes a new revision.

  --now INSTANT    taken, and changes nothing here
""",
    "open": """\
countback open [BOOK] [--now INSTANT]

Opens the window with the wall.

  --now INSTANT    show the book as of this moment
""",
    "engine": """\
countback engine [--now INSTANT]

Answers asks on standard input by lines on standard output, each one JSON object; the
lines are described beside the file format, in ENGINE.md.

  --now INSTANT    taken, and changes nothing here: each ask carries its own
""",
    **FLOOR_VERBS,
    **FILE_VERBS,
}
