"""The other ways of making: cast in a mould, hard coat on foam, repair; and all of them as files.

`python -m tests.books routes FOLDER` writes them again, with the table of what each number is.
"""

import csv
import dataclasses
import io
from collections.abc import Callable, Iterator
from decimal import Decimal
from pathlib import Path

from shared.book import Act, Kind, Route
from shared.files.codec import record_of
from shared.value import Value
from tests.books.making_of import (
    BEFORE,
    FINISHES,
    STEEL,
    approved,
    blocked,
    carved,
    filled,
    fitted,
    foam_kept,
    hollow,
    laid,
    laid_by,
    route,
    sanded,
    sent,
    soon_laid_over,
    survey,
)
from tests.books.making_paint import painted
from tests.books.recipe import (
    BAY,
    BOOTH,
    BY_FINISH,
    PAIR,
    PER_M2,
    PER_M3,
    PER_PIECE,
    Part,
    Rate,
    Told,
    ToldWhole,
    after,
    each,
    glass,
    n,
    quarters,
    speed,
    stage,
    takes,
    ways,
    with_setup,
)

SOURCES = "sources.csv"
HEADER = ("route", "step", "field", "number", "figures")


def cast() -> Route:
    """Write (c): a plaster-faced pattern, a split mould, cast in halves joined from inside."""
    parts = (
        *survey(), *carved(), *_faced(), approved(), *_prepared(), *_mould_half("first"),
        *_mould_half("second"), *_cast(), *fitted(_filled()), *sanded(), *painted(), *sent(),
    )  # fmt: skip
    return route("cast", "cast from a split mould", parts, (*BEFORE, *STEEL, *FINISHES))


def _faced() -> tuple[Part, ...]:
    plaster = stage(
        "plaster face",
        Kind.FILL,
        ways("finish", each("CP163"), kinds=BAY),
        per=PER_M2,
        does=(Act.WET,),
        cure_hours=n("FM02*24"),
        materials=takes(("plaster", "CP538")),
    )
    smooth = stage(
        "sand pattern",
        Kind.FILL,
        ways("finish", speed("QL03c"), ((2, 0),), BAY),
        per=PER_M2,
        does=(Act.DUST, Act.POWER_SAND),
        session_hours=n("CP144"),
        classes=BY_FINISH,
    )
    return plaster, smooth


def _prepared() -> tuple[Part, ...]:
    sealed = stage(
        "seal",
        Kind.FILL,
        ways("finish", each("CP164"), kinds=BAY),
        per=PER_M2,
        does=(Act.SOLVENT, Act.WET),
        cure_hours=n("CP165"),
        materials=takes(("pattern-sealer", "CP539")),
    )
    boards = stage(
        "split line",
        Kind.PACK,
        ways("fit", each("CP166"), kinds=BAY),
        per=PER_M2,
        does=(Act.DUST,),
    )
    return sealed, boards, *_released("", "FM05")


def _released(again: str, coats: str) -> tuple[Part, ...]:
    """Write wax, coat upon coat, and the release film."""
    low, likely, high = (f"{coats}*{rate}" for rate in each("CP167"))
    wax = stage(
        "wax again" if again else "wax",
        Kind.COAT,
        ways("laminate", (low, likely, high), kinds=BAY),
        per=PER_M2,
        does=(),
        cure_hours=n(f"{coats}*FM05b/60"),
        materials=takes(("release-wax", f"{coats}*CP540")),
    )
    film = stage(
        "release film",
        Kind.COAT,
        ways("laminate", each("CP169"), kinds=BAY),
        step_id=f"release-film{again}",
        per=PER_M2,
        does=(Act.WET,),
        cure_hours=quarters("FM07/60"),
        materials=takes(("release-film", "CP541")),
    )
    return wax, film


def _gel_coat(word: str, share: str, cured: str, step_id: str) -> Part:
    """Write gel coat: what comes on it may come in hours, and must before the next day is over."""
    made = ways(
        "laminate", with_setup(speed("QL03d", share), "CP135"), kinds=BAY, setup_hours=n("CP135")
    )
    return stage(
        word,
        Kind.COAT,
        made,
        step_id=step_id,
        per=PER_M2,
        in_one_go=True,
        stays=True,
        session_hours=n("CP147"),
        session_recoat_hours=n("PL18"),
        cure_hours=n(cured),
        cure_celsius=n("PL05.high"),
        coldest_celsius=n("PL05"),
        recoat_hours=n("PL18"),
        materials=takes(("gel-coat", f"{share}*PL16b"), ("peroxide", f"{share}*PL16b*PL02/100")),
    )


def _mould_half(half: str) -> tuple[Part, ...]:
    """Write one half of the mould: gel coat, a skin layer overnight, and the bulk layers."""
    return (
        _gel_coat("tooling gel coat", "1/2", "PL17.high", f"{half}-half-gel-coat"),
        soon_laid_over("mould skin", "1/2", step_id=f"{half}-half-skin"),
        soon_laid_over("mould laminate", "CP170/4", step_id=f"{half}-half-laminate"),
        laid(
            "mould laminate",
            "CP170/4",
            step_id=f"{half}-half-second-laminate",
            cure_hours=n("CP136" if half == "first" else "FM08*24"),
        ),
    )


def _cast() -> tuple[Part, ...]:
    strip_mould = stage(
        "strip mould",
        Kind.PACK,
        ways("fit", each("CP171"), PAIR, BAY, ("hoist",)),
        per=PER_PIECE,
        does=(Act.LIFT,),
    )
    strip_cast = stage(
        "strip cast",
        Kind.PACK,
        ways("fit", each("CP172"), PAIR, BAY),
        per=PER_M2,
        does=(Act.LIFT, Act.DUST),
    )
    return (
        strip_mould,
        *_released("-again", "CP168"),
        _gel_coat("gel coat", "1", "PL17", "gel-coat"),
        laid("laminate"),
        strip_cast,
        laid_by(
            "join halves",
            with_setup(each("CP173"), "CP135"),
            PER_M2,
            materials=glass("CP550"),
        ),
    )


