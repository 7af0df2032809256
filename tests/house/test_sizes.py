import ast

from tests.house.sizes import (
    file_lines,
    functions,
    report,
    spread,
    too_long_files,
    too_long_functions,
)
from tests.house.tree import functions_of

EVERYWHERE = ("app", "installer", "scheduler", "shared", "sample_jobs", "tests")


def test_no_file_is_longer_than_agreed() -> None:
    lines_by_path = file_lines(*EVERYWHERE)

    assert len(lines_by_path) >= 20
    assert not too_long_files(lines_by_path)


def test_no_function_is_longer_than_agreed() -> None:
    functions_by_path = functions(*EVERYWHERE)

    assert sum(map(len, functions_by_path.values())) >= 20
    assert not too_long_functions(functions_by_path)


def test_a_long_function_and_a_long_file_are_named() -> None:
    body = "\n".join("    pass" for _ in range(60))
    found = functions_of(ast.parse(f"def short():\n    pass\n\n\ndef long():\n{body}\n"))

    assert too_long_functions({"shared/a.py": found}) == [
        "shared/a.py:5 long has 61 lines of 60: give its steps names"
    ]
    assert too_long_files({"shared/a.py": 500}) == []
    assert len(too_long_files({"shared/a.py": 501})) == 1


def test_the_report_names_medians() -> None:
    assert spread([1, 2, 9]) == "median 2, p90 8, max 9"
    assert "median" in report("tests")
