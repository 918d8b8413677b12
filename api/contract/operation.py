"""One operation of the contract, from what its view says with `said`."""

from __future__ import annotations

import inspect
import json
import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from drf_spectacular.openapi import AutoSchema
from drf_spectacular.utils import Direction

from api.rest.contract import Said, Shown, Word, said_of

EXAMPLES = Path(__file__).parent / "examples"
IF_NONE_MATCH = {"$ref": "#/components/parameters/IfNoneMatch"}
IF_MATCH = {"$ref": "#/components/parameters/IfMatch"}
ETAG = {"ETag": {"$ref": "#/components/headers/ETag"}}
SIGNED_IN: list[dict[str, list[str]]] = [{"token": []}, {"cookie": []}]


class Operation(AutoSchema):
    """What a view says with `said`; a view that says nothing is read as the framework reads it."""

    def get_operation(self, *place: Any) -> dict[str, Any] | None:
        self.path, self.path_regex, self.path_prefix, method, self.registry = place
        self.method = method.upper()
        said = said_of(self.view, method)
        if said is None:
            read: dict[str, Any] | None = super().get_operation(*place)
            return read
        operation: dict[str, Any] = {
            "operationId": said.operation,
            "summary": said.summary,
            "description": said.about or self._meaning(),
            "tags": [said.tag or self.path.split("/")[3]],
            "security": [] if said.open else SIGNED_IN,
            "responses": self._answers(said),
        }
        if parameters := self._asked(said):
            operation["parameters"] = parameters
        if said.body is not None:
            operation["requestBody"] = self._body(said)
        return operation

    def get_auth(self) -> list[dict[str, list[str]]]:
        """Either way in, for a view that says nothing."""
        return SIGNED_IN

    def _meaning(self) -> str:
        """The view's own sentence, as its docstring has it behind the name of the method."""
        text = inspect.getdoc(getattr(self.view, self.method.lower())) or ""
        return text or (inspect.getdoc(type(self.view)) or "").removeprefix(f"{self.method}: ")

    def _asked(self, said: Said) -> list[Any]:
        known = re.findall(r"{(\w+)}", self.path)
        found: list[Any] = [
            parameter
            for parameter in self._resolve_path_parameters(known)  # type: ignore[no-untyped-call]
            if parameter["name"] not in {asked.name for asked in said.asks}
        ]
        found += [_parameter(asked) for asked in said.asks]
        if said.fresh:
            found.append(IF_NONE_MATCH)
        if said.guarded:
            found.append(IF_MATCH)
        return found

    def _body(self, said: Said) -> dict[str, Any]:
        media: dict[str, Any] = {"schema": self._shape(said.body, "request")}
        if said.body_example is not None:
            media["examples"] = {"one": {"value": said.body_example}}
        return {"required": True, "content": {said.takes: media}}

    def _answers(self, said: Said) -> dict[str, Any]:
        answer: dict[str, Any] = {"description": said.summary + "."}
        if said.answer is not None:
            answer["content"] = {said.gives: self._shown(said)}
        if said.fresh or said.guarded:
            answer["headers"] = ETAG
        if said.leads_to is not None:
            operation, key = said.leads_to
            link = {"operationId": operation, "parameters": {"key": f"$response.body#{key}"}}
            answer["links"] = {"one": link}
        answers = {str(status): answer for status in sorted((said.status, *said.also))}
        if said.fresh:
            answers["304"] = {"description": "Still as it was read.", "headers": ETAG}
        for status in said.refusals:
            answers[str(status)] = {"$ref": f"#/components/responses/Refused{status}"}
        return answers

    def _shown(self, said: Said) -> dict[str, Any]:
        shown = {"schema": self._shape(said.answer, "response")}
        example = said.example() if callable(said.example) else said.example
        example = example if example is not None else _written(said.operation)
        return shown if example is None else {**shown, "examples": {"one": {"value": example}}}

    def _shape(self, shown: Shown | None, direction: Direction) -> Any:
        if shown is None or isinstance(shown, Mapping):
            return shown
        return self.resolve_serializer(shown, direction).ref


def _parameter(asked: Word) -> dict[str, Any]:
    if asked.shared:
        return {"$ref": f"#/components/parameters/{asked.shared}"}
    return parameter_of(asked)


def parameter_of(asked: Word) -> dict[str, Any]:
    """A word of an address in full."""
    shown = {} if asked.example is None else {"examples": {"one": {"value": asked.example}}}
    return {
        "name": asked.name,
        "in": asked.place,
        "description": asked.about,
        **({"required": True} if asked.required else {}),
        "schema": dict(asked.shape),
        **shown,
    }


def _written(operation: str) -> object:
    file = EXAMPLES / f"{operation}.json"
    return json.loads(file.read_text(encoding="utf-8")) if file.exists() else None
