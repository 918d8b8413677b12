"""What the environment says, checked once; a value that does not parse stops the start-up."""

from __future__ import annotations

import os
import secrets
from pathlib import Path
from typing import Any
from urllib.parse import parse_qsl, unquote, urlsplit

from django.core.exceptions import ImproperlyConfigured


def flag(name: str, *, default: bool) -> bool:
    """True or false as the environment says it."""
    text = os.environ.get(name)
    if text is None:
        return default
    if text.lower() in {"1", "true", "yes", "on"}:
        return True
    if text.lower() in {"0", "false", "no", "off", ""}:
        return False
    raise ImproperlyConfigured(f"{name} is {text!r}; write 1 or 0.")


def words(name: str, *, default: list[str]) -> list[str]:
    """A list from a value with commas."""
    text = os.environ.get(name)
    return default if text is None else [word.strip() for word in text.split(",") if word.strip()]


def secret_key(state: Path) -> str:
    """The signing key: from the environment, else one made once and kept beside the database."""
    given = os.environ.get("DYE_LARDER_SECRET_KEY")
    if given:
        return given
    kept = state / "secret_key"
    if kept.exists():
        return kept.read_text(encoding="utf-8")
    state.mkdir(parents=True, exist_ok=True)
    # Opened with "x" so that two processes that start together do not end with two keys.
    try:
        with kept.open("x", encoding="utf-8") as file:
            kept.chmod(0o600)
            file.write(secrets.token_urlsafe(50))
    except FileExistsError:
        pass
    return kept.read_text(encoding="utf-8")


def database(url: str | None, state: Path) -> dict[str, Any]:
    """The database setting: SQLite beside the project, or what `DATABASE_URL` names."""
    if not url:
        return _sqlite(state / "larder.sqlite3")
    parts = urlsplit(url)
    if parts.scheme == "sqlite":
        return _sqlite(Path(unquote(parts.path)))
    if parts.scheme in {"postgres", "postgresql"}:
        name = unquote(parts.path.lstrip("/"))
        if not name:
            raise ImproperlyConfigured("DATABASE_URL names no database: postgresql://HOST/NAME.")
        return {
            "ENGINE": "django.db.backends.postgresql",
            "NAME": name,
            "USER": unquote(parts.username or ""),
            "PASSWORD": unquote(parts.password or ""),
            "HOST": unquote(parts.hostname or ""),
            "PORT": parts.port or "",
            "OPTIONS": dict(parse_qsl(parts.query)),
            "CONN_MAX_AGE": 60,
            "CONN_HEALTH_CHECKS": True,
            "TEST": {"NAME": os.environ.get("DYE_LARDER_TEST_DATABASE", f"test_{name}")},
        }
    raise ImproperlyConfigured(
        f"DATABASE_URL begins with {parts.scheme!r}; write postgresql://USER@HOST/NAME "
        "or sqlite:////ABSOLUTE/PATH."
    )


def _sqlite(path: Path) -> dict[str, Any]:
    path.parent.mkdir(parents=True, exist_ok=True)
    return {
        "ENGINE": "django.db.backends.sqlite3",
        "NAME": path,
        "OPTIONS": {
            # The write lock is taken at BEGIN: a read-then-write transaction never finds
            # itself unable to upgrade. FULL: an acknowledged commit survives a power cut.
            "transaction_mode": "IMMEDIATE",
            "timeout": 20,
            "init_command": "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL; "
            "PRAGMA foreign_keys=ON;",
        },
        "TEST": {"NAME": os.environ.get("DYE_LARDER_TEST_SQLITE")},
    }
