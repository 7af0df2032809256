"""What the ways of making of the program take, by the names that their steps use."""

from functools import cache

from shared.book import Material, MaterialKind
from shared.ids import MaterialId

_USUAL = (
    ("foam", "EPS blocks", "m3", MaterialKind.FOAM),
    ("foam-glue", "one-part foam", "kg", MaterialKind.FOAM_GLUE),
    ("barrier-foil", "barrier foil", "m2", MaterialKind.OTHER),
    ("epoxy", "epoxy barrier", "kg", MaterialKind.OTHER),
    ("mat", "chopped-strand mat", "kg", MaterialKind.MAT),
    ("resin", "laminating resin", "kg", MaterialKind.RESIN),
    ("peroxide", "catalyst (peroxide)", "kg", MaterialKind.PEROXIDE),
    ("gel-coat", "gel coat", "kg", MaterialKind.RESIN),
    ("flow-coat", "flow coat", "kg", MaterialKind.RESIN),
    ("wax-solution", "wax solution", "kg", MaterialKind.OTHER),
    ("filler", "polyester filler", "kg", MaterialKind.FILLER),
    ("plaster", "plaster", "kg", MaterialKind.OTHER),
    ("pattern-sealer", "pattern sealer", "l", MaterialKind.OTHER),
    ("release-wax", "release wax", "kg", MaterialKind.OTHER),
    ("release-film", "release film", "l", MaterialKind.OTHER),
    ("hard-coat", "hard coat", "kg", MaterialKind.HARD_COAT),
    ("texture-coat", "texture coat", "kg", MaterialKind.OTHER),
    ("grit", "sand for grip", "kg", MaterialKind.OTHER),
    ("primer", "two-pack primer", "l", MaterialKind.PAINT),
    ("colour", "two-pack colour", "l", MaterialKind.PAINT),
    ("lacquer", "two-pack lacquer", "l", MaterialKind.PAINT),
    ("masking-film", "masking film", "m2", MaterialKind.OTHER),
    ("soft-wrap", "soft wrap", "m2", MaterialKind.OTHER),
    ("bolt", "bolts for joints", "piece", MaterialKind.OTHER),
)


@cache
def usual_materials() -> tuple[Material, ...]:
    """Give every material that a way of making of the program takes, of nobody's delivery yet."""
    return tuple(
        Material(id=MaterialId(word), name=name, unit=unit, kind=kind)
        for word, name, unit, kind in _USUAL
    )
