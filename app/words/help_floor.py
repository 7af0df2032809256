"""What `--help` says of what is told from the floor."""

from app.words.template import Template

FLOOR_VERBS: dict[str, Template] = {
    "done": """\
countback done BOOK STEP [--at INSTANT] [--by NAME] [--now INSTANT] [--json]
countback done BOOK --as-told DATE [--by NAME] [--now INSTANT] [--json]

Writes down that a step is over, by its id or name; the sheet says who did it and since when. With
--as-told all work that the sheet has ending on that day is done as told: never an answer, a cure,
a loading or a journey, and what is marked already stays. What can't be taken for done is named.
countback undo takes it back.

  --at INSTANT     when it was over; else its end on the sheet, or now where that is yet to come
  --as-told DATE   tick a whole day, as in 2027-03-18
  --by NAME        who tells it; else whoever is known to the system
  --now INSTANT    as of this moment; else the book's own, else the clock's
  --json           say it once more, as one JSON object on the last line
""",
    "late": """\
countback late BOOK STEP HOURS [--because CAUSE] [--by NAME] [--now INSTANT] [--json]

Writes down that a step is under way and how many person-hours are still to do from now. countback
undo takes it back.

  --because CAUSE  what held it up: material, tool, place, weather, drawing, client, work_before or
                   person. Why somebody is away is nowhere asked
  --by NAME        who tells it; else whoever is known to the system
  --now INSTANT    as of this moment; else the book's own, else the clock's
  --json           say it once more, as one JSON object on the last line
""",
    "held": """\
countback held BOOK STEP --because CAUSE [--at INSTANT] [--by NAME] [--now INSTANT] [--json]

Writes down that a step has not begun, so that what the sheet has for it before is not taken for
done. One that has begun and goes on is told with countback late. countback undo takes it back.

  --because CAUSE  material, tool, place, weather, drawing, client, work_before or person
  --at INSTANT     by when it had not begun; now if not said
  --by NAME        who tells it; else whoever is known to the system
  --now INSTANT    as of this moment; else the book's own, else the clock's
  --json           say it once more, as one JSON object on the last line
""",
    "came": """\
countback came BOOK WHAT [--at INSTANT] [--by NAME] [--now INSTANT] [--json]

Writes down that what was ordered of a material has come, by its id or name; or that all that a step
takes is there. countback undo takes it back.

  --at INSTANT     when it came; now if not said
  --by NAME        who tells it; else whoever is known to the system
  --now INSTANT    as of this moment; else the book's own, else the clock's
  --json           say it once more, as one JSON object on the last line
""",
    "learn": """\
countback learn BOOK [--take KIND] [--now INSTANT] [--json]

Holds recorded hours of finished stages against their estimates, by kind of work: by what factor
they differ, how far apart, and how many they are. A kind with few records stays near the workshop's
figure, the workshop near the trade's. Records that can't be (over three times or under a third of
the estimate, no hours, done before begun) are left out and named. Nothing is applied by itself.

  --take KIND      from now on the hours of new estimates and new jobs of that kind are multiplied
                   by its factor: foam, laminate, coat, fill, paint, lacquer or pack. May be said
                   more than once. countback undo takes it back
  --now INSTANT    speak as of this moment; nothing here goes by it
  --json           say it once more, as one JSON object on the last line
""",
}
