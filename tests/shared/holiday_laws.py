"""Public holidays as the laws of four countries give them, written out by hand.

England: Banking and Financial Dealings Act 1971, Schedule 1, with the dates of 2026 as the
government lists them; 2027 derived from the Act (substitutes for Christmas on a weekend).
France: Code du travail, art. L3133-1; Alsace and Moselle: art. L3134-13.
Norway: Act of 24 February 1995 no. 12, section 2; Act of 26 April 1947 no. 1 (1 and 17 May).
Bavaria: Feiertagsgesetz, art. 1, 15 August where most people of a parish are Catholic.
The movable ones follow Easter Sunday, 5 April 2026 and 28 March 2027.
"""

from datetime import date

from shared.holidaydates import HolidayRule

ENGLAND = HolidayRule(country="GB", subdivision="ENG")
FRANCE = HolidayRule(country="FR")
ALSACE = HolidayRule(country="FR", subdivision="Alsace-Moselle")
NORWAY = HolidayRule(country="NO")
BAVARIA = HolidayRule(country="DE", subdivision="BY")
CATHOLIC_BAVARIA = HolidayRule(country="DE", subdivision="BY", categories=("catholic",))


def _days(year: int, text: str) -> frozenset[date]:
    """Read "1.1 26.3" as 1 January and 26 March."""
    return frozenset(
        date(year, int(month), int(day))
        for day, month in (entry.split(".") for entry in text.split())
    )


# On weekdays only, for a holiday that falls on a weekend is kept on its substitute.
ENGLAND_ON_WEEKDAYS = {
    2026: _days(2026, "1.1 3.4 6.4 4.5 25.5 31.8 25.12 28.12"),
    2027: _days(2027, "1.1 26.3 29.3 3.5 31.5 30.8 27.12 28.12"),
}

_FRANCE_2026 = _days(2026, "1.1 6.4 1.5 8.5 14.5 25.5 14.7 15.8 1.11 11.11 25.12")
_FRANCE_2027 = _days(2027, "1.1 29.3 1.5 6.5 8.5 17.5 14.7 15.8 1.11 11.11 25.12")
_BAVARIA_2026 = _days(2026, "1.1 6.1 3.4 6.4 1.5 14.5 25.5 4.6 3.10 1.11 25.12 26.12")
_BAVARIA_2027 = _days(2027, "1.1 6.1 26.3 29.3 1.5 6.5 17.5 27.5 3.10 1.11 25.12 26.12")

ALL_DAYS = {
    (FRANCE, 2026): _FRANCE_2026,
    (FRANCE, 2027): _FRANCE_2027,
    (ALSACE, 2026): _FRANCE_2026 | _days(2026, "3.4 26.12"),
    (ALSACE, 2027): _FRANCE_2027 | _days(2027, "26.3 26.12"),
    (NORWAY, 2026): _days(2026, "1.1 2.4 3.4 5.4 6.4 1.5 14.5 17.5 24.5 25.5 25.12 26.12"),
    # Constitution Day and Whit Monday fall together: 12 holidays on 11 dates.
    (NORWAY, 2027): _days(2027, "1.1 25.3 26.3 28.3 29.3 1.5 6.5 16.5 17.5 25.12 26.12"),
    (BAVARIA, 2026): _BAVARIA_2026,
    (BAVARIA, 2027): _BAVARIA_2027,
    (CATHOLIC_BAVARIA, 2026): _BAVARIA_2026 | _days(2026, "15.8"),
    (CATHOLIC_BAVARIA, 2027): _BAVARIA_2027 | _days(2027, "15.8"),
}
