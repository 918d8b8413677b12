"""How a view says what programs may count on; `manage.py contract` writes it down.

A method of a view carries its own part of the contract, beside the code that keeps it:

    class LotsView(APIView):
        @said(
            "lots",
            summary="The lots of a studio, so many at a time",
            asks=(AT, STUDIO, LIMIT, CURSOR),
            answer=record(lots=rows(ref("Lot")), next=maybe(TEXT)),
            example={"lots": [], "next": None},
            errors=(404,),
        )
        def get(self, request: Request) -> Response: ...

`answer` and `body` are JSON Schema (the words of `api/contract/shapes.py`) or a serializer.
Without `example` the one in `api/contract/examples/OPERATION.json` is shown. What every address
may answer (401, 403, 406, 429, 503; with a body also 400, 411, 413, 415) need not be said.
Nothing here loads the framework that writes the paper, so no page pays for it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, TypeVar

from rest_framework.serializers import Serializer

from api.contract.shapes import DAYS_SHAPE, MOMENT, TEXT, Shape

View = TypeVar("View", bound=Callable[..., object])
Shown = Shape | type[Serializer[Any]]
JSON = "application/json"
# With any right and any question; 404 also for a studio that one does not belong to.
ALWAYS = (401, 403, 404, 406, 429, 503)
OPEN = (406, 429, 503)
WITH_BODY = (400, 411, 413, 415)


@dataclass(frozen=True, slots=True)
class Word:
    """A word that an address may be asked with."""

    name: str
    shape: Shape
    about: str
    example: object = None
    place: str = "query"  # or header
    required: bool = False
    shared: str = ""  # its name among the shared ones


@dataclass(frozen=True, slots=True)
class Said:
    """What one operation takes and answers."""

    operation: str
    summary: str
    about: str
    tag: str
    asks: tuple[Word, ...]
    body: Shown | None
    takes: str  # media type of the body
    body_example: object
    answer: Shown | None
    gives: str  # media type of the answer
    example: object
    status: int
    also: tuple[int, ...]
    errors: tuple[int, ...]
    open: bool
    fresh: bool
    guarded: bool
    leads_to: tuple[str, str] | None

    @property
    def refusals(self) -> tuple[int, ...]:
        """Every status that is a problem, in order."""
        found = {*self.errors, *(OPEN if self.open else ALWAYS)}
        if self.asks:
            found.add(400)
        if self.body is not None:
            found.update(WITH_BODY)
        if self.guarded:
            found.update((412, 428))
        return tuple(sorted(found))


AT = Word(
    "at",
    MOMENT,
    "Seen from which moment; without an offset by the studio's clock. Now, where it is left out.",
    "2026-11-23T07:30:00+00:00",
    shared="at",
)
DAYS = Word("days", DAYS_SHAPE, "Over how many days from that moment.", 7, shared="days")
STUDIO = Word(
    "studio",
    {**TEXT, "minLength": 1, "maxLength": 120},
    "Which studio, by its name; may be left out by whoever belongs to one only.",
    "Pellitory Yard",
    shared="studio",
)
LIMIT = Word(
    "limit",
    {"type": "integer", "minimum": 1, "maximum": 200, "default": 50},
    "How many rows at most.",
    50,
    shared="limit",
)
CURSOR = Word(
    "cursor",
    TEXT,
    "Where the next rows begin, as the answer before said it under `next`. Rows that are written "
    "meanwhile make none come twice and none go missing.",
    shared="cursor",
)
PAGE = Word(
    "page",
    {"type": "integer", "minimum": 1, "maximum": 10_000, "default": 1},
    "Which page of the rows, from 1 on.",
    1,
    shared="page",
)
QUESTION = (AT, DAYS, STUDIO)


def said(
    operation: str,
    *,
    summary: str,
    about: str = "",
    tag: str = "",
    asks: Sequence[Word] = (),
    body: Shown | None = None,
    takes: str = JSON,
    body_example: object = None,
    answer: Shown | None = None,
    gives: str = JSON,
    example: object = None,
    status: int = 200,
    also: Sequence[int] = (),
    errors: Sequence[int] = (),
    open: bool = False,
    fresh: bool = False,
    guarded: bool = False,
    leads_to: tuple[str, str] | None = None,
) -> Callable[[View], View]:
    """The method of a view with what programs may count on.

    Parameters
    ----------
    operation : name that no other operation has, snake_case: `lots`, `lot`, `add_token`
    tag : the noun that it belongs to; the first word of its address without one
    also : other statuses of the same answer, such as 200 for what came before
    errors : statuses beside those of `ALWAYS` and `WITH_BODY`, such as 409 or 422
    open : nobody has to be signed in
    fresh : a read with an ETag, which answers If-None-Match with 304
    guarded : a write that wants If-Match; adds 412 and 428
    leads_to : the operation that reads one row of a list by its `key`, and where that stands
    """
    what = Said(
        operation,
        summary,
        about,
        tag,
        tuple(asks),
        body,
        takes,
        body_example,
        answer,
        gives,
        example,
        status,
        tuple(also),
        tuple(errors),
        open,
        fresh,
        guarded,
        leads_to,
    )

    def carrying(view: View) -> View:
        view.said = what  # type: ignore[attr-defined]
        return view

    return carrying


def said_of(view: object, method: str) -> Said | None:
    """What the method of a view says, if it says anything."""
    found = getattr(getattr(view, method.lower(), None), "said", None)
    return found if isinstance(found, Said) else None


HEADINGS: Mapping[int, str] = {
    400: "Cannot be read: no JSON, or not of the form that this address takes.",
    401: "Nobody is signed in, or the token is not one of ours, or no longer.",
    403: "The right that one has here is too small.",
    404: "Nothing of that name or number, or a studio that one does not belong to.",
    405: "This address does not know the method.",
    406: "None of the forms that were asked for can be given.",
    409: "The shelves say otherwise, or the same entry is still being recorded.",
    411: "The length of the body has to be said.",
    412: "Somebody changed it meanwhile: read it again.",
    413: "The body is larger than this address takes.",
    415: "The body comes in a form that this address does not take.",
    422: "Well formed, and yet not to be understood; or an id that was used for something else.",
    428: "A change needs If-Match with the ETag that was read.",
    429: "Too often in a short time: come again when Retry-After says.",
    503: "The database is busy, full or out of reach: come again when Retry-After says.",
}
