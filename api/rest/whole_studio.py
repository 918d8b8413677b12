"""A whole studio as one zip file, out and in: leaving is easy, and so is coming."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC
from tempfile import SpooledTemporaryFile
from typing import Any

from django.db import transaction
from django.http import FileResponse
from django.utils import timezone
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.asker import Asker, asker_of, begin_own_studio
from api.notebook_rows.asked import dry_run_asked
from api.notebook_rows.shapes import DRY_RUN, LOADED_EXAMPLE, LOADED_SHAPE
from api.question import question_of
from api.rest.contract import AT, STUDIO, said
from api.rest.file_bodies import ZipParser, file_in
from api.rest.notebook_files import FilesRefused, loaded_as_json
from api.rest.signing_in import Belongs, Known
from api.rights import NoRight, ReadsOnly, Right
from inventory.hindrance import said_in_words
from inventory.models import Studio
from sourcing.notebook.bundle import pages_in, write_bundle
from sourcing.notebook.load import Loaded, load
from sourcing.notebook.notebook import Notebook, read_notebook
from sourcing.notebook.one_page import load_pages
from sourcing.notebook.problem import NotebookRefused

ZIP = "application/zip"
IN_MEMORY = 8_000_000  # bytes; what is larger is put into a file of the machine's own
SHOWN = "PK, and the bytes of the file"
PACKED = {"type": "string", "contentMediaType": ZIP, "minLength": 1}


class WholeStudioView(APIView):
    """The whole of a studio."""

    parser_classes = (ZipParser,)
    least = Right.OWNER

    def get_permissions(self) -> Sequence[Any]:
        return [Known()] if self.request.method == "POST" else [Belongs()]

    @said(
        "whole_studio",
        summary="A whole studio as one zip file",
        tag="notebook",
        asks=(AT, STUDIO),
        answer=PACKED,
        gives=ZIP,
        example=SHOWN,
    )
    def get(self, request: Request) -> FileResponse:
        """Its notebook, from which another larder is loaded, and a history of all that was ever
        recorded, to be read without us; README.txt says what is what. For its owner."""
        question = question_of(request, what="A whole studio")
        file = SpooledTemporaryFile(max_size=IN_MEMORY)  # noqa: SIM115 (the answer closes it)
        write_bundle(question.studio, file, at=question.at.astimezone(UTC))
        file.seek(0)
        day = f"{question.at:%Y-%m-%d}"
        name = f"{question.studio.name} {day}.zip".replace("/", "-")
        answer = FileResponse(file, as_attachment=True, filename=name, content_type=ZIP)
        answer["Cache-Control"] = "no-store"
        return answer

    @said(
        "bring_in_studio",
        summary="Bring a whole studio in from a zip file",
        tag="notebook",
        asks=(DRY_RUN,),
        body=PACKED,
        takes=ZIP,
        body_example=SHOWN,
        answer=LOADED_SHAPE,
        example=LOADED_EXAMPLE,
        status=201,
        also=(200,),
        errors=(409, 422),
    )
    def post(self, request: Request) -> Response:
        """The studio is the one that its page names: a new one, which whoever brings it in then
        owns, or one's own (answered with 200), in which what happened is not changed. All of it
        is loaded, or nothing."""
        dry_run = dry_run_asked(request.query_params, what="A whole studio")
        asker = asker_of(request)
        files = pages_in(file_in(request))
        try:
            loaded, new = _bring_in(request, asker, files, dry_run=dry_run)
        except NotebookRefused as refused:
            raise FilesRefused(refused) from None
        status = 201 if new and not dry_run else 200
        return Response(loaded_as_json(loaded, dry_run=dry_run), status=status)


def _bring_in(
    request: Request, asker: Asker, files: dict[str, bytes], *, dry_run: bool
) -> tuple[Loaded, bool]:
    notebook, problems = read_notebook(files)
    own = _own(request, asker, notebook.name)
    if own is not None:
        return load_pages(own, files, at=timezone.now(), dry_run=dry_run), False
    with said_in_words(), transaction.atomic():
        if notebook.name and asker.account is not None:
            _begin(asker, notebook)
        loaded = load(notebook, problems=problems)
        if dry_run:
            transaction.set_rollback(True)
    return loaded, True


def _own(request: Request, asker: Asker, name: str) -> Studio | None:
    """The studio of that name that the asker belongs to, if they may write all of it."""
    for studio, right in asker.studios:
        if studio.name.casefold() != name.casefold():
            continue
        if asker.token is not None and asker.token.reads_only:
            raise ReadsOnly(asker.token.name)
        has = right if asker.token is None else min(right, Right(asker.token.right), key=_rank)
        if not has.covers(Right.OWNER):
            raise NoRight(studio=studio.name, has=has, needs=Right.OWNER)
        return studio
    return None


def _rank(right: Right) -> int:
    return tuple(Right).index(right)


def _begin(asker: Asker, notebook: Notebook) -> None:
    row = notebook.page("studio")[0]
    begin_own_studio(
        asker,
        name=notebook.name,
        zone=row.text("zone"),
        currency=row.text("currency") or "GBP",
        at=timezone.now(),
    )
