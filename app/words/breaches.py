"""What the check says: rules that a plan breaks, and rules that it doesn't judge yet."""

from collections.abc import Iterable

from app.words.acts import ACTS
from app.words.clashes import TOO
from app.words.facts import facts_in_words
from app.words.names import Names
from app.words.template import Template, within
from app.words.voice import Voice
from scheduler.outcome import Breach, CheckResult
from scheduler.rules import Limit
from shared.book import Kind

BROKEN: dict[str, Template] = {
    "unknown_step": "{where} stands in the plan but not in the book.",
    "unknown_thing": "{where} names {id}, which the book doesn't have.",
    "missing_step": "{where} is in the book but the plan doesn't place it.",
    "twice": "{where} is placed {count} times.",
    "no_reason": "{where} is left out of the plan without a reason in the book.",
    "backwards": "{where} ends {end}, before it starts {start}.",
    "before_now": "{where} starts {start}, before the plan's own now, {now}.",
    "off_grid": "{where} lies on {instant}, which is no quarter of an hour.",
    "fact_time": "{where} is placed {planned}, but was told to be {told}.",
    "told": "{where} was told to {told} for {told_start} and could stay so; it is planned for "
    "{start} with {people}.",
    "fact_people": "{where} is planned with {people}, but was told to be done by {told}.",
    "way": "{where} is done in a way, {way}, that the book doesn't have for it.",
    "team": "{where} has {people_count} people where {hands_count} are needed.",
    "skill": "{where} needs {skills}, which {people} can't all do.",
    "asked": "{where} is done without {person}, who was asked for by name.",
    "certificate": "{where}: {person} has no valid {certificate} then (expires: {expires}).",
    "same_people": "{where} is done by {people}, and {other} by {told}: it wants the same people.",
    "company": "{where}: {person} works on it alone in the building, {start} to {end}.",
    "pieces": "{where}: {person} works on {count} pieces in the half day from {start}, "
    "and may on {most}.",
    "sanding": "{where}: {person} sands for {sanded_minutes} on {day}, and may for {most_minutes}.",
    "hours": "{where} starts {start}, outside the working hours.",
    "duration": "{where} gets {worked_minutes} of work, from {start} to {end}, "
    "and needs {needed_minutes}.",
    "one_go": "{where} must be done in one go; {start} to {end} is no one shift of {person}.",
    "watch": "{where} ends {end} and the shift of {person} {shift_end}: "
    "nobody leaves it fresh for {watch_minutes}.",
    "pause": "{where} stands still for {paused_minutes}, and may for {longest_minutes}.",
    "pin": "{where} starts {start}, and is pinned to {pinned}.",
    "not_before": "{where} starts {start}, and may not before {not_before}.",
    "order": "{where} starts {start}, before {before} is over, {ready}.",
    "cure": "{where} starts {start}, before {before} {cured}, {ready}.",
    "recoat": "{where} starts {start}; the recoat time after {before} ran out {latest}.",
    "temperature": "{where}: in {place} it is {celsius} °C {hour}, and its material's limit is "
    "{limit} °C until it is ready.",
    "humidity": "{where}: in {place} the air is {humidity} % damp {hour}, and its material stands "
    "{limit} % until it is ready.",
    "dew_point": "{where}: in {place} a surface of {celsius} °C is less than {limit} °C above the "
    "dew point {hour}, the air being {air} °C warm and {humidity} % damp.",
    "answer": "{where} ends {end}, and the answer is due {due}.",
    "before_answer": "{where} starts {start}, before the answer to {before}, {ready}.",
    "before_changes": "{where} starts {start}, before the changes to {before} are done, {ready}.",
    "round": "{where} begins a round {start}, and can't before {ready}.",
    "loading": "{where} starts {start}, before {before} is ready for it, {ready}.",
    "person_twice": "{where}: {person} is at {other} as well, {start} to {end}.",
    "rest": "{where}: {person} has no rest after {other}, {start} to {end}.",
    "place": "{where} is put in {place}, where it can't be.",
    "place_full": "{where}: {place} holds {taken} {unit} {at}, and has room for {room}.",
    "place_shut": "{where}: {place} is not to be had from {start} to {end} ({why}).",
    "standing_full": "{where}: on {place} stand {taken} {unit} {at}, and there is room for {room}.",
    "equipment": "{where} has no {equipment}, of which it needs {wanted}.",
    "equipment_full": "{where}: {taken} of {equipment} are in use {at}, and there are {room}.",
    "equipment_shut": "{where}: {equipment} is not to be had from {start} to {end} ({why}).",
    "leaves_early": "{where} leaves {start}, before {before} is over, {ready}.",
    "leg": "{where}: leg {number}, {leg}, is {start} to {end}, and can only be {expected}.",
    "back": "{where}: the {who} are back {planned} in the plan, and {expected} by the book.",
    "means": "{where} goes by {means}, which is none of the means it has.",
    "stretch": "{where}: what is done from {start} to {end} doesn't follow what ends {expected}.",
    "leg_length": "{where}: leg {number}, {leg}, gets {done_minutes}, and needs {needed_minutes}.",
    "opening": "{where}: leg {number}, {leg}, goes on from {start} to {end}, outside its hours.",
    "slot": "{where}: leg {number}, {leg}, is {start} to {end}, and in none of its slots.",
    "blocked": "{where}: leg {number}, {leg}, goes on from {start} to {end}, while others have "
    "the site ({other}).",
    "whole": "{where}: leg {number}, {leg}, is {start} to {end}, and has to lie in one opening.",
    "site_cure": "{where}: after leg {number}, {leg}, it goes on {start}, and nothing may before "
    "{ready}.",
    "sailing": "{where}: leg {number}, {leg}, is {start} to {end}, and nothing sails so that can "
    "be caught.",
    "ban": "{where}: leg {number}, {leg}, is driven {start}, when lorries are banned in {country} "
    "({figure}).",
    "driving": "{where}: {driver} passes the limit of {limit} {start} ({rules}, {figure}).",
    "wheel": "{where}: from {start} nobody is at the wheel whom the rules know of ({rules}).",
    "travel": "{where}: the crew's own way is {start} to {end}, and they are needed {gate}.",
    "longest": "{where} leaves {start} and is at the site {gate}; it may take {most_minutes}.",
    "stands": "{where} leaves {start}, {stood_minutes} after loading ends {ended}; loaded it may "
    "stand for {most_minutes}.",
    "on_leave": "{where}: {person} goes along, and is not to be had from {start} to {end}.",
    "one_day": "{where}: {person} has no {least_minutes} of rest in one from {start} to {end}.",
    "abrade": "{where} lacks the abrading that a passed recoat time calls for.",
    "drivers_hours": "{where} breaks the drivers' hours.",
    "home_hours": "{where} breaks the drivers' hours on the way home.",
    "crowded": "{where} stands already where there is no room for it, or where it is shut.",
    "offers": "{where} uses something that is only offered.",
    "let_go": "{where} lies otherwise than people were told for today and tomorrow, and nothing "
    "here shows why it had to.",
    "shared_air": "{where} brings {act} into the air of {place} {start}, and {other} has "
    "{other_act} there until {until}: they are kept apart.",
    "open_spraying": "{where} sprays isocyanates outside an enclosed place that it takes whole "
    "(place: {place}).",
    "turns": "{where} is stood in a way round that it may not be.",
    "interrupted": "{where} was interrupted and must be decided on.",
    "remaining": "{where} runs on for other hours than were told to remain.",
    "late_work": "{where} follows late work without rest.",
    "size": "{where}: {segment} is too big for {opening}; whichever way round it may be turned, as "
    "it is moved it is at least {over_mm} mm too {dimension}.",
    "mass": "{where}: {segment} weighs {mass_kg} kg at least without frame and fixings, and "
    "{equipment} carries {payload_kg} kg.",
    "no_size": "{where} has a piece without a size.",
    "after_outside": "{where} follows a step of another job.",
    "after_journey": "{where} lies on the wrong side of a journey.",
    "wait_for_journey": "{where} doesn't wait for a journey as it should.",
}
NAMES: dict[str, Template] = {
    "unknown_step": "steps that the book doesn't have",
    "unknown_thing": "things that the book doesn't have",
    "missing_step": "steps that are not placed",
    "twice": "steps placed twice",
    "no_reason": "steps left out",
    "backwards": "starts before ends",
    "before_now": "starts before now",
    "off_grid": "quarters of an hour",
    "fact_time": "times of what has happened",
    "fact_people": "people of what has happened",
    "way": "ways of doing a step",
    "team": "numbers of people",
    "skill": "skills",
    "asked": "people asked for by name",
    "certificate": "certificates",
    "same_people": "the same people on two steps",
    "company": "company of others in the building",
    "pieces": "pieces in half a day",
    "sanding": "power sanding in a day",
    "hours": "working hours",
    "duration": "durations",
    "one_go": "work in one go",
    "watch": "watching over fresh laminate",
    "pause": "longest pauses",
    "pin": "pins",
    "not_before": "earliest days",
    "order": "order of steps",
    "cure": "cures",
    "recoat": "recoat times",
    "temperature": "temperature limits",
    "humidity": "limits of humidity",
    "dew_point": "distances from the dew point",
    "answer": "the client's answers",
    "before_answer": "work that waits for an answer",
    "before_changes": "work that waits for the changes of a yes",
    "round": "rounds of an answer",
    "loading": "loading",
    "person_twice": "people in two places at once",
    "rest": "hours of rest",
    "place": "places",
    "place_full": "room in places",
    "place_shut": "places that are shut or booked",
    "standing_full": "room on the standing floor",
    "equipment": "equipment",
    "equipment_full": "equipment used twice at once",
    "equipment_shut": "equipment that is booked or due for a test",
    "leaves_early": "departures",
    "leg": "legs of the journey",
    "back": "when crew and vehicles are back",
    "means": "means of a journey",
    "stretch": "what is done on a journey, one after the other",
    "leg_length": "how long legs take",
    "opening": "opening hours of legs",
    "slot": "booked slots",
    "blocked": "hours in which others have the site",
    "whole": "legs that are done in one",
    "site_cure": "cures on site",
    "sailing": "sailings and check-ins",
    "ban": "lorry bans",
    "driving": "hours of drivers and of people on site",
    "wheel": "who is at the wheel",
    "travel": "the crew's own way",
    "longest": "longest journeys",
    "stands": "how long a loaded lorry stands",
    "one_day": "rest around a journey",
    "on_leave": "leave of those who go on a journey",
    "abrade": "abrading after a passed recoat time",
    "drivers_hours": "drivers' hours",
    "home_hours": "drivers' hours on the way home",
    "crowded": "what stands already where there is too little room, or where it is shut",
    "offers": "offers that are taken",
    "told": "what people were told for today and tomorrow",
    "let_go": "why today's and tomorrow's sheet could not stand",
    "shared_air": "acts kept apart in shared air",
    "open_spraying": "spraying of isocyanates",
    "turns": "ways round a piece may be stood",
    "interrupted": "work in one go that was interrupted",
    "remaining": "hours that remain of running work",
    "late_work": "rest after late work",
    "size": "sizes against doors, lifts and vehicles",
    "mass": "masses against what vehicles carry",
    "no_size": "pieces without a size",
    "after_outside": "steps that follow another job's",
    "after_journey": "steps after a journey",
    "wait_for_journey": "greatest waits up to a journey or from an answer",
}
WHY: dict[str, Template] = {
    "closure": within("why shut", "closed"),
    "booking": within("why shut", "booked"),
    "other_work": within("why shut", "other work"),
    "usable": within("why shut", "not usable"),
    "test_due": within("why shut", "its test is due"),
    "vehicles": within("who", "vehicles"),
    "crew": within("who", "crew"),
    "m2": within("unit", "m²"),
    "slots": within("unit", "slots"),
}
"""Words that stand in facts."""

