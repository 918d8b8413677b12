"""The address of one run; a code may hold signs that an address could not carry."""

from __future__ import annotations

from django.urls import reverse

from sourcing.notebook.row_key import key_cells_in, key_text


def run_address(code: str, carried: str = "") -> str:
    """Where a run has its page."""
    return reverse("run", args=[key_text([code])]) + carried


def run_in(key: str) -> str:
    """The code that an address names; as it stands where it was made of none."""
    cells = key_cells_in(key)
    return cells[0] if cells is not None and len(cells) == 1 else key
