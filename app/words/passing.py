"""Pieces and what they must pass, in words: what decides, loads, cuts."""

from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from fractions import Fraction
from typing import TYPE_CHECKING

from app.words.clashes import TOO
from app.words.findings_book import DIMENSIONS
from app.words.template import Template, counted, within
from app.words.voice import Voice, capital
from shared.passing.boxes import Axis, Margins, Sides, Turn
from shared.passing.judge import Answer, Judged
from shared.passing.masses import Weight
from shared.passing.passages import Gap, Part, Passage
from shared.passing.roads import Demand, Limit, Realm, Road
from shared.trade import figure
from shared.units import whole_down, whole_up

if TYPE_CHECKING:
    from shared.book import Body
    from shared.passing.loading import Stow, Stowed, Trip
    from shared.passing.passages import Carrier
    from shared.passing.split import Counts, HoursMore, Proposal
    from shared.passing.taking import Taking

MARGINS: Template = (
    "As it is moved, a piece has {wrap} mm of wrapping on every side and {skates} mm of skates or "
    "pallet beneath."
)
NO_OPENINGS: Template = (
    "The book has no openings of workshop and site, so only what carries the pieces is judged. "
    "Write them, measured, before foam is cut."
)
PIECE: Template = "{segment}: {size} m, as moved {moved} m."
PIECE_ALONE: Template = "A piece of {size} m, as moved {moved} m."
NO_SIZE: Template = "{segment}: no size, so nobody knows what it passes."
NOTHING: Template = "Nothing on its way is known."
DECIDES: Template = "What decides: {judged}"
HEAVY: Template = (
    "With frame, fixings and lifting gear it may be more than a lorry may weigh in all without "
    "notice: ask the road authority."
)
NO_JOBS: Template = "There are no pieces in the book."
SPLIT_IT: Template = "countback split says where it could be cut."
DEFERS: Template = (
    "Weigh each piece before it is lifted: the lift plan of a competent person decides on every "
    "lift. On roads and ferries the authority and the line have the last word."
)

_OPENINGS: dict[Part, Template] = {
    Part.WORKSHOP: "{name}",
    Part.SITE: "{name}",
    Part.VEHICLE: "inside {name}",
    Part.DOOR: "the door of {name}",
}
_INSIDE_USUAL: Template = "inside the haulier’s lorry"
_ROADS: dict[Realm, Template] = {
    Realm.BRITAIN: "the road in Great Britain, on an open bed",
    Realm.EUROPE: "the road by the limits of the European Union, on an open bed",
    Realm.FERRY: "the ferry {name}, on an open bed",
}
_TURNS: dict[Axis, Template] = {
    Axis.HEIGHT: within("way round", "as it is made"),
    Axis.WIDTH: within("way round", "on its side"),
    Axis.LENGTH: within("way round", "on its end"),
}
_AHEAD: dict[Axis, Template] = {
    Axis.LENGTH: within("ahead", "length ahead"),
    Axis.WIDTH: within("ahead", "width ahead"),
    Axis.HEIGHT: within("ahead", "height ahead"),
}
_SPARE: Template = "{spare} mm to spare in its {dimension}"
_OVER: Template = "{over} mm too {wide}"
_PASSES: Template = "{opening} is passed {turn}, {ahead}, with {left}."
_TURNED: Template = "{opening} is passed only {turn}, {ahead}, with {left}."
_TOO_BIG: Template = "{opening} is not passed: whichever way round, the piece is {left} or more."
_CLOSE: Template = "{opening}: measure it, {turn}, {ahead} there are only {left}."
_UNMEASURED: Template = "{opening}: measure it, nobody has; as it is written, {turn}, {left}."
_USUAL: Template = (
    "{opening}: measure it, nobody has; by the usual sizes ({figures}, common practice), {turn}, "
    "{left}."
)
_INCOMPLETE: Template = "{opening}: measure the rest of it; by what is known, {turn}, {left}."
_NOTICE: Template = "{opening} is passed {turn} with notice: {over} mm above {limit} m. {demand}"
_DEMANDS: dict[Demand, Template] = {
    Demand.ROUTE: "Have the height of the route looked at.",
    Demand.REQUEST: "Ask the line {days} working days ahead or more.",
    Demand.PERMIT: "It wants a permit of the road authority.",
    Demand.NOTICE: "Tell the police {days} clear working days ahead.",
    Demand.FORM: "It wants form VR1 and {days} clear working days of notice.",
    Demand.ORDER: "It wants a special order, applied for {weeks} weeks ahead, and {days} clear "
    "working days of notice.",
}
_DAYS: dict[Demand, str] = {
    Demand.REQUEST: "TR16",
    Demand.NOTICE: "TR03c",
    Demand.FORM: "TR03c",
    Demand.ORDER: "TR05c",
}

