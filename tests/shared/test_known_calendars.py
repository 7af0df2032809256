"""The list of calendars is that of the package that holds them, so asking it is asking them."""

import json
import re
import subprocess
import sys

import holidays
from holidays.registry import EntityLoader

from shared.examine.known_calendars import LIST, has_holidays
from shared.holidaydates import HolidayRule, is_known

_IS_CODE = re.compile(r"[A-Z0-9]{1,3}").fullmatch


def _line(country: str) -> str:
    calendar = holidays.country_holidays(country)
    codes = [code for code in calendar.subdivisions if _IS_CODE(code)]
    told = [" ".join(sorted(codes)), " ".join(sorted(calendar.supported_categories))]
    return f"  {json.dumps(country)}: {json.dumps(told)}"


def wanted_text() -> str:
    countries = sorted(code for code in EntityLoader.get_country_codes() if len(code) == 2)
    return "{\n" + ",\n".join(_line(country) for country in countries) + "\n}\n"


def test_the_list_is_that_of_the_package() -> None:
    assert LIST.read_text(encoding="utf-8") == wanted_text(), (
        "write wanted_text() of this file to shared/files/calendars.json"
    )


def test_what_is_listed_is_known_and_what_is_known_by_another_name_too() -> None:
    for country, (subdivisions, categories) in json.loads(LIST.read_text(encoding="utf-8")).items():
        for subdivision in (None, *subdivisions.split()):
            rule = HolidayRule(country=country, subdivision=subdivision)
            assert is_known(rule)
            assert has_holidays(country, subdivision, ())
        assert is_known(HolidayRule(country=country, categories=tuple(categories.split())))
    assert has_holidays("FR", "Alsace-Moselle", ())
    assert has_holidays("DE", "BY", ("catholic",))
    assert not has_holidays("GB", "Wessex", ())
    assert not has_holidays("GB", "ENG", ("feast",))
    assert not has_holidays("gb", None, ())


_EXAMINE = """
import sys
from shared.examine import examine
from tests.builders import a_book
assert examine(a_book()) == ()
print(sorted({"holidays", "dateutil", "pandas", "ortools", "PySide6"} & set(sys.modules)))
"""


def test_a_sound_book_is_examined_without_loading_a_calendar() -> None:
    done = subprocess.run(
        [sys.executable, "-c", _EXAMINE], capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "[]"
