"""The ways of making that the program brings: carved and skinned ones, and what all share.

Stages stand in the trade's order, and each number is a figure's.
"""

from typing import Any

from shared.book import Abrade, Act, GateKind, Kind, Measure, Route
from shared.ids import RouteId
from tests.books.making_paint import painted
from tests.books.recipe import (
    BAY,
    BY_DETAIL,
    BY_FINISH,
    ENGINEER,
    ONE_OR_TWO,
    PAIR,
    PER_M,
    PER_M2,
    PER_M3,
    PER_PIECE,
    Part,
    Rate,
    abraded,
    after,
    each,
    gate,
    glass,
    n,
    only,
    quarters,
    ship,
    speed,
    stage,
    takes,
    ways,
    whole,
    with_setup,
)

GLASS = "PL15/1000"
"""The glass of one layer, in kilograms a square metre."""

LAYER = f"{GLASS}*(1+PL10)"
"""Finished laminate of one layer, in kilograms a square metre."""

ON_FOOT = "CP186/2"
"""Layers in each of the two sessions of a skin that is walked on."""

FINISHES = ("airbrush", "spatter", "grip", "texture", "sealant", "colour-board", "self-coloured")
BEFORE = ("maquette",)
STEEL = ("steel-frame", "lifting-points")


def layers(count: str) -> Rate:
    """Give hours of laminating so many layers, mixing and cleaning besides."""
    rate = (
        f"{count}*{LAYER}/QL02a.high",
        f"{count}*{LAYER}/QL02a",
        f"{count}*{LAYER}/QL02a.low",
    )
    return with_setup(rate, "CP135")


def laid(word: str, count: str = "PL21", **more: Any) -> Part:
    """Write a session of laminating, cut where it is longer than a shift."""
    fields: dict[str, Any] = {
        "per": PER_M2,
        "session_hours": n("CP137"),
        "session_recoat_hours": n("PL22"),
        "in_one_go": True,
        "stays": True,
        "cure_hours": n("PL06"),
        "cure_celsius": n("PL05.high"),
        "coldest_celsius": n("PL05"),
        "abrade": abraded(),
        "materials": glass(f"{count}*{GLASS}"),
    }
    made = ways("laminate", layers(count), ((2, 0), (2, 1)), BAY, setup_hours=n("CP135"))
    return stage(word, Kind.LAMINATE, made, **{**fields, **more})


def soon_laid_over(word: str, count: str = "PL21", **more: Any) -> Part:
    """Write a session of laminating that another follows, overnight and before abrading is due."""
    waits = {"cure_hours": n("CP136"), "recoat_hours": n("PL22")}
    return laid(word, count, **{**waits, **more})


def survey() -> tuple[Part, ...]:
    """Write what comes before any foam: survey, maquette, steel frame and the engineer's word."""
    look = stage("survey", Kind.PACK, ways("fit", each("CP120")), together=True)
    small = stage("maquette", Kind.FOAM, ways("foam", each("CP121"), kinds=BAY), together=True)
    drawn = stage(
        "frame drawings", Kind.PACK, ways("fit", each("CP123")), together=True, only_if=STEEL
    )
    agreed = gate(
        "engineer's answer",
        GateKind.ANSWER,
        step_id="engineer",
        only_if=STEEL,
        answered_by=ENGINEER,
        answer_days=whole("CP126"),
    )
    frame = stage(
        "steel frame",
        Kind.PACK,
        ways("fit", each("CP124"), PAIR, BAY),
        does=(Act.WELD, Act.GRIND),
        per=PER_PIECE,
        only_if=("steel-frame",),
    )
    points = stage(
        "lifting points",
        Kind.PACK,
        ways("fit", each("CP125"), kinds=BAY),
        does=(Act.GRIND,),
        per=PER_PIECE,
        only_if=("lifting-points",),
    )
    seen = gate("maquette answer", GateKind.ANSWER, rework=_again("CP130"), per=PER_M2)
    return (look, *only((small, seen), only_if=BEFORE), drawn, agreed, frame, points)


def _again(name: str) -> Abrade:
    return Abrade(ways=ways("foam", each(name), ONE_OR_TWO, BAY))


