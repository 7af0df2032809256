"""Pieces that hardly pass, that nobody can judge or should weigh, or that can't be turned.

That a piece is too big for what was measured is no finding: it is a fact of its job.
"""

from shared.book import Job, Segment
from shared.examine.look import Look, Path
from shared.passing.boxes import UPRIGHT_BY_WORD, margins_of, piece_of, turns_of
from shared.passing.judge import Answer, Judged, judge_way
from shared.passing.masses import Weight, against, mass_of
from shared.passing.passages import Gap, Part, course_of, journey_of, vehicles_of
from shared.units import whole_down, whole_up


def check_ways_round(segment: Segment, path: Path, look: Look) -> None:
    """Hold that ways round have known names, and that one of them is left."""
    for index, word in enumerate(segment.turns):
        if word not in UPRIGHT_BY_WORD:
            near = look.nearest(word, UPRIGHT_BY_WORD)
            look.add("turn_unknown", (*path, "turns", index), word=word, nearest=near)
    if not turns_of(segment.turns, segment.finished_faces):
        look.add("no_way_round", (*path, "finished_faces"), segment=segment.id)


def check_pieces(job: Job, path: Path, look: Look) -> None:
    """Tell of each piece of a job that should be measured or weighed before it is relied on."""
    margins = margins_of(look.book.workshop)
    for index, segment in enumerate(job.segments):
        where = (*path, "segments", index)
        course = course_of(look.book, job, segment)
        piece = piece_of(segment)
        if piece is not None:
            for judged in judge_way(piece, course, margins).judged:
                _check_fit(segment, judged, where, look)
        elif course.workshop or course.site:
            first = (*course.workshop, *course.site)[0]
            told = {"segment": segment.id, "opening": first.name}
            look.add("segment_size_for_opening", where, **told)
        _check_mass(job, segment, where, look)


def _check_fit(segment: Segment, judged: Judged, path: Path, look: Look) -> None:
    gap = judged.passage
    if judged.answer is not Answer.MEASURE or not isinstance(gap, Gap):
        return
    told = {"segment": segment.id, "opening": gap.name, "dimension": judged.dimension.value}
    if gap.measured and gap.complete:
        look.add("close_fit", path, **told, spare_mm=whole_down(judged.spare_mm))
    elif gap.part is Part.VEHICLE and gap.name and judged.spare_mm < 0:
        look.add("vehicle_not_measured", path, **told, over_mm=whole_up(-judged.spare_mm))


def _check_mass(job: Job, segment: Segment, path: Path, look: Look) -> None:
    mass, journey = mass_of(segment), journey_of(job, segment)
    if mass is None or journey is None:
        return
    vehicles = vehicles_of(look.book, journey)
    weights = [against((mass,), vehicle.payload_kg) for vehicle in vehicles]
    if vehicles and Weight.WITHIN not in weights and Weight.WEIGH in weights:
        vehicle = vehicles[weights.index(Weight.WEIGH)]
        look.add("weigh_it", path, segment=segment.id, equipment=vehicle.id)
