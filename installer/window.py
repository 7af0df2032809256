"""The program that only opens the window, for systems that start one by a click."""

import sys

from app.cli.run import main

if __name__ == "__main__":
    sys.exit(main(["open", *sys.argv[1:]]))
