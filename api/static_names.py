"""Style sheets and pictures under a name that carries their content, with no step before serving.

A file is served as `larder.3f2a….css` straight from the code: a browser may keep it for ever, and
a changed file has another name. Nothing is collected or written when the service starts.
"""

from __future__ import annotations

import hashlib
from functools import cache
from pathlib import Path

from django.conf import settings
from django.contrib.staticfiles import finders
from django.contrib.staticfiles.storage import StaticFilesStorage
from whitenoise.middleware import WhiteNoiseMiddleware

MARK_LENGTH = 12  # as many signs of the hash as Django's own storages take


class NamedByContent(StaticFilesStorage):
    """Gives a static file the address that names its content."""

    def url(self, name: str | None) -> str:
        """The address; a file that is not there is our own mistake and stops the page."""
        # While typing, a file changes under the running service and keeps its plain name.
        if settings.DEBUG:
            _there(name or "")
            return super().url(name)
        return super().url(_looked_up_once(name or ""))


class FilesFromTheCode(WhiteNoiseMiddleware):  # type: ignore[misc]  # it has no types of its own
    """Serves every static file under both names; only the one with the mark is kept for ever."""

    def add_files_from_finders(self) -> None:
        super().add_files_from_finders()
        for finder in finders.get_finders():
            for name, storage in finder.list(None):
                path = storage.path(name)
                marked = name_with_mark(name.replace("\\", "/"), Path(path))
                self.add_file_to_dictionary(f"{self.static_prefix}{marked}", path)


@cache
def _looked_up_once(name: str) -> str:
    return name_with_mark(name, Path(_there(name)))


def _there(name: str) -> str:
    path = finders.find(name)
    if path is None:
        raise ValueError(f"There is no static file {name}.")
    return str(path)


@cache
def name_with_mark(name: str, path: Path) -> str:
    """`larder.css` → `larder.3f2a….css`."""
    mark = hashlib.sha256(path.read_bytes()).hexdigest()[:MARK_LENGTH]
    # Cut as text: a template's own kind of text cannot be made a path on Python 3.11.
    stem, _, ending = name.rpartition(".")
    return f"{stem}.{mark}.{ending}"
