"""The wall as a screen reader meets it: one tree, one sentence for each item."""

from PySide6.QtGui import QAccessible, QAccessibleInterface

from app.window.main import MainWindow
from app.window.wall import moves
from app.window.wall.items import Role
from tests.app.window.conftest import HandEngine
from tests.app.window.scenes import outcome_for, planted

Name, Description = QAccessible.Text.Name, QAccessible.Text.Description


def tree(window: MainWindow) -> QAccessibleInterface:
    found = QAccessible.queryAccessibleInterface(window.wall)
    assert found is not None
    return found


def children(of: QAccessibleInterface) -> list[QAccessibleInterface]:
    return [of.child(index) for index in range(of.childCount())]


def test_the_tree_is_wall_job_segment_stage(window: MainWindow) -> None:
    wall = window.wall.wall
    root = tree(window)

    assert root.role() == QAccessible.Role.Tree
    assert [job.text(Name) for job in children(root)] == [b.header.name for b in wall.bands]
    job = root.child(0)
    segments = children(job)[: wall.bands[0].row_count]
    assert [s.text(Name).split(",")[0] for s in segments] == ["Head", "Body", "Left wing",
        "Right wing", "Perch"]  # fmt: skip
    stages = children(segments[1])
    assert [s.text(Name) for s in stages][:2] == ["Body, block", "Body, carve"]
    gates = [c.text(Name) for c in children(job)[wall.bands[0].row_count :]]
    assert gates[:3] == ["Reading owl, the answer", "Reading owl, trial fit",
        "Reading owl, loading"]  # fmt: skip


def test_forty_marks_are_told_in_sentences(window: MainWindow) -> None:
    told = 0
    for job in children(tree(window)):
        for below in children(job):
            for each in (below, *children(below)):
                text = each.text(Description)
                assert text.endswith("."), text
                assert "{" not in text
                assert each.text(Name) in text or each.text(Name).split(",")[0] in text
                told += 1
    assert told >= 40


def test_parents_and_children_agree(window: MainWindow) -> None:
    root = tree(window)
    for index, job in enumerate(children(root)):
        assert root.indexOfChild(job) == index
        assert job.parent().text(Name) == root.text(Name)
        for place, below in enumerate(children(job)):
            assert job.indexOfChild(below) == place
            assert below.parent().text(Name) == job.text(Name)
            assert all(c.parent().text(Name) == below.text(Name) for c in children(below))


def test_a_stage_lies_where_it_is_painted_and_is_found_there(window: MainWindow) -> None:
    block = max(window.wall.wall.rows[1].blocks, key=lambda b: b.end - b.start)
    node = next(
        c for s in children(tree(window).child(0)) for c in children(s)
        if c.text(Name) == block.name and c.text(Description) == block.description
    )  # fmt: skip
    box = node.rect()

    assert box.topLeft() == window.wall.mapToGlobal(window.wall.item_rect(block).topLeft())
    found = tree(window).childAt(box.center().x(), box.center().y())
    assert found.text(Name) == block.name


def test_what_is_chosen_has_the_focus(window: MainWindow) -> None:
    block = window.wall.wall.rows[0].blocks[2]
    window.wall.choose(moves.at(window.wall.wall, block.id))
    window.activateWindow()
    window.wall.setFocus()
    focused = tree(window).focusChild()

    assert focused is not None
    assert focused.text(Name) == block.name
    assert focused.state().selected
    assert focused.state().focused


def test_nodes_of_items_that_are_gone_say_so_and_nothing_breaks(
    window: MainWindow, engine: HandEngine
) -> None:
    document = window.desk.document
    assert document is not None
    job = tree(window).child(0)
    stage = job.child(0).child(0)
    assert stage.isValid()
    from shared.edits import remove_job

    window.desk.edit(remove_job(document.book, document.book.jobs[0].id))

    assert not stage.isValid()
    assert stage.text(Name) == ""
    assert stage.state().invisible
    assert tree(window).childCount() == 2
    window.desk.undo()
    assert stage.isValid()
    engine.answer(outcome_for(planted()))


def test_items_that_are_only_drawn_are_not_in_the_tree(window: MainWindow) -> None:
    names = {c.text(Name) for j in children(tree(window)) for s in children(j) for c in children(s)}
    drawn = [i for i in window.wall.wall.items if i.role in {Role.CURE, Role.WAIT}]

    assert drawn
    assert len(names) > 20


def test_sentences_of_masthead_and_foot_are_names(window: MainWindow) -> None:
    assert window.masthead.accessibleName() == window.masthead.shown.sentence
    assert window.foot.accessibleName().startswith("Planned 07:41")
