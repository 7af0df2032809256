"""Which placement a bar is of, and who does it instead of whom. No Qt."""

from app.window.people.items import Bar
from shared.ids import PersonId
from shared.plan import Placement, Plan


def placed(plan: Plan, bar: Bar) -> Placement | None:
    """Return where a bar's work stands in a plan."""
    wanted = (bar.step, bar.round, bar.part)
    return next((p for p in plan.placements if (p.step, p.round, p.part) == wanted), None)


def instead(placement: Placement, line: str, to: PersonId) -> tuple[PersonId, ...]:
    """Return a team with somebody in the place of whoever's row it was in.

    From a place's row, or where nobody of the team is, the newcomer takes the first one's place.
    """
    team = placement.people
    leaves = line if line in team else (team[0] if team else "")
    if not team:
        return (to,)
    return tuple(dict.fromkeys(to if one == leaves else one for one in team))
