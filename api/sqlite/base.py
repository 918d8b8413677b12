"""The database engine of an embedded larder; Django asks an engine for a file of this name."""

from __future__ import annotations

import sqlite3

from django.db.backends.sqlite3.base import DatabaseWrapper as AsShipped
from django.db.backends.sqlite3.features import DatabaseFeatures as AsShippedFeatures

JSON_SINCE = (3, 38)  # https://www.sqlite.org/json1.html: built in by default from then on


class DatabaseFeatures(AsShippedFeatures):
    # Django finds this out inside a transaction, which with our settings takes the write lock: a
    # process that began to read while somebody was writing waited for him, and where that took
    # too long it held for its whole life that there is no JSON.
    supports_json_field = sqlite3.sqlite_version_info >= JSON_SINCE


class DatabaseWrapper(AsShipped):
    features_class = DatabaseFeatures
