"""The JSON Schema of a file, made from the classes: `python -m shared.files.schema book`.

What the schema refuses, the reader refuses; the reader refuses more (dates that no calendar
has, fields that stand twice) and says why.
"""

import json
import sys

from shared.book import FORMAT, Book
from shared.files.codec import record_of
from shared.files.header import HEADER
from shared.files.scalars import Schema
from shared.plan import Plan
from shared.value import Value

ROOTS: dict[str, type[Value]] = {"book": Book, "plan": Plan}
"""The class of the root of each kind of file."""


def schema_of(kind: str) -> Schema:
    """Give the JSON Schema, draft 2020-12, of a kind of file ("book" or "plan")."""
    parts: Schema = {}
    root = record_of(ROOTS[kind]).object_schema(parts)
    header = {
        "type": "object",
        "properties": {"kind": {"const": kind}, "format": {"const": FORMAT}},
        "required": ["kind", "format"],
    }
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": f"Countback {kind}, format {FORMAT}",
        "type": "object",
        "properties": {HEADER: header, **root["properties"]},
        "required": [HEADER, *root["required"]],
        "$defs": dict(sorted(parts.items())),
    }


def schema_text(kind: str) -> str:
    """Give the text of the schema as it is kept beside this file."""
    return json.dumps(schema_of(kind), indent=2, ensure_ascii=False) + "\n"


if __name__ == "__main__":
    sys.stdout.write(schema_text(sys.argv[1]))
