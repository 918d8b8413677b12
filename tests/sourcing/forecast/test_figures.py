"""The figures behind the forecast: each has a range, a basis and a reason; start-up needs none."""

import subprocess
import sys
from dataclasses import fields

from sourcing.forecast.figures import shipped


def test_every_figure_is_in_its_range_and_says_why() -> None:
    for each in fields(shipped()):
        figure = getattr(shipped(), each.name)

        assert figure.low <= figure.typical <= figure.high, each.name
        assert figure.source, each.name
        assert figure.basis == "published" or "measured" in figure.source, each.name


def test_facts_and_the_way_in_load_no_numpy() -> None:
    code = (
        "import sys, sourcing.forecast.facts, sourcing.forecast.arriving; "
        "print('numpy' in sys.modules)"
    )

    call = [sys.executable, "-c", code]
    found = subprocess.run(call, capture_output=True, text=True, check=False)

    assert found.stdout.strip() == "False", found.stderr
