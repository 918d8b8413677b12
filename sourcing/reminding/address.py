"""Whether a text is an e-mail address that any mail server takes."""

from __future__ import annotations

import re

LONGEST, LONGEST_LOCAL = 254, 64  # RFC 5321, 4.5.3.1, less the angle brackets of a path
_ATOM = r"[A-Za-z0-9!#$%&'*+/=?^_`{|}~-]+"  # RFC 5322, 3.2.3
_LABEL = r"[A-Za-z0-9](?:[A-Za-z0-9-]{0,61}[A-Za-z0-9])?"  # RFC 1035, 2.3.1
_ADDRESS = re.compile(rf"(?P<local>{_ATOM}(?:\.{_ATOM})*)@{_LABEL}(?:\.{_LABEL})+")


def is_address(text: str) -> bool:
    """Whether letters can go to it: plain letters, a domain with a dot, nothing quoted.

    >>> is_address("dyer@example.org"), is_address("dyer@example"), is_address("a b@example.org")
    (True, False, False)
    """
    found = _ADDRESS.fullmatch(text)
    return found is not None and len(text) <= LONGEST and len(found["local"]) <= LONGEST_LOCAL
