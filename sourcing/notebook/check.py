"""What one row of a notebook says against what the others say."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from datetime import datetime, timedelta
from decimal import Decimal

from inventory.science.figure_bounds import bounds_of
from sourcing.notebook.check_orders import check_orders
from sourcing.notebook.check_recipes import check_recipes
from sourcing.notebook.check_reminders import check_reminders
from sourcing.notebook.metres import check_metres
from sourcing.notebook.notebook import Notebook, nearest
from sourcing.notebook.page import Column, Row
from sourcing.notebook.problem import Problem, Unclear
from sourcing.notebook.quantities import Counted, FigureOf, write_figure
from sourcing.notebook.rules import figure_of, known_rules, value_of
from sourcing.notebook.saying import say
from sourcing.notebook.shelf_pages import PLACE_KINDS
from sourcing.notebook.yard_pages import BY_NAME, PAGES
from sourcing.week.project import HEAVIEST_RUN_MG

LOT_PAGES = ("lots", "jars", "baths", "supplies", "fibre")  # one code belongs to one of them
# Ends of rules that name a month or a day of one, and the highest of each.
CALENDAR = {"_from_month": 12, "_to_month": 12, "_from_day": 31, "_to_day": 31}
Found = Iterator[Problem]


def check(notebook: Notebook, *, piece_known: Callable[[str], bool]) -> list[Problem]:
    """Everything that does not fit together.

    Parameters
    ----------
    notebook : as it was read
    piece_known : whether a piece mass of this dyestuff is known already
    """
    found: list[Problem] = []
    for part in (_references, _codes, _rules, _vessels, _lots, _jars, _dips, _fibre):
        found += part(notebook)
    for part in (_hours, _blocks, _sources, _agreements, _hangings, _runs, _gates, check_recipes):
        found += part(notebook)
    found += _pickups(notebook)
    found += _put_by(notebook)
    found += check_metres(notebook)
    found += check_reminders(notebook)
    found += check_orders(notebook)
    found += _counts(notebook, piece_known)
    return sorted(set(found))


def problem(row: Row, column: str, stands: object, write: str) -> Problem:
    """A problem of one cell."""
    return Problem(BY_NAME[row.page].file, row.line, column, str(stands), write)


def _references(notebook: Notebook) -> Found:
    """Cells that name a row of another page."""
    for page in PAGES:
        for column in page.columns:
            if column.refers:
                known = _known(notebook, column.refers)
                for row in notebook.page(page.name):
                    yield from _unknown(row, column, known)


def _known(notebook: Notebook, pages: Iterable[str]) -> dict[str, str]:
    return {fold: name for page in pages for fold, name in notebook.named(page).items()}


def _unknown(row: Row, column: Column, known: dict[str, str]) -> Found:
    value = row.values.get(column.name)
    names = value if isinstance(value, tuple) else () if value is None else (value,)
    for name in map(str, names):
        if known.get(name.casefold()) == name:
            continue
        close = known.get(name.casefold()) or nearest(name, known.values())
        where = " or ".join(f"{page}.csv" for page in column.refers)
        note = (
            say("Did you mean {close}?", close=close)
            if close
            else say("Add it to {where}, or correct it.", where=where)
        )
        yield problem(
            row,
            column.name,
            name,
            say("{where} has no {name}. {note}", where=where, name=name, note=note),
        )


def _codes(notebook: Notebook) -> Found:
    """One code, one lot: over all pages that hold lots."""
    seen: dict[str, Row] = {}
    for page in LOT_PAGES:
        key = BY_NAME[page].key[0]
        for row in notebook.page(page):
            code = row.text(key)
            other = seen.setdefault(code.casefold(), row)
            if other.page != page:
                note = say(
                    "Line {line} of {page}.csv has this code. Write another.",
                    line=other.line,
                    page=other.page,
                )
                yield problem(row, key, code, note)
    for row in notebook.page("pickups"):
        code, how = row.text("lot"), row.text("pick-up")
        known = seen.get(code.casefold()) if code else None
        if known is not None and how == "reported":
            note = say(
                "{code} is on the shelf already ({page}.csv, line {line}). ",
                code=code,
                page=known.page,
                line=known.line,
            )
            yield problem(row, "lot", code, note + say("Write made, or another code."))


def _rules(notebook: Notebook) -> Found:
    for row in notebook.page("rules"):
        rule, figure = row.text("rule"), row.values["value"]
        assert isinstance(figure, FigureOf)
        if rule not in known_rules():
            close = nearest(rule, known_rules()).replace("_", " ")
            note = (
                say("Did you mean {close}?", close=close)
                if close
                else say("They are in inventory/science/tables/README.md.")
            )
            yield problem(
                row, "rule", rule.replace("_", " "), say("No sum asks for it. {note}", note=note)
            )
            continue
        try:
            value = value_of(rule, figure)
        except Unclear as unclear:
            yield problem(row, "value", f"{figure.value} {figure.unit}", str(unclear))
            continue
        least, highest = bounds_of(rule)
        if (least is not None and value < least) or (highest is not None and value > highest):
            yield problem(
                row, "value", f"{figure.value} {figure.unit}", _within(rule, least, highest)
            )
            continue
        most = next((most for end, most in CALENDAR.items() if rule.endswith(end)), None)
        if most is not None and (value % 1 or not 1 <= value <= most):
            note = say("Write a whole number from 1 to {most}.", most=most)
            yield problem(row, "value", figure.value, note)


def _within(rule: str, least: Decimal | None, most: Decimal | None) -> str:
    """What the sums can work with, as a notebook writes it."""
    low, high = (
        None if end is None else write_figure(figure_of(rule, end)) for end in (least, most)
    )
    if high is None:
        return say("The sums can work with {low} or more. Write as much.", low=low)
    return say(
        "The sums can work with {low} to {high}. Write a value between them.", low=low, high=high
    )


def _vessels(notebook: Notebook) -> Found:
    for row in notebook.page("vessels"):
        if row.whole("working") > row.whole("brim"):
            note = say("More than it holds to the brim. Write what is filled safely.")
            yield problem(row, "working", _litres(row.whole("working")), note)
        if not row.whole("brim"):
            yield problem(row, "brim", "0", say("Write what it holds to the brim, such as 60 L."))


def _litres(ul: int) -> str:
    return f"{(Decimal(ul) / 1_000_000).normalize():f} L"


def _places(notebook: Notebook) -> dict[str, str]:
    return {**{kind: kind for kind in PLACE_KINDS}, **notebook.named("cold_places")}


def _place(row: Row, places: dict[str, str]) -> Found:
    place = row.text("place")
    if place and place not in places.values():
        close = places.get(place.casefold()) or nearest(place, places.values())
        note = (
            say("Did you mean {close}?", close=close)
            if close
            else say("Add it to cold_places.csv, or correct it.")
        )
        yield problem(row, "place", place, say("There is no such place. {note}", note=note))


def _lots(notebook: Notebook) -> Found:
    places = _places(notebook)
    since = {row.text("lot"): row.moment("since") for row in notebook.page("lots")}
    for row in (*notebook.page("lots"), *notebook.page("stays"), *notebook.page("pickups")):
        yield from _place(row, places)
    for row in notebook.page("stays"):
        last = since.get(row.text("lot"))
        here = row.moment("since")
        if last is not None and here is not None and here >= last:
            note = say("That is not before the day on the lot's own row. Write an earlier one.")
            yield problem(row, "since", f"{here:%d %b %Y %H:%M}", note)


def _jars(notebook: Notebook) -> Found:
    events: dict[str, list[Row]] = {}
    for row in notebook.page("jar_events"):
        events.setdefault(row.text("jar"), []).append(row)
        yield from _event(row)
    for row in notebook.page("jars"):
        if row.yes("labelled", default=True):
            for name in ("metal", "parts", "vinegar", "begun"):
                if not row.has(name):
                    note = say(
                        "A jar with a label says this. Write it, or write no under labelled."
                    )
                    yield problem(row, name, "", note)
        yield from _jar_left(row, events.get(row.text("jar"), []))


def _event(row: Row) -> Found:
    needs = {what: "amount" for what in ("topped up", "drawn", "evaporated", "measured")}
    needs["kept at"] = "warmth"
    what = row.text("what")
    name = needs.get(what)
    if name and not row.has(name):
        yield problem(
            row,
            name,
            "",
            say("{what} needs its {name}. Write it.", what=what.capitalize(), name=name),
        )
    if row.has("amount") and not row.whole("amount") and what in needs and what != "measured":
        yield problem(row, "amount", "0", say("Nothing moved. Write how much, or delete the row."))


def left_of(begun_with: int, events: Iterable[Row]) -> int:
    """What the events leave of what a jar was begun with, in µL; below zero where they cannot."""
    left = begun_with
    for row in sorted(events, key=_when):
        amount = row.whole("amount")
        what = row.text("what")
        left = amount if what == "measured" else left + (amount if what == "topped up" else -amount)
        if left < 0:
            return left
    return left


def _when(row: Row) -> datetime:
    at = row.moment("at")
    assert at is not None
    return at


def _jar_left(row: Row, events: list[Row]) -> Found:
    begun = row.moment("begun")
    begun_with = row.whole("begun with", row.whole("left"))
    if not begun_with:
        yield problem(row, "begun with", "0", say("Write how much liquor there was at first."))
        return
    for event in events:
        if begun is not None and _when(event) < begun:
            note = say(
                "{text} was begun later, on {begun:%d %b %Y %H:%M}. Look again.",
                text=row.text("jar"),
                begun=begun,
            )
            yield problem(event, "at", f"{_when(event):%d %b %Y %H:%M}", note)
    left = left_of(begun_with, events)
    if left < 0:
        note = say("More was taken than there was. Correct jar_events.csv or begun with.")
        yield problem(row, "begun with", _litres(begun_with), note)
    elif left != row.whole("left"):
        note = say(
            "Begun with {first}, and its events leave {then}. ",
            first=_litres(begun_with),
            then=_litres(left),
        )
        note += say("Write that, or the event that is missing.")
        yield problem(row, "left", _litres(row.whole("left")), note)


def _dips(notebook: Notebook) -> Found:
    for row in notebook.page("dips"):
        if not row.has("strip") and not row.has("reading"):
            yield problem(row, "strip", "", say("Write the strip's grade, 1 to 5, or a reading."))


def _fibre(notebook: Notebook) -> Found:
    for row in notebook.page("fibre"):
        for name in ("depth", "quality", "came out"):
            if row.has(name) and not row.has("dyed"):
                said = str(row.values[name])
                note = say(
                    "It is not said what shade it is dyed. Write it under dyed, or delete this."
                )
                yield problem(row, name, said, note)
        if row.has("quality") and not row.has("came out"):
            note = say("Write what went wrong, such as streaky.")
            yield problem(row, "came out", "", note)
        if row.has("mordant") and not row.yes("scoured"):
            note = say("Fibre is scoured before it is mordanted. Write yes under scoured.")
            yield problem(row, "scoured", "no", note)


def _hours(notebook: Notebook) -> Found:
    for row in notebook.page("hours"):
        opens, closes, hands = row.clock("from"), row.clock("to"), row.whole("hands")
        if hands and (opens is None or closes is None):
            name = "from" if opens is None else "to"
            yield problem(row, name, "", say("Write the time of day, such as 09:00."))
        elif opens is not None and closes is not None:
            there = (closes.hour - opens.hour) * 60 + closes.minute - opens.minute
            if there <= 0:
                yield problem(
                    row, "to", f"{closes:%H:%M}", say("Write a time after the one in from.")
                )
            elif hands > there:
                note = say(
                    "That is more than from {opens:%H:%M} to {closes:%H:%M}. Write less.",
                    opens=opens,
                    closes=closes,
                )
                yield problem(row, "hands", f"{hands} min", note)
        yield from _in_order(row, "since", "until")


def _in_order(row: Row, first: str, last: str) -> Found:
    since, until = row.day(first), row.day(last)
    if since is not None and until is not None and until < since:
        yield problem(
            row,
            last,
            f"{until:%d %b %Y}",
            say("Write a day after the one in {first}.", first=first),
        )


def _blocks(notebook: Notebook) -> Found:
    for row in notebook.page("blocks"):
        since, until = row.moment("from"), row.moment("until")
        assert since is not None
        assert until is not None
        if until <= since:
            note = say("Write a moment after the one in from.")
            yield problem(row, "until", f"{until:%d %b %Y %H:%M}", note)
        elif until - since > timedelta(days=366):
            note = say("That is longer than a year. Write an earlier end.")
            yield problem(row, "until", f"{until:%d %b %Y %H:%M}", note)


def _hangings(notebook: Notebook) -> Found:
    for row in notebook.page("hangings"):
        since, until = row.moment("since"), row.moment("until")
        if since is not None and until is not None and until <= since:
            note = say("Write a moment after the one in since.")
            yield problem(row, "until", f"{until:%d %b %Y %H:%M}", note)


def _sources(notebook: Notebook) -> Found:
    for row in notebook.page("sources"):
        if row.has("carrying until") and not row.has("carrying note"):
            yield problem(row, "carrying note", "", say("Write what it says until that day."))


def _agreements(notebook: Notebook) -> Found:
    for row in notebook.page("agreements"):
        yield from _in_order(row, "since", "until")
        if row.has("permission on") and not row.has("permission by"):
            yield problem(row, "permission by", "", say("Write who said yes on that day."))
        elif row.has("permission ended") and not row.has("permission by"):
            yield problem(row, "permission by", "", say("Write who had said yes."))
        else:
            yield from _in_order(row, "permission on", "permission ended")


def _put_by(notebook: Notebook) -> Found:
    """A recipe or a dyestuff, and days in order."""
    for row in notebook.page("putby"):
        yield from _in_order(row, "from", "until")
        if row.has("recipe") == row.has("dyestuff"):
            note = say("Write a recipe, or a dyestuff: one of the two.")
            yield problem(row, "recipe", row.text("recipe"), note)
        elif row.has("recipe") and row.has("state"):
            note = say("The recipe says in which state it takes what. Leave this empty.")
            yield problem(row, "state", row.text("state"), note)
        elif row.has("recipe") and not _takes_dyestuff(notebook, row.text("recipe")):
            note = say("It takes no dyestuff, so there is nothing to put by. Write another.")
            yield problem(row, "recipe", row.text("recipe"), note)


def _takes_dyestuff(notebook: Notebook, recipe: str) -> bool:
    rows = (row for row in notebook.page("doses") if row.text("recipe") == recipe)
    return any(row.text("kind") == "dyestuff" for row in rows)


def _pickups(notebook: Notebook) -> Found:
    for row in notebook.page("pickups"):
        how = row.text("pick-up")
        if row.has("nests by") != row.has("nests on"):
            lacking, note = (
                ("nests on", "on which day") if row.has("nests by") else ("nests by", "by whom")
            )
            yield problem(
                row,
                lacking,
                "",
                say("Write {note} the hedge was looked over for nests.", note=note),
            )
        if how == "missed" and row.has("amount"):
            note = say("A missed pick-up brings nothing. Delete the amount, or write made.")
            yield problem(row, "amount", "an amount", note)
        if how != "missed" and not row.has("amount"):
            note = say("Write what came, such as 58 stones, or write missed.")
            yield problem(row, "amount", "", note)
        if how == "reported":
            for name, such in (("lot", "AV-1123"), ("place", "fridge")):
                if not row.has(name):
                    note = say("A reported pick-up becomes a lot. Write such as {such}.", such=such)
                    yield problem(row, name, "", note)


def _counts(notebook: Notebook, piece_known: Callable[[str], bool]) -> Found:
    """Counted pieces need a piece mass and the studio's own word for a piece."""
    words = {row.text("dyestuff"): row.text("piece") for row in notebook.page("dyestuffs")}
    weighed = {
        row.text("item") for row in notebook.page("rules") if row.text("rule") == "piece_mass_g"
    }
    cells = (("lots", "dyestuff", "amount"), ("pickups", "gives", "amount"),
             ("agreements", "gives", "likely"))  # fmt: skip
    for page, what, column in cells:
        for row in notebook.page(page):
            amount = row.values.get(column)
            if not isinstance(amount, Counted):
                continue
            item, stands = row.text(what), f"{amount.pieces} {amount.word}"
            if words.get(item) and words[item] != amount.word:
                note = say(
                    "{item} are counted by the {words}. Write so many of those.",
                    item=item,
                    words=words[item],
                )
                yield problem(row, column, stands, note)
            elif item not in weighed and not piece_known(item):
                note = say(
                    "Nobody knows what one weighs. Add {item}, piece mass g to rules.csv, ",
                    item=item,
                )
                yield problem(row, column, stands, note + say("or write a weight."))


