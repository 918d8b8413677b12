"""Entries about runs: asked for, claimed for, begun, finished, taken back."""

from __future__ import annotations

from typing import Any

from rest_framework import serializers

from api.entries.asked import Asked, Kept
from api.entries.fields import AmountOf, Code, Day, Moment, Note, Number, Said, Words, Yes
from api.entries.verb import Verb
from api.entries.verbs import fibre
from api.entries.verbs.fibre import DyedSaid, FibreSaid
from api.entries.weights import TakeSaid, for_lot, takes_of, weighed
from api.visitor import Right
from inventory.entries import Fibre, Lost, Made
from sourcing import claims, kept_baths, put_by_wishes, runs, snippets, steps
from sourcing.week.second_bath import bath_code


class OfRun(Said):
    """An entry about one run."""

    run = Code(help_text="its code")


class Ask(OfRun):
    """A run wanted."""

    recipe = Code(help_text="its code; the last version is taken")
    fibre = Words(most=20)
    weight = AmountOf("mass", help_text="dry")
    due = Moment(required=False)
    fibre_lot = Code(required=False)
    jar = Code(required=False)
    for_whom = Words(required=False)
    client = Yes(required=False, help_text="left out: it is for a client")
    fibre_needed_by = Day(required=False)
    shade_card = Yes(required=False, help_text="whether it is agreed; left out: there is none yet")


def ask(asked: Asked) -> Kept:
    """A run asked for."""
    names = ("recipe", "fibre", "due", "fibre_lot", "jar", "for_whom", "client")
    row = runs.ask_run(
        asked.studio,
        code=asked["run"],
        weight_mg=asked["weight"].mg,
        **asked.given(*names, "fibre_needed_by", "shade_card"),
    )
    return Kept("runs", row.code)


def begin(asked: Asked) -> Kept:
    """A run under way."""
    row = steps.begin_run(asked.studio, entry=asked.entry, at=asked.at, run=asked["run"])
    return Kept("runs", row.code)


def let_go(asked: Asked) -> Kept:
    """A run that nobody wants any more."""
    runs.let_go(asked.studio, run=asked["run"])
    return Kept("runs", asked["run"])


class MadeSaid(Said):
    """A lot of fibre that came out of a run."""

    of = Code(help_text="the fibre lot that went in")
    code = Code(help_text="of the new lot")
    amount = AmountOf("mass", help_text="dry")
    fibre = FibreSaid(required=False)
    dyed = DyedSaid(required=False)


class LostSaid(Said):
    """What a material lost on the way."""

    material = Words(most=80)
    amount = AmountOf("mass")
    reason = Words(most=200, required=False)


class Finish(OfRun):
    """A run dyed."""

    takes = serializers.ListField(child=TakeSaid(), min_length=1, max_length=40)
    makes = serializers.ListField(child=MadeSaid(), max_length=20)
    losses = serializers.ListField(child=LostSaid(), max_length=20, required=False)
    came_out = Words(required=False, help_text="what went wrong, of all its cloth")
    note = Note()


def finish(asked: Asked) -> Kept:
    """A run finished: what it took, what it made."""
    makes = [
        Made(
            row["of"],
            row["code"],
            weighed(row["amount"]),
            row.get("fibre", Fibre(scoured=True)),
            row.get("dyed"),
        )
        for row in asked["makes"]
    ]
    losses = [
        Lost(row["material"], row["amount"].mg, row.get("reason", ""))
        for row in asked.get("losses", ())
    ]
    posted = runs.finish_run(
        asked.studio,
        run=asked["run"],
        takes=takes_of(asked),
        makes=makes,
        losses=losses,
        **asked.given("came_out"),
        **asked.posting,
    )
    return Kept("runs", asked["run"], posted)


class KeepBath(OfRun):
    """The bath of a run kept once its cloth is out."""

    volume = AmountOf("volume")
    warmth_c = Number(least=-60, most=110, help_text="°C at which it is kept")
    site = Code(required=False)
    note = Note()


def keep_bath(asked: Asked) -> Kept:
    """A run's bath on the shelf."""
    posted = kept_baths.keep_bath(
        asked.studio,
        run=asked["run"],
        volume=weighed(asked["volume"]),
        temperature_c=float(asked["warmth_c"]),
        **asked.given("site"),
        **asked.posting,
    )
    return Kept("baths", bath_code(asked["run"]), posted)


class TakeBack(OfRun):
    """A run that was said to be finished by mistake."""

    note = Note()


def take_back(asked: Asked) -> Kept:
    """A finished run open again."""
    posted = runs.take_back_run(
        asked.studio, entry=asked.entry, run=asked["run"], note=asked.get("note", "")
    )
    return Kept("runs", asked["run"], posted)


class Claim(OfRun):
    """An amount promised to a run."""

    lot = Code()
    amount = AmountOf("mass", "volume", "count", "container")
    step = Words(most=80, required=False)


