"""What `countback deliver` writes for people."""

from collections.abc import Iterable
from datetime import datetime
from decimal import Decimal
from zoneinfo import ZoneInfo

from app.cli.console import Console
from app.cli.deliver_rows import back_rows, forth_rows, rules_of, say_rows, travel_rows
from app.cli.deliver_slots import ShortSlot, short_slots
from app.cli.delivered import QUARTER, Delivered, Way
from app.words import Words, notices, roads
from app.words import deliver as say
from app.words.amounts import money
from app.words.legs import leg_name
from app.words.template import Template
from shared.book import Arrangement, Book
from shared.delivery.codes import Note
from shared.delivery.run import Run
from shared.journeys.clocks import clocks_of
from shared.notices import Wanted
from shared.plan import Doing
from shared.road.rules import HoursRules
from shared.units import STEP_MINUTES
from shared.worktime import Spans

_INDENT = "    "
_GAP = "  "
_MOST_SPANS = 6


class Teller:
    """Writes the deliveries of one book, as of a day."""

    def __init__(self, console: Console, words: Words, book: Book, now: datetime) -> None:
        self._console = console
        self._words = words
        self._book = book
        self._today = now.astimezone(ZoneInfo(book.workshop.zone)).date()

    def say(self, made: Delivered) -> None:
        """Write one delivery."""
        self._head(made)
        if made.window is None:
            self._line(self._words.say(say.NO_WINDOW, job=made.job.name))
            return
        self._summary(made)
        if made.leaves_by is None:
            self._why_not(made)
        else:
            self._back_title(made)
            self._rows(back_rows(self._words, self._book, made))
        self._forwards(made)
        self._departures(made)
        self._ways(made)
        self._basis(made)
        self._people(made)
        self._bookings(made)
        self._notices(made)
        if not made.judged:
            self._console.say()
            self._line(self._words.say(say.AS_WRITTEN))

    # Lines.

    def _line(self, text: str) -> None:
        self._console.wrapped(text, indent=_GAP)

    def _title(self, template: Template) -> None:
        self._console.say()
        self._console.say(self._console.strong(self._words.say(template)))

    def _back_title(self, made: Delivered) -> None:
        best = made.best
        if best is None or len(made.ways) == 1:
            self._title(say.BACK)
            return
        self._console.say()
        text = self._words.say(say.BACK_BY, way=self._way_name(best))
        self._console.wrapped(self._console.strong(text))

    def _rows(self, rows: Iterable[object]) -> None:
        say_rows(self._console, self._words, rows, self._today)  # type: ignore[arg-type]

    def _when(self, when: datetime, zone: str | None = None) -> str:
        return self._words.moment(when, after=self._today, zone=zone)

    def _money(self, amount: Decimal) -> str:
        return f"{money(self._words, amount)} {self._book.workshop.currency}"

    # Parts.

    def _head(self, made: Delivered) -> None:
        told = {"job": made.job.name, "journey": made.journey.name or made.journey.id}
        self._console.wrapped(self._console.strong(self._words.say(say.HEAD, **told)))
        if made.window is not None:
            site = made.job.site
            held = made.window
            span = self._words.span(held.start, held.end, after=self._today, zone=site.zone)
            self._line(self._words.say(say.WINDOW, site=site.name, window=span))

    def _summary(self, made: Delivered) -> None:
        words, zone = self._words, made.job.site.zone
        if made.trip is not None:
            done = made.goal_end(made.trip)
            leaves = self._when(made.trip.start)
            gate = self._when(made.gate(made.trip), zone)
            told = words.say(say.PLANNED, leaves=leaves, gate=gate, done=self._when(done, zone))
            self._line(f"{told} {self._spare(made, done)}")
        elif made.best is not None:
            self._line(words.say(say.NOT_PLANNED))
        if made.leaves_by is not None:
            text = words.say(say.LEAVES_BY, moment=self._when(made.leaves_by))
            if made.spans:
                first = self._when(made.spans[0].start)
                text += " " + words.say(say.NO_EARLIER, moment=first)
            self._line(text)
        trip = made.trip_told
        if trip is not None and trip.crew_from is not None:
            self._line(words.say(say.CREW_LEAVES, moment=self._when(trip.crew_from)))
        self._loading(made)

    def _spare(self, made: Delivered, done: datetime) -> str:
        assert made.window is not None
        minutes = int((made.window.end - done).total_seconds()) // 60
        if minutes == 0:
            return self._words.say(say.JUST_IN_TIME)
        if minutes > 0:
            return self._words.say(say.IN_TIME, spare=self._words.elapsed(minutes))
        late = self._words.say(say.TOO_LATE, late=self._words.elapsed(-minutes))
        return self._console.alarm(late)

    def _loading(self, made: Delivered) -> None:
        words, text = self._words, []
        if made.loading_by is not None and made.loading_minutes:
            hours = words.elapsed(made.loading_minutes)
            start = self._when(made.loading_by)
            text.append(words.say(say.LOADING_BY, start=start, hours=hours))
        if made.loaded is not None:
            start, end = self._when(made.loaded.start), self._when(made.loaded.end)
            text.append(words.say(say.LOADING, start=start, end=end))
            if made.trip is not None and made.trip.start > made.loaded.end:
                stood = int((made.trip.start - made.loaded.end).total_seconds()) // 60
                text.append(words.say(say.STANDS, hours=words.elapsed(stood)))
        if text:
            self._line(" ".join(text))

    def _why_not(self, made: Delivered) -> None:
        words = self._words
        self._console.say()
        self._line(self._console.alarm(words.say(say.CANNOT)))
        known = {way.trouble for way in made.ways if way.trouble is not None}
        for way in made.ways:
            if way.trouble is None:
                continue
            why = words.say(say.TROUBLES[way.trouble])
            if len(known) == 1:
                self._line(words.say(say.TROUBLE_OF_ALL, why=why))
                break
            self._line(words.say(say.TROUBLE, way=self._way_name(way), why=why))
        for slot in short_slots(self._book, made.job, made.journey):
            self._line(self._slot(made, slot))

    def _slot(self, made: Delivered, slot: ShortSlot) -> str:
        words, zone = self._words, made.job.site.zone
        told = {
            "slot": words.span(slot.start, slot.end, after=self._today, zone=zone),
            "holds": words.elapsed(slot.holds),
            "legs": words.both(leg_name(words, leg) for leg in slot.legs),
            "hours": words.elapsed(slot.minutes),
        }
        return words.say(say.SLOT_TOO_SHORT, count=len(slot.legs), **told)

    def _forwards(self, made: Delivered) -> None:
        told = made.trip_told
        if told is None:
            return
        self._title(say.FORTH if made.trip is None else say.FORTH_PLANNED)
        rows = forth_rows(self._words, self._book, made, told.stretches, told.legs)
        self._rows(rows)
        if told.travel:
            self._title(say.CREW_WAY)
            self._rows(travel_rows(self._words, self._book, made, told.travel))
        rules = rules_of((*told.stretches, *told.travel))
        if rules:
            self._title(say.RULES)
            for rule in rules:
                text = say.rule_line(self._words, rule)
                self._console.wrapped(text, indent=_INDENT, first=_GAP)
            self._line(self._words.say(say.JUDGED))

    def _departures(self, made: Delivered) -> None:
        if not made.spans:
            return
        words = self._words
        self._console.say()
        text = words.say(say.DEPARTURES, spans=self._spans(made.spans))
        gaps = len(made.spans) - 1
        if gaps:
            number = words.number_word(gaps)
            text += " " + words.say(say.GAPS, count=gaps, number=number)
        way = made.told
        if way is not None and way.latest is not None:
            text += " " + self._next(made, way)
        self._line(text)

    def _spans(self, spans: Spans) -> str:
        words = self._words
        told = [
            words.say(
                say.BETWEEN, span=words.span(span.start, span.end - QUARTER, after=self._today)
            )
            if span.end - span.start > QUARTER
            else self._when(span.start)
            for span in spans[-_MOST_SPANS:]
        ]
        return words.both(told)

    def _next(self, made: Delivered, way: Way) -> str:
        assert made.window is not None
        if way.after is None:
            return self._words.say(say.NEXT_NEVER)
        zone = made.job.site.zone
        gate, done = self._when(way.after.gate, zone), self._when(way.after.end, zone)
        why = self._words.say(say.NEXT_DONE, gate=gate, done=done)
        late = int((_goal(made, way.after) - made.window.end).total_seconds()) // 60
        return self._words.say(say.NEXT_MISSES, late=self._words.elapsed(max(late, 0)), why=why)

    def _ways(self, made: Delivered) -> None:
        if not made.ways:
            return
        self._title(say.WAYS)
        words = self._words
        heads = [say.WAY, say.PRICE, say.LEAVES, say.LOADS]
        heads += [say.SHIP] if any(way.choice.offers for way in made.ways) else []
        table = [[words.say(head) for head in heads]]
        table += [self._way_row(made, at, way) for at, way in enumerate(made.ways)]
        widths = [max(len(row[at]) for row in table) for at in range(len(heads))]
        for row in table:
            cells = [cell.ljust(width) for cell, width in zip(row, widths, strict=False)]
            self._console.say((_GAP + _GAP.join([*cells, *row[len(widths) :]])).rstrip())
        why = self._why(made)
        if why:
            self._line(why)

    def _way_row(self, made: Delivered, at: int, way: Way) -> list[str]:
        latest = way.latest
        price = self._money(way.choice.price)
        mark = [self._words.say(say.TAKEN)] if at == made.taken else []
        has_ship = any(each.choice.offers for each in made.ways)
        cells = [self._way_name(way), price]
        if latest is None:
            return [*cells, self._words.say(say.NONE_IN_TIME), "", *([""] * has_ship), *mark]
        cells.append(self._when(latest.leaves))
        cells.append("" if way.loading is None else self._when(way.loading))
        if has_ship:
            cells.append(self._ships(made, latest))
        return [*cells, *mark]

    def _ships(self, made: Delivered, run: Run) -> str:
        """Give when the ships of a run cast off, by the clocks of their quays."""
        clocks = clocks_of(self._book, made.job, made.journey.legs)
        starts = [
            self._when(one.start, clocks[one.leg].start)
            for one in run.stretches
            if one.doing in (Doing.SEA, Doing.SEA_REST)
        ]
        return self._words.series(starts)

    def _way_name(self, way: Way) -> str:
        words, means = self._words, way.choice.means
        text = means.name or means.id or words.say(say.OWN_MEANS)
        for offer in way.choice.offers:
            if offer.price:
                text = words.say(say.WITH_SAILING, means=text, price=self._money(offer.price))
        return text

    def _why(self, made: Delivered) -> str:
        way = made.told
        if way is None or way.latest is None:
            return ""
        words, name = self._words, self._way_name(way)
        if len(made.ways) == 1:
            return words.say(say.WHY_ONE, way=name)
        if made.taken is None:
            return ""
        possible = [each for each in made.ways if each.latest is not None]
        if len(possible) == 1:
            return words.say(say.WHY_ONLY, way=name)
        is_cheapest = all(way.choice.price <= each.choice.price for each in possible)
        return words.say(say.WHY_CHEAPEST if is_cheapest else say.WHY_LATER, way=name)

    def _basis(self, made: Delivered) -> None:
        way = made.told
        if way is None:
            return
        self._console.say()
        text = [self._set(say.SET, way.choice.law)]
        if way.choice.crew_rules is not None:
            text.append(self._set(say.CREW_SET, way.choice.crew_rules))
        if not way.choice.regime.is_told:
            text.append(roads.regime(self._words, way.choice.regime))
        kept = STEP_MINUTES * way.choice.rules.reserve
        # The regime has said which of the stricter rules hold, and for want of what.
        notes = [Note(each) for each in way.choice.notes]
        said = [each for each in notes if each is not Note.STRICTER_RULES]
        text += [self._words.say(say.NOTES[each], minutes=kept) for each in said]
        text += [roads.doubt(self._words, each) for each in way.doubts]
        self._line(" ".join(text))

    def _set(self, template: Template, rules: HoursRules) -> str:
        words = self._words
        name = words.say(say.SETS[rules.id]) if rules.id in say.SETS else rules.id
        day = words.day(rules.read_on, after=None)
        return words.say(template, set=name, source=rules.source, day=day)

    def _people(self, made: Delivered) -> None:
        words, trip, text = self._words, made.trip, []
        way = made.told
        if way is not None and not way.choice.means.driven_by:
            count = way.choice.means.drivers
            text.append(words.say(say.HIRED, count=count, number=words.number_word(count)))
        crew = made.journey.crew
        if crew and trip is not None:
            start = trip.crew_from or trip.start
            people = words.both(words.names.of("person", one) for one in crew)
            told = {"start": self._when(start), "end": self._when(trip.free)}
            text.append(words.say(say.PEOPLE, people=people, **told))
        if text:
            self._line(" ".join(text))

    def _bookings(self, made: Delivered) -> None:
        if not made.wanted:
            return
        self._title(say.BOOKINGS)
        for each in made.wanted:
            self._console.wrapped(self._booking(made, each), indent=_INDENT, first=_GAP)

    def _notices(self, made: Delivered) -> None:
        if not made.dues:
            return
        self._title(say.NOTICES)
        for due in made.dues:
            text = notices.due_line(self._words, due, self._today)
            self._console.wrapped(text, indent=_INDENT, first=_GAP)

    def _booking(self, made: Delivered, each: Wanted) -> str:
        words, call = self._words, each.arrangement
        parts = [self._what(each)]
        if each.start is not None and each.end is not None:
            zone = self._zone_of(made, each)
            parts.append(words.span(each.start, each.end, after=self._today, zone=zone))
        if each.price:
            parts.append(self._money(each.price))
        if each.reference:
            parts.append(words.say(say.REFERENCE, reference=each.reference))
        if call is not None and call.with_whom:
            template = say.CALL if call.call else say.CALL_BARE
            parts.append(words.say(template, who=call.with_whom, call=call.call))
        parts += [] if call is None else self._cost(call)
        if each.is_moved:
            parts.append(words.say(say.MOVED))
        state = words.say(say.STATES[each.state])
        return words.say(say.BOOKING, state=state, what=words.series(parts)) + "."

    def _what(self, each: Wanted) -> str:
        what = self._words.say(say.WANTED[each.what]) if each.what in say.WANTED else each.what
        if not each.name:
            return what
        return self._words.say(say.WANTED_NAMED, what=what, name=each.name)

    def _zone_of(self, made: Delivered, each: Wanted) -> str:
        """Give by whose clock a thing is booked: by that of its leg, else of the site."""
        if each.leg is None:
            return made.job.site.zone
        return clocks_of(self._book, made.job, made.journey.legs)[each.leg - 1].start

    def _cost(self, each: Arrangement) -> list[str]:
        if not each.cost_after:
            return []
        told = {
            "cost": money(self._words, each.cost_after),
            "currency": self._book.workshop.currency,
        }
        if each.free_until is None:
            return [self._words.say(say.COSTS, **told)]
        return [self._words.say(say.FREE, moment=self._when(each.free_until), **told)]


def _notes(way: Way) -> list[Note]:
    """Give what is to be known about a way; that the rules are the stricter is said with them."""
    return [note for note in way.choice.notes if note is not Note.STRICTER_RULES]


def _goal(made: Delivered, run: Run) -> datetime:
    from shared.delivery.judged import goal_of

    goal = goal_of(made.journey)
    return run.ends[goal - 1] if goal else run.end
