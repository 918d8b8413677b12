"""Templates whose plain variables are looked up and written out without a detour.

`{{ row.code }}` tries a dictionary, a property, a number and a call in turn, and asks of every
text whether it is to be put off, in which zone, in which form. Here the plain case is taken first:
names in things that are neither dictionaries of their own kind nor called, texts and numbers. All
else goes the framework's way, so a page is the same to the letter.
"""

from __future__ import annotations

from html import escape
from typing import Any

from django.template import Origin, Template, TemplateDoesNotExist
from django.template.base import (
    FilterExpression,
    Lexer,
    Node,
    NodeList,
    Parser,
    Token,
    VariableNode,
    render_value_in_context,
)
from django.template.context import Context
from django.template.loaders.base import Loader
from django.utils.safestring import SafeString

from api.tongue.speaking import aloud, said_as_written
from inventory.science.saying import Said

NOT_SO: Any = object()


class QuickExpression(FilterExpression):
    """A variable; without filters it is found by its names alone."""

    __slots__ = ("names",)

    def __init__(self, token: str, parser: Parser) -> None:
        super().__init__(token, parser)
        plain = self.is_var and not self.filters and not self.var.translate
        self.names: tuple[str, ...] = (self.var.lookups or ()) if plain else ()

    def resolve(self, context: Context, ignore_failures: bool = False) -> Any:
        """The value, as the framework finds it."""
        if self.names:
            found = _found(context, self.names)
            if found is not NOT_SO:
                return found
        return super().resolve(context, ignore_failures)


class QuickVariable(VariableNode):
    """What a variable shows."""

    def render(self, context: Context) -> str:
        """The text, made harmless, as the framework writes it."""
        value = self.filter_expression.resolve(context)
        kind = type(value)
        if context.autoescape:
            if kind is str:
                return escape(value)
            if kind is SafeString:
                return str(value)
            if issubclass(kind, Said):
                return escape(value[:]) if _as_written(context) else str(value.__html__())
        if (kind is float or kind is int) and context.use_l10n is False:
            return str(value)
        return render_value_in_context(value, context)


class QuickParser(Parser):
    """Makes both of them."""

    def compile_filter(self, token: str) -> FilterExpression:
        """A variable with its filters."""
        return QuickExpression(token, self)

    def extend_nodelist(self, nodelist: NodeList, node: Node, token: Token) -> None:
        """A node put behind the others, a plain variable as a quick one."""
        if type(node) is VariableNode:
            node = QuickVariable(node.filter_expression)
        super().extend_nodelist(nodelist, node, token)


class QuickTemplate(Template):
    """A template read by that parser; while faults are shown in full, by the framework's own."""

    def compile_nodelist(self) -> NodeList:
        """Everything in it, ready to be written out."""
        if self.engine.debug:
            return super().compile_nodelist()
        parser = QuickParser(
            Lexer(self.source).tokenize(),
            self.engine.template_libraries,
            self.engine.template_builtins,
            self.origin,
        )
        nodes = parser.parse()
        self.extra_data = parser.extra_data
        return nodes


class QuickLoader(Loader):
    """Gives such templates; as the loader behind one that keeps them."""

    def get_template(self, template_name: str, skip: list[Origin] | None = None) -> Template:
        """The first template of a name.

        Raises
        ------
        TemplateDoesNotExist
            With all the places that were looked at.
        """
        tried: list[tuple[Origin, str]] = []
        for origin in self.get_template_sources(template_name):
            if skip is not None and origin in skip:
                tried.append((origin, "Skipped to avoid recursion"))
                continue
            try:
                contents: str = self.get_contents(origin)  # type: ignore[attr-defined]
            except TemplateDoesNotExist:
                tried.append((origin, "Source does not exist"))
                continue
            return QuickTemplate(contents, origin, template_name, self.engine)
        raise TemplateDoesNotExist(template_name, tried=tried)


def _found(context: Context, names: tuple[str, ...]) -> Any:
    """What names lead to, one in the other; `NOT_SO` where that is not the plain case."""
    try:
        found = context[names[0]]
        for name in names[1:]:
            kind = type(found)
            if kind is dict:
                found = found[name]
            elif hasattr(kind, "__getitem__"):
                return NOT_SO
            else:
                found = getattr(found, name)
            if callable(found):
                return NOT_SO
    except Exception:
        return NOT_SO
    return NOT_SO if callable(found) else found


def _as_written(context: Context) -> bool:
    """Whether this page says all as it is written; asked once a page."""
    known: bool | None = getattr(context, "said_as_written", None)
    if known is None:
        known = Said.aloud is aloud and said_as_written()
        context.said_as_written = known  # type: ignore[attr-defined]
    return known
