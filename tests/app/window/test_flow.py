"""The layout of a sentence with blanks in it: nothing of it stays when its form is made anew."""

import pytest
from PySide6.QtWidgets import QLineEdit, QWidget
from shiboken6 import ownedByPython

from app.window.sheet.blanks import Flow


@pytest.mark.usefixtures("prepared")
def test_what_a_sentence_is_laid_out_by_goes_with_it() -> None:
    holder, flow = QWidget(), Flow()
    holder.setLayout(flow)
    blank = QLineEdit()
    flow.addWidget(blank)
    item = flow.itemAt(0)
    assert item is not None
    assert item.widget() is blank
    assert blank.parent() is holder
    assert ownedByPython(item), "Qt clears away no item of a layout that is not its own"