def claim(asked: Asked) -> Kept:
    """An amount of a lot promised to a run."""
    amount = for_lot(asked, asked["lot"], asked["amount"], pointer="/amount")
    row = claims.claim(
        asked.studio,
        entry=asked.entry,
        at=asked.at,
        amount=amount.amount,
        **asked.given("run", "lot", "step"),
    )
    return Kept("claims", str(row.pk))


class Release(OfRun):
    """What a run was promised, given back."""

    lots = serializers.ListField(child=Code(), max_length=40, required=False)


def release(asked: Asked) -> Kept:
    """Claims of a run given back."""
    many = claims.release(asked.studio, at=asked.at, run=asked["run"], lots=asked.get("lots", ()))
    return Kept("runs", asked["run"], values={"released": many})


class Snippet(OfRun):
    """A snippet dyed before the cloth."""

    lot = Code(help_text="the fibre lot it was cut from")
    good = Yes()
    looks = Words(required=False)
    note = Note()


def snippet(asked: Asked) -> Kept:
    """A snippet in the extract of a run, with how it looked."""
    posted = snippets.record_snippet(
        asked.studio, **asked.given("run", "lot", "good", "looks"), **asked.posting
    )
    return Kept("snippets", str(asked.entry), posted)


class WishPutBy(Said):
    """Runs that something is to be put by for."""

    code = Code()
    runs = serializers.IntegerField(min_value=1, max_value=1000)
    each = AmountOf("mass", help_text="of the dyestuff; of a recipe, its dry fibre")
    since = Day()
    last_on = Day()
    recipe = Code(required=False)
    dyestuff = Words(most=80, required=False)
    state = serializers.ChoiceField(("dried", "frozen"), required=False)
    spread = serializers.ChoiceField(("monthly", "evenly"), required=False)
    note = Note()


def wish_put_by(asked: Asked) -> Kept:
    """A wish to put by."""
    names = ("code", "runs", "since", "last_on", "recipe", "dyestuff", "state", "spread", "note")
    row = put_by_wishes.wish_put_by(asked.studio, each_mg=asked["each"].mg, **asked.given(*names))
    return Kept("put-by-wishes", row.code)


class DropPutBy(Said):
    """A wish that nobody has any more."""

    code = Code()


def drop_put_by(asked: Asked) -> Kept:
    """A wish dropped; what was put by stays on the shelf."""
    put_by_wishes.drop_put_by(asked.studio, code=asked["code"])
    return Kept("put-by-wishes", asked["code"])


def _verb(
    name: str, noun: str, least: Right, says: str, fields: type[Said], run: Any, /, **example: Any
) -> Verb:
    return Verb(name, noun, says, least, fields, run, example)


VERBS = (
    _verb("ask-run", "runs", Right.DYER, "A run wanted: a shade on so much dry fibre.", Ask, ask,
          run="H", recipe="slate", fibre="silk", weight="200 g", due="2026-12-11T18:00+00:00"),
    _verb("begin-run", "runs", Right.HELPER, "A run under way: it keeps recipe and plan.", OfRun,
          begin, run="C"),
    _verb("claim", "claims", Right.DYER, "An amount of a lot promised to a run.", Claim, claim,
          run="H", lot="AV-0911", amount="300 g"),
    _verb("release", "claims", Right.DYER, "What a run was promised, given back.", Release,
          release, run="H"),
    _verb("snippet", "runs", Right.HELPER, "A snippet dyed in the extract of a run.", Snippet,
          snippet, run="C", lot="W-90", good=True, looks="even, a little green"),
    _verb("finish-run", "runs", Right.DYER, "A run dyed: what it took and what it made.", Finish,
          finish, run="C", takes=[{"lot": "W-90"}, {"lot": "PR-1003", "amount": "300 g"}],
          makes=[{"of": "W-90", "code": "C-1", "amount": "590 g"}],
          losses=[{"material": "wool", "amount": "10 g", "reason": "ends"}]),
    _verb("keep-bath", "baths", Right.HELPER, "The bath of a run kept once its cloth is out, for "
          "a paler shade.", KeepBath, keep_bath, run="C", volume="16 L", warmth_c="8"),
    _verb("let-go-run", "runs", Right.DYER, "A run that nobody wants any more.", OfRun, let_go,
          run="H"),
    fibre.JUDGE_DYED,
    _verb("take-back-run", "runs", Right.DYER, "A run said to be finished by mistake.", TakeBack,
          take_back, run="C"),
    _verb("wish-put-by", "put-by-wishes", Right.DYER, "Runs that something is to be put by for.",
          WishPutBy, wish_put_by, code="winter-privet", runs=4, each="480 g", since="2027-03-01",
          last_on="2027-08-31", dyestuff="privet"),
    _verb("drop-put-by", "put-by-wishes", Right.DYER, "A wish that nobody has any more.",
          DropPutBy, drop_put_by, code="winter-privet"),
)  # fmt: skip
