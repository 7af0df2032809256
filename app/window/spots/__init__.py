"""Drawn parts of a view: one list feeds painting, pointing, keys and screen readers."""
