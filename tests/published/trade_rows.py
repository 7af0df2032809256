"""Figures of the trade as they were noted from outside, apart from the tables that are shipped.

`trade_figures.csv` and `more_trade_figures.csv` hold id, quantity, value, low, high, unit, source
and confidence. SOURCES says what the short names of sources stand for.
"""

import csv
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from pathlib import Path

# The words by which a source is told, whatever else stands around them.
SOURCES = {
    "S1": "UK fibreglass working guide",
    "S2": "UK fibreglass supplier, laminating guide",
    "S3": "UK fibreglass trade pages",
    "S4": "classification society, FRP rules",
    "S5": "US Unified Facilities Guide Specifications, coatings 09971 and 09973",
    "S6": "published marine paint application guide",
    "S7a": "two-pack acrylic polyurethane, vehicle top coat",
    "S7b": "two-pack acrylic polyurethane, anti-graffiti finish",
    "S7c": "acrylic urethane enamel",
    "S7d": "aliphatic polyurethane finish, sheet PC 0458",
    "S7e": "yacht urethane, painting environment",
    "S8": "hard coat",
    "S9": "HSE, pages on spray painting with isocyanates and COSHH essentials, MR series",
    "S10": "HSE, pages on the storage of plastics",
    "S14": "Directive 96/53/EC, Annex I",
    "S15": "GB abnormal-load notification tables",
    "S18": "PERT Summary Report Phase 1, US Navy Special Projects Office, July 1958",
    "S20": "HM Treasury Green Book, supplementary guidance on optimism bias",
    "S21": "Painting by numbers, Process Engineering, 15 January 2000",
    "S22": "terms of ferry and freight operators",
    "S23": "construction-submittal review articles",
    "561/2006": "Regulation (EC) 561/2006",
    "REACH": "Regulation (EC) 1907/2006 (REACH)",
    "EH40": "HSE EH40",
    "EH40/2005": "HSE EH40/2005, 4th edition",
    "SI": "Lifting Operations and Lifting Equipment Regulations 1998 (SI 1998/2307)",
    "StVO": "German road traffic regulations (StVO)",
    "arrete": "French order (arrêté)",
    "WTR": "Working Time Regulations 1998 (SI 1998/1833)",
    "DfT": "UK Department for Transport",
    "Dir.": "Directive",
    "Reg.": "Regulation (EU)",
    "Am": "American Journal of Industrial Medicine",
    "MSC.307(88)": "2010 FTP Code, IMO resolution MSC.307(88)",
}

_FOLDER = Path(__file__).parent
_SMALL = {"and", "the", "para", "4th", "ed.", "J", "Ind", "Med", "Table"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A figure as it stands outside; the numbers as text."""

    id: str
    quantity: str
    value: str
    low: str
    high: str
    unit: str
    source: str
    confidence: str

    @property
    def amount(self) -> Decimal:
        return Decimal(self.value)

    @property
    def day(self) -> date:
        return date.fromisoformat(self.value)

    @property
    def numbers(self) -> tuple[Decimal | None, ...]:
        return tuple(_number(text) for text in (self.value, self.low, self.high))

    @property
    def words_of_source(self) -> list[str]:
        """What the shipped source must hold: words of ours for a short name, else the words."""
        words = self.source.replace(";", " ").replace(",", " ").replace(" / ", " ").split()
        names = [SOURCES[word] for word in words if word in SOURCES]
        if any(word[0] == "S" and word[1:2].isdigit() for word in words):
            return names
        return names + [word for word in words if word not in SOURCES and word not in _SMALL]


def _number(text: str) -> Decimal | None:
    return Decimal(text) if text else None


def _read(name: str) -> list[Row]:
    with (_FOLDER / name).open(encoding="utf-8", newline="") as lines:
        return [Row(**row) for row in csv.DictReader(lines)]


LISTED = _read("trade_figures.csv")
MORE = _read("more_trade_figures.csv")
_BY_ID = {row.id: row for row in LISTED + MORE}


def outside(row_id: str) -> Row:
    """The row of an id; KeyError if there is none."""
    return _BY_ID[row_id]
