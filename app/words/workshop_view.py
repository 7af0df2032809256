"""The workshop's page in words: its parts, their sentences, and day one."""

from typing import TYPE_CHECKING

from app.words import window as usual
from app.words.template import Template, counted, within

if TYPE_CHECKING:
    from app.words import Words

# The sentence.
HEAD: Template = "{people} and {places}."
PEOPLE_COUNT: Template = counted("count", "One person", "{number} people")
PLACES_COUNT: Template = counted("count", "one place", "{number} places")
NOBODY: Template = "Nobody works here yet. Paste a list of names."
MEND: Template = counted(
    "count",
    "{head} One thing wants mending.",
    "{head} {number} things want mending.",
)
STANDS: Template = counted(
    "count",
    "Where does {job} stand? {begun} of {all} segments have begun.",
    "Where do the {number} running jobs stand? {begun} of {all} segments have begun.",
)
STANDS_NONE: Template = "No job is running."

NEXT_SHUT: Template = "shut from"
NEXT_AWAY: Template = "{name} away from"
NEXT_EXPIRES: Template = "{certificate} of {name} ends"
NEXT_TEST: Template = "test of {name} due"

# The parts.
PARTS: dict[str, Template] = {
    "standing": within("part", "Where does it stand?"),
    "people": within("part", "People"),
    "places": within("part", "Places"),
    "hours": within("part", "Hours and closures"),
    "rates": within("part", "Rates and figures"),
    "ways": within("part", "Ways of making"),
    "bought": within("part", "What is bought"),
    "learned": within("part", "What records say"),
}
PARTS_NAME: Template = "Parts of the workshop"
PART_FINDINGS: Template = counted("count", "one to mend", "{number} to mend")

# People.
ADD_PEOPLE: Template = "{names} work here too."
ADD_PEOPLE_LABEL: Template = "names of people, a list with commas or lines between"
ADD_PEOPLE_HINT: Template = "paste or type names: Edda, Femi, Goran"
ADD_SKILL: Template = "Another skill: {skill}."
ADD_SKILL_HINT: Template = "its name"
WHO_CAN: Template = "Who can do what"
WHO_CAN_ASIDE: Template = (
    "Arrows walk; Space ticks; + and − for leads, can, helps; Enter on a skill ticks it for all"
)
LEVELS: dict[str, Template] = {
    "can": within("level", "can"),
    "helps": within("level", "may help"),
    "leads": within("level", "leads"),
    "": within("level", "no"),
}
TICK_NAME: Template = "{person}, {skill}: {level}"
TICK_PERSON: Template = "{person}, {skills}"
TICK_SKILL: Template = counted("count", "{skill}, one person", "{skill}, {number} people")
TICK_NOTHING: Template = "no skill yet"
PERSON_WORKS: Template = "{name} works {hours}, at {pace} times the usual pace."
PERSON_DAYS: Template = "Here from {first} until {last}."
PERSON_FREE: Template = "Freelance, on confirmed days only: {freelance}. Under 18: {young}."
ENGAGED: Template = "Comes {days}, {state}."
ADD_ENGAGED: Template = "Comes {days}."
AWAY: Template = "Away {days}; why: {reason}."
ADD_AWAY: Template = "Away {days}."
HOLDS: Template = "Holds {certificate}, until {expires}."
ADD_HOLDS: Template = "Holds {certificate}."
HINT_DAYS: Template = "from to"
HINT_CERTIFICATE: Template = "a certificate"
HINT_HOURS: Template = "as the workshop"
HINT_ALWAYS: Template = "always"
HINT_UNKNOWN: Template = "not said"
HINT_USUAL: Template = within("figure", "usual")
HINT_STRETCH: Template = "Sat 6 Mar 08:00 to Sat 6 Mar 13:00"
HINT_NEVER: Template = within("heating", "never")
HINT_AS_BY_DAY: Template = "as by day"
HINT_NOT_AT_ALL: Template = within("temperature", "not at all")
HINT_ALL: Template = within("area", "all")
HINT_AS_OURS: Template = within("range", "as ours")
HINT_WHAT_DAYS: Template = "Bay 1, Mon 3 May to Fri 7 May"
ANY: Template = within("days", "any")
NO_OTHERS: Template = within("holidays", "no others")
NOTHING: Template = within("acts", "nothing")
NOBODY_HELD: Template = within("held", "none")
WHY_HINT: Template = "for the foreman only"
STATES: dict[str, Template] = {
    "offered": within("days", "offered"),
    "pencilled": within("days", "pencilled"),
    "confirmed": within("days", "confirmed"),
}

