"""A missed visit as one text screen: what would not come, which runs move, how far things go."""

from __future__ import annotations

from collections.abc import Iterator

from api.sheet import MARKS, printable, wrapped
from api.tongue.speaking import aloud
from inventory.science.saying import joined, say
from sourcing.week.facts import PickUpExpected
from sourcing.week.ripple import Moved, Ripple
from sourcing.week.words import day_in_words, grams, listed


def missed_sheet(ripple: Ripple) -> str:
    """The whole of one ripple, each line at most 100 columns."""
    blocks = [
        [say("MISSED"), *_missed(ripple)],
        [say("MOVES"), *_runs(ripple)],
        [say("AHEAD"), *_ahead(ripple)],
    ]
    return printable(
        "\n\n".join("\n".join(map(aloud, block)) for block in blocks if block[1:]) + "\n"
    )


def _missed(ripple: Ripple) -> Iterator[str]:
    for row in ripple.missed:
        yield from wrapped("  ", missed_in_words(row, ripple))


def missed_in_words(row: PickUpExpected, ripple: Ripple) -> str:
    """`Lantern Steps café, avocado stones, Thu 26 Nov 17:00: 2,100 g likely, at worst 0 g`."""
    zone = ripple.before.at.tzinfo
    at = row.at.astimezone(zone)
    head = say(
        "{source}, {dyestuff}, {date} {at:%H:%M}",
        source=row.source,
        dyestuff=row.dyestuff,
        date=day_in_words(at.date()),
        at=at,
    )
    if row.confirmed_mg is not None:
        return say(
            "{head}: {confirmed_mg} that the source has told of",
            head=head,
            confirmed_mg=grams(row.confirmed_mg),
        )
    return say(
        "{head}: {likely_mg} likely, at worst {worst_mg}, not told of yet",
        head=head,
        likely_mg=grams(row.likely_mg),
        worst_mg=grams(row.worst_mg),
    )


def _runs(ripple: Ripple) -> Iterator[str]:
    for row in ripple.moved:
        mark, word = MARKS[row.after.answer], answer_in_words(row)
        yield from wrapped(
            say("  {mark} {run:<3} ", mark=mark, run=row.run),
            say("{shade}: {word}", shade=row.shade, word=word),
        )
        for text in (*(shift.text for shift in row.shifts if shift.kind != "answer"), *row.stays):
            yield from wrapped("        ", text)
    yield from wrapped("  ", rest_in_words(ripple))


def answer_in_words(row: Moved) -> str:
    """`YES becomes NO`, or the one answer that stays."""
    old, new = row.before.answer.upper(), row.after.answer.upper()
    return new if old == new else say("{old} becomes {new}", old=old, new=new)


def rest_in_words(ripple: Ripple) -> str:
    """Which runs stay as they are."""
    if not ripple.moved:
        return "no run moves" if ripple.stay else say("no run is asked for")
    if not ripple.stay:
        return say("no other run is asked for")
    stays = say("stays as it is") if len(ripple.stay) == 1 else say("stay as they are")
    return say("{stay} {stays}", stay=listed(ripple.stay), stays=stays)


def _ahead(ripple: Ripple) -> Iterator[str]:
    for text in (*(row.text for row in ripple.sums), *(row.text for row in ripple.rooms)):
        yield from wrapped("  ", text)


def hurt_in_words(ripple: Ripple) -> str:
    """What a missed visit does, the worst first; `nothing moves` where it does nothing."""
    fallen = [row for row in ripple.moved if row.worse > 0]
    if fallen:
        return joined(
            "; ",
            (
                say(
                    "{shade} ({run}): {answer} becomes {row_after_answer}",
                    shade=row.shade,
                    run=row.run,
                    answer=row.before.answer,
                    row_after_answer=row.after.answer,
                )
                for row in fallen
            ),
        )
    later = [row for row in ripple.moved if any(shift.kind == "dry" for shift in row.shifts)]
    if later:
        return say(
            "{words}: other hours",
            words=listed(say("{shade} ({run})", shade=row.shade, run=row.run) for row in later),
        )
    chances = [shift for row in ripple.moved for shift in row.shifts if shift.kind == "chance"]
    if chances:
        return chances[0].text
    if ripple.sums:
        return ripple.sums[0].text
    moved = [row.run for row in ripple.moved]
    return (
        say("no answer moves, only when {moved} may have enough", moved=listed(moved))
        if moved
        else say("nothing moves")
    )
