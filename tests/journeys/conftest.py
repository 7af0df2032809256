"""No journey may leave a window open."""

import pytest

from tests.qt_leaks import check_no_windows_left

_no_windows_left = pytest.fixture(autouse=True)(check_no_windows_left)
