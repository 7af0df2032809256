"""Benches: longer than a test, with figures instead of a yes or no."""
