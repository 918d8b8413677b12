"""The bare references that the forecast is scored against say what the libraries say.

Values: cases/intermittent.json, from statsforecast 2.1.1, one step ahead at the end of each series.
"""

import json
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from tests.benchmarks.point_methods import croston, point, quantiles, tsb

CASES = json.loads((Path(__file__).parent / "cases" / "intermittent.json").read_text("utf-8"))
SERIES = pytest.mark.parametrize("case", CASES["series"], ids=lambda case: case["id"])
LEVELS = np.array([0.1, 0.5, 0.9])


@SERIES
def test_croston_and_sba_give_the_librarys_forecast(case: dict[str, Any]) -> None:
    series, expected = np.array(case["series"], float), case["reference"]

    found = {name: point(name, series).mean[-1] for name in ("Croston", "SBA")}

    assert found["Croston"] == pytest.approx(expected["croston_alpha_0.1"], rel=1e-6)
    assert found["SBA"] == pytest.approx(expected["sba_alpha_0.1"], rel=1e-6)


@SERIES
@pytest.mark.parametrize(
    ("size", "chance", "name"),
    [(0.1, 0.1, "tsb_alpha_d_0.1_alpha_p_0.1"), (0.2, 0.05, "tsb_alpha_d_0.2_alpha_p_0.05")],
)
def test_tsb_gives_the_librarys_forecast(
    case: dict[str, Any], size: float, chance: float, name: str
) -> None:
    sizes, chances = tsb(np.array(case["series"], float), size, chance)

    assert sizes[-1] * chances[-1] == pytest.approx(case["reference"][name], rel=1e-6)


def test_a_forecast_knows_nothing_of_its_own_period() -> None:
    series = np.array([0.0, 2, 0, 5])

    before, _ = croston(series[:3], 0.1)
    along, _ = croston(series, 0.1)

    assert along[3] == before[3] == 2


@pytest.mark.parametrize("spread", ["moments", "errors", "hurdle"])
def test_every_spread_is_in_order_and_holds_the_middle(spread: str) -> None:
    series = np.array([4.0, 6, 0, 5, 7, 4, 6, 0, 5, 6])

    said = quantiles(point("TSB", series), series, origin=10, ahead=1, levels=LEVELS, counted=True,
                     spread=spread)  # fmt: skip

    assert said is not None
    assert 0 <= said[0] <= said[1] <= said[2]
    assert 3 <= said[1] <= 6