def _runs(notebook: Notebook) -> Found:
    recipes = {row.text("recipe"): row for row in notebook.page("recipes")}
    fibre = {row.text("fibre lot"): row.text("fibre") for row in notebook.page("fibre")}
    for row in notebook.page("runs"):
        weight = row.values.get("weight")  # of measured cloth it may be a length
        if isinstance(weight, int) and weight > HEAVIEST_RUN_MG:
            most = HEAVIEST_RUN_MG // 1_000_000
            note = say(
                "A run of {most} kg at most is worked out. Divide it into several.", most=most
            )
            yield problem(row, "weight", f"{weight // 1_000_000:,} kg", note)
        wanted = row.text("fibre")
        recipe = recipes.get(row.text("recipe"))
        if recipe is not None and wanted not in recipe.words("fibres"):
            allowed = " or ".join(recipe.words("fibres"))
            note = say(
                "The recipe is for {allowed}. Write that, or another recipe.", allowed=allowed
            )
            yield problem(row, "fibre", wanted, note)
        lot = row.text("fibre lot")
        if lot in fibre and fibre[lot] != wanted:
            yield problem(
                row,
                "fibre lot",
                lot,
                say("That lot is {fibre}. Write one of {wanted}.", fibre=fibre[lot], wanted=wanted),
            )


def _gates(notebook: Notebook) -> Found:
    for row in notebook.page("gates"):
        if row.text("gate") != "shade card" and not row.has("wanted"):
            yield problem(row, "wanted", "", say("Write the reading that is asked for, such as 4."))
