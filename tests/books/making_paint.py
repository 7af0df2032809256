"""How the program's ways of making colour a piece: primer, colour, detail, grip and lacquer."""

from typing import Any

from shared.book import Act, GateKind, Kind, RecoatBand
from tests.books.recipe import (
    BAY,
    BOOTH,
    BY_FINISH,
    PER_M2,
    TRAINED,
    Part,
    abraded,
    after,
    each,
    gate,
    in_name,
    n,
    only,
    recoat_bands,
    stage,
    takes,
    ways,
    with_setup,
)

PAINT = "CP148/(PT13a*PT14/100)"
"""Paint sprayed in one session, in litres a square metre."""


def sprayed(word: str, kind: Kind, product: str, **more: Any) -> Part:
    """Write a two-pack coat, sprayed in the booth by people trained for it."""
    coats = tuple(f"CP148*CP183{end}/QL01" for end in (".low", "", ".high"))
    rate = with_setup((coats[0], coats[1], coats[2]), "CP146")
    fields: dict[str, Any] = {
        "per": PER_M2,
        "session_hours": n("CP147"),
        "does": (Act.SPRAY, Act.ISOCYANATE, Act.WET),
        "certificates": TRAINED,
        "in_one_go": True,
        "stays": True,
        "cure_hours": n("PT01a.low"),
        "cure_celsius": in_name("PT01a", 21),
        "coldest_celsius": n("PT04.low"),
        "warmest_celsius": n("PT04.high"),
        "most_humidity_percent": n("PT11c"),
        "dew_point_margin_celsius": n("PT12"),
        "abrade": abraded(),
        "product": product,
        "materials": takes((product.removeprefix("two-pack "), PAINT)),
    }
    made = ways("spray", rate, kinds=BOOTH, setup_hours=n("CP146"))
    return stage(word, kind, made, **{**fields, **more})


def touched_in(word: str, name: str) -> Part:
    """Write detail on the colour, with airbrush or spatter, while lacquer still holds to it."""
    return stage(
        word,
        Kind.PAINT,
        ways("spray", each(name), kinds=BOOTH),
        per=PER_M2,
        only_if=(word,),
        does=(Act.SPRAY, Act.WET),
        cure_hours=n("PT07.low"),
        cure_celsius=n("PL05.high"),
        coldest_celsius=n("PT04.low"),
        warmest_celsius=n("PT04.high"),
        most_humidity_percent=n("PT11c"),
        recoat_hours=n("PT15"),
        abrade=abraded(),
        materials=takes(("colour", "CP546")),
    )


def painted() -> tuple[Part, ...]:
    """Write mask, primer, colour, detail, grip and lacquer; none of it on a self-coloured piece."""
    bands: tuple[RecoatBand, ...] = recoat_bands()
    colour = sprayed(
        "paint",
        Kind.PAINT,
        "two-pack colour",
        recoat_hours=n("PT15"),
        after=(after("prime"), after("colour-answer")),
    )
    grip = stage(
        "grip",
        Kind.COAT,
        ways("laminate", each("CP152"), kinds=BAY),
        per=PER_M2,
        only_if=("grip",),
        in_one_go=True,
        stays=True,
        session_hours=n("CP147"),
        cure_hours=n("PL29"),
        cure_celsius=n("PL05.high"),
        coldest_celsius=n("PL05"),
        recoat_hours=n("PT15"),
        abrade=abraded(),
        materials=takes(("grit", "CP544"), ("resin", "CP545"), ("peroxide", "CP545*PL01/100")),
    )
    parts = (
        _texture(),
        stage(
            "mask",
            Kind.PAINT,
            ways("spray", each("CP145"), kinds=BAY),
            per=PER_M2,
            does=(),
            materials=takes(("masking-film", "CP547")),
        ),
        sprayed("prime", Kind.PAINT, "two-pack primer", recoat_bands=bands),
        *_colour_board(),
        colour,
        touched_in("airbrush", "CP150"),
        touched_in("spatter", "CP151"),
        grip,
        sprayed(
            "lacquer",
            Kind.LACQUER,
            "two-pack lacquer",
            cure_hours=n("PT10a.low"),
            cure_celsius=in_name("PT10a", 25),
            abrade=None,
            classes=BY_FINISH,
        ),
    )
    return only(parts, unless=("self-coloured",))


def _texture() -> Part:
    return stage(
        "texture",
        Kind.FILL,
        ways("finish", each("CP153"), kinds=BAY),
        per=PER_M2,
        only_if=("texture",),
        does=(Act.WET,),
        cure_hours=n("CP154"),
        cure_celsius=n("PL05.high"),
        coldest_celsius=n("FM04b.low"),
        materials=takes(("texture-coat", "CP543")),
    )


def _colour_board() -> tuple[Part, ...]:
    board = stage(
        "colour board",
        Kind.PAINT,
        ways("spray", each("CP122"), kinds=BOOTH),
        together=True,
        only_if=("colour-board",),
        after=(after("survey"),),
    )
    answer = gate(
        "colour answer",
        GateKind.ANSWER,
        only_if=("colour-board",),
        after=(after("colour-board"),),
    )
    return board, answer
