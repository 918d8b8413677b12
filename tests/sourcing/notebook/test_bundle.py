"""A whole studio in a zip file: what is in it, and which zip files nobody unpacks."""

from __future__ import annotations

import csv
import io
import stat
import zipfile
from collections.abc import Callable
from datetime import UTC, datetime
from uuid import uuid4

import pytest

from inventory import jars, ledger
from inventory.models import Movement, Posting, Studio
from inventory.seal import seal_all, written_with_a_posting
from sourcing.notebook.bundle import BundleRefused, pages_in, write_bundle
from sourcing.notebook.history import OTHERS, tables, ways_of
from sourcing.notebook.load import load_files
from sourcing.notebook.yard_pages import PAGES
from tests.sourcing.notebook.desk import yard_files

NOW = datetime(2026, 11, 24, 9, 0, tzinfo=UTC)


def zipped(*files: tuple[str | zipfile.ZipInfo, bytes], way: int = zipfile.ZIP_DEFLATED) -> bytes:
    into = io.BytesIO()
    with zipfile.ZipFile(into, "w", way) as bundle:
        for name, raw in files:
            bundle.writestr(name, raw, compress_type=way)
    return into.getvalue()


def _link() -> zipfile.ZipInfo:
    info = zipfile.ZipInfo("rules.csv")
    info.external_attr = (stat.S_IFLNK | 0o777) << 16
    return info


def _locked(raw: bytes) -> bytes:
    """The mark of encryption in the list of a zip file and before the file itself."""
    listed = bytearray(raw)
    for signature, at in ((b"PK\x03\x04", 6), (b"PK\x01\x02", 8)):
        listed[raw.index(signature) + at] |= 1
    return bytes(listed)


def _smaller_than_it_is(raw: bytes) -> bytes:
    """A list that says ten bytes of a file of a million."""
    listed = bytearray(raw)
    at = raw.index(b"PK\x01\x02") + 24
    listed[at : at + 4] = (10).to_bytes(4, "little")
    return bytes(listed)


STUDIO = ("studio.csv", b"studio,zone\nWash House,Europe/London\n")
HOSTILE: list[tuple[str, Callable[[], bytes], str]] = [
    ("no zip", lambda: b"studio,zone\n", "it is no whole zip file."),
    ("cut", lambda: zipped(STUDIO)[:-9], "it is no whole zip file."),
    ("empty", lambda: zipped(), "it holds no page."),
    ("up", lambda: zipped(STUDIO, ("../rules.csv", b"")), "leads out of the folder"),
    ("up within", lambda: zipped(STUDIO, ("notebook/../rules.csv", b"")), "leads out of"),
    ("absolute", lambda: zipped(STUDIO, ("/etc/rules.csv", b"")), "leads out of"),
    ("drive", lambda: zipped(STUDIO, ("C:rules.csv", b"")), "leads out of"),
    ("backslash", lambda: zipped(STUDIO, ("notebook\\rules.csv", b"")), "leads out of"),
    ("link", lambda: zipped(STUDIO, (_link(), b"/etc/passwd")), "is a link and no file."),
    ("nested", lambda: zipped(STUDIO, ("inner.zip", zipped(STUDIO))), "is packed once more."),
    ("twice", lambda: zipped(STUDIO, ("Studio.CSV", b"")), "is in it twice."),
    ("other", lambda: zipped(STUDIO, ("run.exe", b"")), "is no page."),
    ("deep", lambda: zipped(STUDIO, ("a/b/rules.csv", b"")), "is no page."),
    ("unseen", lambda: zipped(STUDIO, ("ru\x07les.csv", b"")), "cannot be printed."),
    ("locked", lambda: _locked(zipped(STUDIO)), "is locked with a password."),
    ("way", lambda: zipped(STUDIO, way=zipfile.ZIP_LZMA), "is packed in a way"),
    ("many", lambda: zipped(*((f"history/{n}.csv", b"") for n in range(301))), "files, 300 at"),
    ("page twice", lambda: zipped(STUDIO, ("notebook/studio.csv", b"")), "is in it twice."),
    ("bomb", lambda: zipped(STUDIO, ("rules.csv", b"0" * 8_000_001)), "8,000,001 bytes unpacked"),
    ("bombs", lambda: zipped(*((f"{n}.csv", b"0" * 7_000_000) for n in range(6))), "42,000,000"),
    ("liar", lambda: _smaller_than_it_is(zipped(("rules.csv", b"0" * 1_000_000))), "zip file"),
]  # fmt: skip


