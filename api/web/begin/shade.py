"""A first shade from the shipped ones, on the fibre that is there: taken over and asked for."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from django.http import HttpRequest

from api.tongue.customs import custom_of
from api.tongue.trade import trade
from api.web.ask.asked import weight_of
from api.web.ask.choices import Choice
from api.web.form_unclear import FormUnclear
from api.web.forms import enter
from inventory.models import FibreLot, Lot, Studio
from inventory.science.saying import joined, say
from sourcing.runs import next_code
from sourcing.starts.starts import Start, start_called, starts
from sourcing.starts.take_over import take_over

START_G = 100  # of fibre: enough to see a shade on, little enough to lose; assumed


@dataclass(frozen=True, slots=True)
class ShadeForm:
    """Shades for the fibre that is there, those whose dyestuff is there first."""

    shades: tuple[Choice, ...]
    weight: str
    there: str


def shade_form(studio: Studio, chosen: str, weight: str) -> ShadeForm:
    """The form; a shade of which nothing is saved stands last and says so."""
    fibres, stuffs = _fibres(studio), _stuffs(studio)
    fitting = [row for row in starts() if set(row.fibres) & set(fibres)]
    fitting.sort(key=lambda row: row.dyestuff["what"] not in stuffs)
    first = fitting[0].code if fitting else ""
    return ShadeForm(
        shades=tuple(_choice(row, stuffs, chosen=row.code == (chosen or first)) for row in fitting),
        weight=weight or str(START_G),
        there=joined(", ", (f"{fibre}" for fibre in fibres)),
    )


def ask_first(request: HttpRequest, studio: Studio, at: datetime) -> str:
    """The shade among the studio's recipes and a run of it wanted; the code of the run.

    Raises
    ------
    FormUnclear
        If no shade is chosen, or there is no fibre for it.
    """
    start = start_called(request.POST.get("shade", ""))
    if start is None:
        raise FormUnclear("shade", "", say("Choose a shade."))
    fibre = next((name for name in _fibres(studio) if name in start.fibres), None)
    if fibre is None:
        detail = say(
            "{shade} is for {fibres}, and none of it is there.",
            shade=start.shade,
            fibres=joined(" or ", start.fibres),
        )
        raise FormUnclear("shade", start.code, detail)
    mg, words = weight_of(request.POST.get("weight", ""), "g", custom=custom_of(studio))
    take_over(studio, start, at=at)
    done = enter(request, "ask-run", {
        "run": next_code(studio), "recipe": start.code, "fibre": fibre, "weight": words,
        "client": False, "shade_card": True,
    })  # fmt: skip
    assert mg, "a weight is above 0"
    return str(done.row.said["run"])


def _choice(start: Start, stuffs: frozenset[str], *, chosen: bool) -> Choice:
    what = start.dyestuff["what"]
    there = "" if what in stuffs else say("; none of it is written down yet")
    parts = (start.dyestuff["amount"], trade(start.dyestuff["state"]), trade(what))
    return Choice(start.code, start.shade, joined(" ", filter(None, parts)) + there, chosen)


def _fibres(studio: Studio) -> tuple[str, ...]:
    rows = FibreLot.objects.of(studio).values_list("lot__what", flat=True)
    return tuple(dict.fromkeys(rows.order_by("pk")[:200]))


def _stuffs(studio: Studio) -> frozenset[str]:
    rows = Lot.objects.of(studio).filter(kind="dyestuff").values_list("what", flat=True)
    return frozenset(rows.distinct())
