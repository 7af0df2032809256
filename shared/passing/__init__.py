"""Whether pieces pass doors, lifts, vehicles, roads and ferries, and how to cut those that don't.

Pure and exact: sizes in millimetres as fractions, no rounding before something is shown.
"""
