"""What the rows of each kind of table may say, and how their columns are usually called. No Qt."""

from decimal import Decimal
from typing import Any

from app.exchange.bring.columns import Field
from app.exchange.bring.values import (
    between,
    clock,
    day,
    moment,
    one_of,
    several,
    text,
    weekdays,
    yes,
)
from shared.book import Kind, Standing

_KINDS: dict[str, Any] = {
    "foam": Kind.FOAM, "schaum": Kind.FOAM,
    "laminate": Kind.LAMINATE, "laminat": Kind.LAMINATE,
    "coat": Kind.COAT, "deckschicht": Kind.COAT,
    "fill": Kind.FILL, "fill and sand": Kind.FILL, "spachteln und schleifen": Kind.FILL,
    "paint": Kind.PAINT, "lack": Kind.PAINT,
    "lacquer": Kind.LACQUER, "klarlack": Kind.LACQUER,
    "pack": Kind.PACK, "fit and pack": Kind.PACK, "montieren und packen": Kind.PACK,
}  # fmt: skip
_STANDINGS: dict[str, Any] = {
    "firm": Standing.FIRM, "fest": Standing.FIRM,
    "pencilled": Standing.PENCILLED, "vorgemerkt": Standing.PENCILLED,
    "enquiry": Standing.ENQUIRY, "anfrage": Standing.ENQUIRY,
}  # fmt: skip
_HOURS = between(Decimal(0), Decimal(10_000))
_METRES = between(Decimal("0.01"), Decimal(100))
_MONEY = between(Decimal(0), Decimal(100_000_000))
_JOB = ("job", "Auftrag", "commission", "project", "Projekt")
_SEGMENT = ("segment", "Segment", "piece", "part", "Teil", "Bauteil")

