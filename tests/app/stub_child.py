"""A child for tests of the engine's keeper: does what its first argument says on an ask."""

import json
import os
import sys
from typing import Any


def line(kind: str, ask: dict[str, Any] | None = None, **more: object) -> str:
    head = {"kind": kind, "id": ask and ask["id"], "revision": ask and ask["revision"]}
    return json.dumps({**head, **more}) + "\n"


def main() -> None:
    mood = sys.argv[1]
    print(line("ready"), end="", flush=True)
    for text in sys.stdin:
        told = json.loads(text)
        if told["kind"] == "bye":
            return
        if told["kind"] in ("ask", "question"):
            print(answer(mood, told), end="", flush=True)


def answer(mood: str, told: dict[str, Any]) -> str:
    """What it says to an ask, to the letter."""
    if mood == "dies":
        os._exit(9)
    if mood == "complains":
        print("something on stderr", file=sys.stderr, flush=True)
    nameless = {**told, "id": [told["id"]]}
    fault = {"code": "fault"}
    return {
        "refuses": line("failed", told, code="book_stops", facts={"findings": ["x"]}),
        "babbles": "not a line of ours\n"
        + line("unheard of", told)
        + line("done", told, outcome={"revision": told["revision"]}),
        "late": line("failed", {**told, "id": told["id"] - 1}, code="cancelled", facts={})
        + line("failed", told, **fault, facts={"what": str(told["revision"])}),
        "complains": line("failed", told, **fault, facts={"what": "x"}),
        "raves": "[" * 100_000
        + "\n"
        + line("plan", nameless)
        + line("done", nameless)
        + line("failed", told, **fault, facts={"what": "at last"}),
        "another": line("done", {**told, "revision": told["revision"] + 1}, outcome={}),
        "torn": '{"kind": "done", "id": ',
        "endless": "x" * 300_000,
        "greedy": line("failed", told, code="no_memory", facts={}),
        "no value": line("answer", told, value="gASVAAAA"),
    }.get(mood, "")


if __name__ == "__main__":
    main()
