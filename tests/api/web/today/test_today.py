"""*Today*: the day's steps with their figures, said to be done by one tap, without script."""

from __future__ import annotations

from datetime import datetime
from typing import Any
from urllib.parse import urlencode
from uuid import uuid4

import pytest
from django.db import connection
from django.http import HttpResponse
from django.test import Client
from django.test.utils import CaptureQueriesContext
from justhtml import Element

from api.web.today.view import today
from inventory.models import Posting, Studio
from inventory.science.facts import Shelf
from sourcing.models import ChoreDone, StepDone
from sourcing.outlook import facts_at, week_at
from sourcing.steps import begin_run
from sourcing.week.project import project
from tests.api.web.pages import as_read, read, sound
from tests.sourcing.week.pellitory import nov

pytestmark = pytest.mark.usefixtures("yard")

FORM = "application/x-www-form-urlencoded"
MONDAY = "2026-11-23T07:30"
QUERIES = 8
AT_EIGHT = nov(23, 8)


def page(client: Client, at: str = MONDAY) -> HttpResponse:
    found: Any = client.get("/today/", {"at": at})
    assert found.status_code == 200, found.content
    return found  # type: ignore[no-any-return]


def cards(client: Client, at: str = MONDAY) -> list[str]:
    """What each step says, with single spaces."""
    return [as_read(node.to_text()) for node in read(page(client, at)).query("article.today-step")]


def forms(client: Client, at: str = MONDAY) -> list[tuple[str, dict[str, str]]]:
    """Every form of the page: its address and what it sends."""
    return [
        (str(node.attrs["action"]), _fields(node))
        for node in read(page(client, at)).query("form.note")
    ]


def _fields(form: Element) -> dict[str, str]:
    rows = [node.attrs or {} for node in form.query("input")]
    rows = [row for row in rows if row.get("type") != "radio" or "checked" in row]
    return {str(row["name"]): str(row.get("value") or "") for row in rows}


def tap(client: Client, verb: str, at: str, run: str, step: str = "") -> Any:
    """Tap the one button of a step."""
    for action, fields in forms(client, at):
        if action == f"/note/{verb}/" and (fields["run"], fields.get("step", "")) == (run, step):
            return client.post(action, urlencode(fields), content_type=FORM)
    raise AssertionError(f"no {verb} of {run} {step} at {at}")


def test_the_page_is_sound_and_asks_little(client: Client) -> None:
    with CaptureQueriesContext(
        connection,
    ) as asked:
        found = page(client)

    assert sound(found) == []
    assert len(asked) <= QUERIES, [row["sql"][:80] for row in asked]


def test_the_day_s_steps_stand_in_order_of_the_clock_with_every_figure(client: Client) -> None:
    # The worked Monday: scour and alum of Blush, Slate's cold alum, the café at 17:00.
    found = cards(client)

    assert [row.split(" hands")[0] for row in found[:4]] == [
        "09:00 to 10:48 A Blush: Scour P1 on R1 1,200 g in 36 L, 8 to 55 °C in 48 min, hold 60 min "
        "P2 on R2 800 g in 24 L, 8 to 55 °C in 37 min, hold 60 min 2,105 g wool from W-88 "
        "60 min of",
        "09:00 to 09:30 D Slate: Cold alum B2 400 g in 12 L 400 g silk from S-12 48 g alum "
        "30 min of",
        "11:20 to 13:36 A Blush: Hot alum P1 on R1 1,200 g in 36 L, 8 to 82 °C in 76 min, hold "
        "60 min P2 on R2 800 g in 24 L, 8 to 82 °C in 59 min, hold 60 min 240 g alum 60 min of",
        "17:00 Pick-up at Lantern Steps café avocado stones 45 min of",
    ]
    assert "somebody is there until 10:48" in found[0]
    assert "stays in till Tue 24 Nov 09:00" in found[1]
    assert "MASK" in found[0]


def test_the_page_answers_the_week_in_a_line_and_says_what_stands_overnight(client: Client) -> None:
    (main,) = read(page(client)).query("main")
    text = as_read(main.to_text())

    assert "This week: 4 yes 1 not yet 2 no" in text
    assert "P1: Blush stands in hot alum till Tue 24 Nov 09:00" in text
    assert "The last flame is out at 13:36; light nothing overnight." in text
    assert "First thing Tue 24 Nov 09:00 A Blush extract" in text


