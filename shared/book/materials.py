"""Material: what is bought, from whom, how much of it a stage takes, and what came."""

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from enum import StrEnum

from shared.book.workshop import Closure
from shared.ids import MaterialId, SupplierId
from shared.value import Value


class MaterialKind(StrEnum):
    """What sort of material, as far as waste, age, storage and cautions go by it.

    mat: glass. resin: also gel coat and flow coat. hard_coat: sprayed on foam. foam_glue: foams
    as it cures. adhesive: contact adhesive and other glue.
    """

    FOAM = "foam"
    MAT = "mat"
    RESIN = "resin"
    PEROXIDE = "peroxide"
    HARD_COAT = "hard_coat"
    FILLER = "filler"
    PAINT = "paint"
    FOAM_GLUE = "foam_glue"
    ADHESIVE = "adhesive"
    SEALANT = "sealant"
    OTHER = "other"


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Supplier(Value):
    """Who delivers, and on which days: working days are Monday to Friday less holidays.

    lead_days: the supplier's working days from the order to the dispatch. transit_days: days that
    are worked at both ends from the dispatch to the arrival. same_day: it may arrive on the
    morning of the day it is needed (a courier); else on the working day before.
    """

    id: SupplierId
    name: str
    zone: str
    country: str
    subdivision: str | None = None
    holiday_categories: tuple[str, ...] = ()
    closures: tuple[Closure, ...] = ()
    lead_days: int = 0
    transit_days: int = 0
    same_day: bool = False


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Material(Value):
    """Something that is bought; all quantities are in its `unit` (kg, l, m2, m3, piece).

    pack_size: bought in whole packs of so much; None means foam in m3 by the trade block
    (EP01), all else as much as is needed. pack_price: in the workshop's currency.
    shelf_life_months: calendar months from its making; margin_days: so much of that is not counted
    on. waste_percent: of what a stage takes, or with `waste_of_gross` of what is bought. store_cap:
    most that may be stored at once (all foam without
    one shares the usual). join_days: what is needed within so many days of a delivery
    comes with it. Where these are None the usual for its kind holds, if there is one (PL26,
    QL04, EP09, CP600). Paint is counted by its practical coverage, which holds what is lost in
    spraying. moulded_days: of foam, the supplier's working days from the order to the moulding;
    None means the lead. age_days: of foam, from the moulding to a hard coat; None means EP06.
    counted: so much was there at `counted_at`, or before all else where that is None; what came
    or went before no longer matters.
    """

    id: MaterialId
    name: str
    unit: str
    kind: MaterialKind = MaterialKind.OTHER
    supplier: SupplierId | None = None
    pack_size: Decimal | None = None
    pack_price: Decimal | None = None
    shelf_life_months: int | None = None
    margin_days: int | None = None
    waste_percent: Decimal | None = None
    waste_of_gross: bool = False
    store_cap: Decimal | None = None
    join_days: int | None = None
    moulded_days: int | None = None
    age_days: int | None = None
    counted: Decimal | None = None
    counted_at: datetime | None = None


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class MaterialNeed(Value):
    """So much of a material goes into the work, what is wasted not counted."""

    material: MaterialId
    quantity: Decimal


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Delivery(Value):
    """So much of a material that is ordered and comes at `at`, or has arrived then.

    made_on: the day on the label; None means the day it came. told_by: who said that it came.
    """

    material: MaterialId
    quantity: Decimal
    at: datetime
    arrived: bool = False
    made_on: date | None = None
    note: str = ""
    told_by: str | None = None
