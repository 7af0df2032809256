"""Figures of the workshop's own: each is one that there is, and has one value."""

from shared.book import Workshop
from shared.examine.look import Look, Path


def check_figures(workshop: Workshop, path: Path, look: Look) -> None:
    """Hold that own figures are of ids that the tables have, and each is written once."""
    if not workshop.figures:
        return
    from shared.trade.figures import figures, subjects

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
