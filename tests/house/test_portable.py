"""Nothing committed may lean on one machine, one network or a paper outside the checkout."""

import re

import pytest

from tests.house.tree import ROOT, ours

# Written so that this file does not find itself.
BANNED = {
    "a path of one machine": re.compile(
        r"(?<![\w.$}])/(?:work|root|Users|opt|mnt)/|(?<![\w.$}:/])/home/(?=\w)|[A-Z]:\\Users"
    ),
    "a package registry's host": re.compile(
        r"\b(?:pypi|pythonhosted|npmjs|npmmirror|debian|ubuntu|crates|rubygems|anaconda|conda)"
        r"\.(?:org|com|io|net)\b|-index-ur[l]\b"
    ),
    "a paper outside the checkout": re.compile(
        r"(?:trade|verdict|engine|desktop)_facts|model_house[s]|\.\./share[d]\b|\bdesign\.m[d]\b"
    ),
}


def banned_in(text: str) -> list[str]:
    return [
        f"{number}: {what}: {match.group(0)}"
        for number, line in enumerate(text.splitlines(), 1)
        for what, pattern in BANNED.items()
        for match in pattern.finditer(line)
    ]


def test_nothing_committed_names_a_machine_a_registry_or_a_paper_outside() -> None:
    found = []
    seen_count = 0
    for path in ours():
        try:
            text = (ROOT / path).read_text(encoding="utf-8")
        except UnicodeDecodeError:
            continue
        seen_count += 1
        found += [f"{path}:{line}" for line in banned_in(text)]

    assert seen_count >= 30
    assert not found, "\n".join(found)


@pytest.mark.parametrize(
    "text",
    [
        "see /" + "work/main",
        "open('/" + "root/x')",
        "cd /" + "home/anna/books",
        "https://py" + "pi.org/simple",
        "pip install --index" + "-url x",
        "as trade" + "_facts says",
        "in ../sha" + "red/look",
    ],
)
def test_a_planted_one_is_found(text: str) -> None:
    assert banned_in(text)


@pytest.mark.parametrize("text", ["shared/work/x.py", "#!/bin/sh", "at home / at work", "$x/root/"])
def test_an_innocent_one_is_not(text: str) -> None:
    assert not banned_in(text)
