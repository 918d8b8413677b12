"""What is what in the zip file of a whole studio, for whoever opens it without us."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime

TEXT = """\
{studio}, as it stood on {day} {clock} (UTC)
{line}

notebook/   What the studio has and means to do, a page a file, as people keep it in a spreadsheet.
            This is what another larder is loaded from: send this zip file to it as it is, or
            unpack it and load the folder. What is left of a lot stands there, not its history.
history/    All that was ever recorded, a table a file. It is for reading and keeping; nothing is
            loaded from it.

All files are CSV (RFC 4180) in UTF-8 with their headings in the first row. A cell that begins with
an apostrophe would otherwise be worked out by a spreadsheet; the apostrophe is not part of it.

How to read history/
- entry is the id of what was entered, made by whoever entered it. postings.csv has one row an
  entry; rows of other files with the same entry say what it did.
- occurred_at is when it happened, as it was said; recorded_at is when it was written down. at is
  from when on a row holds. All moments are in UTC, days are days on the studio's clock.
- corrects names the posting that was put right; undoes says that it was taken back whole.
- movements.csv: amount is in lot_unit, mg or µL; left_after is what was left of the lot then, and
  the amounts of a lot add up to it. gross and tare are as they were weighed.
- Elsewhere the unit ends the name: _mg milligrams, _ul microlitres, _ml millilitres, _min
  minutes, _c degrees Celsius, _mm millimetres, _minor hundredths of the currency. losses.csv
  counts in mg.
- A lot, site, vessel, run or recipe is named by its code, a source or supplier by its name, a
  recipe also by its version; weekdays are 0 Monday to 6 Sunday.
- seals.csv and sealed.csv chain the postings by SHA-256, each digest over the one before, so that
  nobody can change what was sealed and not be seen.

Rows in history/
{counts}
"""


def readme(studio: str, *, at: datetime, counts: Mapping[str, int]) -> str:
    """The text beside the files."""
    rows = "\n".join(f"{count:>9,}  {name}.csv" for name, count in counts.items())
    title = f"{studio}, as it stood on {at:%Y-%m-%d} {at:%H:%M} (UTC)"
    return TEXT.format(
        studio=studio, day=f"{at:%Y-%m-%d}", clock=f"{at:%H:%M}", line="=" * len(title), counts=rows
    )
