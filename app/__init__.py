"""What people touch: the window, the command line, print and export."""

VERSION = "0.1.0"
