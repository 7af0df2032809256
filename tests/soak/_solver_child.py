"""The engine's child as it is, that does itself some harm where a file beside it asks for that.

It spoils a line, or has no more memory until its next answer.

python -m tests.soak._solver_child FOLDER

FOLDER/fault.json: {"kind", "moment", "seed", "times"}; it is read before every line and taken away
once it was followed so many times.
"""

import json
import resource
import sys
from pathlib import Path
from random import Random
from typing import Any, ClassVar

from app import engine_child

FAULT = "fault.json"
ENDLESS_BYTES = 150_000_000
_PIECE_BYTES = 1 << 16
_REAL = engine_child.Lines


class Spoiled(_REAL):
    """The lines to the window, now and then none."""

    _plans = 0
    _ballast: ClassVar[list[bytearray]] = []

    def say(self, kind: str, ask: engine_child.Ask | None = None, **more: object) -> None:
        """Write one line, or what is asked for in its place."""
        self._plans += kind == "plan"
        file = Path(sys.argv[1]) / FAULT
        if ask is None or not file.is_file():
            super().say(kind, ask, **more)
            if kind in ("done", "failed"):
                self._eat()
            return
        fault = json.loads(file.read_text(encoding="utf-8"))
        due = {"first": self._plans >= 1, "between": self._plans >= 3}.get(fault["moment"], False)
        if not due and kind not in ("done", "failed"):
            super().say(kind, ask, **more)
            return
        fault["times"] -= 1
        self._plans = 0
        if fault["times"]:
            file.write_text(json.dumps(fault), encoding="utf-8")
        else:
            file.unlink()
        if fault["kind"] == "greedy":
            super().say(kind, ask, **more)
            self._starve(Random(fault["seed"]).randrange(200))
        else:
            self._spoil(kind, ask, fault, more)

    def _starve(self, spare_count: int) -> None:
        """Have no more memory than so many pieces."""
        pages = int(Path("/proc/self/statm").read_text(encoding="ascii").split()[0])
        _, hard = resource.getrlimit(resource.RLIMIT_AS)
        resource.setrlimit(resource.RLIMIT_AS, (pages * resource.getpagesize(), hard))
        try:
            while True:
                self._ballast.append(bytearray(_PIECE_BYTES))
        except MemoryError:
            del self._ballast[:spare_count]

    def _eat(self) -> None:
        """Have memory again."""
        if self._ballast:
            self._ballast.clear()
            _, hard = resource.getrlimit(resource.RLIMIT_AS)
            resource.setrlimit(resource.RLIMIT_AS, (hard, hard))

    def _spoil(self, kind: str, ask: engine_child.Ask, fault: Any, more: dict[str, Any]) -> None:
        draw = Random(fault["seed"])
        head = {"kind": kind, "id": ask.id, "revision": ask.revision}
        frame = (json.dumps({**head, **more}) + "\n").encode()
        with self._lock:
            raw = self._out.buffer  # type: ignore[attr-defined]
            match fault["kind"]:
                case "bytes":
                    raw.write(draw.randbytes(draw.randrange(1, 100_000)) + frame)
                case "torn":
                    raw.write(frame[: draw.randrange(1, len(frame) - 1)])
                case "another":
                    raw.write(_of_another(head, more, draw))
                case "endless":
                    raw.write(b"x" * ENDLESS_BYTES)
            raw.flush()


def _of_another(head: dict[str, Any], more: dict[str, Any], draw: Random) -> bytes:
    """A frame that reads well and answers something else."""
    plan = more.get("plan") or more.get("outcome", {}).get("plan", {})
    for placed in plan.get("placements", ())[:1]:
        placed["step"] = "of another book"
    changes: list[dict[str, Any]] = [{}, {"revision": head["revision"] + 1}, {"id": head["id"] + 1}]
    changes += [{"id": None}, {"kind": "done", "outcome": {}}, {"kind": "plan", "plan": []}]
    return (json.dumps({**head, **more, **draw.choice(changes)}) + "\n").encode()


if __name__ == "__main__":
    engine_child.Lines = Spoiled  # type: ignore[misc]
    sys.exit(engine_child.main())
