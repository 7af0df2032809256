"""Ways of making: rules that speak of steps and options there are, and sizes that are wanted."""

from shared.book import Job, Route, Segment
from shared.examine.look import Look, Path


def check_route(route: Route, path: Path, look: Look) -> None:
    """Hold that rules name options of their route, and that a step has one rule."""
    seen: set[str] = set()
    for index, rule in enumerate(route.rules):
        where = (*path, "rules", index)
        if rule.step in seen:
            look.add("rule_doubled", (*where, "step"), step=rule.step)
        seen.add(rule.step)
        for field in ("only_if", "unless"):
            for at, option in enumerate(getattr(rule, field)):
                if option not in route.options:
                    near = look.nearest(option, route.options)
                    look.add("option_unknown", (*where, field, at), option=option, nearest=near)


def check_segment_route(segment: Segment, path: Path, look: Look) -> None:
    """Hold that the way of making that a segment was written from is known."""
    from shared.routes.known import PROGRAM_ROUTES

    if segment.route is not None and segment.route not in PROGRAM_ROUTES:
        look.refer("route", segment.route, (*path, "route"))


def check_measures(job: Job, path: Path, look: Look) -> None:
    """Tell which sizes a way of making wants of segments and has to estimate."""
    routes = dict.fromkeys(each.route for each in job.segments if each.route is not None)
    if not routes:
        return
    from shared.routes.known import route_of
    from shared.routes.measures import missing_measures

    places = {segment.id: index for index, segment in enumerate(job.segments)}
    for route_id in routes:
        route = route_of(look.book, route_id)
        made = (segment for segment in job.segments if segment.route == route_id)
        for each in () if route is None else missing_measures(route, made):
            where = (*path, "segments", places[each.segment.id], each.field)
            told = {"field": each.field, "taken": f"{each.taken:f}"}
            look.add("measure_missing", where, segment=each.segment.id, **told)
