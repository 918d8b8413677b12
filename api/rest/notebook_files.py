"""One page of a notebook as a CSV file, out and in."""

from __future__ import annotations

from django.http import HttpResponse
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.contract.shapes import TEXT
from api.notebook_rows.asked import dry_run_asked, page_called, right_to_read, right_to_write
from api.notebook_rows.shapes import DRY_RUN, LOADED_EXAMPLE, LOADED_SHAPE, PAGE_ASKED
from api.question import check_words, moment_now
from api.rest.conditional import answered_raw, tag_of
from api.rest.contract import STUDIO, said
from api.rest.file_bodies import CsvParser, file_in
from api.rest.refused import Refused
from api.visitor import visitor_of
from sourcing.notebook.load import Loaded
from sourcing.notebook.one_page import load_page, page_of
from sourcing.notebook.problem import NotebookRefused, Problem

CSV = "text/csv"
WHAT = "A page of the notebook"
MOST_SAID = 200  # problems; who has put these right sends it again
LONGEST_SHOWN = 200  # characters of a cell that is said again


class FilesRefused(Refused):
    """Pages with problems, each with its file, line and column; nothing was loaded."""

    code = "notebook_refused"

    def __init__(self, refused: NotebookRefused) -> None:
        problems = [problem_as_json(problem) for problem in refused.problems[:MOST_SAID]]
        more = max(len(refused.problems) - MOST_SAID, 0)
        super().__init__(str(refused), problems=problems, more_problems=more)


class NotebookFileView(APIView):
    """One page as a CSV file."""

    parser_classes = (CsvParser,)

    @said(
        "notebook_file",
        summary="One page of a notebook as a CSV file",
        asks=(PAGE_ASKED, STUDIO),
        answer=TEXT,
        gives=CSV,
        example="ring,power,not for,site\r\nR1,3.5 kW,,\r\n",
        fresh=True,
    )
    def get(self, request: Request, page: str) -> HttpResponse:
        """RFC 4180 in UTF-8; no cell begins so that a spreadsheet works it out."""
        check_words(request.query_params, ("studio",), what=WHAT)
        which = page_called(page)
        studio = visitor_of(request, least=right_to_read(which)).studio
        raw = page_of(studio, which, at=moment_now())
        kind = f"{CSV}; charset=utf-8; header=present"
        answer = answered_raw(request, raw, kind=kind, tag=tag_of(raw))
        answer["Content-Disposition"] = f'attachment; filename="{which.file}"'
        return answer

    @said(
        "put_notebook_file",
        summary="Bring the rows of a CSV file into one page of a notebook",
        asks=(PAGE_ASKED, STUDIO, DRY_RUN),
        body={**TEXT, "minLength": 1},
        takes=CSV,
        body_example="ring,power\r\nR3,2 kW\r\n",
        answer=LOADED_SHAPE,
        example=LOADED_EXAMPLE,
        errors=(404, 422),
    )
    def put(self, request: Request, page: str) -> Response:
        """All of it, or nothing and what is wrong by line and column. Rows that say the same are
        passed over, rows that are not in the file stay, and what happened is not changed."""
        which = page_called(page)
        dry_run = dry_run_asked(request.query_params, what=WHAT)
        studio = visitor_of(request, least=right_to_write(which)).studio
        raw = file_in(request)
        try:
            loaded = load_page(studio, which, raw, at=moment_now(), dry_run=dry_run)
        except NotebookRefused as refused:
            raise FilesRefused(refused) from None
        return Response(loaded_as_json(loaded, dry_run=dry_run))


def loaded_as_json(loaded: Loaded, *, dry_run: bool) -> dict[str, object]:
    """What was brought in, or would be."""
    return {
        "studio": loaded.studio,
        "dry_run": dry_run,
        "new": dict(loaded.new),
        "changed": dict(loaded.changed),
        "text": str(loaded),
    }


def problem_as_json(problem: Problem) -> dict[str, object]:
    """A problem with where it stands; line 0 is the file as a whole, no column the whole row."""
    return {
        "file": problem.file,
        "line": problem.line,
        "column": problem.column,
        "stands": problem.stands[:LONGEST_SHOWN],
        "write": problem.write,
    }
