"""A child for tests of the engine's keeper: does what its first argument says on an ask."""

import json
import os
import sys
from typing import Any


def say(kind: str, ask: dict[str, Any] | None = None, **more: object) -> None:
    head = {"kind": kind, "id": ask and ask["id"], "revision": ask and ask["revision"]}
    print(json.dumps({**head, **more}), flush=True)


def main() -> None:
    mood = sys.argv[1]
    say("ready")
    for line in sys.stdin:
        told = json.loads(line)
        if told["kind"] == "bye":
            return
        if told["kind"] != "ask":
            continue
        if mood == "dies":
            os._exit(9)
        if mood == "refuses":
            say("failed", told, code="book_stops", facts={"findings": ["x"]})
        if mood == "babbles":
            print("not a line of ours", flush=True)
            say("unheard of", told)
            say("done", told, outcome={"revision": told["revision"]})
        if mood == "late":
            say("failed", {**told, "id": told["id"] - 1}, code="cancelled", facts={})
            say("failed", told, code="fault", facts={"what": str(told["revision"])})
        if mood == "complains":
            print("something on stderr", file=sys.stderr, flush=True)
            say("failed", told, code="fault", facts={"what": "x"})


if __name__ == "__main__":
    main()
