"""What a program that keeps to the contract of before would stumble over in the one of now."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Any

from api.contract.narrower import Narrowing, choices, followed

Paper = Mapping[str, Any]
METHODS = ("get", "put", "post", "delete", "patch")


def breaks(was: Paper, now: Paper) -> list[str]:
    """One sentence for each break, in the order of the old contract; none: all still works."""
    found = list(_schemes(was, now))
    there = _operations(now)
    for place, operation in _operations(was).items():
        if place in there:
            broken = _Operation(was, now, operation, there[place])
            found += [f"{place}: {sentence}" for sentence in broken.breaks()]
        else:
            found.append(f"{place}: is gone")
    return list(dict.fromkeys(found))


def _operations(paper: Paper) -> dict[str, Paper]:
    """Every operation under its method and address, whatever the places in it are called."""
    return {
        f"{method.upper()} {re.sub(r'{[^}]*}', '{}', path)}": {
            **one, "parameters": [*methods.get("parameters", ()), *one.get("parameters", ())]
        }
        for path, methods in paper["paths"].items()
        for method, one in methods.items()
        if method in METHODS
    }  # fmt: skip


def _schemes(was: Paper, now: Paper) -> Iterator[str]:
    old, new = (paper.get("components", {}).get("securitySchemes", {}) for paper in (was, now))
    for name, scheme in old.items():
        said = {key: value for key, value in scheme.items() if key != "description"}
        if any(new.get(name, {}).get(key) != value for key, value in said.items()):
            yield f"the way in “{name}” is gone or another one"


class _Operation:
    """One operation before and now."""

    def __init__(self, paper: Paper, now_paper: Paper, was: Paper, now: Paper) -> None:
        self.paper, self.now_paper, self.was, self.now = paper, now_paper, was, now
        self.inwards = Narrowing(paper, now_paper)
        self.outwards = Narrowing(now_paper, paper)

    def breaks(self) -> Iterator[str]:
        if self.was.get("operationId") != self.now.get("operationId"):
            yield f"is not called {self.was.get('operationId')} any more"
        yield from self._ways_in()
        yield from self._words()
        yield from self._body()
        yield from self._answers()

    def _ways_in(self) -> Iterator[str]:
        old = self.was.get("security", self.paper.get("security", []))
        new = self.now.get("security", self.now_paper.get("security", []))
        if not old and new and {} not in new:
            yield "was open and wants somebody signed in"
        for way in old:
            if new and way not in new and {} not in new:
                yield f"does not let in with {' and '.join(way) or 'nothing'} any more"

    def _words(self) -> Iterator[str]:
        old, new = self._named(self.paper, self.was), self._named(self.now_paper, self.now)
        for (place, name), word in new.items():
            if word.get("required") and place != "path":
                before = old.get((place, name))
                if before is None or not before.get("required"):
                    yield f"wants {name} in the {place}"
        for (place, name), word in old.items():
            if (place, name) not in new:
                yield f"knows {name} in the {place} no more"
                continue
            after = new[place, name]
            for lost in self.inwards.lost(word.get("schema", {}), after.get("schema", {})):
                yield f"{name} in the {place}: {lost.what}"

    @staticmethod
    def _named(paper: Paper, operation: Paper) -> dict[tuple[str, str], Paper]:
        """Words by place and name; those of an address by their order in it."""
        words = [followed(paper, word) for word in operation["parameters"]]
        in_path = [word for word in words if word["in"] == "path"]
        named = {(word["in"], word["name"]): word for word in words if word["in"] != "path"}
        return {**named, **{("path", str(n)): word for n, word in enumerate(in_path, 1)}}

    def _body(self) -> Iterator[str]:
        old = followed(self.paper, self.was.get("requestBody", {}))
        new = followed(self.now_paper, self.now.get("requestBody", {}))
        if new.get("required") and not old.get("required"):
            yield "wants a body"
        if old and not new:
            yield "takes no body any more"
            return
        for media, shown in old.get("content", {}).items():
            after = new.get("content", {}).get(media)
            if after is None:
                yield f"takes no {media} any more"
                continue
            for lost in self.inwards.lost(shown.get("schema", {}), after.get("schema", {})):
                yield f"body {lost.where or '/'} {lost.what}"

    def _answers(self) -> Iterator[str]:
        for status, answer in self.was.get("responses", {}).items():
            if status not in self.now.get("responses", {}):
                yield f"answers {status} no more"
                continue
            old = followed(self.paper, answer)
            new = followed(self.now_paper, self.now["responses"][status])
            for name in old.get("headers", {}):
                if name not in new.get("headers", {}):
                    yield f"{status} has no {name} any more"
            yield from self._given(status, old, new)

    def _given(self, status: str, old: Paper, new: Paper) -> Iterator[str]:
        for media, shown in old.get("content", {}).items():
            after = new.get("content", {}).get(media)
            if after is None:
                yield f"{status} gives no {media} any more"
                continue
            form, now = shown.get("schema", {}), after.get("schema", {})
            for lost in self.outwards.lost(now, form):
                yield f"{status} {lost.where or '/'}: {_given_words(lost.what)}"
            for where in self._gone(form, now, "", frozenset()):
                yield f"{status} {where} is gone"

    def _gone(self, form: Paper, now: Paper, where: str, seen: frozenset[Any]) -> Iterator[str]:
        """Members that an answer had and that its form does not know any more."""
        both = (form.get("$ref"), now.get("$ref"))
        if both != (None, None) and both in seen:
            return
        seen = seen | {both}
        old, new = followed(self.paper, form), followed(self.now_paper, now)
        known: dict[str, Paper] = {}
        for one in choices(new):
            known |= followed(self.now_paper, one).get("properties", {})
        for one in choices(old):
            plain = followed(self.paper, one)
            for name, member in plain.get("properties", {}).items():
                if name not in known:
                    yield f"{where}/{name}"
                else:
                    yield from self._gone(member, known[name], f"{where}/{name}", seen)
        if "items" in old and "items" in new:
            yield from self._gone(old["items"], new["items"], f"{where}/*", seen)


def _given_words(what: str) -> str:
    """What was lost when the two are swapped, said of an answer."""
    return {
        "has to be there": "need not be there any more",
        "is not known any more": "was not known before",
        "knows no other member any more": "may hold members that it did not",
    }.get(what, f"before, it {what.removesuffix(' any more')}")
