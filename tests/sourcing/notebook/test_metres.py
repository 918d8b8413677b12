"""Metres in a notebook: of measured cloth they are its weight, of other cloth they are refused."""

from __future__ import annotations

import pytest

from inventory.models import Studio
from inventory.shelves import left_at
from sourcing.models import Run
from sourcing.notebook.load import load_files
from sourcing.notebook.problem import NotebookRefused
from tests.sourcing.notebook.desk import altered
from tests.sourcing.week.pellitory import MONDAY_0730

pytestmark = pytest.mark.django_db
HEAD = "labelled,set aside,site\n"
LINEN = 'L-31,linen,cloth,"3,000 g",no,,no,,,no,yes,,yes,,\n'
OTHERS = ("W-88", "W-90", "W-85", "S-12", "T-07")


def linen(left: str, per_m2: str = "250 g per m²", width: str = "160 cm") -> dict[str, bytes]:
    """The demo studio with its linen measured: 400 g a metre."""
    files = altered("fibre.csv", HEAD, HEAD.replace("site\n", "site,per m2,width\n"))
    text = files["fibre.csv"].decode()
    assert LINEN in text
    new = f"L-31,linen,cloth,{left},no,,no,,,no,yes,,yes,,,{per_m2},{width}\n"
    return files | {"fibre.csv": text.replace(LINEN, new).encode()}


def with_run(files: dict[str, bytes], weight: str, lot: str = "L-31") -> dict[str, bytes]:
    text = files["runs.csv"].decode()
    old = 'B,old-rose,linen,"3,000 g",L-31,'
    assert old in text
    new = f"B,old-rose,linen,{weight},{lot},"
    return files | {"runs.csv": text.replace(old, new).encode()}


def refused(files: dict[str, bytes]) -> list[str]:
    with pytest.raises(NotebookRefused) as refusal:
        load_files(files)
    return [str(row) for row in refusal.value.problems]


@pytest.mark.parametrize("left", ["7.5 m", "750 cm", '"3,000 g"'])
def test_metres_of_measured_cloth_are_its_weight(left: str) -> None:
    load_files(linen(left))

    assert left_at(Studio.objects.get(), "L-31", at=MONDAY_0730).amount == 3_000_000


def test_ounces_on_a_square_yard_are_read() -> None:
    # 7.373 oz on a square yard x 33.90575 (NIST SP 811) = 249.987 g per m².
    load_files(linen("7.5 m", per_m2="7.373 oz/yd²"))

    left = left_at(Studio.objects.get(), "L-31", at=MONDAY_0730).amount
    assert left == pytest.approx(7.5 * 1.6 * 249_987, abs=6)


def test_metres_of_a_run_are_of_its_lot_less_what_scouring_takes() -> None:
    # 5 m x 400 g = 2,000 g; the studio counts linen as it is bought (0 %).
    load_files(with_run(linen("7.5 m"), "5 m"))
    assert Run.objects.of(Studio.objects.get()).get(code="B").weight_mg == 2_000_000

    files = with_run(linen("7.5 m"), "7 m")
    rules = files["rules.csv"].decode().replace("linen,scour loss fraction,0 %",
                                                "linen,scour loss fraction,12 %")  # fmt: skip
    load_files(files | {"rules.csv": rules.encode()})
    # 7 m x 400 g x 0.88
    assert Run.objects.of(Studio.objects.get()).get(code="B").weight_mg == 2_464_000


@pytest.mark.parametrize(
    ("files", "sentence"),
    [
        (
            lambda: linen("7.5 m", per_m2="", width=""),
            'fibre.csv, line 5, column left: "7.5 m" stands there. '
            "Write its g per m² and its width too, or give the weight.",
        ),
        (
            lambda: linen('"3,000 g"', width=""),
            "fibre.csv, line 5, column width: "
            "Cloth is measured by both: write per m2 and width, or neither.",
        ),
        (
            lambda: linen('"3,000 g"', width="6 m"),
            'fibre.csv, line 5, column width: "6 m" stands there. '
            "Cloth is 1 cm to 5 m wide. Write such as 150 cm.",
        ),
        (
            lambda: linen('"3,000 g"', per_m2="4 g per m²"),
            'fibre.csv, line 5, column per m2: "4 g per m²" stands there. Cloth weighs from 5 to '
            "2000 g per m². Write the weight of a square metre, such as 180 g per m².",
        ),
        (
            lambda: linen('"3,000 g"', per_m2="heavy"),
            'fibre.csv, line 5, column per m2: "heavy" stands there. '
            "Write the weight of a square metre, such as 180 g per m².",
        ),
        (
            lambda: with_run(linen("7.5 m"), "5 m", lot=""),
            'runs.csv, line 3, column weight: "5 m" stands there. '
            "Metres are of one fibre lot. Write which, or give the weight.",
        ),
        (
            lambda: with_run(linen('"3,000 g"', per_m2="", width=""), "5 m"),
            'runs.csv, line 3, column weight: "5 m" stands there. L-31 has no g per m² and width. '
            "Write it on the page fibre, or give the weight here.",
        ),
    ],
)
def test_metres_that_nobody_can_weigh_are_refused(files: object, sentence: str) -> None:
    assert sentence in refused(files())  # type: ignore[operator]
