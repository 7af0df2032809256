"""What is done in a stage, as far as air, company and limits of a day go by it."""

from enum import StrEnum


class Act(StrEnum):
    """An act of work: what it gives off, what it needs kept away, what nobody does alone.

    resin: laminating, gel coat, flow coat. solvent: solvents and contact adhesive. dust: sanding
    and carving. power_sand: sanding with power tools, limited by the day. spray: anything
    sprayed. isocyanate: two-pack paint, lacquer or hard coat that is sprayed. wet: leaves a
    surface that dust spoils while it is wet. lift: lifting and turning pieces.
    """

    HOT_WIRE = "hot_wire"
    WELD = "weld"
    GRIND = "grind"
    FLAME = "flame"
    RESIN = "resin"
    SOLVENT = "solvent"
    DUST = "dust"
    POWER_SAND = "power_sand"
    SPRAY = "spray"
    ISOCYANATE = "isocyanate"
    WET = "wet"
    LIFT = "lift"
