"""The program that only opens the window, for systems that start one by a click."""

import os
import sys
from pathlib import Path

from app.cli.run import main

if __name__ == "__main__":
    # Windows gives a program without a console no streams at all.
    sys.stdout = sys.stdout or Path(os.devnull).open("w", encoding="utf-8")
    sys.stderr = sys.stderr or sys.stdout
    sys.exit(main(["open", *sys.argv[1:]]))
