"""The body of a request into its fields, or all that is wrong with them at once."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from rest_framework.request import Request

from api.entries.fields import Said
from api.entries.reading import context_of, valid
from api.rest.fields import unfit
from inventory.models import Studio
from inventory.science.saying import say


def read_body(form: type[Said], request: Request, studio: Studio | None = None) -> dict[str, Any]:
    """The fields of a body.

    Parameters
    ----------
    studio : by whose clock moments without an offset are read

    Raises
    ------
    rest_framework.exceptions.ValidationError
        If the body breaks its schema.
    FieldsUnclear
        If it keeps to the schema and a field cannot be understood.
    """
    if not isinstance(request.data, Mapping):
        raise unfit(say("Send one JSON object."))
    context = {} if studio is None else context_of(studio)
    return dict(valid(form(data=request.data, context=context)))
