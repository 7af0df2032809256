"""Each sort of thing that is given out of the window: what its files are and how they may end."""

from dataclasses import dataclass

from app.exchange.calendar import Feed
from app.exchange.given import Given
from app.words import exchange_view as say
from app.words.template import Template
from shared.book import Job, Standing

CALENDAR = "calendar"
_PAPERS = (".pdf", ".svg", ".png")
SORTS: dict[str, tuple[str, ...]] = {
    CALENDAR: (".ics",),
    "workbook": (".xlsx",),
    "tables": (),
    "page": (".html", ".htm"),
    "board": _PAPERS,
    "wall": _PAPERS,
    "letter": _PAPERS,
    "loads": _PAPERS,
    "owner": _PAPERS,
}
"""How a file of each may end, the usual first; none for a folder."""
SIZES = ("A3", "A4")
REASONS: dict[str, Template] = {
    "which_letter": say.WHICH_LETTER,
    "enquiry": say.LETTER_OF_ENQUIRY,
    "nothing_leaves": say.NOTHING_LEAVES,
    "folder": say.FILE_THERE,
    "ending": say.OTHER_ENDING,
    "there": say.THERE_ALREADY,
}
Files = dict[str, bytes]


class CantGive(Exception):  # noqa: N818 - it says what happened
    """What is asked for can't be given: a code of `REASONS` and facts for its sentence."""

    def __init__(self, code: str, **facts: str) -> None:
        super().__init__(code, facts)
        self.code, self.facts = code, facts


@dataclass(frozen=True, slots=True, kw_only=True)
class Asking:
    """For whom, and on which paper. feed: whose calendar, None for all. job: if it is a job's."""

    feed: Feed | None
    job: Job | None
    size: str


def endings(sort: str, asking: Asking) -> tuple[str, ...]:
    """Return how the file may end; () where a folder is written."""
    return () if sort == CALENDAR and asking.feed is None else SORTS[sort]


def check(sort: str, asking: Asking) -> None:
    """Raise CantGive if a letter has nobody it could go to."""
    if sort != "letter":
        return
    if asking.job is None:
        raise CantGive("which_letter")
    if asking.job.standing is Standing.ENQUIRY:
        raise CantGive("enquiry", name=asking.job.name)


def files(sort: str, given: Given, asking: Asking, suffix: str) -> Files:
    """Return the files of a sort. suffix: how they end. Raises CantGive."""
    from app.exchange import files as made

    if sort == CALENDAR:
        return made.calendar_files(given, asking.feed)
    if sort == "workbook":
        return made.workbook_file(given)
    if sort == "tables":
        return made.table_files(given, bom=True)
    if sort == "page":
        return made.page_file(given)
    return _paper(sort, given, asking, suffix)


def _paper(sort: str, given: Given, asking: Asking, suffix: str) -> Files:
    """Return paper as the command line makes it."""
    from app.window.papers import jobs, out
    from app.window.sheets.paper import layout_of

    job = asking.job
    if sort == "board":
        paper = jobs.board_job(given)
    elif sort == "wall":
        paper = jobs.wall_job(given, None if job is None else job.id)
    elif sort == "letter":
        assert job is not None
        paper = jobs.letter_job(given, job)
    elif sort == "loads":
        found = jobs.loads_job(given, job)
        if found is None:
            raise CantGive("nothing_leaves")
        paper = found
    else:
        paper = jobs.owner_job(given)
    size = "A3" if sort == "board" else asking.size if sort == "wall" else "A4"
    layout = layout_of(size, is_across=sort in ("board", "wall"))
    return out.written(paper, layout, suffix)
