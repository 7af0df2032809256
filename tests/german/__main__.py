"""Bring the German catalogue up to the code, compile it, and name what has no German yet."""

import sys

from tests.german.po import MO, PO, compiled, read_po, write_po
from tests.german.texts import all_texts


def main() -> int:
    known = read_po(PO) if PO.exists() else {}
    modules = all_texts()
    catalogue = {
        text: known.get(text) or (("", "") if text.many else ("",)) for text in sorted(modules)
    }
    PO.parent.mkdir(parents=True, exist_ok=True)
    write_po(PO, catalogue, modules)
    MO.write_bytes(compiled(catalogue))
    missing = [text for text in catalogue if not all(catalogue[text])]
    for text in missing:
        print(f"no German yet: {modules[text]}: {text.text}")
    print(f"{len(catalogue) - len(missing)} of {len(catalogue)} texts have their German")
    return 1 if missing else 0


if __name__ == "__main__":
    sys.exit(main())
