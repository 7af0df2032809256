"""Findings about journeys: timetables, roads, drivers, slots, what is arranged; and the cures."""

from app.words.template import Template, counted

SENTENCES: dict[str, tuple[Template, Template]] = {
    # Timetables.
    "timetable_without_days": (
        "This timetable sails on no day.",
        "Name its weekdays, 1 for Monday to 7 for Sunday.",
    ),
    "unknown_weekday": (
        "There is no weekday {weekday}.",
        "Write 1 for Monday to 7 for Sunday.",
    ),
    "lands_before_it_leaves": (
        "It leaves at {start} and arrives at {end}: by the clocks of both places, no later.",
        "Write the arrival, or how many days later it arrives.",
    ),
    "season_over": (
        "The season of this timetable ends {last}; nothing before {first} is of use.",
        "Write the timetable of the next season.",
    ),
    "season_later": (
        "The season of this timetable begins {first}, and the window ends {end}.",
        "Write the timetable of the season before.",
    ),
    "departures_elsewhere": (
        "None of the departures of {leg} lies between {first} and {end}.",
        "Write those before the window.",
    ),
    "bunk_unsaid": (
        "The book doesn't say whether the driver has a bunk on {leg}; none is taken, so the hours "
        "on board are no rest.",
        "Write whether there is a bunk.",
    ),
    # Roads.
    "leg_without_country": (
        "The drive {leg} is held against drivers' hours and bans, and has no country.",
        "Write the country of the road, or the shares of several.",
    ),
    "minutes_at_the_wheel": (
        "Of {leg}, {minutes} are taken for time at the wheel, breaks not included.",
        "Write its minutes at the wheel, or its distance.",
    ),
    "shares_not_whole": (
        "The shares of the drive come to {total} %, not 100 %.",
        "Write shares that come to 100 %.",
    ),
    "unknown_area": (
        "No area with bans of its own is called {area}.",
        "Write one that there is, or leave it out.",
    ),
    "faster_than_lorries": (
        "{speed_kmh} km/h is more than a lorry's limiter allows, {limit} km/h.",
        "Write the average on the road, breaks not included.",
    ),
    "unknown_rules": (
        "No drivers' hours are called {rules}.",
        "Write one of {known}, or leave it out.",
    ),
    "rules_of_two": (
        "The hours are those of two drivers, and there is one.",
        "Write two drivers, or other hours.",
    ),
    # Slots and other trades.
    "slot_outside_window": (
        "The slot of {leg} from {start} to {end} lies outside every window of the job.",
        "Book another slot, or write the window anew.",
    ),
    "blocked_outside_window": (
        "The blocked hours from {start} to {end} lie outside the window.",
        "Take them out, or correct them.",
    ),
    # Legs in their place.
    "travel_leg_on_site": (
        "{leg} is no part of the crew's way to the site.",
        "Write it among the legs of the journey.",
    ),
    "travel_without_legs": (
        "The crew has vehicles of its own, and no way is written for them.",
        "Write the legs of their way, or take the vehicles out.",
    ),
    "return_not_last": (
        "{leg} goes home, and other legs come after it.",
        "Write the way home last, or give this leg another kind.",
    ),
    # Who drives, and in what.
    "drivers_count": (
        "There are {drivers} drivers at the wheel; hours are known for one or two.",
        "Write 1 or 2.",
    ),
    "drivers_not_as_named": (
        "People at the wheel named here: {named}. Drivers written: {drivers}.",
        "Write as many drivers as are named, or name nobody where they are hired.",
    ),
    "driving_rows": (
        "Hours used up are written for {rows} at the wheel, and drivers are {drivers}.",
        "Write them for each driver, or for none.",
    ),
    "rest_ends_later": (
        "The weekly rest ends {ended}, after the moment the hours speak of, {as_of}.",
        "Write the end of the last weekly rest before that moment.",
    ),
    "means_without_vehicle": (
        "{means} names no vehicle, so its mass isn't known and the stricter hours and bans hold.",
        "Name the vehicle, or the drivers' hours.",
    ),
    "vehicles_beside_means": (
        "The journey names vehicles of its own beside its means, and goes by its means only.",
        "Write the vehicles into the means, and take them out here.",
    ),
    "not_a_vehicle": (
        "{equipment} is to go on the journey, and is no vehicle.",
        "Name a vehicle, or write that it is one.",
    ),
    "mass_unknown": (
        "Nobody wrote the greatest mass of {equipment}, so the stricter hours and bans hold.",
        "Write its mass in tonnes, and the trailer's.",
    ),
    "abnormal_unsaid": (
        "The segment {segment} is {width_m} m wide at least; above {limit} m the police is told of "
        "a load in Great Britain, and London keeps it out by day.",
        "Write whether the load is abnormal, and whether the road goes through London.",
    ),
    # What is arranged with others, and notices.
    "not_a_journey": ("{step} is no journey.", "Name the journey it is for."),
    "leg_of_no_journey": (
        "It is for leg {leg}, and no journey is named.",
        "Name the journey.",
    ),
    "no_such_leg": (
        counted(
            "legs",
            "It is for leg {leg}, and the journey has {legs} leg.",
            "It is for leg {leg}, and the journey has {legs} legs.",
        ),
        "Write the number of the leg, the first is 1.",
    ),
}

CURES_WITH_NEAREST: dict[str, Template] = {
    "unknown_area": "If {nearest} was meant, write that; else leave it out.",
    "unknown_rules": "If {nearest} was meant, write that; else one of {known}.",
}
