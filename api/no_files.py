"""A form of ours asks for no file; one that comes is refused before any of it is kept."""

from __future__ import annotations

from typing import Any, NoReturn

from django.core.exceptions import SuspiciousOperation
from django.core.files.uploadhandler import FileUploadHandler

from inventory.science.saying import say


class FileRefused(SuspiciousOperation):
    """A file in a form that has no place for one."""

    code = "file_refused"

    def __init__(self) -> None:
        super().__init__(say("No form here takes a file. Send the words of the form only."))


class NoFiles(FileUploadHandler):
    """Refuses the first file of a form as soon as its head is read."""

    def new_file(self, *about: Any, **more: Any) -> NoReturn:
        raise FileRefused

    def receive_data_chunk(self, raw_data: bytes, start: int) -> NoReturn:
        raise FileRefused

    def file_complete(self, file_size: int) -> None:
        return None
