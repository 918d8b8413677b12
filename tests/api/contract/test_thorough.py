"""Whatever the contract allows is accepted, and what it does not is refused: asked at length.

Short in each build: some of each kind of operation. `DYE_LARDER_LONG=1` asks all of them, two
hundred examples each.
"""

from __future__ import annotations

import os
from pathlib import Path

from tests.inventory.scratch import ROOT, python, scratch_database

YARD = ROOT / "fixtures" / "pellitory-yard"
EXAMPLES, TIMEOUT_S = ("200", 14_400) if os.environ.get("DYE_LARDER_LONG") == "1" else ("6", 600)


def test_no_operation_answers_other_than_the_contract_says(tmp_path: Path) -> None:
    with scratch_database(tmp_path, holding=YARD) as environment:
        told = python(
            environment, "-m", "tests.api.contract.thorough", EXAMPLES, timeout_s=TIMEOUT_S
        )

    said = told.splitlines()[-1]
    assert said.startswith("0 failures; asked ")
    for phase in ("examples", "coverage", "fuzzing", "stateful"):
        assert f" in {phase}" in said
