"""The problem of one entry among many: its body, with the status that it would have had alone."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, cast

from api.rest.errors import answer_problem


def problem_of(error: Exception) -> Mapping[str, Any]:
    """What an error would be answered if its entry had come alone.

    An error that nobody foresaw is raised again.
    """
    answered = answer_problem(error, {})
    if answered is None:
        raise error
    return cast(Mapping[str, Any], answered.data)
