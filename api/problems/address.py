"""Under which address it is written what a problem means."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Protocol

from django.conf import settings
from django.core.exceptions import DisallowedHost
from django.urls import reverse

from api.problems.table import Problem

NOTHING_SAID = "about:blank"  # RFC 9457, 4.2.1: the status says all there is


class Addressed(Protocol):
    """As much of a request as knows under which name the service was reached, and what it asks."""

    @property
    def headers(self) -> Mapping[str, str]: ...

    def build_absolute_uri(self, location: str | None = None) -> str: ...


def address_of(problem: Problem | None, request: Addressed | None = None) -> str:
    """The `type` of a problem, whole where it is known under which name the service is reached."""
    if problem is None:
        return NOTHING_SAID
    path = reverse("problem", args=[problem.slug])
    if settings.ADDRESS:  # The same whatever name or scheme somebody between used.
        return f"{settings.ADDRESS}{path}"
    if request is None:
        return path
    try:
        return request.build_absolute_uri(path)
    except DisallowedHost:  # The very thing that is the matter.
        return path