PERSON_SANDS: Template = "Sands with power tools for {hours} hours a day at most."
ENGAGED_TERMS: Template = "Comes for {days} days at least, and can be called off until {day}."
OVERTIME: dict[str, tuple[Template, Template, Template]] = {
    "overtime_taken": (
        "Works {days} besides, for {premium} an hour more.",
        within("money hidden", "Works {days} besides."),
        within("to be written", "Works {days} besides."),
    ),
    "overtime_offered": (
        "Would work {days} besides, for {premium} an hour more.",
        within("money hidden", "Would work {days} besides."),
        within("to be written", "Would work {days} besides."),
    ),
}
"""What is beyond the shift: with its money, without, and one more."""

OFFERS: Template = "What is held out"
OFFERS_ASIDE: Template = "no plan counts on it until it is taken"
OFFER_LINE: Template = (
    "{name} for {price}, {days} working days before; {who} must agree; from {first} to {last}; "
    "taken: {taken}."
)
OFFER_BARE: Template = (
    "{name}, {days} working days before; {who} must agree; from {first} to {last}; taken: {taken}."
)
ANYBODY: Template = within("agrees", "nobody")

# Places.
PLACES_ASIDE: Template = "room in m² or in slots; one name of air for places that share it"
PLACE_HEADS: tuple[Template, ...] = (
    within("column", "place"),
    within("column", "is a"),
    within("column", "room"),
    within("column", "all of it"),
    within("column", "air"),
    within("column", "pieces wait"),
    within("column", "sprayed in"),
    within("column", "clear out, min"),
)
PLACE_KINDS: dict[str, Template] = {
    "bay": within("place", "bay"),
    "booth": within("place", "booth"),
    "floor": within("place", "floor"),
    "store": within("place", "store"),
    "yard": within("place", "yard"),
}
ADD_PLACE: Template = "Another place: {name}."
PLACE_SHUT: Template = "{place} is shut {days}."
ROOM_AREA: Template = "{area} m²"
ROOM_SLOTS: Template = counted("count", "{count} slot", "{count} slots")
ROOM_HINT: Template = "1 slot"
OPENINGS: Template = "Doors, gates and lifts on the way out"
OPENINGS_ASIDE: Template = "inside, in metres; measured means that somebody did"
OPENING_HEADS: tuple[Template, ...] = (
    within("column", "opening"),
    within("column", "width"),
    within("column", "height"),
    within("column", "depth"),
    within("column", "measured"),
)
ADD_OPENING: Template = "Another opening: {name}."
WARMTH: Template = "How warm it is"
WARMTH_LINE: Template = "{months} it is {day} °C by day and {night} °C by night, in {place}."
WARMTH_PLACE_HINT: Template = "every place"
ADD_WARMTH: Template = "As well in {months}."
ALL_YEAR: Template = "all year"

WARMTH_BESIDES: Template = (
    "Heated {heated} to {celsius} °C; colder or warmer by {spread} °C; humidity {humidity} %."
)
MEASURED: Template = "What was measured"
MEASURED_ASIDE: Template = "it holds for its hour in the place of what was expected"
MEASURED_HEADS: tuple[Template, ...] = (
    within("column", "when"),
    within("column", "°C"),
    within("column", "humidity, %"),
    within("column", "place"),
)
ADD_MEASURED: Template = "Measured: {what}."
MEASURED_HINT: Template = "Mon 18 Jan 07:30, 17.5 °C"

