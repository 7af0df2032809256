"""The usual way of making, written out as steps for pieces of any size.

Rates are common practice, no source: block-out 0.3 to 1 m3 an hour, carving and fairing by
the square metre, laminating in sessions of one shift.
"""

from dataclasses import dataclass, replace
from decimal import Decimal

from shared.book import (
    After,
    EquipmentNeed,
    Gate,
    GateKind,
    Hours,
    Journey,
    Kind,
    Leg,
    LegKind,
    Need,
    Segment,
    Stage,
    Step,
    Way,
)
from shared.ids import EquipmentId, PersonId, PlaceId, SegmentId, SkillId, StepId

FOAM = SkillId("foam")
LAMINATE = SkillId("laminate")
FINISH = SkillId("finish")
SPRAY = SkillId("spray")
FIT = SkillId("fit")

CARVING_BAYS = (PlaceId("bay-1"), PlaceId("bay-2"))
LAMINATING_BAYS = (PlaceId("bay-3"), PlaceId("bay-4"))
FINISHING_BAYS = (PlaceId("bay-2"), PlaceId("bay-4"))
BOOTH = (PlaceId("booth"),)
HOT_WIRE = EquipmentNeed(equipment=EquipmentId("hot-wire"))
QUARTER = Decimal("0.25")


@dataclass(frozen=True, slots=True, kw_only=True)
class Recipe:
    """One stage of the usual way: hours = fixed + rate x skin area, at most `most` a session."""

    word: str
    kind: Kind
    skill: SkillId
    fixed: Decimal
    rate: Decimal
    places: tuple[PlaceId, ...] = ()
    hands: tuple[tuple[int, int], ...] = ((1, 0),)
    most: Decimal = Decimal(60)
    one_go: bool = False
    stays: bool = False
    cure: int = 0
    recoat: int | None = None
    wire: bool = False


def _recipe(word: str, kind: Kind, skill: SkillId, fixed: str, rate: str, **more: object) -> Recipe:
    return Recipe(
        word=word,
        kind=kind,
        skill=skill,
        fixed=Decimal(fixed),
        rate=Decimal(rate),
        **more,  # type: ignore[arg-type]
    )


SESSION = {"one_go": True, "most": Decimal(11), "hands": ((2, 0), (2, 1))}
COAT = {"one_go": True, "most": Decimal("5.5"), "places": BOOTH, "stays": True}

CARVED = (
    _recipe("block", Kind.FOAM, FOAM, "2", "0.25", hands=((1, 1),), places=CARVING_BAYS, wire=True),
    _recipe("carve", Kind.FOAM, FOAM, "3", "1.5", hands=((1, 0), (2, 0)), places=CARVING_BAYS),
)
SKINNED = (
    _recipe("barrier", Kind.LAMINATE, LAMINATE, "1", "0.2", places=LAMINATING_BAYS),
    _recipe(
        "laminate", Kind.LAMINATE, LAMINATE, "2", "0.45",
        places=LAMINATING_BAYS, stays=True, cure=12, recoat=48, **SESSION,
    ),
    _recipe(
        "second laminate", Kind.LAMINATE, LAMINATE, "2", "0.4",
        places=LAMINATING_BAYS, stays=True, cure=48, **SESSION,
    ),
    _recipe("hollow", Kind.LAMINATE, FIT, "2", "0.35", places=FINISHING_BAYS),
)  # fmt: skip
FINISHED = (
    _recipe("fair", Kind.FILL, FINISH, "2", "0.9", hands=((1, 0), (2, 0)), places=FINISHING_BAYS),
    _recipe(
        "flow coat", Kind.COAT, LAMINATE, "1", "0.15",
        one_go=True, places=LAMINATING_BAYS, stays=True, cure=24,
    ),
    _recipe("sand", Kind.FILL, FINISH, "2", "0.6", places=FINISHING_BAYS),
    _recipe("prime", Kind.PAINT, SPRAY, "1", "0.08", cure=12, **COAT),
    _recipe("colour", Kind.PAINT, SPRAY, "1.5", "0.12", cure=12, recoat=72, **COAT),
    _recipe("lacquer", Kind.LACQUER, SPRAY, "1", "0.08", cure=12, **COAT),
    _recipe("pack", Kind.PACK, FIT, "1", "0.08"),
)  # fmt: skip


def skin_area(segment: Segment) -> Decimal:
    """Give the area of a segment's skin in square metres: its own figure or 0.7 of its box."""
    if segment.surface_m2 is not None:
        return segment.surface_m2
    a, b, c = (size or Decimal(1) for size in (segment.length_m, segment.width_m, segment.height_m))
    return Decimal("1.4") * (a * b + b * c + a * c)


