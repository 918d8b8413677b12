"""Addresses of pages, looked up in the address book once per process.

A page of fifty rows names hundreds; the book does not change while it is read from.
"""

from __future__ import annotations

from functools import cache

from django.urls import reverse


@cache
def address_of(name: str, *words: str) -> str:
    """The address of a page by its name; `words` are few for each name, never a code or a key."""
    return reverse(name, args=words)
