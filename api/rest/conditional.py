"""Has it changed since it was read? ETags, `If-None-Match` and `If-Match` (RFC 9110, 13).

A view that is read says `return answered(request, found)`: the answer carries a strong ETag, and
whoever has it already gets 304. A view that changes what others may change too says
`check_change(request, tag)` inside the transaction and behind the lock, as soon as it is known
that the request is good otherwise (13.2.1), where `tag` is `tag_of(…)` of what stands there now,
or None where nothing does.
"""

from __future__ import annotations

import json
import re
from hashlib import blake2b

from django.http import HttpRequest, HttpResponse
from rest_framework.renderers import JSONRenderer
from rest_framework.request import Request

from api.rest.refused import Refused
from inventory.science.saying import say

TAG_BYTES = 12  # of the digest: 24 signs
# RFC 9110, 8.8.3: no sign has to be escaped, and a comma may stand inside the quotes.
TAG = re.compile(r'(?P<weak>W/)?(?P<opaque>"[\x21\x23-\x7e\x80-\xff]*")')
BETWEEN = re.compile(r"[ \t]*(?:,[ \t]*)+|[ \t]*$")
ANY = "*"
# Whoever may see it may keep it, and asks each time whether it still holds.
KEPT = "private, no-cache"
Asking = HttpRequest | Request
Tags = tuple[tuple[bool, str], ...]  # whether weak, and the opaque part with its quotes


class ChangedMeanwhile(Refused):
    """A change of a state that is no longer there."""

    code = "changed_meanwhile"

    def __init__(self, tag: str | None) -> None:
        detail = (
            "This was changed since you read it. Read it again, then change it with its new ETag."
            if tag
            else "There is nothing here any more. Look at the list, then write it as new."
        )
        super().__init__(detail, headers={"ETag": tag} if tag else {}, etag=tag)


class AlreadyThere(Refused):
    """Something written as new (`If-None-Match: *`) where something stands."""

    code = "already_there"

    def __init__(self, tag: str) -> None:
        detail = say(
            "Something stands here already. Read it, then change it with its ETag in If-Match."
        )
        super().__init__(detail, headers={"ETag": tag}, etag=tag)


class IfMatchNeeded(Refused):
    """A change of what others may change too, and it is not said which state is changed."""

    code = "if_match_needed"

    def __init__(self, tag: str | None = None) -> None:
        detail = say("Say which state you change: send the ETag that you read in If-Match.")
        super().__init__(detail, headers={"ETag": tag} if tag else {})


class TagsUnreadable(Refused):
    """An If-Match without an ETag as it was given out."""

    code = "etag_unreadable"

    def __init__(self) -> None:
        super().__init__("If-Match holds no ETag. Send it as you read it, with its quotes.")


def tag_of(*parts: object) -> str:
    """The strong ETag of a state: of its bytes, of a version, or of anything that JSON has."""
    digest = blake2b(digest_size=TAG_BYTES)
    for part in parts:
        raw = part if isinstance(part, bytes) else json.dumps(part, default=str).encode()
        digest.update(len(raw).to_bytes(8, "big") + raw)
    return f'"{digest.hexdigest()}"'


def answered(request: Asking, found: object, *, tag: str | None = None) -> HttpResponse:
    """What was read as JSON with its ETag, or 304 for whoever has it.

    `tag` is that of the version where one is at hand; else it is made from the bytes.
    """
    if tag is not None and is_known(request, tag):
        return _not_modified(tag)
    body = JSONRenderer().render(found)
    return answered_raw(request, body, kind="application/json", tag=tag or tag_of(body))


def answered_raw(request: Asking, body: bytes, *, kind: str, tag: str) -> HttpResponse:
    """What was read in any form, with its ETag; or 304 for whoever has it."""
    match = request.headers.get("If-Match")
    if match is not None and not _matches(match, tag):
        raise ChangedMeanwhile(tag)
    if is_known(request, tag):
        return _not_modified(tag)
    return _with_tag(HttpResponse(body, content_type=kind), tag)


def _not_modified(tag: str) -> HttpResponse:
    """RFC 9110, 15.4.5: no body, and the headers that the whole answer would have had."""
    answer = _with_tag(HttpResponse(status=304), tag)
    del answer["Content-Type"]
    return answer


def is_known(request: Asking, tag: str) -> bool:
    """Whether whoever reads has this state already (13.1.2, weak comparison)."""
    header = request.headers.get("If-None-Match")
    if header is None:
        return False
    return header.strip() == ANY or tag in {opaque for _, opaque in _tags(header) or ()}


def check_change(request: Asking, tag: str | None, *, needed: bool = True) -> None:
    """Refuse a change that was made from another state than the one that stands.

    Parameters
    ----------
    tag : ETag of what stands there now; None where nothing does
    needed : whether what stands there is changed only by who says which state that is

    Raises
    ------
    ChangedMeanwhile, AlreadyThere
        412, with the ETag that holds now.
    IfMatchNeeded
        428.
    TagsUnreadable
        400.
    """
    match, none = request.headers.get("If-Match"), request.headers.get("If-None-Match")
    if match is not None and not _matches(match, tag):
        raise ChangedMeanwhile(tag)
    if none is not None and tag is not None and is_known(request, tag):
        raise AlreadyThere(tag)
    if needed and match is None and tag is not None:
        raise IfMatchNeeded(tag)


def _matches(header: str, tag: str | None) -> bool:
    """Strong comparison (13.1.1): a weak tag equals none, not even itself."""
    if header.strip() == ANY:
        return tag is not None
    tags = _tags(header)
    if not tags:
        raise TagsUnreadable
    return any(not weak and opaque == tag for weak, opaque in tags)


def _tags(header: str) -> Tags | None:
    """The tags of a list; empty places count nothing (5.6.1), None where it cannot be read."""
    found, at = [], 0
    text = header.strip(" \t,")
    while at < len(text):
        tag = TAG.match(text, at)
        after = tag and BETWEEN.match(text, tag.end())
        if tag is None or after is None:
            return None
        found.append((tag["weak"] is not None, tag["opaque"]))
        at = after.end()
    return tuple(found)


def _with_tag(answer: HttpResponse, tag: str) -> HttpResponse:
    answer["ETag"] = tag
    answer["Cache-Control"] = KEPT
    return answer
