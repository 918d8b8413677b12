"""Where everything of https lies in the state folder."""

from __future__ import annotations

from pathlib import Path


def folder_of(state: Path) -> Path:
    """The folder of authority and certificate, for us only."""
    return state / "https"


def authority_file(state: Path) -> Path:
    """The file that a phone is given; it is there once https was served."""
    return folder_of(state) / "authority.crt"
