"""Which lots of fibre serve a run: in one state, enough, plain before dyed, or what is lacking."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING

from inventory.science.facts import FibreFacts
from inventory.science.figures import Figure
from inventory.science.saying import joined, say
from sourcing.week.facts import Recipe, RunFacts
from sourcing.week.larder import Larder, Pick, fetched, serves
from sourcing.week.moments import minute_of
from sourcing.week.over_dyeing import is_dyed, over_note, why_not_over
from sourcing.week.plan import Reason, Shortage
from sourcing.week.reasons import because
from sourcing.week.stages import needed_steps
from sourcing.week.words import figure_in_words, grams, moment_in_words

if TYPE_CHECKING:
    from sourcing.week.wants import Wants


def want_fibre(
    run: RunFacts, recipe: Recipe, larder: Larder, wants: Wants, without: frozenset[str]
) -> None:
    """The lots of fibre in one state that serve the run, or by how much the best are short."""
    loss, figure = larder.loss(run.fibre)
    best: tuple[tuple[int, bool, int, bool, int, str], list[FibreFacts], int, int] | None = None
    scours = any(step.kind == "scour" for step in recipe.steps)
    for group in larder.fibre_groups(
        run, depth=recipe.depth, without=without, site=wants.site, far=wants.far
    ):
        if recipe.mordant and group[0].mordant not in ("", recipe.mordant):
            continue
        raw = not group[0].scoured and recipe.needs_scoured
        if raw and not scours:
            codes = joined(", ", (fibre.code for fibre in group))
            text = say(
                "{codes} is not scoured, and {shade} has no scour: scour it first",
                codes=codes,
                shade=recipe.shade,
            )
            wants.lacking.append(Reason("scour", group[0].code, text))
            continue
        if _lacks_mordant(recipe, group[0]):
            codes = joined(", ", (fibre.code for fibre in group))
            has = (
                say("{mordant_percent} %", mordant_percent=group[0].mordant_percent)
                if group[0].mordant
                else "none"
            )
            text = say(
                "{codes} has {has} of {mordant}, {mordant_percent} % wanted, and {shade} has "
                "no mordant step: mordant it first",
                codes=codes,
                has=has,
                mordant=recipe.mordant,
                mordant_percent=recipe.mordant_percent,
                shade=recipe.shade,
            )
            wants.lacking.append(Reason("mordant", group[0].code, text))
            continue
        need = Fraction(run.weight_mg) / (1 - loss) if raw else Fraction(run.weight_mg)
        there = sum(larder.left[fibre.code] for fibre in group)
        lacks = max(Fraction(0), need - there) * ((1 - loss) if raw else 1)
        ready = max(larder.fibre_from(fibre) for fibre in group)
        steps = len(needed_steps(recipe, group[0]))
        dyed = is_dyed(group[0])
        lies = sum(larder.left[row.code] for row in group if serves(row.site, wants.site))
        code = min(fibre.code for fibre in group)
        rank = (round(lacks), dyed, ready, wants.far and lies < need, steps, code)
        if best is None or rank < best[0]:
            best = (rank, group, round(need), there)
    if best is None:
        _no_fibre(run, recipe, larder, wants)
        return
    _, group, need_mg, there = best
    wants.fibre = group[0]
    wants.lacking.clear()
    raw = not group[0].scoured and recipe.needs_scoured
    if raw and figure is not None:
        wants.reasons.append(_scour_reason(run, need_mg, figure))
    _take_fibre(run, group, need_mg, there, larder, wants, raw=raw)
    if wants.short:
        wants.notes.extend(
            say("not counted: {why}", why=why) for why in _dyed_before(run, recipe, larder)
        )


def _dyed_before(run: RunFacts, recipe: Recipe, larder: Larder) -> Iterator[str]:
    """Why lots of the run's fibre that have a shade in them do not count."""
    for fibre in larder.facts.shelf.fibre:
        why = why_not_over(fibre, run, recipe.depth)
        if why and fibre.fibre == run.fibre and not run.fibre_lot:
            yield why


def _lacks_mordant(recipe: Recipe, fibre: FibreFacts) -> bool:
    """Whether a fibre has too little of the recipe's mordant and no step gives it."""
    if not recipe.mordant or any(step.kind == "mordant" for step in recipe.steps):
        return False
    return fibre.mordant != recipe.mordant or fibre.mordant_percent < recipe.mordant_percent


def _take_fibre(
    run: RunFacts,
    group: list[FibreFacts],
    need_mg: int,
    there: int,
    larder: Larder,
    wants: Wants,
    *,
    raw: bool,
) -> None:
    if there < need_mg:
        state = "unscoured" if raw else "scoured"
        text = say(
            "{fibre} short by {need_mg}: {need_mg_2} {state} wanted, {there} left",
            fibre=run.fibre,
            need_mg=grams(need_mg - there),
            need_mg_2=grams(need_mg),
            state=state,
            there=grams(there),
        )
        wants.short.append(Shortage("fibre", run.fibre, need_mg - there, "mg", None, text))
        return
    left, dry = need_mg, False

    def in_turn(row: FibreFacts) -> tuple[int, bool, str]:
        return larder.fibre_from(row), not serves(row.site, wants.site), row.code

    for fibre in sorted(group, key=in_turn):
        if left <= 0:
            break
        taken = min(left, larder.left[fibre.code])
        begins = larder.fibre_from(fibre)
        last = larder.fibre_good_to(fibre)
        damp = None if last is None else last.figure
        wants.picks.append(Pick(fibre.code, fibre.fibre, taken, "mg", "", begins,
                                None if last is None else last.day, keeps=damp,
                                far=fetched(fibre.site, wants.site),
                                any_day=True))  # fmt: skip
        left -= taken
        dry = dry or not fibre.damp
        if is_dyed(fibre):
            wants.notes.append(over_note(fibre))
        if fibre.arrives_at is not None and minute_of(fibre.arrives_at) >= begins:
            here = larder.moment(begins)
            text = say(
                "{code} arrives {here}",
                code=fibre.code,
                here=moment_in_words(here, larder.facts.zone),
            )
            wants.waits.append(Reason("arrival", fibre.code, text, here))
    # One dry lot among damp ones is wetted out, and the others with it.
    wants.fibre = replace(group[0], damp=not dry)


def _scour_reason(run: RunFacts, need_mg: int, figure: Figure) -> Reason:
    text = say(
        "{need_mg} unscoured for {weight_mg} scoured",
        need_mg=grams(need_mg),
        weight_mg=grams(run.weight_mg),
    )
    return Reason("scour", run.fibre, text, figure=figure_in_words(figure), own=figure.own)


def _no_fibre(run: RunFacts, recipe: Recipe, larder: Larder, wants: Wants) -> None:
    """No lot of the fibre counts: say which are left out and why."""
    shelf = larder.facts.shelf.fibre
    same = [
        row for row in shelf if row.fibre == run.fibre and row.code == (run.fibre_lot or row.code)
    ]
    for row in same:
        why = larder.fibre_left_out(row) or why_not_over(row, run, recipe.depth)
        if why:
            damp = larder.fibre_good_to(row) if "damp" in why else None
            wants.lacking.append(
                because("fibre state", row.code, why, None if damp is None else damp.figure)
            )
    text = say(
        "{fibre} short by {weight_mg}: none left that counts",
        fibre=run.fibre,
        weight_mg=grams(run.weight_mg),
    )
    wants.short.append(Shortage("fibre", run.fibre, run.weight_mg, "mg", None, text))