def carved(*blocks: Part) -> tuple[Part, ...]:
    """Write block, glue, carve and detail; blocks: instead of the usual one."""
    return (
        *(blocks or (blocked(),)),
        stage(
            "glue",
            Kind.FOAM,
            ways("foam", each("CP128"), kinds=BAY),
            per=PER_M3,
            does=(Act.SOLVENT,),
            cure_hours=n("EP12b.high"),
            coldest_celsius=n("CP182"),
            materials=takes(("foam-glue", "CP531")),
        ),
        stage(
            "carve",
            Kind.FOAM,
            ways("foam", speed("QL03b"), ONE_OR_TWO, BAY),
            per=PER_M2,
            does=(Act.DUST,),
            classes=BY_DETAIL,
        ),
        stage(
            "detail",
            Kind.FOAM,
            ways("foam", each("CP129"), kinds=BAY),
            per=PER_M2,
            does=(Act.DUST,),
            classes=BY_DETAIL,
        ),
    )


def blocked(**more: Any) -> Part:
    """Write the blocking out, of foam that is taken from the store."""
    made = ways("foam", speed("QL03a"), PAIR, BAY, ("hot-wire",))
    fields: dict[str, Any] = {
        "per": PER_M3,
        "does": (Act.HOT_WIRE,),
        "materials": takes(("foam", "CP530")),
    }
    return stage("block", Kind.FOAM, made, **{**fields, **more})


def approved() -> Part:
    """Write the pictures and the answer."""
    again = {"rework": _again("CP130"), "changes": _again("CP131")}
    return gate("approve", GateKind.ANSWER, per=PER_M2, classes=BY_DETAIL, **again)


def barrier() -> tuple[Part, ...]:
    """Write the barrier: foil, which does not cure, or a painted one by its sheet."""
    return (
        stage(
            "barrier",
            Kind.LAMINATE,
            ways("laminate", each("CP132"), kinds=BAY),
            per=PER_M2,
            unless=("painted-barrier",),
            does=(),
            materials=takes(("barrier-foil", "CP532")),
        ),
        stage(
            "barrier",
            Kind.LAMINATE,
            ways("laminate", each("CP133"), kinds=BAY),
            step_id="painted-barrier",
            per=PER_M2,
            only_if=("painted-barrier",),
            does=(Act.RESIN, Act.WET),
            cure_hours=n("PL30*24"),
            cure_celsius=n("PL05.high"),
            coldest_celsius=n("PT11b.low"),
            most_humidity_percent=n("PT11c"),
            materials=takes(("epoxy", "CP533")),
        ),
    )


def skinned() -> tuple[Part, ...]:
    """Write the skin: one session of layers, or two where the piece is walked on."""
    return (
        laid("laminate", unless=("walked-on",)),
        soon_laid_over("laminate", ON_FOOT, step_id="first-laminate", only_if=("walked-on",)),
        laid("second laminate", ON_FOOT, only_if=("walked-on",)),
    )


def hollowed() -> tuple[Part, ...]:
    """Write how the foam is taken out and the flanges are made thick enough to bolt."""
    return (
        turned("turn over"),
        stage(
            "hollow",
            Kind.LAMINATE,
            ways("foam", each("CP138"), ONE_OR_TWO, BAY),
            per=PER_M3,
            does=(Act.DUST,),
        ),
        on_joints("thicken flanges", "CP140"),
    )


def turned(word: str) -> Part:
    """Write a piece being turned or moved: people and gear, as over 25 kg it must be."""
    made = ways("fit", each("CP139"), PAIR, BAY, ("hoist",))
    return stage(word, Kind.PACK, made, per=PER_PIECE, does=(Act.LIFT,))


def on_joints(word: str, name: str) -> Part:
    """Write laminating along joints."""
    return laid_by(word, with_setup(each(name), "CP135"), PER_M, materials=glass("CP534"))


def laid_by(word: str, rate: Rate, per: Measure, **more: Any) -> Part:
    """Write laminating along joints or inside a shell, by one who is helped."""
    made = ways("laminate", rate, PAIR, BAY, setup_hours=n("CP135"))
    return stage(
        word,
        Kind.LAMINATE,
        made,
        per=per,
        in_one_go=True,
        stays=True,
        session_hours=n("CP137"),
        session_recoat_hours=n("PL22"),
        abrade=abraded(),
        cure_hours=n("PL06"),
        cure_celsius=n("PL05.high"),
        coldest_celsius=n("PL05"),
        **more,
    )


def faired() -> Part:
    """Write filling and fairing of all of it."""
    return filled(speed("QL03c"), filler="CP535")