def test_a_flag_leads_to_the_one_thing_to_do_about_it(client: Client) -> None:
    ways = [node.attrs["href"] for node in read(page(client)).query("a.today-way")]

    assert "/note/dip/?jar=J1&at=2026-11-23T07%3A30" in ways


def test_one_tap_says_that_a_step_is_done_and_begins_its_run(client: Client) -> None:
    answer = tap(client, "step-done", "2026-11-23T10:48", "A", "scour")

    assert answer.status_code == 303
    done = StepDone.objects.of(Studio.objects.get()).get()
    assert (done.step, done.at, done.plan.run.code) == ("scour", nov(23, 10, 48), "A")
    first, *_ = cards(client, "2026-11-23T10:48")
    assert first.startswith("09:00 to 10:48 A Blush: Scour done 10:48")
    assert "Not done after all" in first


def test_a_begun_run_s_steps_stay_at_their_hours_and_are_said_in_turn(client: Client) -> None:
    tap(client, "begin-run", "2026-11-23T09:00", "A")
    tap(client, "step-done", "2026-11-23T10:48", "A", "scour")

    scour, *others = [row for row in cards(client, "2026-11-23T10:50") if " A Blush: " in row]

    assert scour.startswith("09:00 to 10:48 A Blush: Scour done 10:48")
    assert others[0].startswith("11:20 to 13:36 A Blush: Hot alum P1 on R1")
    assert others[0].endswith("Done: Blush, Hot alum It went otherwise: Blush, Hot alum")


def test_a_tap_sent_twice_counts_once(client: Client) -> None:
    (action, fields), *_ = forms(client)

    first = client.post(action, urlencode(fields), content_type=FORM)
    second = client.post(action, urlencode(fields), content_type=FORM)

    assert (first.status_code, second.status_code) == (303, 303)
    assert first["Location"] == second["Location"]
    assert StepDone.objects.of(Studio.objects.get()).count() == 1


def test_a_step_is_not_done_after_all(client: Client) -> None:
    tap(client, "begin-run", "2026-11-23T09:00", "A")
    tap(client, "step-done", "2026-11-23T10:48", "A", "scour")

    tap(client, "step-not-done", "2026-11-23T10:49", "A", "scour")

    found = [row for row in cards(client, "2026-11-23T10:49") if "Blush: Scour" in row]
    assert "late: not done by 10:48" in found[0]


def test_what_went_otherwise_is_asked_with_the_step_filled_in(client: Client) -> None:
    tap(client, "begin-run", "2026-11-23T09:00", "A")
    ways = [
        str(node.attrs["href"])
        for node in read(page(client, "2026-11-23T09:30")).query("a.today-way")
    ]
    (way,) = [way for way in ways if "/note/step-done/" in way and "step=scour" in way]
    (form,) = read(client.get(way)).query("form.note")

    fields = {
        **_fields(form),
        "litres": "34",
        "litres_unit": "L",
        "occurred_at": "2026-11-23T10:50",
    }
    answer = client.post("/note/step-done/", urlencode(fields), content_type=FORM)

    assert answer.status_code == 303, answer.content
    done = StepDone.objects.of(Studio.objects.get()).get()
    assert (done.volume_ul, done.weight_mg, done.vessel) == (34_000_000, None, "")


def test_a_late_step_says_since_when_and_stands_at_its_new_hour(client: Client) -> None:
    tap(client, "begin-run", "2026-11-23T09:00", "A")

    found = [row for row in cards(client, "2026-11-23T11:00") if "Blush: Scour" in row]

    assert found[0].startswith("11:00 to 12:48 A Blush: Scour late: not done by 10:48")


def test_a_late_step_that_has_to_wait_for_another_day_stands_there_all_the_same(
    client: Client,
) -> None:
    tap(client, "begin-run", "2026-11-23T09:00", "D")
    tap(client, "step-done", "2026-11-23T09:30", "D", "cold alum")

    (dye,) = [row for row in cards(client, "2026-11-24T17:00") if "Slate: Dye" in row]

    assert dye.startswith(
        "Thu 26 Nov 09:00 to Thu 26 Nov 11:18 D Slate: Dye late: not done by 11:18"
    )
    assert dye.endswith("Done: Slate, Dye It went otherwise: Slate, Dye")


