"""One CSV file as a spreadsheet leaves it, read into cells with their line numbers.

Byte-order marks, semicolons or tabs, any line ends, blank rows, column order, extra spaces and
the case of headings make no difference (RFC 4180 where it says so, kindness where not).
"""

from __future__ import annotations

import csv
import io
import re
import unicodedata
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from sourcing.notebook.problem import Problem
from sourcing.notebook.saying import say

MOST_BYTES = 8_000_000  # one file; twenty years of pick-ups are well under one million
MOST_CELL = 500  # characters in one cell
MOST_CELLS = 60  # in one row
LONGEST_HEADINGS = 5_000  # characters of the first row by which the separator is told
MOST_CELLS_IN_ALL = 1_200_000  # twenty thousand rows of sixty
MOST_LINES = 100_000  # of a file, blank ones and those inside cells too
SEPARATORS = (",", ";", "\t")
BYTE_ORDER_MARKS = ((b"\xef\xbb\xbf", "utf-8"), (b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16"))
UNSEEN = ("Cc", "Cf", "Cs", "Cn", "Co")  # Unicode's kinds of what cannot be seen
# A spreadsheet would work such a cell out; a number with its sign is harmless.
LINE_END = r"\r\n|\r|\n"
BLANK_LINES = re.compile(rf"(?:[ ,;\t]*(?:{LINE_END}))+")
FORMULA = re.compile(r"[=@＝＠]|[+\-＋－](?!\s?[\d.,]+\s?(°?\s?[CF])?$)")
# Such a cell behind an apostrophe, which tells a spreadsheet to leave it alone: of several the
# first is ours, the others were there.
SAID_AS_TEXT = re.compile(rf"'+(?:{FORMULA.pattern})")


@dataclass(frozen=True, slots=True)
class Line:
    """The cells of one row and the line of the file on which it begins."""

    number: int
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Sheet:
    """Headings and rows of one file, cleaned of what only a spreadsheet put there."""

    file: str
    heading_line: int = 0
    headings: tuple[str, ...] = ()
    lines: tuple[Line, ...] = ()


def read_sheet(
    file: str, raw: bytes, *, known: Iterable[str], most_rows: int
) -> tuple[Sheet, list[Problem]]:
    """The rows of a file and what is wrong with the file as a whole.

    Parameters
    ----------
    file : name shown in problems
    raw : the bytes of the file
    known : headings that the page has, to tell the separator by
    most_rows : above 0
    """
    text, problem = _text(file, raw)
    if problem:
        return Sheet(file), [problem]
    try:
        records = list(_records(text, known, most_rows))
    except csv.Error as error:
        return Sheet(file), [Problem(file, 0, "", "", _csv_sentence(error))]
    if len(records) > most_rows + 1:
        note = f"The file has more than {most_rows:,} rows. Keep older years in another folder."
        return Sheet(file), [Problem(file, records[-1].number, "", "", note)]
    return _sheet(file, records)


def heading(cell: str) -> str:
    """A heading as it is compared: any case, spaces or underscores, straight apostrophe."""
    return " ".join(cell.replace("_", " ").replace("’", "'").casefold().split())


def clean(cell: str) -> str:
    """A cell without outer or doubled spaces, its letters composed.

    The narrow spaces that a machine sets between thousands stay: they are part of the number.
    """
    return unicodedata.normalize("NFC", re.sub(r"[ \t\r\n]+", " ", cell).strip())


def plain(cell: str) -> str:
    """A text as a cell can carry it: single spaces, and nothing that cannot be seen."""
    seen = (c for c in clean(cell) if unicodedata.category(c) not in UNSEEN)
    return unicodedata.normalize("NFC", " ".join("".join(seen).split()))


def _text(file: str, raw: bytes) -> tuple[str, Problem | None]:
    if len(raw) > MOST_BYTES:
        note = f"The file has {len(raw):,} bytes; at most {MOST_BYTES:,} are read. Divide it."
        return "", Problem(file, 0, "", "", note)
    encoding = next((name for mark, name in BYTE_ORDER_MARKS if raw.startswith(mark)), "utf-8")
    try:
        text = raw.decode(encoding).lstrip("\ufeff")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        note = "The file has letters that cannot be read. Save it as CSV in UTF-8."
        return "", Problem(file, line, "", "", note)
    if "\x00" in text:
        line = text[: text.index("\x00")].count("\n") + 1
        note = "A NUL character stands in this line. Delete it, or save the file as CSV again."
        return "", Problem(file, line, "", "", note)
    note = _too_much(text)
    return ("", Problem(file, 0, "", "", note)) if note else (text, None)


def _too_much(text: str) -> str:
    """Why a text is not taken apart: blank lines and empty cells cost time too."""
    lines = max(text.count("\n"), text.count("\r"))
    if lines > MOST_LINES:
        return f"The file has {lines:,} lines; at most {MOST_LINES:,} are read. Divide it."
    cells = lines + max(text.count(mark) for mark in SEPARATORS)
    if cells > MOST_CELLS_IN_ALL:
        return f"The file has {cells:,} cells; at most {MOST_CELLS_IN_ALL:,} are read. Divide it."
    return ""


def _records(text: str, known: Iterable[str], most_rows: int) -> Iterable[Line]:
    """Rows that are not blank, with the line on which each begins; one more than allowed."""
    separator, skipped, text = _separator(text, known)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
    begins, found = skipped + 1, 0
    for cells in reader:
        while cells and not cells[-1].strip():
            cells.pop()  # a spreadsheet fills rows up to the longest
        if cells:
            # One more than allowed is enough to say so.
            yield Line(begins, tuple(cells[: MOST_CELLS + 1]))
            found += 1
            if found > most_rows + 1:
                return
        begins = reader.line_num + skipped + 1


def _separator(text: str, known: Iterable[str]) -> tuple[str, int, str]:
    """The separator that finds most known headings, the lines before the table, the table."""
    skipped = 0
    first, rest = _first_line(text)
    if first.casefold().startswith("sep=") and len(first.strip()) in (4, 5):
        separator = first[4:5] or "\t"
        if separator in SEPARATORS:
            return separator, 1, rest
    names = set(known)
    blank = BLANK_LINES.match(text)
    if blank is not None:
        skipped, text = len(re.findall(LINE_END, blank[0])), text[blank.end() :]
        first, _ = _first_line(text)
    best = max(SEPARATORS, key=lambda mark: _matches(first[:LONGEST_HEADINGS], mark, names))
    return best, skipped, text


def _first_line(text: str) -> tuple[str, str]:
    ends = [at for at in (text.find("\n"), text.find("\r")) if at >= 0]
    if not ends:
        return text, ""
    end = min(ends)
    after = end + (2 if text[end : end + 2] == "\r\n" else 1)
    return text[:end], text[after:]


def _matches(line: str, separator: str, names: set[str]) -> tuple[int, int]:
    cells = [heading(cell.strip().strip('"')) for cell in line.split(separator)]
    return sum(cell in names for cell in cells), len(cells)


def _csv_sentence(error: csv.Error) -> str:
    said = str(error)
    if "field larger than" in said:
        return f"A cell is far too long; at most {MOST_CELL} characters are read. Shorten it."
    if "unexpected end" in said:
        return "A quotation mark is opened and never closed. Close it."
    return 'A quotation mark stands inside a cell. Double it (""), or leave it out.'


def _sheet(file: str, records: Sequence[Line]) -> tuple[Sheet, list[Problem]]:
    if not records:
        note = "The file is empty. Write the headings in its first row, or delete the file."
        return Sheet(file), [Problem(file, 0, "", "", note)]
    top, *rows = records
    headings = tuple(heading(cell) for cell in top.cells)
    while headings and not headings[-1]:
        headings = headings[:-1]
    if len(headings) > MOST_CELLS:
        note = f"The row has more than {MOST_CELLS} headings. Write those of the page."
        return Sheet(file), [Problem(file, top.number, "", "", note)]
    problems: list[Problem] = []
    lines = []
    for row in rows:
        cells = tuple(clean(cell) for cell in row.cells)
        faults = _faults(file, row.number, headings, cells)
        problems += faults
        if not faults:
            lines.append(Line(row.number, tuple(map(_as_text, cells[: len(headings)]))))
    return Sheet(file, top.number, headings, tuple(lines)), problems


def _as_text(cell: str) -> str:
    """A cell without the apostrophe that tells a spreadsheet to leave it alone."""
    return cell[1:] if SAID_AS_TEXT.match(cell) else cell


def as_cell(text: str) -> str:
    """A text as a cell that a spreadsheet does not work out, and that is read as the text again.

    >>> as_cell("=1+1"), as_cell("'=1+1"), as_cell("-4 °C"), as_cell("'tis")
    ("'=1+1", "''=1+1", '-4 °C', "'tis")
    """
    return f"'{text}" if FORMULA.match(text) or SAID_AS_TEXT.match(text) else text


def cell_fault(cell: str) -> str:
    """Why a cell cannot be kept, whatever it says; empty where it can."""
    if len(cell) > MOST_CELL:
        return say(
            "The cell has {count:,} characters; at most {most} are read. Shorten.",
            count=len(cell),
            most=MOST_CELL,
        )
    if any(unicodedata.category(c) in UNSEEN for c in cell):
        return say("The cell holds a character that cannot be seen or printed. Delete it.")
    return ""


def _faults(
    file: str, line: int, headings: tuple[str, ...], cells: tuple[str, ...]
) -> list[Problem]:
    if len(cells) > MOST_CELLS:
        note = f"The row has more than {MOST_CELLS} cells. Delete what stands behind the last one."
        return [Problem(file, line, "", "", note)]
    over = [cell for cell in cells[len(headings) :] if cell]
    if over:
        note = f"The row has more cells than there are headings ({len(headings)}). "
        note += "Put quotation marks round a cell that holds a separator."
        return [Problem(file, line, "", over[0], note)]
    faults = []
    for name, cell in zip(headings, cells, strict=False):
        if note := cell_fault(cell):
            faults.append(Problem(file, line, name, cell, note))
        elif FORMULA.match(cell):
            note = f"A cell may not begin with {cell[0]}: a spreadsheet would work it out. "
            faults.append(Problem(file, line, name, cell, note + "Begin with a letter or digit."))
    return faults
