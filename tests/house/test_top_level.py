from tests.house.tree import ours

ALLOWED = {
    "DEVELOPERS.md",
    "LICENSE",
    "README.md",
    "app",
    "installer",
    "pyproject.toml",
    "sample_jobs",
    "scheduler",
    "shared",
    "tests",
}


def test_the_top_level_holds_what_was_agreed_and_nothing_else() -> None:
    top = {path.parts[0] for path in ours() if not path.parts[0].startswith(".")}

    assert top == ALLOWED, f"too many: {top - ALLOWED}; missing: {ALLOWED - top}"


def test_every_folder_of_tests_is_a_package() -> None:
    folders = {path.parent for path in ours() if path.parts[0] == "tests" and path.suffix == ".py"}
    packages = {path.parent for path in ours() if path.name == "__init__.py"}

    assert len(folders) >= 5
    assert not folders - packages, f"add __init__.py to {sorted(map(str, folders - packages))}"


def test_every_folder_of_the_rooms_is_a_package() -> None:
    rooms = {"app", "scheduler", "shared"}
    folders = {path.parent for path in ours() if path.parts[0] in rooms and path.suffix == ".py"}
    packages = {path.parent for path in ours() if path.name == "__init__.py"}

    assert {str(folder) for folder in folders} >= rooms
    assert not folders - packages, f"add __init__.py to {sorted(map(str, folders - packages))}"
