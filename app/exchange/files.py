"""What is given out as files: calendars, tables, workbook, page. No Qt."""

from hashlib import sha256
from pathlib import Path
from urllib.parse import quote

from app.exchange.calendar import Feed, calendar, feeds
from app.exchange.csv_text import csv_bytes
from app.exchange.entries import entries
from app.exchange.given import Given
from app.exchange.page import page
from app.exchange.tables import tables
from app.exchange.workbook import workbook
from shared.files.disk import disk_error, save_over

_LONGEST = 100
Files = dict[str, bytes]
"""By their names in a folder; of one file by what comes behind its stem, "" for itself."""


def calendar_files(given: Given, feed: Feed | None) -> Files:
    """Return one calendar as a file, or all of them for a folder."""
    found = entries(given)
    if feed is not None:
        return {"": calendar(given, feed, found)}
    return {feed_file(each): calendar(given, each, found) for each in feeds(given.book)}


def feed_file(feed: Feed) -> str:
    """Return the name of a calendar's file, which every file system takes and tells from others.

    One that is long, or that has capitals, ends in a digest of the id.
    """
    shown = quote(feed.id, safe="")
    if len(shown) > _LONGEST or feed.id != feed.id.casefold():
        shown = f"{shown[:_LONGEST]}-{sha256(feed.id.encode()).hexdigest()[:12]}"
    return f"{feed.whose}-{shown}.ics"


def table_files(given: Given, *, bom: bool) -> Files:
    """Return the tables for a folder. bom: with the mark of UTF-8."""
    return {f"{each.id}.csv": csv_bytes(given, each, bom=bom) for each in tables(given)}


def workbook_file(given: Given) -> Files:
    """Return the workbook."""
    return {"": workbook(given, tables(given))}


def page_file(given: Given) -> Files:
    """Return the page for a screen or a phone."""
    return {"": page(given)}


def write_files(out: Path, files: Files, *, is_folder: bool) -> int:
    """Write files whole, one after the other; return how many. Raises DiskError."""
    if is_folder:
        try:
            out.mkdir(exist_ok=True)
        except OSError as trouble:
            raise disk_error("not_saved", out, trouble) from trouble
    for name, data in files.items():
        save_over(out / name if is_folder else out.with_stem(out.stem + name), data)
    return len(files)
