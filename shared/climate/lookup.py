"""What is expected of a place in each hour of the workshop's clock; nothing is reckoned here.

The temperatures of the month for the place, else those for every place, else nothing is known:
then it is as warm as figure CP30 has it. A reading holds for its hour instead. Heating that is
taken keeps what is only expected from being colder in its hours. An hour that is heated in part
is as cold as its cold part and as warm as its warm one. Without a place it is as the
temperatures for every place say, else as cold as the coldest place known, as warm as the warmest
and as damp as the dampest.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from types import MappingProxyType
from typing import TYPE_CHECKING

from shared.climate.clock import Covered, covered, days_reaching
from shared.trade import figure
from shared.worktime.zones import zone_named

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from shared.book import Book, Offer, Reading, Temperature
    from shared.ids import PlaceId

HEATING = "heating"
"""The kind of the offers that make places warmer."""

_DAY_HOURS = range(8, 20)
_ALL_HOURS = range(24)


@dataclass(frozen=True, slots=True, kw_only=True)
class Hour:
    """What is expected of an hour: degrees Celsius, and the relative humidity in percent.

    humidity: None where nothing is known of it.
    """

    coldest: Decimal
    hottest: Decimal
    humidity: Decimal | None = None


Day = tuple[Hour, ...]
"""The hours from 0 to 23 of a day's clock, whether it changes on that day or not."""

Heating = tuple[int, tuple[date, ...]]
"""A heating by position, and the days on which its hours may open that reach into a day."""


class Climate:
    """The temperatures, readings and heating of one book.

    Raises
    ------
    UnknownZone
        If nothing is known of the workshop's zone.
    """

    def __init__(self, book: "Book") -> None:
        """Sort what the book says."""
        self._zone = zone_named(book.workshop.zone)
        self._usual = figure("CP30").amount
        self._temperatures = book.workshop.temperatures
        self._places = tuple(place.id for place in book.places)
        self._heating = heating_of(book)
        self._days: dict[object, Day] = {}
        self._unheated_days: dict[object, Day] = {}
        self._readings: dict[PlaceId | None, dict[datetime, Reading]] = {}
        for reading in sorted(book.workshop.readings, key=lambda each: each.at):
            of_place = self._readings.setdefault(reading.place, {})
            of_place[self.hour_of(reading.at)] = reading

    @property
    def is_known(self) -> bool:
        """Return whether anything is known of any place."""
        return bool(self._temperatures or self._readings or self._heating)

    def expected(self, place: "PlaceId | None", instant: datetime) -> Hour:
        """Return what is expected of a place (None: wherever it is) in the hour of an instant."""
        local = instant.astimezone(self._zone)
        hour = self.day(place, local.date())[local.hour]
        reading = self.readings(place).get(self.hour_of(instant))
        return hour if reading is None else measured(hour, reading)

    def hour_of(self, instant: datetime) -> datetime:
        """Return when the hour of the workshop's clock began in which an instant lies."""
        local = instant.astimezone(self._zone)
        into = timedelta(minutes=local.minute, seconds=local.second, microseconds=local.microsecond)
        return instant.astimezone(UTC) - into

    def readings(self, place: "PlaceId | None") -> "Mapping[datetime, Reading]":
        """Return the readings that hold for a place, by the beginning of their hour.

        Those of the place itself go before those for every place, later ones before earlier.
        """
        everywhere = self._readings.get(None, {})
        own = self._readings.get(place, {})
        return MappingProxyType(everywhere | own)

    @property
    def goes_by_weeks(self) -> bool:
        """Return whether days of one month and weekday are alike in every year."""
        return not self._heating

    def likeness(self, place: "PlaceId | None") -> object:
        """Return what is the same for places of which the same is expected, and for no others."""
        own = self._readings.get(place, {}) if place is not None else {}
        known = any(entry.place == place for entry in self._temperatures)
        warmed = tuple(at for at, offer in enumerate(self._heating) if place in offer.about)
        return place if place is None or own or known else warmed

    def day(self, place: "PlaceId | None", day: date) -> Day:
        """Return what is expected of each hour of a day, readings left out.

        Days that are alike are the same object.
        """
        if not self._heating:
            key: object = (place, day.month, day.weekday())
            found = self._days.get(key)
            if found is None:
                found = self._days[key] = self._made(place, day, ())
            return found
        heating = self._heating_on(day)
        alike = tuple((at, tuple((on - day).days for on in opening)) for at, opening in heating)
        key = (place, day.month, day.weekday(), alike)
        if key not in self._days:
            self._days[key] = self._made(place, day, heating)
        return self._days[key]

    def _heating_on(self, day: date) -> list[Heating]:
        found: list[Heating] = []
        for at, offer in enumerate(self._heating):
            first, last = offer.first or date.min, offer.last or date.max
            opening = tuple(on for on in days_reaching(day) if first <= on <= last)
            if opening:
                found.append((at, opening))
        return found

    def _made(self, place: "PlaceId | None", day: date, heating: Iterable[Heating]) -> Day:
        hours = self._anywhere(day) if place is None else None
        if hours is None:
            hours = self._unheated(self._entry(place, day.month), day)
        for at, opening in heating:
            offer = self._heating[at]
            if not offer.about or place in offer.about:
                heated = covered(offer.heated, day, opening=opening)
                hours = tuple(_warmed(*pair, offer) for pair in zip(hours, heated, strict=True))
        return hours

    def _entry(self, place: "PlaceId | None", month: int) -> "Temperature | None":
        of_month = [entry for entry in self._temperatures if month in entry.months]
        own = (entry for entry in of_month if place is not None and entry.place == place)
        everywhere = (entry for entry in of_month if entry.place is None)
        return next(own, None) or next(everywhere, None)

    def _anywhere(self, day: date) -> Day | None:
        """Return the hours of all places together where nothing is said of every place."""
        if self._entry(None, day.month) is not None:
            return None
        known = [place for place in self._places if self._entry(place, day.month) is not None]
        days = [self.day(place, day) for place in known]
        return tuple(_together(hours) for hours in zip(*days, strict=True)) if days else None

    def _unheated(self, entry: "Temperature | None", day: date) -> Day:
        if entry is None:
            return (Hour(coldest=self._usual, hottest=self._usual),) * len(_ALL_HOURS)
        heated = covered(entry.heated, day, opening=days_reaching(day))
        key = (id(entry), heated)
        if key not in self._unheated_days:
            self._unheated_days[key] = _hours_of(entry, heated)
        return self._unheated_days[key]