def test_the_week_says_of_a_begun_run_what_comes_next(client: Client) -> None:
    tap(client, "begin-run", "2026-11-23T09:00", "A")
    tap(client, "step-done", "2026-11-23T10:48", "A", "scour")
    at = {"at": "2026-11-23T11:00"}

    blush = next(
        row for row in client.get("/api/v1/week/", at).json()["runs"] if row["code"] == "A"
    )
    sheet = client.get("/sheet.txt", at).content.decode()
    (word,) = [as_read(node.to_text()) for node in read(client.get("/", at)).query(".answers a")
               if "Blush" in node.to_text() and "yes" in node.to_text()]  # fmt: skip

    assert (blush["answer"], blush["begun_at"]) == ("yes", "2026-11-23T09:00:00+00:00")
    assert [row["done_at"] for row in blush["steps"][:3]] == ["2026-11-23T10:48:00+00:00"] * 2 + [
        None
    ]
    assert "Blush: YES, BEGUN, WITH A JOB" in sheet
    assert "begun Mon 23 Nov 09:00, next Mon 23 Nov 11:20 hot alum" in " ".join(sheet.split())
    assert (
        word
        == "A Blush yes, begun, with a job next Mon 23 Nov 11:20 hot alum, dry Sat 28 Nov 10:00"
    )


def test_who_only_looks_is_asked_nothing(client: Client) -> None:
    studio = Studio.objects.get()
    facts = facts_at(studio, at=nov(23, 7, 30), days=7)

    shown = today(facts, project(facts, days=7), carried="", may_write=False)

    assert shown.steps
    assert not any(card.done or card.undo or card.begin or card.leads for card in shown.steps)
    assert not shown.may_write


# -- chores, group days, flags: the real entry by one tap ---------------------------------------


def buttons(client: Client, at: str, verb: str) -> list[dict[str, str]]:
    return [fields for action, fields in forms(client, at) if action == f"/note/{verb}/"]


def send(client: Client, verb: str, fields: dict[str, str]) -> None:
    answer = client.post(f"/note/{verb}/", urlencode(fields), content_type=FORM)
    assert answer.status_code == 303, answer.content.decode()


def test_a_lot_on_its_last_day_is_frozen_by_one_tap(client: Client) -> None:
    first, *_ = buttons(client, MONDAY, "put-by")

    send(client, "put-by", first)

    assert (first["lot"], first["how"]) == ("AV-1116", "frozen|freezer:freezer")
    lot = next(row for row in shelf().lots if row.code == "AV-1116")
    assert lot.stay.state == "frozen"
    assert not [row for row in buttons(client, MONDAY, "put-by") if row["lot"] == "AV-1116"]


def test_a_part_that_a_group_wants_is_frozen_by_one_tap(client: Client) -> None:
    begin_run(Studio.objects.get(), entry=uuid4(), at=nov(23, 9), run="F")
    rows = buttons(client, "2026-11-26T09:00", "put-by")
    (tap_of,) = [row for row in rows if row["lot"] == "CB-1121" and "amount" in row]

    send(client, "put-by", tap_of)

    found = {row.code: (row.left_mg, row.stay.state) for row in shelf(nov(26, 10)).lots}
    assert found["CB-1121-F"] == (480_000, "frozen")
    assert found["CB-1121"][0] == 720_000


def test_compost_is_tipped_out_by_one_tap(client: Client) -> None:
    (tip,) = [row for row in buttons(client, MONDAY, "tip-out") if row["lot"] == "AV-1109"]

    send(client, "tip-out", tip)

    posting = Posting.objects.of(Studio.objects.get()).get(entry=tip["id"])
    assert posting.where_to == "compost"
    assert "AV-1109" not in {row.code for row in shelf().lots if row.left_mg}


