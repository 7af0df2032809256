"""Sizes of our files and functions: ``python -m tests.house.sizes`` prints them."""

import ast
from statistics import median, quantiles

from tests.house.tree import Function, functions_of, python_files, source_of

FILE_LINES_MAX = 500
FUNCTION_LINES_MAX = 60


def file_lines(*rooms: str) -> dict[str, int]:
    return {str(path): len(source_of(path).splitlines()) for path in python_files(*rooms)}


def functions(*rooms: str) -> dict[str, list[Function]]:
    return {str(path): functions_of(ast.parse(source_of(path))) for path in python_files(*rooms)}


def too_long_files(lines_by_path: dict[str, int]) -> list[str]:
    return [
        f"{path} has {lines} lines of {FILE_LINES_MAX}: split it by what its parts are for"
        for path, lines in lines_by_path.items()
        if lines > FILE_LINES_MAX
    ]


def too_long_functions(functions_by_path: dict[str, list[Function]]) -> list[str]:
    return [
        f"{path}:{function.line} {function.name} has {function.lines} lines of "
        f"{FUNCTION_LINES_MAX}: give its steps names"
        for path, found in functions_by_path.items()
        for function in found
        if function.lines > FUNCTION_LINES_MAX
    ]


def spread(counts: list[int]) -> str:
    if len(counts) < 2:
        return "too few to say"
    ninth = quantiles(counts, n=10, method="inclusive")[-1]
    return f"median {median(counts):.0f}, p90 {ninth:.0f}, max {max(counts)}"


def report(*rooms: str) -> str:
    """One line: how many files and functions, and how long they are."""
    files = [lines for lines in file_lines(*rooms).values() if lines > 1]
    lengths = [function.lines for found in functions(*rooms).values() for function in found]
    return (
        f"{', '.join(rooms)}: {len(files)} files, {sum(files)} lines ({spread(files)}); "
        f"{len(lengths)} functions ({spread(lengths)})"
    )


def main() -> None:
    for room in ("shared", "scheduler", "app", "tests"):
        print(report(room))


if __name__ == "__main__":
    main()
