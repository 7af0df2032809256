"""Findings of what a book means: references, order, hours; and how to mend them."""

from app.words.template import Template, counted, within

SENTENCES: dict[str, tuple[Template, Template]] = {
    # Names and references.
    "id_empty": ("This {sort} has no id.", "Give it one of its own."),
    "id_doubled": (
        "There are two of the id {id} of sort {sort}.",
        "Give one of them another id, and write that wherever it is meant.",
    ),
    "name_empty": ("This {sort} has no name.", "Give it the name people call it by."),
    "unknown_id": (
        "There is no {sort} of the id {id}.",
        "Write the id of one that is there, or add it.",
    ),
    "id_of_other_job": (
        "The {sort} {id} belongs to another job, {job}.",
        "Name one of this job.",
    ),
    "named_twice": ("The {sort} {id} is named twice here.", "Take one of the two out."),
    "offer_about_unknown": (
        "The offer speaks of {id}, which the book doesn't have.",
        "Write the id of what it is about, or take it out.",
    ),
    # Numbers, days and instants.
    "below_zero": ("{field} is {value}, and can't be below 0.", "Write 0 or more."),
    "not_above_zero": ("{field} is {value}, and must be above 0.", "Write more than 0."),
    "above_limit": (
        "{field} is {value}, and can't be above {limit}.",
        "Write {limit} or less.",
    ),
    "low_above_high": (
        "The low figure, {low}, is above the high one, {high}.",
        "Change them over.",
    ),
    "days_reversed": (
        "The first day, {first}, comes after the last, {last}.",
        "Change them over.",
    ),
    "ends_before_start": (
        "It ends {end}, which is not after it starts, {start}.",
        "Write a later end.",
    ),
    # The workshop and the hours.
    "no_shifts": (
        "The workshop has no shifts, so nothing is ever worked.",
        "Write down when people work.",
    ),
    "shift_without_days": (
        "This shift is worked on no day.",
        "Name its days, or take it out.",
    ),
    "break_outside_shift": (
        "The break from {start} to {end} lies outside its shift.",
        "Move it inside, or take it out.",
    ),
    "unknown_zone": (
        "No time zone is called {zone}.",
        "Write one such as Europe/London.",
    ),
    "unknown_country": (
        "Nothing is known of the holidays of {country}.",
        "Write its two letters, such as GB or DE.",
    ),
    "unknown_subdivision": (
        "{country} has no part {subdivision} whose holidays are known.",
        "Write the letters of the part, or leave it out.",
    ),
    "unknown_holiday_category": (
        "{country} has no holidays of the sort {category}.",
        "Leave it out, or write a sort it has, such as public.",
    ),
    "useful_above_shift": (
        "A shift has {useful_hours} useful hours and is only {shift_hours} long.",
        "Write fewer useful hours, or a longer shift.",
    ),
    "unknown_month": ("There is no month {month}.", "Write 1 to 12."),
    "odd_currency": (
        "{currency} is no currency's three letters.",
        "Write three letters, such as GBP or EUR.",
    ),
    "figure_unknown": (
        "No figure of the trade has the id {figure}.",
        "Write an id that countback routes --of ROUTE or countback estimate names.",
    ),
    "figure_doubled": (
        "The workshop has two figures of its own for {figure}.",
        "Take one of the two out.",
    ),
    "break_part_over": (
        "By the workshop's own figures the second part of a split break (DR01d) is longer than a "
        "whole break (DR01b).",
        "Write no more for DR01d than for DR01b.",
    ),
    # Places and people.
    "place_with_area_and_slots": (
        "The place has both an area, {area_m2} m², and slots, {slots}.",
        "Keep the one by which its room is counted.",
    ),
    "stands_where_nothing_stands": (
        "It would wait in {place}, where no pieces stand.",
        "Name a standing place, or mark that one as standing.",
    ),
    "booking_without_area": (
        "A booking takes {area_m2} m² of a place whose area nobody wrote down.",
        "Write the area of the place; until then the booking takes all of it.",
    ),
    "no_place_of_kind": (
        "The workshop has no place of the kind {kind}.",
        "Add the place, or name another kind.",
    ),
    "lifted_alone": (
        "One pair of hands would lift {mass_kg} kg without gear; the guideline is {limit_kg} kg at "
        "most (from memory).",
        "Add people or gear; local rules and whoever is responsible for lifting decide.",
    ),
    "skill_doubled": ("The skill {skill} is written twice.", "Take one of the two out."),
    "freelance_without_days": (
        "This freelancer has no confirmed days, so no plan counts on them.",
        "Confirm days, once they are agreed.",
    ),
    "engaged_too_short": (
        counted(
            "days_count",
            "This freelancer comes for {least_count} at least, and is wanted for {days_count} day.",
            "This freelancer comes for {least_count} at least, but is wanted for {days_count}.",
        ),
        "Add days, or take these out.",
    ),
    "cancel_soon": (
        "This freelancer is pencilled from {first} on and can be cancelled until {until}.",
        "Confirm the days or cancel them.",
    ),
    # Jobs.
    "job_without_window": (
        "The job has no window, or none of the name it holds.",
        "Write when the site can be had.",
    ),
    "window_over": (
        "The window ended {end}; the book speaks of {as_of}.",
        "Write the next window, or take the job out.",
    ),
    "pencilled_without_date": (
        "The job is pencilled without a date until which it is.",
        "Write the date, or make it firm or an enquiry.",
    ),
    "pencilled_over": (
        "The job was pencilled until {until}; the book speaks of {as_of}.",
        "Ask the client: a later date, firm, or out.",
    ),
    "date_but_not_pencilled": (
        "The job has a date until which it is pencilled, and is {standing}.",
        "Take the date out, or pencil the job.",
    ),
    "job_without_segments": ("The job has no segments.", "Write what is made and moved."),
    "job_without_steps": ("The job has no steps.", "Copy them from a way of making."),
    "job_without_loading": (
        "The job has no loading, so nothing says by when it must leave.",
        "Add a loading before the journey.",
    ),
    "segment_without_work": (
        "Nothing is done to the segment {segment}.",
        "Add its steps, or take it out.",
    ),
    "segment_without_loading": (
        "The segment {segment} is never loaded.",
        "Name it in the loading.",
    ),
    "several_loadings": (
        "The segment {segment} is loaded more than once.",
        "Name it in one loading only.",
    ),
    "several_journeys": (
        "The segment {segment} goes on more than one journey.",
        "Name it in one journey only.",
    ),
    "segment_without_size": (
        "The segment {segment} has no size, so it takes no floor in the plan.",
        "Write length, width and height as it stands.",
    ),
    # The way out and in.
    "opening_not_measured": (
        "Nobody has measured {opening}, which pieces must pass.",
        "Measure it before foam is cut, and say so here.",
    ),
    "way_out_unknown": (
        "The book has no opening of the workshop, so nobody knows whether pieces get out.",
        "Write the doors and lifts on the way out, measured.",
    ),
    "way_in_unknown": (
        "The book has no opening of {site}, so nobody knows whether pieces get in.",
        "Write the doors and lifts on the way in, measured before foam is cut.",
    ),
    "segment_size_for_opening": (
        "The segment {segment} lacks a size, so nobody knows whether it passes {opening}.",
        "Write length, width and height as it is made.",
    ),
    "close_fit": (
        "The segment {segment} passes {opening} as it is moved, with {spare_mm} mm to spare in its "
        "{dimension}.",
        "Measure both once more before foam is cut.",
    ),
    "vehicle_not_measured": (
        "By the usual sizes the segment {segment} is {over_mm} mm too much for {opening} in its "
        "{dimension}.",
        "Measure the vehicle inside, and write its sizes.",
    ),
    "weigh_it": (
        "At the high end, with frame, fixings and lifting gear, the segment {segment} may be more "
        "than {equipment} carries.",
        "Weigh it before it is loaded or lifted, and write its mass.",
    ),
    "turn_unknown": (
        "“{word}” is no way round that a piece is turned, so it counts for nothing.",
        "Write upright, on_side, on_end or lying.",
    ),
    "no_way_round": (
        "The segment {segment} may be put down on no side, so it is taken as it stands.",
        "Take a finished face out, or allow another way round.",
    ),
    # Steps.
    "stage_without_ways": (
        "The stage has no way to do it.",
        "Write people, hours and place.",
    ),
    "need_without_hands": (
        "The stage needs {skill} by nobody.",
        "Write how many people, or take the skill out.",
    ),
    "hours_out_of_order": (
        "The hours {low}, {likely}, {high} don't rise from low to high.",
        "Write them in order: low, likely, high.",
    ),
    "skill_of_nobody": (
        "Nobody can do {skill}.",
        "Give the skill to somebody, or write another one.",
    ),
    "too_few_for_need": (
        counted(
            "wanted",
            "The stage wants {wanted} person for {skill}, and there are {there}.",
            "The stage wants {wanted} people for {skill}, and there are {there}.",
        ),
        "Want fewer, add another way, or engage somebody.",
    ),
    "too_few_equipment": (
        "The stage wants {wanted} of {equipment}, and there are {there}.",
        "Want fewer, or add what is hired.",
    ),
    "asked_person_cannot": (
        "{person} is asked for by name, and can't do what the stage needs.",
        "Ask for somebody else, or add the skill.",
    ),
    "certificate_of_nobody": (
        "Nobody holds the certificate {certificate}.",
        "Write who holds it, and until when.",
    ),
    "ring": (
        "These steps wait for each other in a ring: {steps}.",
        "Take one of the waits out.",
    ),
    "most_below_least": (
        "It may wait {most_hours} h at most, and must wait {least_hours} h at least.",
        "Write a longer greatest wait, or a shorter least.",
    ),
    "recoat_before_cured": (
        "The recoat time of {recoat_hours} h is over before it is ready, after {cure_hours} h.",
        "Look at the product's data sheet again.",
    ),
    "recoat_bands_out_of_order": (
        "The band up to {upto} °C comes after the one up to {before} °C.",
        "Write the bands by rising temperature, each once.",
    ),
    "recoat_band_before_cured": (
        "Up to {upto} °C the recoat time of {most_hours} h is over before it is ready, after "
        "{cure_hours} h.",
        "Write a longer recoat time, or a shorter cure.",
    ),
    "recoat_hours_beside_bands": (
        "The recoat time of {recoat_hours} h is not used, since there are bands by temperature.",
        "Take one of the two out.",
    ),
    "temperature_unknown": (
        "{step} and maybe others mind the temperature, and the book has none: {celsius} °C is "
        "taken.",
        "Write how warm the workshop is by day and by night, month by month.",
    ),
    "months_without_temperature": (
        "Work that minds the temperature may lie here, and these months have none: {months}. "
        "{celsius} °C is taken for them.",
        "Write how warm it is by day and by night in these months.",
    ),
    "humidity_unknown": (
        "{step} and maybe others mind how damp the air is, and the book never says: nothing is "
        "held against it.",
        "Write the humidity beside the temperatures.",
    ),
    "heating_incomplete": (
        "This heating is taken and does not say: {field}.",
        "Write how warm it gets and in which hours, or don't take it.",
    ),
    "heating_of_no_place": (
        "This heating is about {id}, which is no place.",
        "Write the ids of places, or none for all of them.",
    ),
    "temperatures_reversed": (
        "The coldest, {coldest} °C, is warmer than the warmest, {warmest} °C.",
        "Change them over.",
    ),
    "pin_before_now": (
        "It is pinned to {at}, which is past; the book speaks of {as_of}.",
        "Move the pin, or write down what happened.",
    ),
    "pin_contradicts": (
        "The pin contradicts itself: start {start}, day {day}, not before {not_before}.",
        "Keep the one that is meant.",
    ),
    "rework_missing": (
        counted(
            "allow_no",
            "{allow_no} no is allowed for, and no rework is written for it.",
            "{allow_no} times no is allowed for, and no rework is written for it.",
        ),
        "Write the rework, or plan for a yes.",
    ),
    # Ways of making.
    "rule_doubled": (
        "The way of making says twice how {step} is copied; the later one holds.",
        "Take one of the two out.",
    ),
    "option_unknown": (
        "The way of making has no option {option}.",
        "Add it to the options, or take it out.",
    ),
    "measure_missing": (
        "The hours of {segment} go by {field}, which isn’t written down; {taken} is taken.",
        "Measure it, write it down, and write the way of making into the job again.",
    ),
    # The journey.
    "journey_without_legs": ("The journey has no legs.", "Write the road and the site work."),
    "journey_without_inside": (
        "No leg of the journey lies inside the window.",
        "Mark the legs that must happen inside it.",
    ),
    "leg_without_time": (
        "The leg {leg} takes no time; no leg does that.",
        "Write its minutes.",
    ),
    "sailing_without_departures": (
        "The sailing has no departures.",
        "Write when it leaves and arrives.",
    ),
    "departures_out_of_order": (
        "The departure {leaves} stands after the later one {before}.",
        "Write departures in the order in which they leave.",
    ),
    "opens_without_zone": (
        "The leg {leg} has opening hours and doesn't say by which clock.",
        "Write its time zone.",
    ),
    # What has happened.
    "fact_fits_not": (
        "{kind} can't happen to {step}.",
        "Name another step, or another thing that happened.",
    ),
    "answer_missing": (
        "An answer came, and the book doesn't say which.",
        "Write yes, changes or no.",
    ),
    "changes_missing": (
        "The yes to {step} asks for changes, and no work is written for them.",
        "Write the changes into the answer, or mark what changes with countback change.",
    ),
    "remaining_missing": (
        "It is running, and the book doesn't say how much is left.",
        "Write the person-hours that are left.",
    ),
    "held_missing": (
        "It was held up, and the book doesn't say by what.",
        "Write material, tool, place, weather, drawing, client, work_before or person.",
    ),
    "fact_doubled": (
        "{kind} is noted twice of {step}.",
        "Keep the one that is right.",
    ),
    "fact_after_now": (
        "It happened {at}, which is yet to come; the book speaks of {as_of}.",
        "Check the date.",
    ),
    "uncertified_at_work": (
        "{person} was told to be at work on it, and holds no certificate {certificate} that day.",
        "Let somebody who holds it take over, or write that and until when {person} holds it.",
    ),
    # Material, and the days on the way to a firm job.
    "material_without_supplier": (
        "Nobody is named who delivers {material}, so no day to order it by can be given.",
        "Name a supplier.",
    ),
    "foam_not_in_blocks": (
        "The foam is counted in {unit} and the book doesn't say how it is packed, so no blocks of "
        "it can be counted.",
        "Count it in m3, or write its pack size.",
    ),
    "quote_over": (
        "The quote was good until {until}; the book speaks of {as_of}.",
        "Ask the client, then write a later date, or take the job out.",
    ),
    "deposit_overdue": (
        "The deposit was due {due} and nobody wrote that it was paid; the book speaks of {as_of}.",
        "Write when it was paid, or ask for it: nothing is ordered before.",
    ),
}

