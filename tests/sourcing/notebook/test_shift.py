"""A notebook moved by whole weeks."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta

import pytest

from sourcing.notebook.check import check
from sourcing.notebook.notebook import Notebook, read_notebook
from sourcing.notebook.page import Row
from sourcing.notebook.shift import moved, new_codes, recoded
from tests.sourcing.notebook.desk import pages, yard


def only(notebook: Notebook, page: str, column: str, text: str) -> Row:
    """The one row of a page whose column says so."""
    (row,) = [row for row in notebook.page(page) if row.text(column) == text]
    return row


def small(**texts: str) -> Notebook:
    notebook, problems = read_notebook(pages(**texts))
    assert problems == []
    return notebook


def lots(*rows: str) -> str:
    head = "lot,dyestuff,amount,state,place,since,gathered,note"
    return "\n".join([head, *rows])


def test_moved_by_no_week_it_is_the_same_notebook() -> None:
    assert moved(yard(), weeks=0) == yard()


def test_there_and_back_it_is_the_same_notebook() -> None:
    assert moved(moved(yard(), weeks=5), weeks=-5) == yard()


def test_a_moved_notebook_has_nothing_wrong_in_it() -> None:
    for weeks in (-60, -4, 1, 9, 52, 517):
        assert check(moved(yard(), weeks=weeks), piece_known=lambda item: False) == []


def test_days_and_moments_move_and_keep_weekday_and_hour() -> None:
    later = moved(yard(), weeks=3)

    reported = only(later, "pickups", "pick-up", "reported")
    assert reported.moment("at") == datetime(2026, 12, 14, 17, tzinfo=UTC)
    assert only(later, "runs", "run", "G").day("fibre needed by") == date(2026, 12, 28)
    assert only(later, "blocks", "block", "group").moment("from") == datetime(
        2026, 12, 19, 10, tzinfo=UTC
    )


def test_a_weekday_of_every_week_stays() -> None:
    rows = moved(yard(), weeks=3).page("agreements")

    assert rows[0].several("days") == (0, 3)
    assert rows[3].several("days") == (date(2026, 12, 18),)


def test_the_hour_on_the_wall_stays_over_a_clock_change() -> None:
    later = moved(yard(), weeks=26)

    at = only(later, "pickups", "pick-up", "reported").moment("at")
    assert at == datetime(2027, 5, 24, 16, tzinfo=UTC)  # 17:00 in summer time
    assert at.time() == time(17)


def test_an_hour_that_is_skipped_there_becomes_the_one_after_it() -> None:
    notebook = small(lots=lots("X,nettle,1 kg,dried,bench,Sun 21 Mar 2027 01:30,,"))

    since = moved(notebook, weeks=1).page("lots")[0].moment("since")

    assert since == datetime(2027, 3, 28, 1, 30, tzinfo=UTC)
    assert since.time() == time(2, 30)


def test_a_code_that_carries_its_lots_day_moves_with_it_everywhere() -> None:
    later = moved(yard(), weeks=3)

    assert only(later, "pickups", "pick-up", "reported").text("lot") == "AV-1214"
    assert [row.text("lot") for row in later.page("lots")][:3] == ["AV-1002", "AV-1120", "AV-1207"]


def test_a_code_whose_digits_are_not_its_day_stays() -> None:
    notebook = small(
        lots=lots(
            "AV-1117,stones,1 kg,fresh,bench,Mon 16 Nov 2026 17:00,16 Nov 2026,",
            "AV-21116,stones,1 kg,fresh,bench,Mon 16 Nov 2026 17:00,16 Nov 2026,",
            "AV-1116 b,stones,1 kg,fresh,bench,Mon 16 Nov 2026 17:00,16 Nov 2026,",
        ),
        fibre="fibre lot,fibre,form,left,scoured,since\nW-1103,wool,yarn,1 kg,yes,3 Nov 2026\n",
    )

    assert new_codes(notebook, timedelta(weeks=1)) == {}


def test_a_lot_without_a_day_of_gathering_goes_by_its_place() -> None:
    notebook = small(lots=lots("AV-1116,stones,1 kg,fresh,bench,Mon 16 Nov 2026 17:00,,"))

    assert new_codes(notebook, timedelta(weeks=1)) == {"AV-1116": "AV-1123"}


def test_a_code_in_a_sentence_is_written_anew_and_its_neighbours_are_not() -> None:
    codes = {"AV-1116": "AV-1123", "AV-1123": "AV-1130"}

    said = recoded("AV-1116, AV-1123 (not AV-11160, XAV-1116 or AV-1116-b)", codes)

    assert said == "AV-1123, AV-1130 (not AV-11160, XAV-1116 or AV-1116-b)"


def test_two_lots_never_get_one_code() -> None:
    # A week on, 22 February 2027 is 1 March, and so is 23 February of the leap year after it.
    notebook = small(
        lots=lots(
            "AV-0223,stones,1 kg,fresh,bench,Wed 23 Feb 2028 17:00,23 Feb 2028,",
            "AV-0222,stones,1 kg,fresh,bench,Mon 22 Feb 2027 17:00,22 Feb 2027,",
        )
    )

    new = new_codes(notebook, timedelta(weeks=1))

    assert new == {"AV-0222": "AV-0301", "AV-0223": "AV-0301b"}


def test_days_in_sentences_move_too() -> None:
    notebook = small(
        lots=lots(
            "X,nettle,1 kg,dried,bench,Mon 1 Nov 2027 09:00,,"
            '"asked on Mon 16 Nov 2026, cut 2026-11-23; 31 Feb 2026 is no day; 40 g of 16 Nov"'
        )
    )

    note = moved(notebook, weeks=2).page("lots")[0].text("note")

    assert note == (
        "asked on Mon 30 Nov 2026, cut 2026-12-07; 31 Feb 2026 is no day; 40 g of 16 Nov"
    )


def test_permission_moves_with_the_lot_that_it_was_given_for() -> None:
    row = only(moved(yard(), weeks=3), "lots", "lot", "PR-1024")

    assert row.text("permission") == "corner house, 22 Oct 2026"


def test_more_than_fifty_years_are_refused() -> None:
    assert moved(yard(), weeks=-1300).page("runs")
    with pytest.raises(ValueError, match=r"^2601 weeks are too many; at most 2600\.$"):
        moved(yard(), weeks=2601)
