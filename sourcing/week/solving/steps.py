"""Steps in time: when one may begin, what follows what, which of several ways it is done."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from sourcing.week.solving.model import Model, Sum, Timed


def step(
    model: Model,
    name: str,
    *,
    minutes: int,
    windows: Iterable[tuple[int, int]] | None = None,
    present: Sum = 1,
) -> Timed:
    """A step of so many minutes.

    Parameters
    ----------
    minutes : 0 or more
    windows : first and last minute at which it may begin, any order; None: any minute
    present : a yes-or-no where it may be left out
    """
    rows = [(0, model.horizon)] if windows is None else [list(row) for row in windows]
    start = model.cp.new_int_var_from_domain(
        model.domain.from_intervals([list(row) for row in rows]), f"{name} begins"
    )
    if isinstance(present, int):
        interval = model.cp.new_fixed_size_interval_var(start, minutes, name)
    else:
        interval = model.cp.new_optional_fixed_size_interval_var(start, minutes, present, name)
    return Timed(name, start, minutes, start + minutes, interval, present)


def held(model: Model, name: str, since: Timed, until: Sum, *, more: int = 0) -> Timed:
    """A stretch from the start of a step until a moment and so many minutes more."""
    size = model.number(f"{name} is held", most=model.horizon + more)
    end = until + more
    if isinstance(since.present, int):
        interval = model.cp.new_interval_var(since.start, size, end, name)
    else:
        interval = model.cp.new_optional_interval_var(since.start, size, end, since.present, name)
    return Timed(name, since.start, size, end, interval, since.present)


def follows(model: Model, before: Timed, after: Timed, *, gap: int = 0) -> None:
    """A step begins when another is over and so many minutes have passed."""
    there = [row.present for row in (before, after) if not isinstance(row.present, int)]
    held_to = model.cp.add(after.start >= before.end + gap)
    if there:
        held_to.only_enforce_if(there)


def chain(model: Model, steps: Sequence[Timed], *, gaps: Sequence[int] | None = None) -> None:
    """Steps one after another, each when the one before is over."""
    for number in range(len(steps) - 1):
        gap = 0 if gaps is None else gaps[number]
        follows(model, steps[number], steps[number + 1], gap=gap)


def one_of(
    model: Model, name: str, ways: Sequence[int], *, present: Sum = 1
) -> tuple[Timed, list[Timed]]:
    """A step that is done in exactly one of several ways, each with its minutes, or left out.

    Returns
    -------
    the step as a whole, and each way as a step that may be left out
    """
    chosen = [model.yes_or_no(f"{name} way {number}") for number in range(len(ways))]
    model.cp.add(sum(chosen) == present)
    start = model.number(f"{name} begins")
    took = model.number(f"{name} takes", least=min(ways), most=max(ways))
    end = model.number(f"{name} ends")
    rows = []
    for number, minutes in enumerate(ways):
        model.cp.add(took == minutes).only_enforce_if(chosen[number])
        interval = model.cp.new_optional_fixed_size_interval_var(
            start, minutes, chosen[number], f"{name} way {number}"
        )
        rows.append(Timed(f"{name} way {number}", start, minutes, start + minutes, interval,
                          chosen[number]))  # fmt: skip
    if isinstance(present, int):
        whole = model.cp.new_interval_var(start, took, end, name)
    else:
        whole = model.cp.new_optional_interval_var(start, took, end, present, name)
    return Timed(name, start, took, end, whole, present), rows


# -- ends ------------------------------------------------------------------------------------


def last_of(model: Model, name: str, steps: Iterable[Timed]) -> Sum:
    """The moment at which the last of some steps is over."""
    end = model.number(name)
    for row in steps:
        held_to = model.cp.add(end >= row.end)
        if not isinstance(row.present, int):
            held_to.only_enforce_if(row.present)
    return end


def late_by(model: Model, row: Timed, due: int) -> Sum:
    """Minutes by which a step is over too late; 0 when it is in time."""
    late = model.number(f"{row.name} late by")
    model.cp.add(late >= row.end - due)
    return late


def is_late(model: Model, row: Timed, due: int) -> Sum:
    """Whether a step is over too late."""
    late = model.yes_or_no(f"{row.name} late")
    model.cp.add(row.end <= due).only_enforce_if(~late)
    return late