BODIES: dict[str, Template] = {
    "van": within("body", "a usual van"),
    "trailer": within("body", "a usual trailer"),
    "container_20": within("body", "a container of 20 ft"),
    "container_40": within("body", "a container of 40 ft, high-cube"),
    "open": within("body", "an open bed"),
}
_VEHICLE_AS: Template = "{name} as {body}"
TRIPS: Template = counted(
    "count",
    "All that go into {vehicle} go in one trip.",
    "All that go into {vehicle} go in {number} trips.",
)
LEAST: Template = "No fewer than {number} by floor and mass."
TRIP: Template = (
    "Trip {number}, loaded in this order: {pieces}. They take {length} of {all_length} m, and "
    "{area} of {all_area} m² of the floor."
)
_STOWED: Template = "{piece} ({turn})"
LAST_IN: Template = "What is needed first at the site goes in last."
LEFT: Template = counted(
    "count", "{pieces} does not go into {vehicle}.", "{pieces} do not go into {vehicle}."
)
_MASSES: dict[Weight, Template] = {
    Weight.WITHIN: "With frame, fixings and lifting gear {low} to {high} kg, and {vehicle} carries "
    "{payload} kg.",
    Weight.WEIGH: "With frame, fixings and lifting gear {low} to {high} kg, and {vehicle} carries "
    "{payload} kg: weigh it.",
    Weight.TOO_HEAVY: "Too heavy: {vehicle} carries {payload} kg.",
}
_UNKNOWN_MASS: Template = "Nobody knows what it weighs: weigh it. {vehicle} carries {payload} kg."
TAKING: Template = (
    "Along with them: {bolts} bolts and {ml} ml of sealant ({cartridges} cartridges) for "
    "{joints} m of joints, and a touch-up kit of resin, catalyst and paint, which are dangerous "
    "goods: UN 1866, UN 3105 and UN 1263, unless their data sheets say otherwise."
)
TAKING_ESTIMATED: Template = "The joints are estimated by the girth of the pieces."

WHOLE: Template = "{segment} passes as it is; nothing needs to be cut."
CUT: Template = "{segment}: {cuts} make {number} segments of {size} m, and they pass."
_CUTS: dict[Axis, Template] = {
    Axis.LENGTH: counted("count", "one cut across its length", "{number} cuts across its length"),
    Axis.WIDTH: counted("count", "one cut across its width", "{number} cuts across its width"),
    Axis.HEIGHT: counted("count", "one cut across its height", "{number} cuts across its height"),
}
BY_HAND: Template = "{segment}: {cuts} make {number} segments."
PART: Template = "Segment {number}, {size} m: {judged}"
LIMIT: Template = "The limit that decides: {judged}"
BY_MASS: Template = "What decides is the mass: a vehicle carries no larger part."
CLOSE: Template = "{cuts} would do as well if there is enough to spare: measure it."
NO_CUT: Template = "{segment}: no straight cuts into {most} parts or fewer pass. {judged}"
HOURS: Template = (
    "The cuts add {joints} m of seams, and {likely} person-hours ({low} to {high}) for flanges, "
    "joints and more pieces; common practice, no source."
)


def metres(mm: Fraction) -> str:
    """Give millimetres as metres, to the millimetre."""
    return plain(mm / 1000, 3)


