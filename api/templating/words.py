"""`translate` and `blocktranslate` that look a sentence up once, when the template is compiled.

Django's own look it up each time a page is shown, which is dear in a loop of fifty rows. As
`KeptByLanguage` keeps a compiled template for each language, the sentence is plain text by then
and the values in it are plain values. What is asked for beyond that (`as`, `asvar`, `noop`, a
value instead of a sentence) is left to Django's tags, which these replace. So is `capfirst`, as
the other forgets that what it is given can be said again.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from django import template
from django.template.base import (
    FilterExpression,
    Node,
    NodeList,
    Parser,
    TextNode,
    Token,
    VariableNode,
)
from django.template.context import Context
from django.templatetags.i18n import (
    BlockTranslateNode,
    TranslateNode,
    do_block_translate,
    do_translate,
)
from django.utils.translation import gettext, ngettext, npgettext, pgettext

from api.templating.spoken import aloud, as_written, capfirst

register = template.Library()
register.filter("aloud", aloud)
register.filter("as_written", as_written)
register.filter("capfirst", capfirst)
Holes = Mapping[str, FilterExpression]
# A hole of a sentence as the catalogue has it, or a percent sign written twice.
HOLE = re.compile(r"%\((\w+)\)s|%%")


class SaidNode(Node):
    """A sentence with its values, in the language of whoever reads."""

    def __init__(self, said: str, holes: Holes) -> None:
        self.parts = _parts(said, holes)

    def render(self, context: Context) -> str:
        """The sentence filled in."""
        return self.parts.render(context)


class CountedNode(Node):
    """A sentence led by a number, which chooses its form."""

    def __init__(self, one: str, many: str, about: str | None, holes: Holes, number: str) -> None:
        self.one, self.many, self.about = one, many, about
        self.holes, self.number = holes, holes[number]
        self.forms: dict[str, NodeList] = {}

    def render(self, context: Context) -> str:
        """The form that the number wants, filled in."""
        number = self.number.resolve(context)
        if self.about is None:
            said = ngettext(self.one, self.many, number)
        else:
            said = npgettext(self.about, self.one, self.many, number)
        if said not in self.forms:
            self.forms[said] = _parts(said, self.holes)
        return self.forms[said].render(context)


@register.tag("translate")
def translate(parser: Parser, token: Token) -> Node:
    """A sentence without values."""
    node: TranslateNode = do_translate(parser, token)
    literal = node.filter_expression.var.literal
    more = node.asvar or node.noop or node.filter_expression.filters
    if more or not isinstance(literal, str):
        return node
    return TextNode(_said(literal.replace("%", "%%"), _about(node)).replace("%%", "%"))


@register.tag("blocktranslate")
def blocktranslate(parser: Parser, token: Token) -> Node:
    """A sentence with values, or one that a number leads."""
    node: BlockTranslateNode = do_block_translate(parser, token)
    if node.asvar:
        return node
    one, names = node.render_token_list(node.singular)
    many, more = node.render_token_list(node.plural or [])
    holes = {name: parser.compile_filter(name) for name in (*names, *more)} | node.extra_context
    if not (node.plural and node.counter and node.countervar):
        return SaidNode(_said(one, _about(node)), holes)
    counted = holes | {node.countervar: node.counter}
    return CountedNode(one, many, _about(node), counted, node.countervar)


def _about(node: TranslateNode | BlockTranslateNode) -> str | None:
    """Which of several meanings the sentence has, where one word has several."""
    return None if node.message_context is None else str(node.message_context.var)


def _said(sentence: str, about: str | None) -> str:
    """A sentence in the language of whoever reads."""
    return gettext(sentence) if about is None else pgettext(about, sentence)


def _parts(said: str, holes: Holes) -> NodeList:
    """Text and values of a sentence, in its order."""
    parts, end = NodeList(), 0
    for hole in HOLE.finditer(said):
        parts.append(TextNode(said[end : hole.start()]))
        parts.append(_spoken(holes[hole[1]]) if hole[1] else TextNode("%"))
        end = hole.end()
    parts.append(TextNode(said[end:]))
    return parts


def _spoken(value: FilterExpression) -> Node:
    """What fills a hole, said as the reader says it."""
    if aloud not in [said for said, _ in value.filters]:
        value.filters.append((aloud, []))
    return VariableNode(value)
