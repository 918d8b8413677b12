"""The notebook of a studio for programs: its pages, each as rows of JSON or as one CSV file.

What has no history (rooms, pots, hours, recipes, prices …) is written here row by row. What
happened is read here too, and recorded by entries.
"""

from __future__ import annotations

from urllib.parse import quote, urlencode
from zoneinfo import ZoneInfo

from django.http import HttpResponse
from rest_framework import status
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.asked import shown
from api.notebook_rows.asked import cut, limit_asked, page_called, right_to_read, right_to_write
from api.notebook_rows.names import member
from api.notebook_rows.rows import refused_fields, row_as_json, wanted_from_json
from api.notebook_rows.shapes import (
    IF_NEW,
    KEPT_SHAPE,
    KEY_ASKED,
    MAY_MATCH,
    PAGE_ASKED,
    PAGE_WRITTEN,
    PAGES_SHAPE,
    RING,
    RING_PUT,
    ROW,
    ROW_TAKEN,
    ROWS_SHAPE,
)
from api.question import check_words, moment_now
from api.rest.conditional import IfMatchNeeded, answered, check_change
from api.rest.contract import CURSOR, LIMIT, STUDIO, said
from api.rest.errors import UnknownParameter
from api.rest.refused import Refused
from api.visitor import visitor_of
from inventory.models import Studio
from inventory.science.saying import say
from sourcing.notebook.history_pages import RECORDED_BY
from sourcing.notebook.one_row import KeptRow, Look, put_row, row_of, rows_of
from sourcing.notebook.page import Column, Page
from sourcing.notebook.problem import NotebookRefused
from sourcing.notebook.take_out import delete_row
from sourcing.notebook.yard_pages import PAGES
from sourcing.week.words import decimal_string

WHAT = "A page of the notebook"
Json = dict[str, object]


class NewNotSaid(Refused):
    """A row that is not there is written, and it is not said that it is to be new."""

    code = "new_not_said"

    def __init__(self, page: Page) -> None:
        super().__init__(
            say(
                "The page {name} has no such row. Send If-None-Match: * to write it as new.",
                name=page.name,
            )
        )


class NotebookView(APIView):
    """GET: every page of a notebook with its columns; the same for every studio."""

    permission_classes = ()  # open to everyone, as the contract is

    @said(
        "notebook",
        summary="The pages of a notebook: what stands in which column, and how it is written",
        answer=PAGES_SHAPE,
        example={"pages": []},
        errors=(400,),
        open=True,
        fresh=True,
    )
    def get(self, request: Request) -> HttpResponse:
        for name in request.query_params:
            detail = say(
                "The pages are the same whatever is asked; leave {name} out.", name=shown(name)
            )
            raise UnknownParameter(name[:60], "", detail)
        return answered(request, {"pages": [_page(page) for page in PAGES]})


class NotebookPageView(APIView):
    """GET: the rows of a page by their keys, so many at a time, each with its ETag."""

    @said(
        "notebook_page",
        summary="The rows of one page of a notebook, so many at a time",
        asks=(PAGE_ASKED, STUDIO, LIMIT, CURSOR),
        answer=ROWS_SHAPE,
        example={"page": "rings", "rows": [{"key": "R1", "etag": '"4f1c"', "row": RING}],
                 "next": None},
        fresh=True,
    )  # fmt: skip
    def get(self, request: Request, page: str) -> HttpResponse:
        query, which = request.query_params, page_called(page)
        check_words(query, ("studio", "limit", "cursor"), what=WHAT)
        studio, limit = _studio_read(request, which), limit_asked(query)
        question = ("notebook", which.name, studio.pk)
        all_rows = rows_of(studio, which, at=moment_now())
        found, cursor = cut(all_rows, query, limit=limit, question=question)
        following = None
        if cursor is not None:
            words = {name: query[name] for name in ("studio", "limit") if name in query}
            following = f"{request.path}?{urlencode({**words, 'cursor': cursor})}"
            following = request.build_absolute_uri(following)
        rows = [_kept(row, studio) for row in found]
        return answered(request, {"page": which.name, "rows": rows, "next": following})


