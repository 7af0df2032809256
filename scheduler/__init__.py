"""The engine: from a book to a checked plan with verdicts."""
