"""What comes of work on the real floor: true hours, true answers, changes, breakages."""

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from shared.book import Gate, Hours, Job, Kind, Need, Stage, Step, Way
from shared.ids import PlaceId, SkillId, StepId
from tests.bench.year.abrading import put
from tests.bench.year.floor import Floor, Turn
from tests.bench.year.shop import CARVING
from tests.bench.year.tasks import How, Task
from tests.bench.year.truth import Truth
from tests.books.making import FOAM


class Reality:
    """The fate of the real floor."""

    def __init__(self, truth: Truth) -> None:
        """Take what will happen."""
        self._truth = truth

    def work(self, task: Task, how: How) -> int:
        """Return the quarters that a task truly takes."""
        factor = Fraction(self._truth.factor(task.job, task.step, task.kind)).limit_denominator(999)
        work = how.work * factor
        return max(1, -(-work.numerator // work.denominator))

    def answer(self, floor: Floor, task: Task, pictures: int) -> int:
        """Return when the client truly answers."""
        assert isinstance(task.step, Gate)
        return self._truth.answer(floor.jobs[task.job], task.step, pictures)

    def over(self, floor: Floor, turn: Turn) -> None:
        """Put what an answer asks for, or what has broken, into the job as a step of its own."""
        step = floor.tasks[turn.task].step
        made = self._more(floor.jobs[turn.job], step)
        if made is not None:
            put(floor, behind(floor.jobs[turn.job], step.id, made))

    def _more(self, job: Job, step: Step) -> Stage | None:
        if isinstance(step, Gate):
            hours = self._truth.changes(step) if not step.ways else Decimal(0)
            piece = (job.segments[0].id,)
            made = Stage(
                id=StepId(f"{step.id}.changes"), name="changes", kind=Kind.FOAM, segments=piece,
                ways=(_one_hand(FOAM, hours, (CARVING,)),),
            )  # fmt: skip
            return made if hours else None
        if not isinstance(step, Stage) or step.in_one_go or step.takes_off or _is_more(step):
            return None
        hours = self._truth.broken(step)
        if not hours:
            return None
        way = step.ways[0]
        ways = (_one_hand(way.needs[0].skill, hours, way.places),)
        return replace(step, id=StepId(f"{step.id}.again"), name=f"{step.name} again", ways=ways)


def _is_more(step: Stage) -> bool:
    return step.id.endswith((".again", ".changes"))


def _one_hand(skill: SkillId, hours: Decimal, places: tuple[PlaceId, ...]) -> Way:
    exact = Hours(low=hours, likely=hours, high=hours)
    return Way(id="1 person", needs=(Need(skill=skill),), hours=exact, places=places)


def behind(job: Job, step: StepId, made: Stage) -> Job:
    """Return a job with one step more, right behind another."""
    at = next(position for position, each in enumerate(job.steps) if each.id == step) + 1
    return replace(job, steps=(*job.steps[:at], made, *job.steps[at:]))