CURED: dict[str, Template] = {
    Kind.FOAM: within("before it", "has set"),
    Kind.LAMINATE: within("before it", "has cured"),
    Kind.COAT: within("before it", "has cured"),
    Kind.FILL: within("before it", "has set"),
    Kind.PAINT: within("before it", "has dried"),
    Kind.LACQUER: within("before it", "has dried"),
    Kind.PACK: within("before it", "has set"),
    "": within("before it", "is ready"),
}
"""What has not come to an end where the next step starts too soon, by kind."""

LIMITS: dict[str, Template] = {
    Limit.UNBROKEN_DRIVING: within("limit", "driving without a break"),
    Limit.DAILY_DRIVING: within("limit", "driving in a day"),
    Limit.LONG_DAYS: within("limit", "long days of driving in a week"),
    Limit.WEEKLY_DRIVING: within("limit", "driving in a week"),
    Limit.FORTNIGHTLY_DRIVING: within("limit", "driving in two weeks"),
    Limit.UNBROKEN_WORK: within("limit", "work without a break"),
    Limit.DAILY_WORK: within("limit", "work in a day"),
    Limit.BREAKS: within("limit", "work with so few breaks"),
    Limit.DAILY_REST: within("limit", "a day without its rest"),
    Limit.FERRY_REST: within("limit", "interruptions of a rest on a ferry"),
    Limit.WEEKLY_REST: within("limit", "a week without its rest"),
}
"""Whose limit of hours is passed, by code."""

