"""Bodies that are files: read as they are, of bounded size, and nothing is made of them here."""

from __future__ import annotations

from collections.abc import Mapping
from typing import IO, Any

from rest_framework.parsers import BaseParser
from rest_framework.request import Request

from api.bounds import largest_body_at
from api.rest.parsers import BodyTooLarge
from api.rest.refused import Refused
from inventory.science.saying import say


class FileMissing(Refused):
    """No file where one is needed."""

    code = "file_missing"

    def __init__(self) -> None:
        super().__init__("The body is empty. Send the file itself as the body, as it is.")


class FileParser(BaseParser):
    """Hands on the body as bytes, as many as its address may have."""

    def parse(
        self,
        stream: IO[bytes],
        media_type: str | None = None,
        parser_context: Mapping[str, Any] | None = None,
    ) -> Any:
        request: Request = (parser_context or {})["request"]
        most = largest_body_at(request.path)
        raw = stream.read(most + 1)
        if len(raw) > most:
            raise BodyTooLarge(say("The body is larger than {most:,} bytes; send less.", most=most))
        return raw


class CsvParser(FileParser):
    """A CSV file, as spreadsheets and people send one."""

    media_type = "text/csv"


class ZipParser(FileParser):
    """A zip file."""

    media_type = "application/zip"


def file_in(request: Request) -> bytes:
    """The file in a body.

    Raises
    ------
    FileMissing, BodyTooLarge
        If there is none, or too much of it.
    """
    raw = request.data
    if not isinstance(raw, bytes) or not raw:
        raise FileMissing
    return raw
