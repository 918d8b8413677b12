"""A whole studio in one zip file: its notebook, all that was recorded, and what is what.

What comes in is looked at by the list that a zip file carries before any of it is unpacked, and
unpacked no further than that list said.
"""

from __future__ import annotations

import io
import stat
import zipfile
import zlib
from collections.abc import Iterable
from datetime import datetime
from typing import IO

from inventory.errors import LarderError, quoted
from inventory.models import Studio
from inventory.one_reading import one_reading
from sourcing.notebook.bundle_words import readme
from sourcing.notebook.history import tables, write_history
from sourcing.notebook.notebook import MOST_BYTES_IN_ALL
from sourcing.notebook.sheet import MOST_BYTES
from sourcing.notebook.writing import file_of, notebook_of
from sourcing.notebook.yard_pages import PAGES

PAGES_IN, HISTORY_IN, README = "notebook/", "history/", "README.txt"
MOST_PACKED = 300  # files; we write about eighty
MOST_IN_ALL = 1_000_000_000  # bytes that a history may say it has; it is not unpacked
FIRST_YEAR, LAST_YEAR = 1980, 2107  # that a zip file can write beside a file
WAYS = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)
ENCRYPTED = 0x1
LEFT_BY_MACHINES = ("__MACOSX/", ".")
PACKED = (".zip", ".gz", ".bz2", ".xz", ".7z", ".tar", ".tgz", ".rar", ".zst")


class BundleRefused(LarderError):
    """A zip file that is none, or that nobody should unpack; nothing of it was."""

    code = "bundle_refused"

    def __init__(self, wrong: str, *, file: str = "") -> None:
        self.file = quoted(file) if file else ""
        said = f"{self.file} {wrong}" if file else wrong
        super().__init__(f"Nothing was unpacked: {said}")


def write_bundle(studio: Studio, into: IO[bytes], *, at: datetime) -> None:
    """A studio as one zip file, as of one moment; little of it is held in memory at once."""
    with one_reading(), zipfile.ZipFile(into, "w", zipfile.ZIP_DEFLATED) as bundle:
        notebook = notebook_of(studio, at=at)
        for page in PAGES:
            bundle.writestr(_named(PAGES_IN + page.file, at), file_of(page, notebook))
        counts = {}
        for name, model in tables():
            with bundle.open(_named(f"{HISTORY_IN}{name}.csv", at), "w") as file:
                counts[name] = write_history(studio, model, file)
        text = readme(studio.name, at=at, counts=counts)
        bundle.writestr(_named(README, at), text.replace("\n", "\r\n"))


def pages_in(raw: bytes) -> dict[str, bytes]:
    """The pages of the notebook in a zip file, by file name.

    Raises
    ------
    BundleRefused
        If it is no zip file, is too large, or holds what no bundle of ours does.
    """
    try:
        with zipfile.ZipFile(io.BytesIO(raw)) as bundle:
            return {info.filename.rpartition("/")[2]: _unpacked(bundle, info)
                    for info in _looked_over(bundle.infolist())}  # fmt: skip
    except (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError) as error:
        raise BundleRefused("it is no whole zip file. Pack the studio again.") from error


def _named(name: str, at: datetime) -> zipfile.ZipInfo:
    year = min(max(at.year, FIRST_YEAR), LAST_YEAR)
    info = zipfile.ZipInfo(name, (year, at.month, at.day, at.hour, at.minute, 0))
    info.compress_type = zipfile.ZIP_DEFLATED
    info.external_attr = 0o644 << 16
    return info


def _looked_over(infos: list[zipfile.ZipInfo]) -> list[zipfile.ZipInfo]:
    """The files that are pages, after a look at what the list says of every file."""
    if len(infos) > MOST_PACKED:
        raise BundleRefused(f"it holds {len(infos):,} files, {MOST_PACKED} at most.")
    _check_once(info.filename for info in infos)
    for info in infos:
        _check_file(info)
    pages = [info for info in infos if _is_page(info)]
    _check_once(info.filename.removeprefix(PAGES_IN) for info in pages)
    if sum(info.file_size for info in infos) > MOST_IN_ALL:
        raise BundleRefused(f"it would have more than {MOST_IN_ALL:,} bytes unpacked.")
    if (size := sum(info.file_size for info in pages)) > MOST_BYTES_IN_ALL:
        most = f"{MOST_BYTES_IN_ALL:,} at most"
        raise BundleRefused(f"its pages would have {size:,} bytes unpacked, {most}.")
    if not pages:
        raise BundleRefused(f"it holds no page. Put the CSV files into a folder {PAGES_IN}")
    return pages


def _check_once(names: Iterable[str]) -> None:
    seen: set[str] = set()
    for name in names:
        if name.casefold() in seen:
            raise BundleRefused("is in it twice. Pack it once.", file=name)
        seen.add(name.casefold())


def _check_file(info: zipfile.ZipInfo) -> None:
    """Refuse a file that nobody packs in good faith, by what the list says of it."""
    name = info.filename
    parts = name.split("/")
    if name.startswith("/") or ".." in parts or "\\" in name or ":" in name:
        raise BundleRefused("leads out of the folder that it is unpacked in.", file=name)
    if not name.isprintable():
        raise BundleRefused("has a name that cannot be printed.", file=name)
    if info.flag_bits & ENCRYPTED:
        raise BundleRefused("is locked with a password. Pack it without one.", file=name)
    if stat.S_ISLNK(info.external_attr >> 16):
        raise BundleRefused("is a link and no file. Pack the file itself.", file=name)
    if name.casefold().endswith(PACKED):
        raise BundleRefused("is packed once more. Unpack it first.", file=name)
    if info.compress_type not in WAYS:
        raise BundleRefused("is packed in a way that is not read here. Pack it plainly.", file=name)
    if not info.is_dir() and not _belongs(info):
        note = f"is no page. Pages are CSV files at the top or in {PAGES_IN}"
        raise BundleRefused(note, file=name)
    if _is_page(info) and info.file_size > MOST_BYTES:
        note = f"would have {info.file_size:,} bytes unpacked, {MOST_BYTES:,} at most."
        raise BundleRefused(note, file=name)


def _belongs(info: zipfile.ZipInfo) -> bool:
    name = info.filename
    aside = name.startswith(LEFT_BY_MACHINES) or name.rpartition("/")[2].startswith(".")
    history = name.startswith(HISTORY_IN) and name.count("/") == 1
    return aside or history or name == README or _is_page(info)


def _is_page(info: zipfile.ZipInfo) -> bool:
    name = info.filename.removeprefix(PAGES_IN)
    if "/" in name or name.startswith("."):
        return False
    return name.casefold().endswith(".csv")


def _unpacked(bundle: zipfile.ZipFile, info: zipfile.ZipInfo) -> bytes:
    """A file as far as the list said; more than that is no file of that list."""
    with bundle.open(info) as file:
        raw = file.read(info.file_size + 1)
    if len(raw) != info.file_size:
        raise BundleRefused("is larger than the zip file says.", file=info.filename)
    return raw
