"""The sheet beside the wall: the chosen job written out, its segments, how they are made."""

from PySide6.QtWidgets import QVBoxLayout

from app.window.sheet.cautions_part import cautions_shown
from app.window.sheet.form import Form
from app.window.sheet.job_part import write_job
from app.window.sheet.segments_part import write_segments
from app.window.sheet.steps_part import write_steps

GAP = 10


class Sheet(Form):
    """Write a job here: blanks in sentences, segments in a grid, steps in the order of making."""

    def _fill(self, column: QVBoxLayout) -> None:
        write_job(self, column)
        column.addSpacing(GAP)
        write_segments(self, column)
        column.addSpacing(GAP)
        write_steps(self, column)

    def _more_shape(self) -> object:
        return self.is_in_full, cautions_shown(self)