def test_a_strip_is_graded_by_one_tap(client: Client) -> None:
    tuesday = "2026-11-24T09:00"
    grades = [row for row in buttons(client, tuesday, "dip") if row["jar"] == "J1"]
    assert [row["grade"] for row in grades] == ["1", "2", "3", "4", "5"]

    send(client, "dip", grades[2])

    jar = next(row for row in shelf(nov(24, 10)).jars if row.code == "J1")
    assert [dip.grade for dip in jar.dips] == [3]


def test_a_chore_in_free_words_is_done_by_one_tap_and_taken_back(client: Client) -> None:
    friday = "2026-11-27T09:00"
    (done,) = buttons(client, friday, "chore-done")
    assert done["what"] == "2026-11-27|group prep"

    send(client, "chore-done", done)

    (card,) = [row for row in cards(client, friday) if "Group prep" in row]
    assert "done Tue 24 Nov 07:30" in card  # the clock of these tests
    assert not buttons(client, friday, "chore-done")
    (undo,) = buttons(client, friday, "chore-not-done")
    send(client, "chore-not-done", undo)
    assert len(buttons(client, friday, "chore-done")) == 1


def test_a_chore_said_by_mistake_is_taken_back_within_ten_minutes(client: Client) -> None:
    friday = "2026-11-27T09:00"
    (done,) = buttons(client, friday, "chore-done")
    send(client, "chore-done", done)

    answer = client.post(f"/note/said/{done['id']}/")

    assert answer.status_code == 303
    words = [row.done for row in ChoreDone.objects.of(Studio.objects.get()).order_by("id")]
    assert words == [True, False]


def test_a_chore_that_clears_fibre_is_said_with_what_became_of_it(client: Client) -> None:
    (card,) = [row for row in cards(client) if "Check W-85" in row]
    assert "Scoured again, still damp" in card
    assert "It is sound and dry" in card
    scour, dry = buttons(client, MONDAY, "scour"), buttons(client, MONDAY, "dry")

    send(client, "scour", scour[0])
    send(client, "dry", dry[0])

    fibre = next(row for row in shelf().fibre if row.code == "W-85")
    assert (fibre.left_mg, fibre.damp, fibre.mordant) == (500_000, False, "alum")
    group = next(row for row in week_at(Studio.objects.get(), at=nov(24, 9), days=7).answers
                 if row.run == "F")  # fmt: skip
    assert group.answer == "yes"


def test_a_group_is_prepared_line_by_line(client: Client) -> None:
    friday = "2026-11-27T09:30"
    begin_run(Studio.objects.get(), entry=uuid4(), at=nov(23, 9), run="F")
    frozen = [row for row in buttons(client, "2026-11-26T09:00", "put-by")
              if row["lot"] == "CB-1121"]  # fmt: skip
    send(client, "put-by", frozen[0])
    found = [row for row in cards(client, friday) if "lay out" in row.lower()]
    assert len(found) == 2
    assert any("12 × 20 g: 240 g from W-85" in row for row in found)

    tap(client, "step-done", friday, "F", "lay out wool")
    (bath,) = buttons(client, friday, "make-bath")
    send(client, "make-bath", bath)

    # Here it is Tuesday 24 November, 07:30, so that is when they are said to be done.
    rows = [row for row in cards(client, "2026-11-24T08:00") if " F Group day" in row]
    assert [row for row in rows if "Lay out wool done 07:30" in row]
    assert [row for row in rows if "Make nettle bath done 07:30" in row]
    assert StepDone.objects.of(Studio.objects.get()).count() == 2


def test_what_a_source_told_of_is_carried_in_by_one_tap(client: Client) -> None:
    (tap_of,) = buttons(client, MONDAY, "pick-up")

    send(client, "pick-up", tap_of)

    assert tap_of["as_told"] == "yes"
    lot = next(row for row in shelf(nov(23, 18)).lots if row.code == "AV-1123")
    assert lot.left_mg == 2_436_000


def test_who_only_looks_on_has_nothing_to_tap() -> None:
    facts = facts_at(Studio.objects.get(), at=nov(23, 7, 30), days=7)
    found = today(facts, project(facts, days=7), carried="", may_write=False)

    assert [see.taps for see in found.flags if see.taps] == []
    assert [card.taps for card in found.steps if card.taps] == []


def shelf(at: datetime = AT_EIGHT) -> Shelf:
    return facts_at(Studio.objects.get(), at=at, days=7).shelf
