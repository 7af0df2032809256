"""Whether a book measures anything that pieces must pass: most don't, and pay nothing then."""

from shared.book import Book, Equipment, EquipmentKind


def knows_openings(book: Book) -> bool:
    """Return whether the book speaks of openings at all."""
    return bool(book.workshop.openings) or any(job.site.openings for job in book.jobs)


def is_measured(book: Book) -> bool:
    """Return whether the book measures any opening or vehicle."""
    return knows_openings(book) or any(_is_known(thing) for thing in book.equipment)


def _is_known(thing: Equipment) -> bool:
    told = (thing.body, thing.payload_kg, thing.door_width_m, thing.door_height_m)
    inside = (thing.inside_length_m, thing.inside_width_m, thing.inside_height_m)
    is_said = any(each is not None for each in (*told, *inside))
    return is_said and thing.kind is EquipmentKind.VEHICLE
