"""Every override of a Qt function is guarded: an error that leaves one can end the process."""

import ast

from tests.house.tree import python_files, source_of


def unguarded_in(source: str) -> list[str]:
    """Names of methods in Qt's spelling without the guard."""
    return [
        f"{node.lineno}: {node.name}"
        for kind in ast.walk(ast.parse(source))
        if isinstance(kind, ast.ClassDef)
        for node in kind.body
        if isinstance(node, ast.FunctionDef)
        and any(letter.isupper() for letter in node.name)
        and "guarded" not in [ast.unparse(d) for d in node.decorator_list]
    ]


# What Qt calls and whose name has no capital, in the classes that Qt calls.
PLAIN_NAMES = {
    *("child", "count", "object", "parent", "rect", "role", "state", "text", "window"),
}


def plain_unguarded_in(source: str) -> list[str]:
    return [
        f"{node.lineno}: {node.name}"
        for kind in ast.walk(ast.parse(source))
        if isinstance(kind, ast.ClassDef)
        and any("Accessible" in ast.unparse(b) or ast.unparse(b) == "QLayout" for b in kind.bases)
        for node in kind.body
        if isinstance(node, ast.FunctionDef)
        and node.name in PLAIN_NAMES
        and "guarded" not in [ast.unparse(d) for d in node.decorator_list]
    ]


def test_every_override_is_guarded() -> None:
    paths = [path for path in python_files("app") if "window" in path.parts]
    found = [
        f"{path}:{hit}"
        for path in paths
        for hit in unguarded_in(source_of(path)) + plain_unguarded_in(source_of(path))
    ]

    assert len(paths) > 30
    assert not found, f"decorate with @guarded: {found}"


def test_the_scan_bites() -> None:
    open_ = "class W(QWidget):\n    def paintEvent(self, event): ...\n"
    shut = "class W(QWidget):\n    @guarded\n    def paintEvent(self, event): ...\n"
    plain = "class N(QAccessibleInterface):\n    def role(self): ...\n"
    assert unguarded_in(open_) == ["2: paintEvent"]
    assert unguarded_in(shut) == []
    assert plain_unguarded_in(plain) == ["2: role"]
