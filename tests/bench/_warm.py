"""What one planning leaves for the next, and planning with it; for benches."""

from scheduler.calendar import Index
from scheduler.chain import Unfit
from scheduler.check import check
from scheduler.check.memory import CheckMemory
from scheduler.normalise import Normal, normalise
from scheduler.normalise.memory import Memory
from scheduler.place import place
from scheduler.problem import Schedule
from scheduler.shifts import first_schedule
from scheduler.tables import Tables
from scheduler.unfold import to_plan
from scheduler.urgency import Urgency, countback_order
from shared.book import Book
from shared.plan import Plan


class Broken(Exception):  # noqa: N818 - it says what is wrong
    """A plan breaks a rule, or there is none."""


class Warm:
    """All that is kept from one planning to the next."""

    def __init__(self) -> None:
        """Begin with nothing."""
        self._memory = Memory()
        self._tables = Tables()
        self._checks = CheckMemory()

    def normal(self, book: Book) -> Normal:
        """Put a book on the grid."""
        assert book.as_of is not None
        return normalise(book, book.as_of, memory=self._memory)

    def index(self, normal: Normal) -> Index:
        """Index a problem."""
        return Index(normal.problem, tables=self._tables)

    def plan(self, normal: Normal, schedule: Schedule) -> Plan:
        """Give the plan of a schedule."""
        return to_plan(normal, schedule)

    def breaches(self, book: Book, normal: Normal, schedule: Schedule) -> int:
        """Give how many rules a schedule breaks."""
        return len(check(book, self.plan(normal, schedule), self._checks).breaches)

    def checked(self, book: Book, normal: Normal, schedule: Schedule) -> Plan:
        """Give the plan of a schedule, checked."""
        plan = self.plan(normal, schedule)
        found = check(book, plan, self._checks)
        if found.breaches:
            raise Broken(f"{book.name}: {found.breaches[:3]}")
        return plan

    def first(self, book: Book, *, justified: bool = False) -> tuple[Normal, Schedule, Plan]:
        """Give the first checked plan of a book."""
        normal = self.normal(book)
        index = self.index(normal)
        found = first_schedule(index, 1) if justified else one_pass(index)
        if isinstance(found, Unfit):
            raise Broken(f"{book.name}: {normal.stages[found.stage].step} fits nowhere")
        return normal, found, self.checked(book, normal, found)


def one_pass(index: Index) -> Schedule | Unfit:
    """Place everything once, in the order of the countback."""
    return place(index, countback_order(index), release=index.once(Urgency).release)


def single_number(reached: tuple[int, ...]) -> int:
    """Weigh levels as one number: windows, steps late, steps short of the wish, floor time."""
    return 2_000_000 * (reached[0] + reached[1]) + 2_000 * reached[2] + 50 * reached[3] + reached[7]