@pytest.mark.parametrize(("make", "sentence"), [row[1:] for row in HOSTILE],
                         ids=[row[0] for row in HOSTILE])  # fmt: skip
def test_what_nobody_packs_in_good_faith_is_not_unpacked(
    make: Callable[[], bytes], sentence: str
) -> None:
    with pytest.raises(BundleRefused) as refusal:
        pages_in(make())

    assert str(refusal.value).startswith("Nothing was unpacked: ")
    assert sentence in str(refusal.value)


def test_pages_are_taken_from_the_top_and_from_their_folder() -> None:
    mine = zipfile.ZipInfo("notebook/")
    raw = zipped(STUDIO, (mine, b""), ("notebook/rules.csv", b"item"), ("history/dips.csv", b"x"),
                 ("README.txt", b"x"), ("__MACOSX/._rules.csv", b"x"))  # fmt: skip

    assert pages_in(raw) == {"studio.csv": STUDIO[1], "rules.csv": b"item"}


@pytest.mark.django_db
def test_a_studio_is_packed_with_its_pages_and_every_row_that_an_entry_wrote() -> None:
    load_files(yard_files())
    load_files({"studio.csv": STUDIO[1], "rings.csv": b"ring,power\nNOT OURS,1 kW\n"})
    studio = Studio.objects.get(name="Pellitory Yard")
    entry = uuid4()
    ledger.draw(studio, entry=entry, at=NOW, takes=[("AV-0911", 123_457)], note="=for the weavers")
    jars.dip(studio, entry=uuid4(), at=NOW, jar="J1", grade=3)
    seal_all(studio)
    into = io.BytesIO()

    write_bundle(studio, into, at=NOW)

    with zipfile.ZipFile(into) as bundle:
        names = bundle.namelist()
        rows = {
            name.removeprefix("history/"): list(csv.DictReader(io.StringIO(
                bundle.read(name).decode(), newline=""))) for name in names if "history/" in name
        }  # fmt: skip
        said = bundle.read("README.txt").decode()
        assert b"NOT OURS" not in b"".join(map(bundle.read, names))
    assert {f"notebook/{page.file}" for page in PAGES} < set(names)
    for name, model in tables():
        assert len(rows[f"{name}.csv"]) == model.objects.of(studio).count()
        assert f"{len(rows[f'{name}.csv']):,}  {name}.csv" in said
    assert len(rows["postings.csv"]) == Posting.objects.of(studio).count() > 30
    drawn = next(row for row in rows["postings.csv"] if row["entry"] == str(entry))
    assert (drawn["occurred_at"], drawn["note"]) == ("2026-11-24T09:00:00+00:00",
                                                     "'=for the weavers")  # fmt: skip
    assert datetime.fromisoformat(drawn["recorded_at"]).tzinfo is not None
    moved = next(row for row in rows["movements.csv"] if row["entry"] == str(entry))
    assert (moved["lot"], moved["amount"], moved["lot_unit"]) == ("AV-0911", "-123457", "mg")
    of_lot = [row for row in rows["movements.csv"] if row["lot"] == "AV-0911"]
    assert sum(int(row["amount"]) for row in of_lot) == int(moved["left_after"])
    assert len(pages_in(into.getvalue())) == len(PAGES)


def test_every_table_that_an_entry_writes_is_in_the_history() -> None:
    names = [name for name, _ in tables()]

    assert {model for _, model in tables()} == {Posting, *written_with_a_posting(), *OTHERS}
    assert len(names) == len(set(names))
    assert all("__id" not in way and way != "studio" for _, of in tables() for way in ways_of(of))
    assert "posting__recorded_at" in ways_of(Movement)


@pytest.mark.django_db
@pytest.mark.parametrize("year", [1979, 1980, 2107, 2108])
def test_a_studio_is_packed_as_of_years_that_a_zip_file_cannot_write(year: int) -> None:
    load_files(yard_files())
    into = io.BytesIO()

    write_bundle(Studio.objects.get(), into, at=datetime(year, 6, 27, tzinfo=UTC))

    written = zipfile.ZipFile(into).infolist()[0].date_time[0]
    assert written == min(max(year, 1980), 2107)
