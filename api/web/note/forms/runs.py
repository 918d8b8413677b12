"""Forms about runs: begun, finished with what was taken, taken back, tried on a snippet."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from api.rest.fields import FieldsUnclear
from api.tongue.customs import custom_of
from api.web.note.ask import (
    Amount,
    Ask,
    Body,
    Fields,
    Number,
    Pick,
    Shown,
    amount_said,
    amount_words,
    options,
    yes_or_no,
)
from api.web.note.form import NOTE, Filling, Form
from api.web.note.hand import Choice, Hand
from api.web.note.takes import week_runs
from api.web.note.things import week_fibre
from inventory.codes import free_code
from inventory.models import Lot, Studio
from inventory.science.saying import joined, say
from inventory.science.unclear import Unclear
from sourcing.week.words import exact

NO_FIBRE = say("None of these is a lot of fibre. Say which fibre went in.")
ROWS = 10  # lots that one run takes from, on a form
SPARE = 2  # empty rows for what was taken beside the plan


@dataclass(frozen=True, kw_only=True)
class RunFirst(Pick):
    """The run whose form this is; another one is another page."""

    part: str = "runs"
    can_type: bool = False


@dataclass(frozen=True, kw_only=True)
class Taken(Ask):
    """What was taken, lot by lot, as the plan has it until somebody says otherwise."""

    @property
    def names(self) -> tuple[str, ...]:
        numbers = range(1, ROWS + 1)
        return tuple(f"take_{n}{end}" for n in numbers for end in ("", "_amount", "_amount_unit"))

    def said(self, fields: Fields) -> Body:
        found = []
        for n in range(1, ROWS + 1):
            lot, amount = fields.get(f"take_{n}", ""), amount_said(fields, f"take_{n}_amount")
            if lot and amount and fields.get(f"take_{n}_amount") != "0":
                found.append({"lot": lot, "amount": amount})
        return {"takes": found} if found else {}

    def fields(self, body: Mapping[str, Any]) -> dict[str, str]:
        takes = body.get("takes")
        found: dict[str, str] = {}
        for n, row in enumerate(takes if isinstance(takes, list) else (), 1):
            if isinstance(row, Mapping) and n <= ROWS:
                found[f"take_{n}"] = str(row.get("lot", ""))
                found[f"take_{n}_amount"] = amount_words(row.get("amount", ""))
        return found

    def in_words(self, body: Mapping[str, Any]) -> str:
        takes = body.get("takes")
        rows = takes if isinstance(takes, list) else ()
        return joined(
            ", ",
            (
                say(
                    "{get} {amount_words}",
                    get=row.get("lot"),
                    amount_words=amount_words(row.get("amount", "")),
                )
                for row in rows
            ),
        )

    def shown(self, fields: Fields, hand: Hand) -> Shown:
        values = (
            fields if any(name in fields for name in self.names) else self._planned(fields, hand)
        )
        many = min(ROWS, SPARE + sum(1 for n in range(1, ROWS + 1) if values.get(f"take_{n}")))
        rows = tuple(
            Choice(
                values.get(f"take_{n}", ""),
                values.get(f"take_{n}_amount", ""),
                values.get(f"take_{n}_amount_unit", ""),
                f"take_{n}",
            )
            for n in range(1, many + 1)
        )
        return Shown("takes", self.name, self.words, self.hint, "", self.needed, choices=rows)

    def _planned(self, fields: Fields, hand: Hand) -> dict[str, str]:
        plan = hand.finishing(run_of(fields, hand))
        found: dict[str, str] = {}
        for n, row in enumerate(plan.takes if plan else (), 1):
            number, unit = exact(row.amount, row.unit)
            found |= {
                f"take_{n}": row.lot,
                f"take_{n}_amount": number,
                f"take_{n}_amount_unit": unit,
            }
        return found


@dataclass(frozen=True, kw_only=True)
class CameOut(Amount):
    """What came out, dry; as much as went in until somebody says otherwise."""

    def shown(self, fields: Fields, hand: Hand) -> Shown:
        shown = super().shown(fields, hand)
        plan = None if shown.value else hand.finishing(run_of(fields, hand))
        fibre = (
            next((row for row in plan.takes if row.lot == plan.fibre_lot), None) if plan else None
        )
        return shown if fibre is None else replace(shown, value=exact(fibre.amount, "mg")[0])


def run_of(fields: Fields, hand: Hand) -> str:
    """The run that a form is about: the one named, else the one due first."""
    return fields.get("run") or next((run.code for run in hand.week_runs), "")


def made_lots(body: Body, filling: Filling) -> list[Body]:
    """The lot of fibre that came out of the one that went in."""
    went_in = fibre_taken(body, filling.studio)
    amount = amount_said(filling.fields, "made")
    if went_in is None:
        raise FieldsUnclear([("/takes", NO_FIBRE)])
    if not amount:
        raise FieldsUnclear([("/made", say("Say it by weight, such as 590 g."))])
    wish = filling.fields.get("made_code") or free_code(
        filling.studio, f"{body.get('run', '')}-1", taken=filling.taken
    )
    made: Body = {"of": went_in[0], "code": wish, "amount": amount}
    if filling.fields.get("quality"):
        made["dyed"] = {"quality": filling.fields["quality"]}
    return [made]


def what_was_lost(body: Body, filling: Filling) -> list[Body] | None:
    """What went in and did not come out, so that the fibre adds up."""
    went_in, makes = fibre_taken(body, filling.studio), body.get("makes")
    if went_in is None or not makes:
        return None
    before, after = milligrams(went_in[2], filling), milligrams(makes[0]["amount"], filling)
    if before is None or after is None or before <= after:
        return None
    return [
        {
            "material": went_in[1],
            "amount": " ".join(exact(before - after, "mg")),
            "reason": "on the way",
        }
    ]


def fibre_taken(body: Body, studio: Studio) -> tuple[str, str, str] | None:
    """Code, fibre and amount of the first lot of fibre that was taken."""
    amounts = {str(row["lot"]): amount_words(row["amount"]) for row in body.get("takes", ())}
    rows = Lot.objects.of(studio).filter(code__in=list(amounts), kind="fibre").order_by("code")
    found = rows.values_list("code", "what").first()
    return None if found is None else (*found, amounts[found[0]])


def milligrams(words: str, filling: Filling) -> int | None:
    """A weight as it was written; None where it cannot be read, which the verb then says."""
    try:
        amount = custom_of(filling.studio).amount(words)
    except Unclear:
        return None
    return amount.mg if amount.kind == "mass" else None


def only_run(body: Body) -> Body:
    """What stands in the fields of what was made is made into lots afterwards."""
    return {name: said for name, said in body.items() if name not in ("made", "quality")}


def with_made(body: Mapping[str, Any]) -> Body:
    """The first lot that was made as the questions have it."""
    makes = body.get("makes")
    first = makes[0] if isinstance(makes, list) and makes else {}
    quality = first.get("dyed", {}).get("quality") if isinstance(first, Mapping) else None
    more = {"made": first.get("amount"), "made_code": first.get("code"), "quality": quality}
    return {**body, **{name: said for name, said in more.items() if said}}


def finished(hand: Hand) -> Sequence[Choice]:
    """Runs that are finished, the last one in front."""
    return [
        Choice(run.code, run.shade, say("{code}, {more}", code=run.code, more=run.more))
        for run in hand.finished
    ]


def unbegun(hand: Hand) -> Sequence[Choice]:
    """Runs that nobody has begun, what is due first in front."""
    rows = [run for run in hand.runs if not run.begun]
    return [
        Choice(run.code, run.shade, say("{code}, {more}", code=run.code, more=run.more))
        for run in rows
    ]


def dyed(hand: Hand) -> Sequence[Choice]:
    """Runs under way, then those that are finished, the last one in front."""
    rows = [*(run for run in hand.runs if run.begun), *hand.finished]
    return [
        Choice(run.code, run.shade, say("{code}, {more}", code=run.code, more=run.more))
        for run in rows
    ]


FORMS = (
    Form(
        verb="begin-run",
        heading=say("A run begun"),
        button=say("It is begun"),
        done=say("The run is begun, and keeps its recipe and its plan"),
        asks=(Pick(name="run", words=say("Which run?"), among=unbegun),),
        undo="",
        instead=say("If it is not begun after all, write that down; what it claimed is free then."),
    ),
    Form(
        verb="finish-run",
        heading=say("A run finished"),
        button=say("It is finished"),
        done=say("The run is finished"),
        asks=(
            RunFirst(name="run", words=say("Which run?"), among=week_runs),
            Taken(
                name="takes",
                words=say("What was taken?"),
                hint=say("As planned. Change only what differed; 0 for what was not taken."),
            ),
            CameOut(name="made", words=say("How much came out, dry?")),
        ),
        more=(
            Pick(
                name="quality",
                words=say("Kept as"),
                needed=False,
                first=False,
                can_type=False,
                among=lambda hand: options("second quality", "for re-dyeing"),
            ),
            Pick(
                name="came_out",
                words=say("What went wrong?"),
                needed=False,
                first=False,
                typed_words=say("What else"),
                among=lambda hand: options(
                    "streaky", "too pale", "too dark", "boiled brown", "felted"
                ),
            ),
            NOTE,
        ),
        fills={"makes": made_lots, "losses": what_was_lost},
        into=only_run,
        out_of=with_made,
        undo="take-back-run",
        instead=say("Ask somebody with the right of a dyer to take it back."),
    ),
    Form(
        verb="keep-bath",
        heading=say("A bath kept"),
        button=say("The bath is kept"),
        done=say("The bath is on the shelf, called by its run"),
        asks=(
            Pick(name="run", words=say("The bath of which run?"), among=dyed),
            Amount(name="volume", words=say("How much?"), units=("L", "mL")),
            Number(
                name="warmth_c",
                words=say("How warm is it kept, in °C?"),
                hint=say("Its shade, its depth and the metal in it are those of the recipe."),
            ),
        ),
        more=(NOTE,),
    ),
    Form(
        verb="take-back-run",
        heading=say("A run that was not finished"),
        button=say("It was not finished"),
        done=say("The run is open again"),
        asks=(Pick(name="run", words=say("Which run?"), among=finished),),
        more=(NOTE,),
        undo="",
        instead=say("Finish the run again, with what it really took."),
    ),
    Form(
        verb="snippet",
        heading=say("A snippet in the extract"),
        button=say("So it looks"),
        done=say("The snippet is written down"),
        asks=(
            Pick(name="run", words=say("For which run?"), among=week_runs),
            Pick(name="lot", words=say("Cut from which fibre?"), among=week_fibre),
            yes_or_no(
                "good",
                say("How does it look?"),
                say("as wanted"),
                say("not as wanted"),
                needed=True,
            ),
        ),
        more=(
            Pick(
                name="looks",
                words=say("In words"),
                needed=False,
                first=False,
                typed_words=say("In other words"),
                among=lambda hand: options("too pale", "too dark", "uneven", "another hue"),
            ),
            NOTE,
        ),
    ),
)