def filled(rate: Rate, word: str = "fair", filler: str = "CP536", **more: Any) -> Part:
    """Write filling and fairing: polyester filler by its sheet, then sanded by hand."""
    fields: dict[str, Any] = {
        "per": PER_M2,
        "classes": BY_FINISH,
        "materials": takes(("filler", filler)),
        "does": (Act.DUST,),
        "cure_hours": quarters("FM04/60"),
        "cure_celsius": n("PL05.high"),
        "coldest_celsius": n("FM04b.low"),
    }
    made = ways("finish", rate, ONE_OR_TWO, more.pop("kinds", BAY))
    return stage(word, Kind.FILL, made, **{**fields, **more})


def fitted(fair: Part) -> tuple[Part, ...]:
    """Write the trial fit, bolted; then all is faired across the joints and taken apart."""
    fit = ways("fit", each("CP141"), PAIR, materials=takes(("bolt", "CP409")))
    across = {"kinds": (), "per": PER_M, "together": True}
    apart = ways("fit", each("CP143"), PAIR)
    return (
        fair,
        gate("trial fit", GateKind.TRIAL_FIT, ways=fit, per=PER_M),
        filled(each("CP142"), "fair across joints", "CP537", **across),
        stage("take apart", Kind.PACK, apart, per=PER_M, together=True, does=(Act.LIFT,)),
    )


def flow_coated() -> tuple[Part, ...]:
    """Write the flow coat, which nothing holds on to before it is abraded, and the sanding."""
    made = ways("laminate", with_setup(speed("QL03d"), "CP135"), kinds=BAY, setup_hours=n("CP135"))
    coat = stage(
        "flow coat",
        Kind.COAT,
        made,
        per=PER_M2,
        session_hours=n("CP147"),
        in_one_go=True,
        stays=True,
        cure_hours=n("PL29"),
        cure_celsius=n("PL05.high"),
        coldest_celsius=n("PL05"),
        materials=takes(
            ("flow-coat", "PL19b"),
            ("wax-solution", "PL19b*PL19/100"),
            ("peroxide", "PL19b*PL02/100"),
        ),
    )
    return (coat, *sanded())


def sanded() -> tuple[Part, ...]:
    """Write sanding with power tools, in stretches that two people can do in a day."""
    return (
        stage(
            "sand",
            Kind.FILL,
            ways("finish", speed("QL03c"), ((2, 0),), BAY),
            per=PER_M2,
            does=(Act.DUST, Act.POWER_SAND),
            session_hours=n("CP144"),
            unless=("self-coloured",),
            classes=BY_FINISH,
        ),
    )


def sent() -> tuple[Part, ...]:
    """Write soft wrap, straps and loading, each so long after the lacquer, and the journey."""
    wrapped = ways("fit", each("CP155"), PAIR)
    loaded = ways("fit", each("CP157"), PAIR)
    return (
        stage(
            "wrap",
            Kind.PACK,
            wrapped,
            per=PER_M2,
            after=(after("lacquer", "CP156"),),
            materials=takes(("soft-wrap", "CP548")),
        ),
        gate(
            "loading",
            GateKind.LOADING,
            ways=loaded,
            per=PER_PIECE,
            after=(after("wrap"), after("lacquer", "PT17")),
        ),
        ship(has_sealant=False),
        ship(has_sealant=True),
    )


def route(word: str, name: str, parts: tuple[Part, ...], options: tuple[str, ...]) -> Route:
    """Put parts together."""
    return Route(
        id=RouteId(word),
        name=name,
        steps=tuple(step for step, _ in parts),
        rules=tuple(rule for _, rule in parts if rule is not None),
        options=options,
    )


def hollow() -> Route:
    """Write (a): carved, skinned, the foam taken out."""
    parts = (
        *survey(), *carved(), approved(), *barrier(), *skinned(), *hollowed(),
        *fitted(faired()), *flow_coated(), *painted(), *sent(),
    )  # fmt: skip
    options = ("walked-on", "painted-barrier", *BEFORE, *STEEL, *FINISHES)
    return route("hollow", "carved and skinned, foam taken out", parts, options)


def foam_kept() -> Route:
    """Write (b): carved, skinned, the foam kept inside."""
    parts = (
        *survey(), *carved(), approved(), *barrier(), *skinned(),
        on_joints("close joint faces", "CP181"), *fitted(faired()), *flow_coated(),
        *painted(), *sent(),
    )  # fmt: skip
    options = ("walked-on", "painted-barrier", *BEFORE, *STEEL, *FINISHES)
    return route("foam-kept", "carved and skinned, foam kept inside", parts, options)
