"""The contract as tests read it: its operations, and whether a value has the form that it says."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any

from drf_spectacular.generators import SchemaGenerator
from jsonschema import Draft202012Validator

from api.contract.paper import paper

JSON = "application/json"
PROBLEM = "application/problem+json"


@dataclass(frozen=True)
class Found:
    """One operation of the contract."""

    path: str
    method: str
    said: dict[str, Any]

    @property
    def name(self) -> str:
        return str(self.said["operationId"])

    @property
    def answer(self) -> dict[str, Any]:
        """What it answers when all is well."""
        well = [row for status, row in self.said["responses"].items() if status[0] == "2"]
        # What came before is answered 200 where the first was 201: with the same.
        assert well, self.name
        assert all(row == well[0] for row in well), self.name
        found: dict[str, Any] = well[0]
        return found


@cache
def contract() -> dict[str, Any]:
    """The contract, read from the views once."""
    return paper()


def operations() -> Iterator[Found]:
    """Every operation of the contract."""
    for path, methods in contract()["paths"].items():
        for method, said in methods.items():
            yield Found(path, method, said)


def views() -> dict[tuple[str, str], type]:
    """The view that answers each operation, by method and address."""
    reader = SchemaGenerator()  # type: ignore[no-untyped-call]
    reader._initialise_endpoints()  # type: ignore[no-untyped-call]
    return {(method.lower(), path): call.cls for path, _, method, call in reader.endpoints}


def faults(value: object, form: dict[str, Any], *, closed: bool = False) -> list[str]:
    """What a value has that its form does not say; closed: members that nobody wrote down too."""
    components = contract()["components"]
    known = {**form, "components": components}
    judge = Draft202012Validator(_closed(known) if closed else known)
    return [f"{'/'.join(map(str, row.absolute_path))}: {row.message}" for row in
            judge.iter_errors(value)]  # fmt: skip


def _closed(form: Any) -> Any:
    if isinstance(form, list):
        return [_closed(row) for row in form]
    if not isinstance(form, dict):
        return form
    inner = {name: _closed(row) for name, row in form.items()}
    bare = form.get("type") == "object" and "additionalProperties" not in form
    return {**inner, "additionalProperties": False} if bare and "properties" in form else inner
