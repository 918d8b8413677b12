"""`{% sheets %}larder week{% endsheets %}` in a template: the address of these sheets as one.

`page.html` names the sheet of every page, and a page in its block `styles` what it needs beside it.
"""

from __future__ import annotations

from django import template
from django.template.base import NodeList, Parser, Token
from django.template.context import Context

from api.web.sheets.joined import sheets_address

register = template.Library()


class Sheets(template.Node):
    """The names of style sheets, which become their address."""

    def __init__(self, nodelist: NodeList) -> None:
        self.nodelist = nodelist

    def render(self, context: Context) -> str:
        return sheets_address(tuple(self.nodelist.render(context).split()))


@register.tag
def sheets(parser: Parser, token: Token) -> Sheets:
    """What stands up to `endsheets`, which may hold blocks and conditions."""
    names = parser.parse(("endsheets",))
    parser.delete_first_token()
    return Sheets(names)
