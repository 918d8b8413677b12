"""Ask every operation of the contract what the contract allows, and what it does not.

    python -m tests.api.contract.thorough [EXAMPLES] [OPERATION…]

All phases and all checks of schemathesis, against the service as WSGI serves it, in a process of
its own whose environment names a larder that may be spoilt. Prints each failure and ends with 1,
or says in one line what was asked.
"""

from __future__ import annotations

import collections
import os
import sys
from collections.abc import Iterator
from typing import Any

import django

SHORT = 6
ALIKE = 2  # of one kind, in the short profile
SEED = 20261123
# Twenty kinds of change make a thousand cases at the borders, which the long profile asks.
WIDE = ["what_if"]
ACCEPTED = ["2xx", "304", "401", "403", "404", "409", "429", "503"]
# A change without If-Match is answered 428 (RFC 6585), which the check does not think of.
NOT_MATCHED = {
    "missing_required_header": {"expected-statuses": ["400", "401", "403", "404", "428"]}
}
# A batch is taken, and each entry that breaks its form is answered so.
EACH_ON_ITS_OWN = {
    "positive_data_acceptance": {"expected-statuses": [*ACCEPTED, "400", "422"]},
    "negative_data_rejection": {
        "expected-statuses": ["200", "400", "401", "403", "404", "406", "415", "422"]
    },
}
NO_COVERAGE = {"coverage": {"enabled": False}}
# Words of an address that are well formed each and cannot be understood together, or that name
# something which is not there: 400 with a sentence is the promised answer to them.
TOGETHER = ["coming", "figures", "how_big", "missed", "put_by", "shelves", "thanks", "totals"]
# A body of the right form whose words cannot be understood (an amount in no unit) is answered 422;
# If-Match with an ETag that never was 412.
UNDERSTOOD = ["412", "422"]


def main(examples: int, *only: str) -> int:
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "api.settings")
    os.environ["DYE_LARDER_LIMITS"] = "off"  # An answer “too often” would hide what is wrong.
    django.setup()
    from django.core import signals
    from django.db import close_old_connections

    from api.seeking import start

    # As for the client of tests: to open a file anew for each of thousands is a tenth of the time.
    signals.request_started.disconnect(close_old_connections)
    signals.request_finished.disconnect(close_old_connections)

    start.begin = lambda: None  # A search that is asked for is not done: it takes a minute.
    failures, asked = _asked(examples, only)
    for failure in failures:
        print(failure, end="\n\n")
    counts = ", ".join(f"{number} in {phase}" for phase, number in sorted(asked.items()))
    print(f"{len(failures)} failures; asked {counts}.")
    return 1 if failures or not asked else 0


def _asked(examples: int, only: tuple[str, ...]) -> tuple[list[str], collections.Counter[str]]:
    import schemathesis
    from schemathesis import engine
    from schemathesis.config import SchemathesisConfig

    from api.wsgi import application
    from tests.api.contract.asker import Asker
    from tests.api.contract.material import prepare

    prepare()
    asker = Asker(application)
    config = SchemathesisConfig.from_dict(_config(examples, asker.first, only))
    contract = schemathesis.openapi.from_wsgi("/api/v1/schema.json", asker, config=config)
    failures: dict[str, None] = {}
    asked: collections.Counter[str] = collections.Counter()
    for event in engine.from_schema(contract).execute():
        failures |= dict.fromkeys(_told(event))
        recorder = getattr(event, "recorder", None)
        if recorder is not None:
            asked[str(event.phase.value)] += len(recorder.interactions)  # type: ignore[attr-defined]
    return list(failures), asked


