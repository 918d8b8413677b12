"""Fibre by what has been done to it: unscoured, scoured, mordanted, dyed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from api.web.note.deeds import Deed, fibre_deed
from api.web.shelves.anchors import anchor_of, label_address
from api.web.shelves.figures import FigureShown, figure_shown
from api.web.shelves.words import TONES, day_said, last_good_said, moment_said, mood_of
from inventory.science.catalogue import find_figure
from inventory.science.cloth import length_mm
from inventory.science.facts import FibreFacts
from inventory.science.figures import Figure
from inventory.science.keeping import fibre_last_good_day
from inventory.science.saying import joined, say
from sourcing.shelves import ShelvesFacts
from sourcing.week.words import grams, metres, weight_per_area, width


@dataclass(frozen=True, slots=True)
class FibreShown:
    """One lot of fibre, ready to be put on the page."""

    anchor: str
    label: str  # where it is printed
    code: str
    what: str  # "wool yarn"
    left: str
    scoured: str  # "2,280 g once scoured"; empty where that is done
    wet: str  # "dry", "damp: past by 3 days"
    tone: str
    since: str
    left_out: str
    notes: tuple[str, ...]
    figures: tuple[FigureShown, ...]
    deed: Deed  # the form that sees to it, filled


@dataclass(frozen=True, slots=True)
class FibreGroup:
    """Lots to which the same has been done."""

    heading: str
    amount: str
    rows: tuple[FibreShown, ...]


def fibre_shown(
    facts: ShelvesFacts, rows: Sequence[FibreFacts], *, carried: str
) -> tuple[FibreGroup, ...]:
    """Fibre in groups, from unscoured to dyed."""
    groups: dict[tuple[int, str], list[FibreFacts]] = {}
    for row in rows:
        groups.setdefault(done_to(row), []).append(row)
    return tuple(
        FibreGroup(
            heading=heading,
            amount=grams(sum(row.left_mg for row in lots)),
            rows=tuple(_fibre(facts, row, carried) for row in lots),
        )
        for (_, heading), lots in sorted(groups.items())
    )


def in_order(rows: Sequence[FibreFacts]) -> tuple[FibreFacts, ...]:
    """Fibre as its groups follow each other, by code within one."""
    return tuple(sorted(rows, key=lambda row: (done_to(row), row.code)))


def done_to(row: FibreFacts) -> tuple[int, str]:
    """What has been done to it, in the order of the work."""
    if row.quality:
        return (4 if row.quality == "second quality" else 5), say(
            "dyed, {quality}", quality=row.quality
        )
    if row.shade:
        return 3, "dyed"
    if row.mordant:
        return 2, say("mordanted with {mordant}", mordant=_mordant(row))
    return (1, say("scoured")) if row.scoured else (0, say("unscoured"))


def _mordant(row: FibreFacts) -> str:
    percent = (
        say(" {normalize:f} %", normalize=row.mordant_percent.normalize())
        if row.mordant_percent
        else ""
    )
    return joined("", (row.mordant, percent))


def _fibre(facts: ShelvesFacts, row: FibreFacts, carried: str) -> FibreShown:
    wet, tone, damp_figure = _wet(facts, row)
    scoured, loss = _once_scoured(facts, row)
    behind = [each for each in (damp_figure, loss) if each is not None]
    return FibreShown(
        anchor=anchor_of(row.code),
        label=label_address(row.code, carried=carried),
        code=row.code,
        what=say("{fibre} {form}", fibre=row.fibre, form=row.form).strip(),
        left=grams(row.left_mg),
        scoured=scoured,
        wet=wet,
        tone=tone,
        since=day_said(row.since, facts.today) if row.since else "",
        left_out=_left_out(facts, row),
        notes=tuple(_notes(facts, row)),
        figures=tuple(figure_shown(each, carried=carried) for each in behind),
        deed=fibre_deed(
            row, is_here=row.arrives_at is None or row.arrives_at <= facts.at, carried=carried
        ),
    )


def _wet(facts: ShelvesFacts, row: FibreFacts) -> tuple[str, str, Figure | None]:
    """Damp or dry; damp fibre has its last good day."""
    good = fibre_last_good_day(row, facts.figures, on=facts.today)
    if good is None:
        return ("damp", "wait", None) if row.damp else ("dry", "plain", None)
    days_left = (good.day - facts.today).days
    words = say("damp: {last_good_said}", last_good_said=last_good_said(good.day, facts.today))
    return words, TONES[mood_of(days_left)], good.figure


def _once_scoured(facts: ShelvesFacts, row: FibreFacts) -> tuple[str, Figure | None]:
    """What unscoured fibre comes to when its grease is off."""
    if row.scoured:
        return "", None
    loss = find_figure(facts.figures, row.fibre, "scour_loss_fraction", on=facts.today)
    if loss is None:
        return "", None
    return say(
        "{left_mg} once scoured", left_mg=grams(round(row.left_mg * (1 - Fraction(loss.value))))
    ), loss


def _left_out(facts: ShelvesFacts, row: FibreFacts) -> str:
    """Why it cannot go into a bath now; empty when it can."""
    if not row.labelled:
        return say("no label: find out what it has had")
    if row.set_aside:
        return say("set aside: {set_aside}", set_aside=row.set_aside)
    if row.clients_own and not row.weighed:
        return say("the client's own, not weighed here yet")
    if row.arrives_at is not None and row.arrives_at > facts.at:
        return say(
            "in the post, comes {moment_said}",
            moment_said=moment_said(row.arrives_at, facts.today, facts.zone),
        )
    good = fibre_last_good_day(row, facts.figures, on=facts.today)
    if good is not None and good.day < facts.today:
        return say("check it for mould, then scour it again")
    return ""


def _notes(facts: ShelvesFacts, row: FibreFacts) -> Iterator[str]:
    if row.cloth is not None:
        long = metres(round(length_mm(row.left_mg, row.cloth)))
        yield say(
            "{long} of {weight}, {width} wide",
            long=long,
            weight=weight_per_area(row.cloth.g_per_m2),
            width=width(row.cloth.width_mm),
        )
    if row.shade:
        depth = say(", depth {depth} of 5", depth=row.depth) if row.depth else ""
        yield say("dyed {shade}{depth}", shade=row.shade, depth=depth)
    if row.came_out:
        yield say("came out {came_out}", came_out=row.came_out)
    if row.mordant and (row.shade or row.quality):
        yield say("mordanted with {mordant}", mordant=_mordant(row))
    if row.clients_own:
        yield say("the client's own")
    if row.iron_percent:
        yield say(
            "iron in it: {normalize:f} % as iron sulphate", normalize=row.iron_percent.normalize()
        )
    if row.site and len(facts.sites) > 1:
        yield row.site
