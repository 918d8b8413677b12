"""A form: the verb that it is about, its questions in order, and what we add to the answers."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from api.entries.registry import VERBS
from api.entries.verb import Verb
from api.web.note.ask import Ask, Body, Fields, Text
from inventory.models import Studio
from inventory.science.cautions import Caution
from inventory.science.saying import say

NOTE = Text(name="note", words=say("Anything worth keeping"), most=400, needed=False)


@dataclass(frozen=True, slots=True)
class Filling:
    """What is known as we add what nobody had to say."""

    studio: Studio
    at: datetime  # when it happened, in the studio's zone
    fields: Fields
    taken: Collection[str] = ()  # codes given away in the same breath


Fill = Callable[[Body, Filling], Any]


@dataclass(frozen=True, slots=True)
class Button:
    """A second way to send a form: `name` goes along as `yes`."""

    name: str
    words: str


@dataclass(frozen=True, kw_only=True, eq=False)
class Form:
    """One form.

    Parameters
    ----------
    verb : name of the verb that it records
    heading : what is written down, in a few words
    button : the words of the button that records it
    done : what it says afterwards
    asks, more : its questions; those in `more` are folded away
    also : other buttons that send it
    fills : fields of the body that are made here where nobody said them, in this order
    into, out_of : between what the questions say and the body of the verb, where they differ
    cautions : what could hurt somebody, by the body
    reminder : one sentence under the button
    undo : the verb that takes it back; empty: none does
    instead : what to do where it cannot be taken back
    """

    verb: str
    heading: str
    button: str
    done: str
    asks: tuple[Ask, ...]
    more: tuple[Ask, ...] = ()
    also: tuple[Button, ...] = ()
    fills: Mapping[str, Fill] = field(default_factory=dict)
    into: Callable[[Body], Body] = dict
    out_of: Callable[[Mapping[str, Any]], Body] = dict
    cautions: Callable[[Mapping[str, Any]], tuple[Caution, ...]] = lambda body: ()
    reminder: str = ""
    undo: str = "correct"
    instead: str = ""

    @property
    def entry(self) -> Verb:
        """The verb itself."""
        return VERBS[self.verb]

    @property
    def questions(self) -> tuple[Ask, ...]:
        """Every question, the folded ones after the others."""
        return (*self.asks, *self.more)

    @property
    def names(self) -> tuple[str, ...]:
        """Everything that an address may fill."""
        return tuple(name for ask in self.questions for name in ask.names)

    def said(self, fields: Fields) -> Body:
        """The fields of the body that the answers say."""
        found: Body = {}
        for ask in self.questions:
            found |= ask.said(fields)
        return self.into(found)

    def fields(self, body: Mapping[str, Any]) -> dict[str, str]:
        """What would have been sent to say a body."""
        plain, found = self.out_of(body), dict[str, str]()
        for ask in self.questions:
            found |= ask.fields(plain)
        return found
