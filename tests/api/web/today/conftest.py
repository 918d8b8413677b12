"""Pellitory Yard, loaded once for all tests of a file."""

from tests.api.web.note.conftest import loaded_once, yard

__all__ = ["loaded_once", "yard"]
