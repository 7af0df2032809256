"""What people touch: the window, the command line, print and export."""
