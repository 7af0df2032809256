"""The two forms of the sheet: the commission with its segments, and the chosen step."""

from collections.abc import Mapping

from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QVBoxLayout

from app.window.guard import guarded
from app.window.sheet import grid, through, writing
from app.window.sheet.cautions_part import cautions_shown
from app.window.sheet.form import Form
from app.window.sheet.job_part import job_actions, sentence_pixels, write_job
from app.window.sheet.segments_part import write_segments
from app.window.sheet.steps_part import has_begun, show_typed, step_shown, write_step
from app.window.sheet.through import Trouble
from app.window.tokens import px
from shared.book import Book, Hours, Journey
from shared.findings import Finding
from shared.ids import JobId, SegmentId

_LINES = {
    "windows": "site",
    "client": "answer",
    "price": "money",
    "standing": "money",
    "pencilled_until": "money",
    "late_cost_per_day": "money",
}
_BLANKS = {
    ("client", "name"): "client",
    ("client", "answer_days"): "answer days",
    ("name",): "job name",
    ("pencilled_until",): "standing",
    ("price",): "price",
    ("late_cost_per_day",): "late cost",
}
_STEP_BLANKS = {
    "name": "step name",
    "ways": "hours likely",
    "cure_hours": "cure",
    "recoat_hours": "recoat",
    "pin": "people",
    "people": "people",
}


class CommissionForm(Form):
    """A job in sentences, its segments as a grid."""

    has_money = True

    def __init__(self) -> None:
        super().__init__()
        self._hours: tuple[Book, JobId, Mapping[SegmentId, Hours]] | None = None
        self._troubles: tuple[Book, JobId, Mapping[SegmentId, Trouble]] | None = None

    def shape(self) -> object:
        """Return what makes more or less of what is written."""
        assert self.book is not None
        assert self.job is not None
        owner = writing.job(self.book, self.job)
        has_journey = any(isinstance(step, Journey) for step in owner.steps)
        segments = tuple(segment.id for segment in owner.segments)
        others = len(self.book.jobs) > 1
        pixels = sentence_pixels(self)
        bad = tuple(self.troubles().items())
        return self.job, segments, has_journey, self.has_money, others, pixels, bad

    @guarded
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.refresh()

    def _fill(self, column: QVBoxLayout) -> None:
        write_job(self, column, has_money=self.has_money)
        column.addSpacing(px(6))
        write_segments(self, column)
        job_actions(self, column)

    def hours(self) -> Mapping[SegmentId, Hours]:
        """Return the hours of the segments of the job shown."""
        assert self.book is not None
        assert self.job is not None
        if self._hours is None or self._hours[0] is not self.book or self._hours[1] != self.job:
            self._hours = (self.book, self.job, grid.hours_of(self.book, self.job))
        return self._hours[2]

    def troubles(self) -> Mapping[SegmentId, Trouble]:
        """Return the segments of the job shown that don't pass on their way."""
        assert self.book is not None
        assert self.job is not None
        assert self.words is not None
        known = self._troubles
        if known is None or known[0] is not self.book or known[1] != self.job:
            found = through.troubles(self.book, self.job, self.words)
            known = self._troubles = (self.book, self.job, found)
        return known[2]

    def place_of(self, finding: Finding) -> str:
        """Return the line that a finding stands under: of its row, else of its sentence."""
        path = self.own_path(finding)
        if not path or path[0] == "steps":
            return ""
        if path[0] == "segments":
            has_row = len(path) > 1 and isinstance(path[1], int)
            return f"segment {int(path[1]) + 1}" if has_row else "segments"
        return _LINES.get(str(path[0]), "job")

    def blank_of(self, finding: Finding) -> str:
        """Return the blank that a finding is about."""
        path = self.own_path(finding)
        if path[:1] == ("segments",) and len(path) > 2 and isinstance(path[1], int):
            return f"segment {path[1] + 1} {path[2]}"
        if path[:1] == ("windows",) and len(path) > 2:
            return f"window {path[2]}"
        return _BLANKS.get(tuple(str(each) for each in path), "")


class MakingForm(Form):
    """The chosen step in sentences."""

    def shape(self) -> object:
        """Return what makes more or less of what is written."""
        assert self.book is not None
        step = step_shown(self)
        begun = step is not None and has_begun(self.book, step.id)
        cautions = cautions_shown(self)
        return self.job, self.segment, self.step, type(step), begun, self.is_in_full, cautions

    def _fill(self, column: QVBoxLayout) -> None:
        write_step(self, column)

    def refresh(self) -> None:
        """Show what the book holds."""
        super().refresh()
        show_typed(self)

    def _rebuild(self) -> None:
        super()._rebuild()
        show_typed(self)

    def place_of(self, finding: Finding) -> str:
        """Return the one line, for what is about the chosen step."""
        return "step" if self._rest_of(finding) is not None else ""

    def blank_of(self, finding: Finding) -> str:
        """Return the blank that a finding is about."""
        rest = self._rest_of(finding)
        return _STEP_BLANKS.get(str(rest[0]), "") if rest else ""

    def _rest_of(self, finding: Finding) -> tuple[str | int, ...] | None:
        """Return where in the chosen step a finding lies, None for elsewhere."""
        path = self.own_path(finding)
        if path[:1] != ("steps",) or len(path) < 2 or not isinstance(path[1], int):
            return None
        assert self.book is not None
        assert self.job is not None
        steps = writing.job(self.book, self.job).steps
        return path[2:] if steps[path[1]].id == self.step else None
