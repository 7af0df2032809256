"""Public holidays by country, subdivision and category.

The only file that imports the `holidays` package, and only when a date is asked for.
"""

import warnings
from dataclasses import dataclass
from datetime import date
from functools import lru_cache

# The package calls these names outdated, yet they are what people there say. Either of the
# departments stands for both: Ordinance of 16 August 1892, now art. L3134-13 Code du travail.
_SUBDIVISION_IN_PACKAGE: dict[tuple[str, str | None], str] = {("FR", "Alsace-Moselle"): "57"}


class UnknownCalendar(ValueError):  # noqa: N818 - it says what is wrong
    """No holidays are known for this country, subdivision or category."""

    def __init__(self, rule: "HolidayRule") -> None:
        """Keep the rule that was asked for."""
        super().__init__(f"no holidays known for {rule}")
        self.rule = rule


@dataclass(frozen=True, slots=True, kw_only=True)
class HolidayRule:
    """Whose public holidays count.

    `country` is an ISO 3166-1 code ("GB"). Holidays of a `subdivision` ("ENG", "BY",
    "Alsace-Moselle") come on top of those of the whole country: for "GB" alone Easter Monday and
    the August bank holiday are missing. So do those of `categories`, for days that are kept in
    some parishes only ("catholic" with "DE", "BY" adds 15 August).
    """

    country: str
    subdivision: str | None = None
    categories: tuple[str, ...] = ()


def is_known(rule: HolidayRule) -> bool:
    """Say whether holidays are known for the country, subdivision and categories."""
    try:
        _holidays(rule, ())
    except UnknownCalendar:
        return False
    return True


def is_holiday(rule: HolidayRule, day: date) -> bool:
    """Say whether the day is a public holiday, on whatever day of the week it falls.

    Raises
    ------
    UnknownCalendar
        If nothing is known of the country, subdivision or category.
    """
    return day in holiday_dates(rule, day.year)


@lru_cache(maxsize=4096)
def holiday_dates(rule: HolidayRule, year: int) -> frozenset[date]:
    """Give the public holidays of a year, those on weekends and their substitutes included.

    Raises
    ------
    UnknownCalendar
        If nothing is known of the country, subdivision or category.
    """
    return _holidays(rule, (year,))


def _holidays(rule: HolidayRule, years: tuple[int, ...]) -> frozenset[date]:
    if rule.country not in _country_codes() or rule.subdivision == "":
        raise UnknownCalendar(rule)
    import holidays

    subdivision = _SUBDIVISION_IN_PACKAGE.get((rule.country, rule.subdivision), rule.subdivision)
    try:
        with warnings.catch_warnings():
            # The package warns of names it means to drop; they mean what they meant.
            warnings.simplefilter("ignore")
            ordinary = holidays.country_holidays(rule.country, subdiv=subdivision)
            categories = {ordinary.default_category, *rule.categories}
            found = holidays.country_holidays(
                rule.country, subdiv=subdivision, years=years, categories=categories
            )
    except (NotImplementedError, ValueError) as trouble:
        raise UnknownCalendar(rule) from trouble
    return frozenset(found)


@lru_cache(maxsize=1)
def _country_codes() -> frozenset[str]:
    from holidays.registry import EntityLoader

    return frozenset(EntityLoader.get_country_codes())
