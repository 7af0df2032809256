"""What is done in a stage, in words."""

from app.words.template import Template, within

ACTS: dict[str, Template] = {
    "hot_wire": within("act", "the hot wire"),
    "weld": within("act", "welding"),
    "grind": within("act", "grinding"),
    "flame": within("act", "a flame"),
    "resin": within("act", "resin"),
    "solvent": within("act", "solvents"),
    "dust": within("act", "dust"),
    "power_sand": within("act", "power sanding"),
    "spray": within("act", "spraying"),
    "isocyanate": within("act", "isocyanates"),
    "wet": within("act", "a wet surface"),
    "lift": within("act", "lifting"),
}
"""Each act, as it stands in a sentence."""