def _config(examples: int, token: str, only: tuple[str, ...]) -> dict[str, Any]:
    from tests.api.contract.asker import OTHERS, STUDIO

    left_out, wide = ([], []) if examples > SHORT else (_alike(), WIDE)
    if only:
        left_out, wide = _others(only), []

    def accepting(*statuses: str) -> dict[str, Any]:
        return {
            "positive_data_acceptance": {"expected-statuses": [*ACCEPTED, *statuses]},
            # RFC 6585, 3: a change without If-Match.
            "missing_required_header": {"expected-statuses": ["4xx"]},
        }

    return {
        "seed": SEED,
        "workers": 1,
        "cache": {"enabled": False},
        "continue-on-failure": True,
        # A text with NUL is refused: no database keeps it, and the contract has no word for it.
        "generation": {
            "max-examples": examples,
            "database": "none",
            "deterministic": True,
            "allow-x00": False,
        },
        "headers": {"Accept-Encoding": "identity"},  # Nobody unpacks it on this way.
        "auth": {"openapi": {"token": {"bearer": token}}},
        "dictionaries": {
            "studios": {"values": [STUDIO]},
            "any state": {"values": ["*"]},
            "few": {"values": list(range(1, OTHERS + 1))},
        },
        "parameters": {
            "query.studio": {"dictionary": "studios", "probability": 0.8},
            # What is there, and as it is: by chance alone nothing would ever be changed or ended.
            "header.If-Match": {"dictionary": "any state", "probability": 0.5},
            **{
                f"path.{name}": {"dictionary": "few", "probability": 0.5}
                for name in ("member", "token", "invitation")
            },
        },
        # Without a link among them there is nowhere to go on to.
        "phases": {"stateful": {"enabled": not only or _linked(only)}},
        "checks": {**accepting(*UNDERSTOOD), **NOT_MATCHED},
        "operations": [
            {
                "include-operation-id": [*TOGETHER, *_paged()],
                "checks": accepting(*UNDERSTOOD, "400"),
            },
            # Whether a row is there already hangs on the page, and so which header is needed.
            {
                "include-operation-id": ["put_notebook_row"],
                "checks": accepting(*UNDERSTOOD, "400", "428"),
            },
            {
                "include-operation-id": [*_verbs(), "settle_entry"],
                "checks": accepting(*UNDERSTOOD, "400"),
            },
            {"include-operation-id": ["enter_all"], "checks": EACH_ON_ITS_OWN},
            {
                # Open to read; whoever would write there is asked who they are first.
                "include-operation-id": ["notebook", "schema"],
                "checks": {"unsupported_method": {"enabled": False}},
            },
            # Each row is asked for each case, so they are two rows and not two hundred.
            *([{"include-operation-id": left_out, "enabled": False}] if left_out else []),
            *([{"include-operation-id": wide, "phases": NO_COVERAGE}] if wide else []),
        ],
    }


def _alike() -> list[str]:
    """What is made alike in one file of views, but for a few that stand for all."""
    from tests.api.contract.forms import operations, views

    made_by = views()
    alike: dict[tuple[object, ...], list[str]] = {}
    for row in operations():
        view = made_by[row.method, row.path]
        kind = (view.__module__, row.method, row.path.count("{"))
        alike.setdefault(kind, []).append(row.name)
    return [
        name
        for names in alike.values()
        for name in set(names) - set(names[:: -(-len(names) // ALIKE)])
    ]


def _verbs() -> list[str]:
    """Entries: a text with a character that cannot be seen is refused with 400, and JSON Schema
    has no portable word for such characters. `settle_entry` takes the body of any of them, so its
    form allows a number of any size too, which is refused in the same way."""
    from api.entries.registry import VERBS

    return [f"enter_{name.replace('-', '_')}" for name in VERBS]


def _paged() -> list[str]:
    """Lists with a cursor: a text that we never gave out as one is answered 400."""
    from tests.api.contract.forms import operations

    cursor = {"$ref": "#/components/parameters/cursor"}
    return [row.name for row in operations() if cursor in row.said.get("parameters", ())]


def _others(only: tuple[str, ...]) -> list[str]:
    """Every operation but these."""
    from tests.api.contract.forms import operations

    names = [row.name for row in operations()]
    assert set(only) <= set(names), sorted(set(only) - set(names))
    return [name for name in names if name not in only]


def _linked(only: tuple[str, ...]) -> bool:
    """Whether an answer of these says where to go on, to one of these."""
    from tests.api.contract.forms import operations

    return any(
        link.get("operationId") in only
        for row in operations()
        if row.name in only
        for answer in row.said["responses"].values()
        for link in answer.get("links", {}).values()
    )


def _told(event: Any) -> Iterator[str]:
    """What an event tells of failures, with the request that showed it and its answer."""
    info = getattr(event, "info", None)
    if info is not None and hasattr(event, "related_to_operation"):
        yield f"{event.label}: {event.value!r}"
    recorder = getattr(event, "recorder", None)
    for case, nodes in getattr(recorder, "checks", {}).items():
        for node in nodes:
            if node.failure_info is not None:
                failure, found = node.failure_info.failure, recorder.interactions.get(case)
                answer = b"" if found is None or found.response is None else found.response.content
                yield (
                    f"{failure.operation} ({event.phase.value}): {node.name}: {failure.title}\n"
                    f"{failure.message[:600]}\n{node.failure_info.code_sample[:900]}\n"
                    f"{answer[:600].decode(errors='replace')}"
                )


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else SHORT, *sys.argv[2:]))