def hard_coat() -> Route:
    """Write (d): a hard coat sprayed on foam that is thirty days old."""
    foam = stage(
        "foam in",
        Kind.PACK,
        ways("fit", each("CP127")),
        per=PER_M3,
        unless=("aged-foam",),
        materials=takes(("foam", "CP530")),
    )
    blocks = (
        blocked(unless=("aged-foam",), materials=()),
        blocked(step_id="block-aged-foam", only_if=("aged-foam",)),
    )
    parts = (
        *survey(), foam, *carved(*blocks), approved(), *_coated(), *fitted(_filled()), *sanded(),
        *painted(), *sent(),
    )  # fmt: skip
    options = ("aged-foam", *BEFORE, *STEEL, *FINISHES)
    return route("hard-coat", "hard coat sprayed on foam", parts, options)


def _filled() -> Part:
    """Write filling here and there."""
    return filled(each("CP180"))


def _coated() -> tuple[Part, ...]:
    rate: Rate = with_setup(each("CP174"), "CP146")
    fields = {
        "per": PER_M2,
        "does": (Act.SPRAY, Act.ISOCYANATE),
        "certificates": ("isocyanate training",),
        "in_one_go": True,
        "session_hours": n("CP147"),
        "product": "hard coat",
        "materials": takes(("hard-coat", "CP542")),
    }
    made = ways("spray", rate, kinds=BOOTH, setup_hours=n("CP146"), whole_place=True)
    first = stage(
        "hard coat",
        Kind.COAT,
        made,
        recoat_hours=n("EP13.high"),
        after=(after("approve"), after("foam-in", "EP06*24")),
        **fields,
    )
    second = stage("second hard coat", Kind.COAT, made, cure_hours=n("CP175"), **fields)
    trim = stage(
        "trim",
        Kind.FILL,
        ways("finish", each("CP176"), kinds=BAY),
        per=PER_M2,
        does=(Act.DUST,),
    )
    return first, second, trim


def repair() -> Route:
    """Write (e): repair and refurbish."""
    look = stage("survey", Kind.PACK, ways("fit", each("CP185")), together=True)
    wash = stage(
        "wash and strip",
        Kind.FILL,
        ways("finish", each("CP177"), kinds=BAY),
        per=PER_M2,
        does=(Act.SOLVENT,),
        takes_off=True,
    )
    cut = stage(
        "cut out",
        Kind.FILL,
        ways("finish", each("CP178"), kinds=BAY),
        per=PER_PIECE,
        only_if=("broken",),
        does=(Act.GRIND, Act.DUST),
        takes_off=True,
    )
    patch_rate = with_setup(each("CP179"), "CP135")
    patch = laid_by("patch", patch_rate, PER_PIECE, only_if=("broken",), materials=glass("CP549"))
    parts = (look, wash, cut, patch, filled(each("CP180"), "fill"), *sanded(), *painted(), *sent())
    return route("repair", "repair and refurbish", parts, ("broken", *FINISHES))


ROUTES: dict[str, Callable[[], Route]] = {
    "hollow": hollow,
    "foam-kept": foam_kept,
    "cast": cast,
    "hard-coat": hard_coat,
    "repair": repair,
}


def route_text(made: Route) -> str:
    """Give a route as it stands in its file."""
    return record_of(Route).write(made, "") + "\n"


def numbers(value: object, field: str = "") -> Iterator[tuple[str, Decimal | int]]:
    """Give every number in a value with the path to it; team sizes and counts are left out."""
    if isinstance(value, bool):
        return
    if isinstance(value, Decimal | int):
        yield field, value
    elif isinstance(value, tuple):
        for index, each_one in enumerate(value):
            yield from numbers(each_one, f"{field}.{index}")
    elif isinstance(value, Value):
        for each_field in dataclasses.fields(value):
            inner = getattr(value, each_field.name)
            if each_field.name not in NO_FIGURES and inner != each_field.default:
                yield from numbers(inner, f"{field}.{each_field.name}".lstrip("."))


NO_FIGURES = frozenset({"can", "helps", "count", "allow_no", "kept"})
"""Fields that say how many there are of something, and are no figures of the trade."""


def source_rows(made: Route) -> list[tuple[str, str, str, str, str]]:
    """Give for each number of a route as what it was asked."""
    rows = []
    for step in made.steps:
        rows += _rows(made, step.id, step)
    for rule in made.rules:
        rows += _rows(made, rule.step, rule)
    return rows


def _rows(made: Route, step: str, value: Value) -> list[tuple[str, str, str, str, str]]:
    found = []
    for field, number in numbers(value):
        assert isinstance(number, Told | ToldWhole), f"{made.id} {step} {field}: of no figure"
        found.append((made.id, step, field, f"{Decimal(number):f}", number.asked))
    return found  # type: ignore[return-value]


def sources_text() -> str:
    """Give the table of what every number of every route is."""
    out = io.StringIO()
    table = csv.writer(out, lineterminator="\n")
    table.writerow(HEADER)
    for make in ROUTES.values():
        table.writerows(source_rows(make()))
    return out.getvalue()


def write_routes(folder: Path) -> None:
    """Write every route and the table of sources."""
    for word, make in ROUTES.items():
        (folder / f"{word}.json").write_text(route_text(make()), encoding="utf-8")
    (folder / SOURCES).write_text(sources_text(), encoding="utf-8")
