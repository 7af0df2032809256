"""Writes a book and a plan with something in every field that today's format knows.

python -m tests.golden NAME writes NAME.format1.countback and NAME.format1.plan beside this file;
what is there is never written over.
"""

import sys
from pathlib import Path

from shared.book import FORMAT
from shared.files.write import write_book, write_plan
from tests.shared.files.trees import filled_book, filled_plan

HERE = Path(__file__).parent


def main(name: str) -> None:
    files = {"countback": write_book(filled_book()), "plan": write_plan(filled_plan())}
    for kind, data in files.items():
        with (HERE / f"{name}.format{FORMAT}.{kind}").open("xb") as file:
            file.write(data)


if __name__ == "__main__":
    main(sys.argv[1])