APART: Template = "What never meets in one air"
APART_USUAL: Template = "as usual; what is changed here holds for this workshop"
APART_OWN: Template = "as this workshop has it"
APART_WHY: Template = "Other pairs than usual are kept apart."
DO_AS_USUAL: Template = "as usual again"
APART_LINE: Template = "Apart: {first} and {second}, with {minutes} minutes from one to the other."
ADD_APART: Template = "Apart as well: {pair}."
APART_HINT: Template = "welding and solvents"

TAKEN: Template = "Taken, shut, or here for a time"
TAKEN_ASIDE: Template = "by what is outside of the plan"
TAKEN_LINE: Template = "{what} is taken {days}, for {name}."
TAKEN_AREA: Template = "{what} is taken {days}, for {name}, {area} m² of it."
HERE_LINE: Template = "{what} is here from {first} until {last}."
ADD_TAKEN: Template = "Taken: {what}."
ADD_CLOSED: Template = "Shut: {what}."
ADD_HERE: Template = "Here only for a time: {what}."

THINGS: Template = "Tools and vehicles"
THINGS_ASIDE: Template = "how many alike; of a vehicle its room inside, in metres"
THING_HEADS: tuple[Template, ...] = (
    within("column", "what"),
    within("column", "is a"),
    within("column", "how many"),
    within("column", "length"),
    within("column", "width"),
    within("column", "height"),
    within("column", "test due"),
)
THING_KINDS: dict[str, Template] = {
    "tool": within("thing", "tool"),
    "vehicle": within("thing", "vehicle"),
    "crane": within("thing", "crane"),
}
VEHICLE_WORDS: tuple[Template, ...] = (
    within("thing", "lorry"),
    within("thing", "van"),
    within("thing", "trailer"),
)
VEHICLES: Template = "What each vehicle carries"
VEHICLES_ASIDE: Template = "what is left out is as usual for its body, or not measured"
VEHICLE_HEADS: tuple[Template, ...] = (
    within("column", "vehicle"),
    within("column", "body"),
    within("column", "carries, kg"),
    within("column", "door, width"),
    within("column", "door, height"),
    within("column", "on the road, t"),
    within("column", "trailer, t"),
)
BODIES: dict[str, Template] = {
    "van": within("body", "van"),
    "trailer": within("body", "closed trailer"),
    "container_20": within("body", "container, 20 feet"),
    "container_40": within("body", "container, 40 feet"),
    "open": within("body", "open bed"),
}
ADD_THING: Template = "Another tool or vehicle: {name}."

# Hours, closures.
CALLED: Template = "The workshop is called {name}."
HOLIDAYS_BESIDES: Template = "Holidays of these kinds besides: {kinds}."
OTHER: Template = "Work of no job"
OTHER_ASIDE: Template = "repairs, courses, cleaning: it holds people, places and things"
OTHER_LINE: Template = "{name}, {days}: {people}; places: {places}; things: {equipment}."
ADD_OTHER: Template = "Other work: {what}."
OTHER_HINT: Template = "Booth filters, Mon 1 Mar 07:30 to Mon 1 Mar 16:00"
WE_WORK: Template = "We work {hours}."
USEFUL: Template = "Of a shift of {shift} hours {useful} are useful."
HOLIDAYS: Template = "Holidays are those of {country}, {subdivision}."
SUBDIVISION_HINT: Template = "all of it"
CLOCK: Template = "The clock is that of {zone}."
CLOSURES: Template = "Shut"
CLOSURE_LINE: Template = "Shut {days}, {name}."
ADD_CLOSURE: Template = "Shut {days}."
CLOSURE_HINT: Template = "why"
HOURS: Template = "{days} {first} to {last}"
HOURS_BREAK: Template = "{hours}, break {first} to {last}"
DAYS_SPAN: Template = "{first} to {last}"

