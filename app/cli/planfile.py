"""Where `plan --out` keeps a plan: never over a book, never over what is no plan."""

from pathlib import Path

from app.cli.arguments import Usage
from shared.files.disk import save
from shared.files.read import read_plan
from shared.files.write import write_plan
from shared.plan import Plan


def check_out(out: str | None, book: Path) -> Path | None:
    """Give the path to keep the plan in, or None.

    Raises
    ------
    Usage
        If something else than a plan is there.
    """
    if out is None:
        return None
    path = Path(out)
    if path.is_dir():
        raise Usage("is_folder", path=out)
    if path.exists() and (_is_same(path, book) or not _is_plan(path)):
        raise Usage("not_over", path=out)
    return path


def _is_same(path: Path, book: Path) -> bool:
    return book.exists() and path.samefile(book)


def _is_plan(path: Path) -> bool:
    try:
        data = path.read_bytes()
    except OSError:
        return False
    return not data or read_plan(data).plan is not None


def keep_plan(path: Path, plan: Plan) -> None:
    """Write the plan; the one that was there is kept beside it. Raises DiskError."""
    save(path, write_plan(plan))
