"""Ways from the page of a noun to the forms about it, filled; only those that one may send."""

from __future__ import annotations

from api.question import Question
from api.web.note.deeds import Deed, to_form
from api.web.note.registry import FORMS
from inventory.science.saying import say


def ways_from(question: Question, *verbs: str, **said: str) -> tuple[Deed, ...]:
    """Links to the forms of some verbs, each with what is said already."""
    return tuple(
        to_form(WORDS[verb], verb, question.carried, said)
        for verb in verbs
        if question.right.covers(FORMS[verb].entry.least)
    )


# As short as a button beside the thing itself may be.
WORDS = {
    "add-source": say("A new source"),
    "agree": say("Agree on what it gives"),
    "note-leave": say("Leave was given"),
    "end-leave": say("Leave was withdrawn"),
    "note-carrying": say("A carrying note"),
    "close-days": say("It is closed"),
    "rename-source": say("Another name"),
    "pick-up": say("A pick-up"),
    "report-pick-up": say("It told of one"),
    "miss-pick-up": say("It was missed"),
    "leave-tubs": say("Tubs left"),
    "fetch-tubs": say("Tubs fetched"),
    "write-order": say("Write an order"),
    "send-order": say("It is sent"),
    "confirm-order": say("A day is given"),
    "order-came": say("It came"),
    "call-off-order": say("Call it off"),
    "add-supplier": say("A new supplier"),
    "change-supplier": say("A supplier’s other terms"),
    "add-offer": say("A new price"),
    "end-offer": say("A price ends"),
    "add-reader": say("Somebody is written to"),
    "change-reader": say("Other letters"),
    "readdress-reader": say("Another address"),
    "stop-letters": say("No more letters"),
    "begin-letters": say("Letters again"),
    "claim": say("Claim something for it"),
    "release": say("Give something back"),
}
