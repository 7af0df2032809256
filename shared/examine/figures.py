"""Figures of the workshop's own: each is one that there is, and has one value."""

from shared.book import Workshop
from shared.examine.look import Look, Path

_PART_AND_WHOLE = ("DR01d", "DR01b")
"""The second part of a split break, and a break: Regulation (EC) 561/2006 Art. 7."""


def check_figures(workshop: Workshop, path: Path, look: Look) -> None:
    """Hold that own figures are of ids that there are, each is written once, and none too long."""
    if not workshop.figures:
        return
    from shared.trade.figures import figures, subjects
    from shared.trade.own import looked_up

    known = {row.id for subject in subjects() for row in figures(subject)}
    seen: set[str] = set()
    for index, own in enumerate(workshop.figures):
        where = (*path, "figures", index, "figure")
        if own.figure not in known:
            near = look.nearest(own.figure, known)
            look.add("figure_unknown", where, figure=own.figure, nearest=near)
        if own.figure in seen:
            look.add("figure_doubled", where, figure=own.figure)
        seen.add(own.figure)
    look_up = looked_up(workshop)
    second, whole = (look_up(each).amount for each in _PART_AND_WHOLE)
    if second > whole:
        index = next(at for at, own in enumerate(workshop.figures) if own.figure in _PART_AND_WHOLE)
        look.add("break_part_over", (*path, "figures", index, "value"))