def plain(amount: Fraction, places: int, *, is_up: bool = False) -> str:
    """Give an amount with so many decimals at most, rounded down, or up."""
    step = Decimal(1).scaleb(-places)
    rounding = ROUND_CEILING if is_up else ROUND_FLOOR
    exact = Decimal(amount.numerator) / Decimal(amount.denominator)
    text = format(exact.quantize(step, rounding=rounding), "f")
    return text.rstrip("0").rstrip(".") if "." in text else text


def size(sides: tuple[Fraction, Fraction, Fraction]) -> str:
    """Give three sizes in millimetres as metres."""
    return " × ".join(metres(each) for each in sides)


def moved_size(sides: Sides) -> str:
    """Give a piece as it is moved, in metres."""
    return size((sides.length, sides.width, sides.height))


def margins_line(voice: Voice, margins: Margins) -> str:
    """Give what is added to every piece."""
    return voice.say(MARGINS, wrap=plain(margins.wrap, 1), skates=plain(margins.skates, 1))


def opening(voice: Voice, passage: Passage) -> str:
    """Give what is passed by its name."""
    if isinstance(passage, Road):
        return voice.say(_ROADS[passage.realm], name=passage.name)
    if not passage.name and passage.part is Part.VEHICLE:
        return voice.say(_INSIDE_USUAL)
    return voice.say(_OPENINGS[passage.part], name=passage.name)


def judged_line(voice: Voice, judged: Judged) -> str:
    """Give whether a piece passes something, in which way round, and what that leaves."""
    facts = {
        "opening": opening(voice, judged.passage),
        "turn": turn_words(voice, judged.turn),
        "ahead": voice.say(_AHEAD[judged.turn.along]),
        "left": _left(voice, judged),
    }
    if judged.limit is not None:
        told = _limit(voice, judged.limit)
        over = whole_up(-judged.spare_mm)
        return capital(voice.say(_NOTICE, **facts, over=over, **told))
    template, more = _template(judged)
    return capital(voice.say(template, **facts, **more))


def turn_words(voice: Voice, turn: Turn) -> str:
    """Give a way round."""
    return voice.say(_TURNS[turn.up])


def _left(voice: Voice, judged: Judged) -> str:
    name = judged.dimension.value
    if judged.spare_mm < 0:
        return voice.say(_OVER, over=whole_up(-judged.spare_mm), wide=voice.say(TOO[name]))
    spare = whole_down(judged.spare_mm)
    return voice.say(_SPARE, spare=spare, dimension=voice.say(DIMENSIONS[name]))


def _limit(voice: Voice, limit: Limit) -> dict[str, object]:
    days = figure(_DAYS[limit.demand]).amount if limit.demand in _DAYS else 0
    demand = voice.say(_DEMANDS[limit.demand], days=days, weeks=figure("TR05b").amount)
    return {"limit": metres(limit.most), "demand": demand}


def _template(judged: Judged) -> tuple[Template, dict[str, str]]:
    gap = judged.passage
    if judged.answer is Answer.PASSES:
        return _PASSES, {}
    if judged.answer is Answer.TURNED:
        return _TURNED, {}
    if judged.answer is Answer.TOO_BIG:
        return _TOO_BIG, {}
    if isinstance(gap, Gap) and not gap.measured:
        return (_USUAL, {"figures": ", ".join(gap.figures)}) if gap.figures else (_UNMEASURED, {})
    return (_CLOSE if isinstance(gap, Gap) and gap.complete else _INCOMPLETE), {}


def vehicle(voice: Voice, carrier: "Carrier") -> str:
    """Give a vehicle by its name, and what it is taken for where nobody measured it."""
    body: Body | None = carrier.body
    told = "" if body is None else voice.say(BODIES[body.value])
    if not carrier.name:
        return told
    measured = [each.measured for each in carrier.passages if isinstance(each, Gap)]
    if told and not all(measured):
        return voice.say(_VEHICLE_AS, name=carrier.name, body=told)
    return carrier.name


