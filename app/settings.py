"""Settings of the window: declared once, kept as JSON; a broken one means its default. No Qt."""

import json
import logging
from dataclasses import asdict, dataclass, fields, replace
from pathlib import Path

from shared.errors import DiskError
from shared.files.disk import load, save
from shared.files.json_text import has_lone_surrogate

LOG = logging.getLogger(__name__)
FILE_NAME = "settings.json"
LOOKS = ("system", "light", "dark")
CONTRASTS = ("system", "usual", "strong")
LANGUAGES = ("system", "en", "de")
TEXT_PERCENTS = (90, 100, 115, 130, 150, 175)


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """What a person has chosen for the window.

    look: one of LOOKS. contrast: one of CONTRASTS. language: one of LANGUAGES, spoken from the
    next start. text_percent: one of TEXT_PERCENTS. recent: paths of books, the latest first.
    solve_seconds: how long a plan is looked for. who: under which name somebody records what
    happened; "" means as the system calls them.
    """

    look: str = "system"
    contrast: str = "system"
    language: str = "system"
    text_percent: int = 100
    recent: tuple[str, ...] = ()
    solve_seconds: int = 10
    who: str = ""

    def __post_init__(self) -> None:
        """Refuse what can't be meant, naming it."""
        if self.look not in LOOKS:
            raise ValueError(f"look: {self.look}")
        if self.contrast not in CONTRASTS:
            raise ValueError(f"contrast: {self.contrast}")
        if self.language not in LANGUAGES:
            raise ValueError(f"language: {self.language}")
        if self.text_percent not in TEXT_PERCENTS:
            raise ValueError(f"text_percent: {self.text_percent}")
        if not 1 <= self.solve_seconds <= 3600:
            raise ValueError(f"solve_seconds: {self.solve_seconds}")
        if has_lone_surrogate(self.who):
            raise ValueError("who: no text that a book can hold")


def read_settings(folder: Path) -> Settings:
    """Read the settings; what is missing or broken has its default and is logged."""
    path = folder / FILE_NAME
    if not path.exists():
        return Settings()
    try:
        found = json.loads(load(path))
    except (DiskError, ValueError, RecursionError) as trouble:
        LOG.info("settings not read: %s", trouble)
        return Settings()
    return _taken(found) if isinstance(found, dict) else Settings()


def _taken(found: dict[str, object]) -> Settings:
    settings = Settings()
    for field in fields(Settings):
        value = found.get(field.name)
        if field.name == "recent" and isinstance(value, list):
            value = tuple(str(item) for item in value)
        if isinstance(value, type(getattr(settings, field.name))):
            settings = _with(settings, field.name, value)
    return settings


def _with(settings: Settings, name: str, value: object) -> Settings:
    try:
        return replace(settings, **{name: value})  # type: ignore[arg-type]
    except ValueError as trouble:
        LOG.info("setting left at its default: %s", trouble)
        return settings


def write_settings(folder: Path, settings: Settings) -> None:
    """Write the settings, whole or not at all.

    Raises DiskError when the disk refuses.
    """
    text = json.dumps(asdict(settings), indent=2) + "\n"
    save(folder / FILE_NAME, text.encode("utf-8"))
