"""Loading who is written to about what, and what they have stopped."""

from __future__ import annotations

from typing import Any

from sourcing.models import Reader, ReaderSaid, Source
from sourcing.models.reminders import COLUMN_OF
from sourcing.notebook.loading import Loading
from sourcing.notebook.saying import say
from sourcing.reminders import mark_of


def load_reminders(loading: Loading) -> None:
    """Readers, then what they have said; a word that is there already stays as it is."""
    notebook, keep = loading.notebook, loading.keep
    sources = loading.kept(Source, ("name",))
    for row in notebook.page("reminders"):
        source = sources.get((row.text("source"),)) if row.has("source") else None
        wants = row.words("wants")
        values = {
            "address": row.text("address"),
            "source_id": None if source is None else source.pk,
            **{column: kind in wants for kind, column in COLUMN_OF.items()},
            "sheet_at": row.clock("sheet at"),
            "quiet_from": row.clock("quiet from"),
            "quiet_until": row.clock("quiet until"),
            "since": row.day("since"),
            "leave_by": row.text("leave by"),
            "leave_on": row.day("leave on"),
            "mark": mark_of(loading.studio.name, row.text("reader")),
            "note": row.text("note"),
        }
        same = _written_to(loading, row.text("reader"), values)
        if same is not None:
            note = say(
                "The studio writes to the same already, as {name}. Write that name.", name=same.name
            )
            loading.problem(row, note)
        else:
            keep(row, Reader, {"name": row.text("reader")}, values)
    readers = loading.kept(Reader, ("name",))
    known = (row for row in notebook.page("stops") if (row.text("reader"),) in readers)
    for row in known:
        key = {
            "reader_id": readers[(row.text("reader"),)].pk,
            "kind": row.text("kind"),
            "at": row.moment("at"),
        }
        keep(row, ReaderSaid, key, {"what": row.text("what")})


def _written_to(loading: Loading, name: str, values: dict[str, Any]) -> Reader | None:
    """Another reader of the studio who is the same source, or has the same address."""
    for other in loading.kept(Reader, ("name",)).values():
        if other.name == name or other.source_id != values["source_id"]:
            continue
        folded = other.address.casefold(), str(values["address"]).casefold()
        if other.source_id is not None or folded[0] == folded[1]:
            return other
    return None