def _quarters(hours: Decimal) -> Decimal:
    return -(-hours // QUARTER) * QUARTER


def _hours(likely: Decimal) -> Hours:
    low = _quarters(likely * Decimal("0.8"))
    return Hours(low=min(low, likely), likely=likely, high=_quarters(likely * Decimal("1.6")))


def _way(recipe: Recipe, hands: tuple[int, int], likely: Decimal) -> Way:
    can, helps = hands
    return Way(
        id=f"{can + helps} people" if can + helps > 1 else "1 person",
        needs=(Need(skill=recipe.skill, can=can, helps=helps),),
        hours=_hours(likely),
        places=recipe.places,
        equipment=(HOT_WIRE,) if recipe.wire else (),
    )


def stage_of(recipe: Recipe, segment: Segment) -> Stage:
    """Write one recipe out for one segment."""
    likely = _quarters(min(recipe.fixed + recipe.rate * skin_area(segment), recipe.most))
    return Stage(
        id=StepId(f"{segment.id}.{recipe.word.replace(' ', '-')}"),
        name=recipe.word,
        kind=recipe.kind,
        segments=(segment.id,),
        ways=tuple(_way(recipe, hands, likely) for hands in recipe.hands),
        in_one_go=recipe.one_go,
        stays=recipe.stays,
        cure_hours=Decimal(recipe.cure),
        recoat_hours=None if recipe.recoat is None else Decimal(recipe.recoat),
    )


def gate(job: str, word: str, kind: GateKind, **more: object) -> Gate:
    """Write a gate over all segments of a job."""
    made = Gate(id=StepId(f"{job}.{word.replace(' ', '-')}"), name=word, gate=kind)
    fields = {name: getattr(made, name) for name in ("id", "name", "gate")}
    return Gate(**fields, **more)  # type: ignore[arg-type]


def _together(segments: tuple[Segment, ...], each: str) -> Way:
    hours = _quarters(Decimal(1) + Decimal(each) * len(segments))
    needs = (Need(skill=FIT, can=1, helps=1),)
    return Way(id="2 people", needs=needs, hours=_hours(hours))


def local_van(
    job: str, crew: tuple[PersonId, ...], drive_minutes: int, fit_minutes: int
) -> Journey:
    """Write the journey of a van and its crew to a site in the same country."""
    legs = (
        Leg(kind=LegKind.DRIVE, name="drive", minutes=drive_minutes),
        Leg(kind=LegKind.UNLOAD, name="unload", minutes=45, inside=True),
        Leg(kind=LegKind.ASSEMBLE, name="assemble", minutes=fit_minutes, inside=True),
        Leg(kind=LegKind.SIGN_OFF, name="sign off", minutes=15, inside=True),
    )
    return Journey(
        id=StepId(f"{job}.ship"),
        name="ship",
        legs=legs,
        crew=crew,
        vehicles=(EquipmentId("van"),),
        back_minutes=drive_minutes,
    )


def _hard_first(stage: Stage) -> Stage:
    """Let a piece be packed no sooner than 72 hours after its lacquer (common practice)."""
    if stage.name != "pack":
        return stage
    lacquer = StepId(stage.id.removesuffix("pack") + "lacquer")
    return replace(stage, after=(After(step=lacquer, least_hours=Decimal(72)),))


def steps_for(
    job: str, segments: tuple[Segment, ...], journey: Journey, *, answer_days: int | None = None
) -> tuple[Step, ...]:
    """Write the usual way of making out for a whole job, from the block to the sign-off."""
    made: list[Step] = []
    made += [stage_of(recipe, s) for s in segments for recipe in CARVED]
    made.append(gate(job, "approve", GateKind.ANSWER, answer_days=answer_days))
    made += [stage_of(recipe, s) for s in segments for recipe in SKINNED]
    if len(segments) > 1:
        fit = (_together(segments, "0.5"),)
        made.append(gate(job, "trial fit", GateKind.TRIAL_FIT, ways=fit))
    made += [_hard_first(stage_of(recipe, s)) for s in segments for recipe in FINISHED]
    made.append(gate(job, "loading", GateKind.LOADING, ways=(_together(segments, "0.25"),)))
    made.append(journey)
    return tuple(made)


def segment(job: str, name: str, sizes: tuple[str, str, str]) -> Segment:
    """Write a segment down: length, width and height in metres."""
    length, width, height = (Decimal(size) for size in sizes)
    return Segment(
        id=SegmentId(f"{job}.{name.lower().replace(' ', '-')}"),
        name=name,
        length_m=length,
        width_m=width,
        height_m=height,
    )