class NotebookRowView(APIView):
    """One row of a page: read, written anew or changed, taken out."""

    @said(
        "notebook_row",
        summary="One row of a page of a notebook",
        asks=(PAGE_ASKED, KEY_ASKED, STUDIO),
        answer=ROW,
        example=RING,
        fresh=True,
    )
    def get(self, request: Request, page: str, key: str) -> HttpResponse:
        """A member for each column; of a recipe its steps and doses too."""
        check_words(request.query_params, ("studio",), what=WHAT)
        which = page_called(page)
        studio = _studio_read(request, which)
        kept = row_of(studio, which, key, at=moment_now())
        return answered(request, row_as_json(kept, ZoneInfo(studio.zone)), tag=_tag(kept.mark))

    @said(
        "put_notebook_row",
        summary="Write one row of a page of a notebook, new or changed",
        asks=(PAGE_WRITTEN, KEY_ASKED, STUDIO, IF_NEW, MAY_MATCH),
        body=ROW_TAKEN,
        body_example=RING_PUT,
        answer=KEPT_SHAPE,
        example={"key": "R1", "etag": '"4f1c"', "row": RING},
        also=(201,),
        errors=(404, 409, 412, 422, 428),
    )
    def put(self, request: Request, page: str, key: str) -> Response:
        """The whole row: a column that is left out is empty afterwards. A row that is there is
        changed by its ETag in If-Match, one that is not is written with If-None-Match: *, and
        then answered with 201. The answer says how all of it was understood."""
        check_words(request.query_params, ("studio",), what=WHAT)
        which = page_called(page)
        studio = visitor_of(request, least=right_to_write(which)).studio
        wanted = wanted_from_json(which, request.data)
        look = _look(request, which)
        try:
            kept, new = put_row(studio, which, key, wanted, at=moment_now(), look=look)
        except NotebookRefused as refused:
            raise refused_fields(which, refused) from None
        answer = Response(_kept(kept, studio), status=201 if new else 200)
        answer["ETag"] = _tag(kept.mark)
        if new:
            answer["Location"] = f"/api/v1/notebook/{which.name}/{quote(kept.key, safe='')}/"
        return answer

    @said(
        "delete_notebook_row",
        summary="Take one row out of a page of a notebook",
        asks=(PAGE_WRITTEN, KEY_ASKED, STUDIO),
        status=204,
        errors=(404, 409),
        guarded=True,
    )
    def delete(self, request: Request, page: str, key: str) -> Response:
        """Only where nothing names it: the refusal says what does."""
        check_words(request.query_params, ("studio",), what=WHAT)
        which = page_called(page)
        studio = visitor_of(request, least=right_to_write(which)).studio
        if "If-Match" not in request.headers:
            raise IfMatchNeeded

        def look(mark: str | None) -> None:
            check_change(request, None if mark is None else _tag(mark))

        delete_row(studio, which, key, at=moment_now(), look=look)
        return Response(status=status.HTTP_204_NO_CONTENT)


def _studio_read(request: Request, page: Page) -> Studio:
    return visitor_of(request, least=right_to_read(page)).studio


def _look(request: Request, page: Page) -> Look:
    """Refuses what was made of another state, as the headers of a request say it."""

    def look(mark: str | None) -> None:
        check_change(request, None if mark is None else _tag(mark))
        if mark is None and "If-None-Match" not in request.headers:
            raise NewNotSaid(page)

    return look


def _tag(mark: str) -> str:
    return f'"{mark}"'


def _kept(kept: KeptRow, studio: Studio) -> Json:
    row = row_as_json(kept, ZoneInfo(studio.zone))
    return {"key": kept.key, "etag": _tag(kept.mark), "row": row}


def _page(page: Page) -> Json:
    return {
        "page": page.name,
        "file": page.file,
        "meaning": page.meaning,
        "one_row": page.one or page.name,
        "key": [member(name) for name in page.key],
        "rows_at_most": page.most,
        "recorded_by": RECORDED_BY.get(page.name),
        "columns": [_column(column) for column in page.columns],
    }


def _column(column: Column) -> Json:
    return {
        "member": member(column.name),
        "column": column.name,
        "kind": column.kind,
        "example": column.example,
        "meaning": column.meaning,
        "required": column.required,
        "choices": list(column.choices),
        "refers": list(column.refers),
        "low": None if column.low is None else decimal_string(column.low),
        "high": None if column.high is None else decimal_string(column.high),
    }