def _hours_of(entry: "Temperature", heated: "Sequence[Covered]") -> Day:
    """Return the hours of a day as an entry has them, those heated that are."""
    spread = entry.spread_celsius or Decimal(0)
    found: list[Hour] = []
    for hour in _ALL_HOURS:
        celsius = _celsius(entry, hour, heated[hour])
        found.append(
            Hour(
                coldest=min(celsius) - spread,
                hottest=max(celsius) + spread,
                humidity=entry.humidity_percent,
            )
        )
    return tuple(found)


def heating_of(book: "Book") -> "tuple[Offer, ...]":
    """Return the heating that is taken and says how warm it gets."""
    return tuple(
        offer
        for offer in book.offers
        if offer.kind == HEATING and offer.taken and offer.celsius is not None
    )


def measured(hour: Hour, reading: "Reading") -> Hour:
    """Return an hour as it was measured to be; its humidity as expected where none was."""
    humidity = hour.humidity if reading.humidity_percent is None else reading.humidity_percent
    return Hour(coldest=reading.celsius, hottest=reading.celsius, humidity=humidity)


def _celsius(entry: "Temperature", hour: int, heated: Covered) -> list[Decimal]:
    """Return the temperatures of an hour: one, or two where it is heated in part."""
    unheated = entry.day_celsius if hour in _DAY_HOURS else entry.night_celsius
    warm = entry.heated_celsius
    if warm is None and entry.heated:
        warm, unheated = entry.day_celsius, entry.night_celsius
    found = [] if heated is Covered.WHOLLY and warm is not None else [unheated]
    return found if warm is None or heated is Covered.NOT else [*found, warm]


def _warmed(hour: Hour, heated: Covered, offer: "Offer") -> Hour:
    """Return an hour that is kept from being colder."""
    celsius = offer.celsius
    if celsius is None or heated is Covered.NOT:
        return hour
    return Hour(
        coldest=max(hour.coldest, celsius) if heated is Covered.WHOLLY else hour.coldest,
        hottest=max(hour.hottest, celsius),
        humidity=hour.humidity,
    )


def _together(hours: Iterable[Hour]) -> Hour:
    """Return the hour of several places."""
    found = tuple(hours)
    damp = [hour.humidity for hour in found if hour.humidity is not None]
    return Hour(
        coldest=min(hour.coldest for hour in found),
        hottest=max(hour.hottest for hour in found),
        humidity=max(damp, default=None),
    )
