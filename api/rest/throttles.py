"""Programs' requests counted by the token or account that they come with."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rest_framework.throttling import BaseThrottle

from api.throttles.door import let_through

if TYPE_CHECKING:
    from rest_framework.request import Request
    from rest_framework.views import APIView

    from api.visitor import Visitor


class ByVisitor(BaseThrottle):
    """Counts whoever was let in; strangers were counted by their address before."""

    def allow_request(self, request: Request, view: APIView) -> bool:
        """True, or the refusal itself, which says more than no."""
        visitor: Visitor | None = getattr(request._request, "visitor", None)
        if visitor is None:
            return True
        if visitor.token is not None:
            let_through(request, "token", str(visitor.token))
        elif visitor.account is not None:
            let_through(request, "account", str(visitor.account))
        return True