CURES_WITH_NEAREST: dict[str, Template] = {
    "unknown_id": "If {nearest} was meant, write that; else add it.",
    "offer_about_unknown": "If {nearest} was meant, write that; else take it out.",
    "unknown_zone": "If {nearest} was meant, write that.",
    "skill_of_nobody": "If {nearest} was meant, write that; else give the skill to somebody.",
    "certificate_of_nobody": "If {nearest} was meant, write that; else write who holds it.",
    "turn_unknown": "If {nearest} was meant, write that; else take it out.",
    "option_unknown": "If {nearest} was meant, write that; else add it to the options.",
    "figure_unknown": "If {nearest} was meant, write that; else take it out.",
}

DIMENSIONS: dict[str, Template] = {
    "width": within("dimension", "width"),
    "height": within("dimension", "height"),
    "length": within("dimension", "length"),
}

SORTS: dict[str, Template] = {
    "job": within("sort", "job"),
    "segment": within("sort", "segment"),
    "step": within("sort", "step"),
    "person": within("sort", "person"),
    "place": within("sort", "place"),
    "equipment": within("sort", "equipment"),
    "route": within("sort", "way of making"),
    "way": within("sort", "way"),
    "offer": within("sort", "offer"),
    "window": within("sort", "window"),
    "fact": within("sort", "fact"),
    "other_work": within("sort", "other work"),
    "supplier": within("sort", "supplier"),
    "material": within("sort", "material"),
    "means": within("sort", "means"),
    "arrangement": within("sort", "arrangement"),
    "notice": within("sort", "notice"),
}
"""What `sort` can be."""
