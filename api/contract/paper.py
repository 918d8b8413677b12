"""The whole contract as one paper: what stands in every address, then what each one says.

The framework reads the addresses; what is shared, and the order in which all stands, is ours.
The paper names no host, no day and no machine, so it changes only when the contract does.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from drf_spectacular.generators import SchemaGenerator

from api.contract.answers.what_if import KIND_SHAPES
from api.contract.operation import parameter_of
from api.contract.shapes import SHARED, TEXT
from api.entries.contract import ENTRY
from api.records.contract import shapes
from api.rest.contract import AT, CURSOR, DAYS, HEADINGS, LIMIT, PAGE, STUDIO

API = Path(__file__).resolve().parent.parent
COMMITTED = API / "openapi.json"
RELEASED = API / "openapi-released.json"
VERSION = "1"
PROBLEM_TYPE = "application/problem+json"
ABOUT = """\
Everything that a studio can do with its dye larder, for other programs: what lies on the shelves, \
what comes from which source, what was promised to whom, and what can be dyed this week.

Amounts are decimal strings with a unit and never rounded: `{"amount": "640", "unit": "g"}`. \
Moments are ISO 8601 with an offset, days ISO 8601. A member that an answer gains later is to be \
passed over; a member that we do not know is refused in what comes in.

What is recorded carries an `id` that the client makes (a UUID). The same id with the same body \
gets the first answer again, so whatever was not answered may simply be sent again. Refusals are \
problems (RFC 9457): `type` and `code` are stable, `detail` is one sentence for people, in the \
language that Accept-Language asks for where we speak it, else in English.\
"""
SHARED_WORDS = (AT, CURSOR, DAYS, LIMIT, PAGE, STUDIO)
RETRY_AFTER = {
    "description": "After how many seconds to come again.",
    "schema": {"type": "integer", "minimum": 0},
}
HEADERS = {
    "ETag": {"description": "The state that was read, for If-None-Match and If-Match.",
             "schema": TEXT},
    "RetryAfter": RETRY_AFTER,
    "WWWAuthenticate": {"description": "How to sign in: Bearer.", "schema": TEXT},
}  # fmt: skip
OF_STATUS = {
    401: {"WWW-Authenticate": "WWWAuthenticate"},
    429: {"Retry-After": "RetryAfter"},
    503: {"Retry-After": "RetryAfter"},
}
CONDITIONS = {
    "IfNoneMatch": {
        "name": "If-None-Match",
        "in": "header",
        "description": "ETags of what one has already; if one still holds, the answer is 304.",
        "schema": TEXT,
    },
    "IfMatch": {
        "name": "If-Match",
        "in": "header",
        "required": True,
        "description": "The ETag of what was read; if it holds no more, nothing is changed: 412.",
        "schema": {**TEXT, "pattern": r'^(\*|"[!#-~]{1,60}")$'},
    },
}
SCHEMES = {
    "token": {
        "type": "http",
        "scheme": "bearer",
        "description": "A token of a member, for one studio, with a right and an end.",
    },
    "cookie": {
        "type": "apiKey",
        "in": "cookie",
        "name": "sessionid",
        "description": "Whoever signed in on the pages; a write also wants X-CSRFToken.",
    },
}


def paper() -> dict[str, Any]:
    """The contract as it follows from the views."""
    read = SchemaGenerator().get_schema(public=True)  # type: ignore[no-untyped-call]
    paths = {path: _sorted(read["paths"][path]) for path in sorted(read["paths"])}
    tags = sorted({tag for path in paths.values() for one in path.values() for tag in one["tags"]})
    return {
        "openapi": "3.1.1",
        "info": {"title": "Dye Larder", "version": VERSION, "description": ABOUT},
        "servers": [{"url": "/"}],
        "security": [{"token": []}, {"cookie": []}],
        "tags": [{"name": tag} for tag in tags],
        "paths": paths,
        "components": _components(read.get("components", {})),
    }


def text_of(written: dict[str, Any]) -> str:
    """The paper as it is committed and served."""
    return json.dumps(written, ensure_ascii=False, indent=1) + "\n"


def _components(read: dict[str, Any]) -> dict[str, Any]:
    schemas = {**read.get("schemas", {}), **SHARED, **shapes(), **KIND_SHAPES, "Entry": ENTRY}
    return {
        "schemas": {name: schemas[name] for name in sorted(schemas)},
        "responses": {f"Refused{status}": _refusal(status) for status in HEADINGS},
        "parameters": {
            **{asked.shared: parameter_of(asked) for asked in SHARED_WORDS},
            **CONDITIONS,
        },
        "headers": HEADERS,
        "securitySchemes": SCHEMES,
    }


def _refusal(status: int) -> dict[str, Any]:
    headers = {
        name: {"$ref": f"#/components/headers/{where}"}
        for name, where in OF_STATUS.get(status, {}).items()
    }
    return {
        "description": HEADINGS[status],
        **({"headers": headers} if headers else {}),
        "content": {PROBLEM_TYPE: {"schema": {"$ref": "#/components/schemas/Problem"}}},
    }


def _sorted(operations: dict[str, Any]) -> dict[str, Any]:
    order = ("get", "post", "put", "patch", "delete")
    return {method: operations[method] for method in order if method in operations}