JOBS = (
    Field(id="job", headers=(*_JOB, "name", "Name", "title"), read=text, must=True,
          example="Heron"),
    Field(id="client", headers=("client", "Kunde", "customer", "Auftraggeber"), read=text,
          must=True, example="Town library"),
    Field(id="site", headers=("site", "Aufstellort", "Ort", "location"), read=text,
          example="Market hall"),
    Field(id="country", headers=("country", "Land"), read=text, must=True, example="Norway"),
    Field(id="start", headers=("window start", "Fenster von", "window from", "Beginn", "start"),
          read=moment, must=True, example="2027-05-11 08:00"),
    Field(id="end", headers=("window end", "Fenster bis", "window to", "Ende", "end"),
          read=moment, must=True, example="2027-05-14 17:00"),
    Field(id="standing", headers=("standing", "Status", "state"), read=one_of(_STANDINGS),
          example="firm"),
    Field(id="pencilled_until", headers=("pencilled until", "vorgemerkt bis"), read=day),
    Field(id="not_before", headers=("not before", "nicht vor"), read=day),
    Field(id="price", headers=("price", "Preis", "quote", "Angebotspreis"), read=_MONEY),
    Field(id="answer_days", headers=("answer days", "Antworttage"),
          read=between(1, 250, whole=True)),
)  # fmt: skip
STAGES = (
    Field(id="job", headers=_JOB, read=text, must=True, example="Heron"),
    Field(id="segment", headers=_SEGMENT, read=text, example="Left wing"),
    Field(id="stage", headers=("stage", "Arbeitsgang", "step", "Schritt", "work", "Tätigkeit"),
          read=text, must=True, example="carve"),
    Field(id="kind", headers=("kind", "Art", "kind of work"), read=one_of(_KINDS), must=True,
          example="foam"),
    Field(id="skill", headers=("skill", "Fertigkeit"), read=text, example="carve"),
    Field(id="hands", headers=("hands", "Leute", "number of people", "Anzahl Leute"),
          read=between(1, 20, whole=True), example="2"),
    Field(id="likely", headers=("person-hours likely", "person-hours", "hours", "Arbeitsstunden",
                                "Stunden", "Arbeitsstunden wahrscheinlich"),
          read=_HOURS, must=True, example="12.5"),
    Field(id="low", headers=("person-hours low", "low", "Arbeitsstunden niedrig"), read=_HOURS),
    Field(id="high", headers=("person-hours high", "high", "Arbeitsstunden hoch"), read=_HOURS),
    Field(id="cure", headers=("cure hours", "cure", "Härtezeit", "Härtestunden"),
          read=between(Decimal(0), Decimal(2000))),
    Field(id="in_one_go", headers=("in one go", "in einem Zug"), read=yes),
    Field(id="places", headers=("places", "place", "Plätze", "Platz"), read=several,
          example="Bay 1"),
    Field(id="length", headers=("length m", "length", "Länge m", "Länge"), read=_METRES),
    Field(id="width", headers=("width m", "width", "Breite m", "Breite"), read=_METRES),
    Field(id="height", headers=("height m", "height", "Höhe m", "Höhe"), read=_METRES),
)  # fmt: skip
PEOPLE = (
    Field(id="name", headers=("name", "Name", "person", "Person", "Mitarbeiter"), read=text,
          must=True, example="Wren"),
    Field(id="skills", headers=("skills", "Fertigkeiten", "can", "kann"), read=several,
          example="carve, laminate"),
    Field(id="helps", headers=("helps with", "hilft bei", "helps"), read=several, example="paint"),
    Field(id="pace", headers=("pace", "Tempo"), read=between(Decimal("0.1"), Decimal(5))),
    Field(id="rate", headers=("rate per hour", "Stundensatz", "rate"), read=_MONEY),
    Field(id="works_from", headers=("works from", "arbeitet ab", "Eintritt"), read=day),
    Field(id="works_until", headers=("works until", "arbeitet bis", "Austritt"), read=day),
    Field(id="under_18", headers=("under 18", "unter 18"), read=yes),
)  # fmt: skip
TIMETABLES = (
    Field(id="job", headers=_JOB, read=text, must=True, example="Heron"),
    Field(id="leg", headers=("leg", "Etappe", "crossing", "Überfahrt"), read=text),
    Field(id="weekdays", headers=("weekdays", "Wochentage", "days", "Tage"), read=weekdays,
          must=True, example="Mon, Wed, Fri"),
    Field(id="leaves", headers=("leaves", "departure", "Abfahrt", "ab"), read=clock, must=True,
          example="22:15"),
    Field(id="arrives", headers=("arrives", "arrival", "Ankunft", "an"), read=clock, must=True,
          example="07:30"),
    Field(id="days_later", headers=("days later", "Tage später"), read=between(0, 9, whole=True),
          example="1"),
    Field(id="zone", headers=("zone", "Zeitzone"), read=text, example="Europe/London"),
    Field(id="arrives_zone", headers=("arrives zone", "Zeitzone Ankunft"), read=text),
    Field(id="first", headers=("first day", "erster Tag", "valid from", "gültig ab"), read=day),
    Field(id="last", headers=("last day", "letzter Tag", "valid until", "gültig bis"), read=day),
    Field(id="check_in", headers=("check-in minutes", "check-in", "Check-in Minuten"),
          read=between(0, 1440, whole=True), example="90"),
    Field(id="price", headers=("price", "Preis"), read=_MONEY),
)  # fmt: skip
HOURS = (
    Field(id="job", headers=_JOB, read=text, must=True, example="Heron"),
    Field(id="segment", headers=_SEGMENT, read=text, example="Left wing"),
    Field(id="stage", headers=("stage", "Arbeitsgang", "step", "Schritt", "id of the step",
                               "Kennung des Schritts"),
          read=text, must=True, example="carve"),
    Field(id="people", headers=("people", "Leute", "person", "Person", "Mitarbeiter", "who", "wer"),
          read=several, must=True, example="Wren, Asta"),
    Field(id="begun", headers=("begun", "begonnen", "start", "Beginn", "from", "von"), read=moment,
          must=True, example="2027-03-15 07:30"),
    Field(id="done", headers=("done", "fertig", "end", "Ende", "to", "bis"), read=moment,
          must=True, example="2027-03-15 15:00"),
)  # fmt: skip
FIELDS: dict[str, tuple[Field, ...]] = {
    "jobs": JOBS,
    "stages": STAGES,
    "people": PEOPLE,
    "timetables": TIMETABLES,
    "hours": HOURS,
}
"""By the word for the kind of table on the command line."""
