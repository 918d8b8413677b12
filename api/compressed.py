"""Answers with their bytes pressed together, each form under an ETag of its own.

The framework makes the ETag of a compressed answer weak, and a weak one never fits `If-Match`
(RFC 9110, 13.1.1): whoever reads compressed could change nothing. As section 8.8.3.3 has it, the
compressed form gets a strong ETag of its own here, `"…-gzip"`; the views within see neither.
"""

from __future__ import annotations

from django.http import HttpRequest
from django.http.response import HttpResponseBase
from django.middleware.gzip import GZipMiddleware
from django.utils.cache import patch_vary_headers

MARK = '-gzip"'
ASKED = ("HTTP_IF_MATCH", "HTTP_IF_NONE_MATCH")


class Compressed(GZipMiddleware):
    """Middleware that compresses, and keeps ETags strong."""

    def process_request(self, request: HttpRequest) -> None:
        """Take the mark of the compressed form off the tags that are asked about."""
        for name in ASKED:
            if MARK in request.META.get(name, ""):
                request.META[name] = request.META[name].replace(MARK, '"')
                request.META["asked_compressed"] = True

    def process_response(
        self, request: HttpRequest, response: HttpResponseBase
    ) -> HttpResponseBase:
        """The answer, compressed where that is worth it; what is packed already stays as it is."""
        if response.headers.get("Content-Type") == "application/zip":
            return response
        tag = response.headers.get("ETag", "")
        answer: HttpResponseBase = super().process_response(request, response)
        pressed = answer is not None and answer.headers.get("Content-Encoding") == "gzip"
        if answer.status_code == 304:
            # RFC 9110, 15.4.5: under the headers that the whole answer would have had.
            patch_vary_headers(answer, ("Accept-Encoding",))
            pressed = bool(request.META.get("asked_compressed"))
        if pressed and tag.startswith('"') and not tag.endswith(MARK):
            answer.headers["ETag"] = tag[:-1] + MARK
        return answer
