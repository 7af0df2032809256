"""People: their skills, their days, and what nobody can do."""

from datetime import timedelta

from shared.book import EngagementState, EquipmentNeed, Need, Person, SkillLevel, Stage, Way
from shared.examine.look import Look, Path

CANCEL_SOON = timedelta(days=7)
"""So long before a freelancer can no longer be cancelled it is told."""


def check_person(person: Person, path: Path, look: Look) -> None:
    """Hold that skills stand once and a freelancer has days to work on."""
    seen: set[str] = set()
    for index, each in enumerate(person.skills):
        if each.skill in seen:
            look.add("skill_doubled", (*path, "skills", index), skill=each.skill)
        seen.add(each.skill)
    confirmed = any(each.state is EngagementState.CONFIRMED for each in person.engaged)
    if person.freelance and not confirmed:
        look.add("freelance_without_days", (*path, "engaged"))
    if person.freelance and person.engaged:
        _check_engaged(person, path, look)


def _check_engaged(person: Person, path: Path, look: Look) -> None:
    """Hold that days are enough to come for, and tell by when pencilled ones are decided."""
    for index, days in enumerate(person.engaged):
        count = (days.last - days.first).days + 1
        if person.least_days is not None and 0 < count < person.least_days:
            facts = {"days_count": count, "least_count": person.least_days}
            look.add("engaged_too_short", (*path, "engaged", index), **facts)
    today, until = look.today, person.cancel_by
    if today is None or until is None or not today <= until <= today + CANCEL_SOON:
        return
    pencilled = [
        days.first
        for days in person.engaged
        if days.state is EngagementState.PENCILLED and days.last >= today
    ]
    if pencilled:
        look.add("cancel_soon", (*path, "cancel_by"), until=until, first=min(pencilled))


def check_need(need: Need, path: Path, look: Look) -> None:
    """Hold that a need has hands, and that the workshop has so many of them."""
    wanted = need.can + need.helps
    if min(need.can, need.helps) >= 0 and wanted == 0:
        look.add("need_without_hands", path, skill=need.skill)
    levels = look.skills.get(need.skill)
    if levels is None:
        near = look.nearest(need.skill, look.skills)
        look.add("skill_of_nobody", (*path, "skill"), skill=need.skill, nearest=near)
        return
    there = sum(levels.values())
    can = there - levels[SkillLevel.HELPS.value]
    if need.can > can:
        look.add("too_few_for_need", path, skill=need.skill, wanted=need.can, there=can)
    elif wanted > there:
        look.add("too_few_for_need", path, skill=need.skill, wanted=wanted, there=there)


def check_equipment_need(need: EquipmentNeed, path: Path, look: Look) -> None:
    """Hold that the workshop has so many of a thing."""
    there = {each.id: each.count for each in look.book.equipment}.get(need.equipment)
    if there is not None and need.count > there:
        told = {"equipment": need.equipment, "wanted": need.count, "there": there}
        look.add("too_few_equipment", (*path, "count"), **told)


def check_asked(stage: Stage, path: Path, look: Look) -> None:
    """Hold that people asked for by name have a skill that the stage wants."""
    if not stage.people:
        return
    wanted = {need.skill for way in stage.ways for need in way.needs}
    skills = {person.id: {each.skill for each in person.skills} for person in look.book.people}
    for index, person in enumerate(stage.people):
        if person in skills and wanted and not wanted & skills[person]:
            look.add("asked_person_cannot", (*path, "people", index), person=person)


def check_certificates(stage: Stage, path: Path, look: Look) -> None:
    """Hold that somebody holds each certificate that is wanted."""
    if not stage.certificates:
        return
    held = {each.certificate for person in look.book.people for each in person.certificates}
    for index, wanted in enumerate(stage.certificates):
        if wanted not in held:
            near = look.nearest(wanted, held)
            where = (*path, "certificates", index)
            look.add("certificate_of_nobody", where, certificate=wanted, nearest=near)


def takes_room(way: Way, look: Look) -> bool:
    """Say whether a way's room follows from the size of its pieces."""
    by_id = {place.id: place for place in look.book.places}
    of_kinds = [place.id for place in look.book.places if place.kind in way.place_kinds]
    named = (by_id[place] for place in (*way.places, *of_kinds) if place in by_id)
    return (
        way.area_m2 is None
        and not way.whole_place
        and any(place.area_m2 is not None and not place.whole for place in named)
    )
