"""The findings of one reading, as they come up."""

from shared.files.json_text import shown
from shared.files.nearest import nearest
from shared.files.trouble import Broken, Json, Near, Path, Wrong
from shared.findings import Fact, Finding
from shared.findings_codes import CODES, finding

MOST_FINDINGS = 1000


class Notes:
    """Where the reader stands and what it has found."""

    def __init__(self, root: Json) -> None:
        """Start at the root of a plain tree."""
        self.path: list[str | int] = []
        self.root = root
        self._found: list[Finding] = []
        self._counts = {True: 0, False: 0}

    def add(self, code: str, below: Path = (), near: Near | None = None, **facts: Fact) -> None:
        """Note a finding at a place below where the reader stands.

        near: what was written and what could stand there, for the fact `nearest`.
        """
        stops = CODES[code].stops
        self._counts[stops] += 1
        if self._counts[stops] > MOST_FINDINGS:
            return
        if near is not None:
            facts["nearest"] = nearest(*near)
        path = (*self.path, *below)
        self._found.append(finding(code, path, name_at(self.root, path), **facts))

    def add_trouble(self, trouble: Broken) -> None:
        """Note why a part is broken, unless that is noted already."""
        if isinstance(trouble, Wrong):
            self.add(trouble.code, trouble.below, trouble.near, **trouble.facts)

    def findings(self) -> tuple[Finding, ...]:
        """Give all that was found; past a thousand that stop, or tell, how many more there are."""
        more = sum(self._counts.values()) - len(self._found)
        if not more:
            return tuple(self._found)
        return (*self._found, finding("more_findings", (), "", count=more))


def name_at(root: Json, path: Path) -> str:
    """Give the name of the nearest named thing on the way to a place in a plain tree."""
    name, here = "", root
    for step in (None, *path):
        if step is not None:
            here = _inside(here, step)
        given = here.get("name") if isinstance(here, dict) else None
        if isinstance(given, str) and given:
            name = given
    return shown(name)


def _inside(here: Json, step: str | int) -> Json:
    if isinstance(here, dict):
        return here.get(step)
    is_there = isinstance(here, list) and isinstance(step, int) and step < len(here)
    return here[step] if is_there else None
