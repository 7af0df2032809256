"""Keeps errors in overrides of Qt's functions from reaching Qt, which may not survive them."""

import functools
import sys
from collections.abc import Callable
from typing import ParamSpec, TypeVar

P = ParamSpec("P")
R = TypeVar("R")


def guarded(override: Callable[P, R]) -> Callable[P, R]:
    """Let an error in an override go to the crash hook instead of through Qt's own frames."""

    @functools.wraps(override)
    def call(*args: P.args, **kwargs: P.kwargs) -> R:
        try:
            return override(*args, **kwargs)
        except Exception:  # noqa: BLE001 - it is handed to the crash hook, not swallowed
            sys.excepthook(*sys.exc_info())
            return None  # type: ignore[return-value]

    return call