# Rates and figures.
MONEY_IN: Template = "Money is in {currency}."
RATES: Template = "What an hour costs"
RATE_OF_ALL: Template = "An hour of everybody costs {rate}."
RATE_OF_ALL_HINT: Template = "one rate"
RATE_HEADS: tuple[Template, ...] = (
    within("column", "person"),
    within("column", "an hour"),
    within("column", "a day"),
)
MONEY_HIDDEN: Template = "Money is hidden; H shows it."
FIGURES: Template = "What plans go by"
PAIR_LOSS: Template = "Each further pair of hands loses {percent} % of the time."
PAUSE: Template = "A stage stands still for {days} days at most, closures not counted."
BRIDGED: Template = "A break of up to {minutes} minutes is bridged in turns by work in one go."
WATCH: Template = "After laminating somebody stays for {minutes} minutes."
BUFFER: Template = "We want {days} days to spare before loading."
REST: Template = "After driving, site or late work nobody is at the bench for {hours} hours."
PIECES: Template = "A person works on {pieces} pieces in half a day at most."
SANDING: Template = "A person sands with power tools for {hours} hours a day at most."
NEVER_ALONE: Template = "Never alone in the building: {acts}."
NEVER_USUALLY: Template = "Usually that is {acts}."
MOVED: Template = (
    "What is moved is wrapped by {wrap} m on every side and stands on {skates} m; "
    "an opening that leaves less than {spare} m is measured again."
)
OWN_FIGURES: Template = "What we know better than the tables"
OWN_ASIDE: Template = "estimates and ways of making go by it"
OWN_HEADS: tuple[Template, ...] = (
    within("column", "figure"),
    within("column", "ours"),
    within("column", "low"),
    within("column", "high"),
    within("column", "why"),
)
ADD_OWN: Template = "We know better: {figure}."
OWN_HINT: Template = "the id of a figure, such as CP01"
WORKING_ROOM: Template = "Room to work is {working} m on every side, to stand {standing} m."

# Ways of making.
WAYS_OWN: Template = "{name}, the book's own"
WAYS_BROUGHT: Template = "{name}, as the program brings it"
WAYS_STEPS: Template = "{steps}."
WAYS_MISSING: Template = "Nobody and nothing here answers to {words}."
DO_COPY_WAY: Template = "copy it into the book"

# What is bought.
MATERIALS: Template = "Materials"
MATERIALS_ASIDE: Template = "a pack is what is bought whole; counted is what is here now"
MATERIAL_HEADS: tuple[Template, ...] = (
    within("column", "material"),
    within("column", "is a"),
    within("column", "unit"),
    within("column", "pack"),
    within("column", "price"),
    within("column", "from"),
    within("column", "keeps, months"),
    within("column", "counted"),
)
MATERIAL_KINDS: dict[str, Template] = {
    "foam": within("material", "foam"),
    "mat": within("material", "glass"),
    "resin": within("material", "resin"),
    "peroxide": within("material", "peroxide"),
    "hard_coat": within("material", "hard coat"),
    "filler": within("material", "filler"),
    "paint": within("material", "paint"),
    "foam_glue": within("material", "foam glue"),
    "adhesive": within("material", "adhesive"),
    "sealant": within("material", "sealant"),
    "other": within("material", "other"),
}
KEEPING: Template = "How it is kept and wasted"
KEEPING_ASIDE: Template = "as usual for its kind where nothing stands"
KEEPING_HEADS: tuple[Template, ...] = (
    within("column", "material"),
    within("column", "waste, %"),
    within("column", "of what is bought"),
    within("column", "stored at most"),
    within("column", "not counted on, days"),
    within("column", "bought together, days"),
    within("column", "moulded after, days"),
    within("column", "aged, days"),
)
ADD_MATERIAL: Template = "Another material: {name}."
SUPPLIERS: Template = "Who delivers"
SUPPLIERS_ASIDE: Template = "their working days from the order to the dispatch, then on the way"
SUPPLIER_HEADS: tuple[Template, ...] = (
    within("column", "supplier"),
    within("column", "country"),
    within("column", "part of it"),
    within("column", "days to dispatch"),
    within("column", "days on the way"),
    within("column", "on the morning"),
)
ADD_SUPPLIER: Template = "Somebody else delivers: {name}."
SUPPLIER_SHUT: Template = "{supplier} is shut {days}."

