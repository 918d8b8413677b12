"""What every command of ours does alike: an error of ours is a sentence and an exit code."""

from __future__ import annotations

import errno
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from inventory.errors import LarderError, NotNow
from inventory.hindrance import said_in_words

REFUSED = 1
NO_ROOM = (errno.ENOSPC, errno.EDQUOT, errno.EFBIG)
TRY_AGAIN = 75  # EX_TEMPFAIL of sysexits.h: a timer that calls the command may call it again


class Door(BaseCommand):
    """A command that says what went wrong in one sentence, without a trace of the program."""

    # They read every page and form of the house, which takes longer than most commands; the code
    # is the same at each call, and the build looks it over.
    requires_system_checks: list[str] = []

    def execute(self, *args: Any, **options: Any) -> str | None:
        try:
            with said_in_words():
                return super().execute(*args, **options)
        except LarderError as error:
            raise CommandError(str(error), returncode=code_of(error)) from error
        except OSError as error:
            raise _of_system(error) from error


def _of_system(error: OSError) -> Exception:
    """What the system refused, with the file that it is about; the error itself without one."""
    if error.errno in NO_ROOM:
        sentence = f"There is no room for {error.filename or 'this'} ({error.strerror}). "
        return CommandError(sentence + "Make room and try again.", returncode=TRY_AGAIN)
    if error.filename is None:
        return error
    return CommandError(
        f"{error.filename} cannot be used ({error.strerror}). Look at its name and its rights."
    )


def code_of(error: LarderError) -> int:
    """What the shell is told: refused, or not just now."""
    return TRY_AGAIN if isinstance(error, NotNow) else REFUSED


@contextmanager
def named(file: Path) -> Iterator[None]:
    """A fault of writing within it names the file; the system does so only when one is opened."""
    try:
        yield
    except OSError as error:
        error.filename = str(file)
        raise