def stow_lines(voice: Voice, carrier: "Carrier", stow: "Stow") -> list[str]:
    """Give the trips of a vehicle, each with its order, and what does not go in."""
    name = vehicle(voice, carrier)
    count = len(stow.trips)
    lines: list[str] = []
    if count:
        number = voice.number_word(count)
        lines.append(capital(voice.say(TRIPS, count=count, number=number, vehicle=name)))
        if stow.least_count < count:
            least = voice.number_word(stow.least_count)
            lines[0] += " " + capital(voice.say(LEAST, number=least))
    lines += [
        _trip_line(voice, carrier, trip, number) for number, trip in enumerate(stow.trips, start=1)
    ]
    if stow.left:
        pieces = voice.both(piece.name for piece in stow.left)
        lines.append(voice.say(LEFT, count=len(stow.left), pieces=pieces, vehicle=name))
    return lines


def _trip_line(voice: Voice, carrier: "Carrier", trip: "Trip", number: int) -> str:
    assert carrier.room is not None
    length, width, _ = carrier.room
    told = voice.say(
        TRIP,
        number=number,
        pieces=voice.series(_stowed(voice, each) for each in trip.in_order),
        length=metres(trip.length),
        all_length=metres(length),
        area=plain(trip.area_m2, 1, is_up=True),
        all_area=plain(length * width / 1_000_000, 1),
    )
    mass = _mass_line(voice, carrier, trip)
    return f"{told} {mass}" if mass else told


def _stowed(voice: Voice, stowed: "Stowed") -> str:
    if stowed.turn.is_as_made:
        return stowed.piece.name
    return voice.say(_STOWED, piece=stowed.piece.name, turn=turn_words(voice, stowed.turn))


def _mass_line(voice: Voice, carrier: "Carrier", trip: "Trip") -> str:
    if carrier.payload_kg is None:
        return ""
    payload = format(carrier.payload_kg, "f")
    name = vehicle(voice, carrier)
    if trip.mass is None:
        template = _MASSES[trip.weight] if trip.weight is Weight.TOO_HEAVY else _UNKNOWN_MASS
        return voice.say(template, vehicle=name, payload=payload)
    return voice.say(
        _MASSES[trip.weight],
        low=whole_down(trip.mass.low),
        high=whole_up(trip.mass.high),
        vehicle=name,
        payload=payload,
    )


def taking_line(voice: Voice, taking: "Taking") -> str:
    """Give what goes along for the joints."""
    told = voice.say(
        TAKING,
        bolts=taking.bolts,
        ml=taking.sealant_ml,
        cartridges=taking.cartridges,
        joints=plain(taking.joints_m, 1, is_up=True),
    )
    return f"{told} {voice.say(TAKING_ESTIMATED)}" if taking.is_estimated else told


def cuts(voice: Voice, counts: "Counts") -> str:
    """Give cuts as a list: one cut across its length and two cuts across its width."""
    told = []
    for axis in Axis:
        count = counts.along(axis) - 1
        if count:
            number = voice.number_word(count)
            told.append(voice.say(_CUTS[axis], count=count, number=number))
    return voice.both(told)


def proposal_lines(voice: Voice, segment: str, proposal: "Proposal") -> list[str]:
    """Give the cuts that a piece needs, what decides them and what they add."""
    counts = proposal.counts
    if counts.all == 1:
        return [voice.say(WHOLE, segment=segment)]
    box = proposal.passing.piece.box
    lines = [
        voice.say(
            CUT,
            segment=segment,
            cuts=cuts(voice, counts),
            number=voice.number_word(counts.all),
            size=size((box.length, box.width, box.height)),
        )
    ]
    if proposal.is_by_mass:
        lines.append(voice.say(BY_MASS))
    if proposal.deciding is not None:
        lines.append(voice.say(LIMIT, judged=judged_line(voice, proposal.deciding)))
    if proposal.close is not None:
        lines.append(capital(voice.say(CLOSE, cuts=cuts(voice, proposal.close) or segment)))
    lines.append(hours_line(voice, proposal.seams_m, proposal.hours))
    return lines


def hours_line(voice: Voice, seams_m: Fraction, hours: "HoursMore") -> str:
    """Give what cuts add."""
    return voice.say(
        HOURS,
        joints=plain(seams_m, 1, is_up=True),
        low=plain(hours.low, 0),
        likely=plain(hours.likely, 0, is_up=True),
        high=plain(hours.high, 0, is_up=True),
    )