_OF_PART: dict[str, Template] = {
    "abrade": "{job}: abrading before {step}",
    "rework": "{job}: rework after {step}",
    "changes": "{job}: changes after {step}",
}
_ACT_FACTS = ("act", "other_act")
_OF_JOB: Template = "{job}: {step}"
_ANYWHERE: Template = within("place", "the workshop")
_UNSAID: Template = within("fact", "not said")
_DRIVER: Template = within("who", "the driver")
_ONE_OF_TWO: Template = within("who", "driver {number}")
_UNKNOWN: Template = "{where} breaks the rule {rule}."
_SOUND = "Checked: sound."
_NOT_ALL_JUDGED = "Checked: nothing broken, but not judged yet, so not called sound: {list}."


def breach(
    voice: Voice, broken: Breach, zone: str | None = None, names: Names | None = None
) -> str:
    """Give the sentence of one broken rule."""
    known = names or Names(voice)
    facts = facts_in_words(voice, broken.facts, zone, known)
    for key, fact in broken.facts:
        if fact is None:
            facts[key] = voice.say(_unsaid(key, facts))
        elif key == "dimension" and fact in TOO:
            facts[key] = voice.say(TOO[str(fact)])
        elif key in _ACT_FACTS and fact in ACTS:
            facts[key] = voice.say(ACTS[str(fact)])
        elif key == "limit" and fact in LIMITS:
            facts[key] = voice.say(LIMITS[str(fact)])
        elif key == "driver" and fact in ("1", "2"):
            facts[key] = voice.say(_ONE_OF_TWO, number=fact)
        elif key == "cured":
            facts[key] = voice.say(CURED.get(str(fact), CURED[""]))
        elif isinstance(fact, str) and fact in WHY:
            facts[key] = voice.say(WHY[fact])
    facts.update(where=_where(voice, broken, known), rule=broken.rule)
    return voice.say(BROKEN.get(broken.rule, _UNKNOWN), **facts)


def _unsaid(key: str, facts: dict[str, object]) -> Template:
    """Give what stands where a fact has no value."""
    if key == "driver":
        return _DRIVER
    return _ANYWHERE if key == "place" and "hour" in facts else _UNSAID


def _where(voice: Voice, broken: Breach, names: Names) -> str:
    told = dict(broken.facts)
    job, step = told.get("job"), told.get("step")
    if not job or not step:
        return str(job or names.any(broken.where))
    own = names.of("step", broken.where)
    template = _OF_PART.get(str(told.get("part")), _OF_JOB)
    return voice.say(template, job=job, step=step if own == broken.where else own)


def rule_names(voice: Voice, rules: Iterable[str]) -> str:
    """Give rules as a list in words."""
    return voice.both(voice.say(NAMES.get(rule, rule)) for rule in rules)


def check_line(voice: Voice, result: CheckResult) -> str:
    """Give the sentence for a plan that breaks nothing."""
    if not result.not_judged:
        return voice.say(_SOUND)
    return voice.say(_NOT_ALL_JUDGED, list=rule_names(voice, result.not_judged))
