"""The program that only opens the window, for systems that start one by a click."""

import os
import sys
from pathlib import Path

from app.cli.run import main

if __name__ == "__main__":
    with Path(os.devnull).open("w", encoding="utf-8") as nowhere:
        # Windows gives a program without a console no streams at all.
        sys.stdout, sys.stderr = sys.stdout or nowhere, sys.stderr or nowhere
        code = main(["open", *sys.argv[1:]])
        sys.stdout, sys.stderr = sys.__stdout__, sys.__stderr__
    sys.exit(code)