# Day one.
STANDING_HOW: Template = (
    "Press the stage that each segment has reached. All before it counts as done and answered "
    "for, and its cures count from {moment}."
)
ENDED: Template = "when that ended"
STANDING_NAME: Template = "Where each segment stands"
STEP_NAME: Template = "{segment}, {step}: {state}"
STEP_STATES: dict[str, Template] = {
    "over": within("step", "done"),
    "here": within("step", "here now"),
    "ahead": within("step", "still to come"),
}
JOURNEY: Template = within("step", "journey")
TOLD_BY: Template = "the workshop"
JOB_WINDOW: Template = "window {day}"

# Words that do something.
DO_REMOVE: Template = "remove"
DO_REMOVE_PERSON: Template = "remove {name}"
NEW_NAME_HINT: Template = "its name"

NOT_TAKEN: dict[str, Template] = {
    "not_hours": "“{value}” is no time of work. Write it as Mon to Fri 07:30 to 16:00.",
    "not_days": "“{value}” is no span of days. Write it as Mon 3 May to Fri 7 May.",
    "not_a_day": "“{value}” is no day. Write it as Mon 3 May or 2027-05-03.",
    "not_a_room": "“{value}” is no room. Write it as 120 m² or 3 slots.",
    "not_months": "“{value}” is no span of months. Write it as Nov to Mar.",
    "not_a_place_kind": "“{value}” is no sort of place. There are {known}.",
    "not_a_thing_kind": "“{value}” is no sort of thing. There are {known}.",
    "not_a_material_kind": "“{value}” is no sort of material. There are {known}.",
    "not_a_body": "“{value}” is nothing that carries pieces. There are {known}.",
    "not_there": "Nothing and nobody here is called “{value}”. There are {known}.",
    "not_an_act": "“{value}” is nothing that is done here. There are {known}.",
    "not_a_pair": "“{value}” is no pair. Write it as welding and solvents.",
    "not_measured": "“{value}” is no measurement. Write it as Mon 18 Jan 07:30, 17.5 °C.",
    "not_other_work": "“{value}” has no time. Write it as Cleaning, Mon 3 May to Tue 4 May.",
    "not_a_figure": "No table has a figure “{value}”.",
    "figure_there": "{value} stands here already.",
    "not_holidays": "{country} has no holidays of the kind “{value}”.",
    "not_a_place": "No place is called “{value}”.",
    "not_a_supplier": "Nobody called “{value}” delivers. There are {known}.",
    "not_a_state": "Days are offered, pencilled or confirmed, not “{value}”.",
    "nobody_new": "All of them work here already.",
    "not_a_country": "“{value}” is no country. Write its two letters, such as GB or DE.",
    "not_a_subdivision": "{country} has no part “{value}” whose holidays are known.",
    "not_a_currency": "“{value}” is no money. Write its three letters, such as GBP or EUR.",
    "not_a_zone": "No clock is called “{value}”. Write one such as Europe/London.",
    "not_a_temperature": "“{value}” is no temperature. Write it as 18 or −5.",
}


def not_taken(words: "Words", code: str, **facts: object) -> str:
    """Give why what was typed is not taken."""
    table = NOT_TAKEN if code in NOT_TAKEN else usual.NOT_TAKEN
    return words.say(table[code], **facts)
