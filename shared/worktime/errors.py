"""What can go wrong in working time that a person can put right."""


class UnknownZone(ValueError):  # noqa: N818 - it says what is wrong
    """No time zone of this name is known."""

    def __init__(self, name: str) -> None:
        """Keep the name that was asked for."""
        super().__init__(f"unknown time zone: {name!r}")
        self.name = name


class NoWorkingTime(ValueError):  # noqa: N818 - it says what is wrong
    """A calendar has too little working time within five years of the day asked about."""
