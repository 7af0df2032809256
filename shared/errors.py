"""Errors of the outside world; what a person can mend is a finding instead."""


class CountbackError(Exception):
    """Root of our errors: a code and facts, from which app makes the sentence."""

    def __init__(self, code: str, **facts: object) -> None:
        super().__init__(code, facts)
        self.code = code
        self.facts = facts


class DiskError(CountbackError):
    """Reading, writing or locking a file failed outside the program."""
