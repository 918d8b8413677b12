"""Every kind of change that the week may be asked with, by its word."""

from __future__ import annotations

from api.what_if.kind import Kind
from api.what_if.of_shelves import OF_SHELVES
from api.what_if.of_studio import OF_STUDIO
from api.what_if.of_wishes import OF_WISHES

KINDS: dict[str, Kind] = {each.word: each for each in (*OF_WISHES, *OF_STUDIO, *OF_SHELVES)}
