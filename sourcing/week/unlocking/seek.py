"""The least changes that turn a run's answer into a yes, found by placing and proved by it.

One constraint is eased at a time (DESIGN 6). Where none does alone, the pair that is least trouble
is looked for, then more that only do together, and none of them can be left out. With one grain
less of any change the run is no yes.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from itertools import product

from sourcing.week.answer import answer_run
from sourcing.week.desk import Desk
from sourcing.week.facts import WeekFacts
from sourcing.week.plan import Answer, Unlock
from sourcing.week.unlocking.easing import KINDS, LEAVE, Easing
from sourcing.week.unlocking.moving import Earlier
from sourcing.week.unlocking.obstacles import in_time, obstacles, used
from sourcing.week.unlocking.trials import Pulled, Trials
from sourcing.week.unlocking.trouble import Trouble, trouble_on
from sourcing.week.unlocking.turn import Turn
from sourcing.week.unlocking.wording import late_by, unlock_of

UNLOCKS_AT_MOST = 5  # shown for one run
OWN_ENOUGH = 3  # ways of the studio's own, beside which no other run is tried to move
MOVES_AT_MOST = 2  # of those, other runs that would move and be in time still
WEEK_TRIALS_AT_MOST = 1_100  # placings after which no other run is begun
PAIRS_AT_MOST = 60  # pairs that are placed for one run
WAYS_AT_MOST = 5  # in which one must is tried to be lifted
SETS_AT_MOST = 24  # of ways, one for each must, that are placed for one run
WITH_TIME_AT_MOST = 4  # of those, where none fits as it is: to which something more is added
LATER_AT_MOST = 40  # runs after an unlocked one that are looked at for what it takes from them
TOGETHER_AT_MOST = 6  # changes that one unlock may ask for
LAYERS_AT_MOST = 4  # how often what stands behind is added to what is eased


def unlocked(
    facts: WeekFacts,
    answers: tuple[Answer, ...],
    turns: Mapping[str, Turn],
    desk: Desk,
) -> tuple[Answer, ...]:
    """The answers, those that are not yes with what would unlock them.

    Parameters
    ----------
    turns : by run, how everything stood when its turn came; a run without one is left as it is
    desk : the desk on which the answers were worked out
    """
    runs = {run.code: run for run in facts.runs}
    earlier = Earlier(facts, desk.days, turns, answers, desk)
    found = []
    made = 0
    for number, answer in enumerate(answers):
        turn = turns.get(answer.run)
        if answer.answer != "yes" and turn is not None and made < WEEK_TRIALS_AT_MOST:
            trials = Trials(runs[answer.run], facts, desk.days, turn, desk, earlier)
            unlocks = _seek(trials, answer, desk, answers[number + 1 :])
            answer = replace(answer, unlocks=unlocks, sought=True, sought_all=not trials.cut)
            made += trials.made
        found.append(answer)
    return tuple(found)


def _seek(
    trials: Trials, answer: Answer, desk: Desk, later: tuple[Answer, ...]
) -> tuple[Unlock, ...]:
    found = []
    for pulled in least_changes(trials, answer, desk):
        trial = trials.trial(pulled)
        unlock = unlock_of(pulled, trial, trials)
        found.append(replace(unlock, loses=loses(trial.desk, later)))
    return tuple(found)


def loses(desk: Desk, later: tuple[Answer, ...]) -> tuple[str, ...]:
    """Runs after this one that were a yes and are none beside it; a group's own day stays its own.

    Looked at for so many runs only; where there are more, for those that come first.
    """
    runs = {
        run.code: run
        for run in desk.facts.runs
        if not run.group_block and run.kept is None  # what is begun has its pots for good
    }
    lost = []
    for answer in _up_to_a_yes(later[:LATER_AT_MOST]):
        run = runs.get(answer.run)
        if run is None or answer.answer == "no":
            continue  # it claims nothing
        desk.larder.open_for(run.code)
        again = answer_run(run, desk)
        if again.first_step_at is None:
            desk.larder.keep_for(run.code)
        if answer.answer == "yes" and again.answer != "yes":
            lost.append(run.code)
    return tuple(lost)


def _up_to_a_yes(later: tuple[Answer, ...]) -> tuple[Answer, ...]:
    """Answers up to the last yes among them: what comes after it has none to lose."""
    last = max((n for n, answer in enumerate(later) if answer.answer == "yes"), default=-1)
    return later[: last + 1]


def least_changes(trials: Trials, answer: Answer, desk: Desk) -> list[Pulled]:
    """What unlocks a run, the least first; empty where nothing was found that does."""
    ways = obstacles(trials.run, answer, desk, trials.earlier)
    if ways.hopeless:
        return []
    if ways.musts:
        return _worth_saying(_all_of(ways.musts, trials), trials)
    return _worth_saying(_in_time(ways.may, (), trials), trials)


def _in_time(may: tuple[Easing, ...], with_: Pulled, trials: Trials) -> list[Pulled]:
    """One thing that does alone, else the pair that is least trouble, else a few."""
    alone = _one_of(may, with_, trials, first=bool(with_))
    return alone or _cheapest_pair(may, with_, trials) or _few_of(may, with_, trials)


def _worth_saying(found: list[Pulled], trials: Trials) -> list[Pulled]:
    """The least first; nothing that asks for more changes than one that stands before it."""
    kept: list[Pulled] = []
    # Each once, those of one rank as they were found: a set would deal them anew each time.
    for pulled in sorted(_few_moves(list(dict.fromkeys(found)), trials), key=_rank):
        if not kept or len(pulled) <= len(kept[-1]):
            kept.append(pulled)
    return kept[:UNLOCKS_AT_MOST]


def _few_moves(found: list[Pulled], trials: Trials) -> list[Pulled]:
    """Of what asks for another run to move those that leave it in time, else the least late."""
    late = {pulled: _lateness(pulled, trials) for pulled in found if _moves(pulled)}
    moves = sorted(late, key=lambda pulled: (late[pulled], _rank(pulled)))
    in_time = [pulled for pulled in moves if not late[pulled]][:MOVES_AT_MOST]
    return [pulled for pulled in found if pulled not in late] + (in_time or moves[:1])


def _moves(pulled: Pulled) -> bool:
    return any(easing.kind == "moved" for easing, _ in pulled)


def _lateness(pulled: Pulled, trials: Trials) -> int:
    return sum(late_by(row, trials.facts) for row in trials.trial(pulled).moved)


def _rank(pulled: Pulled) -> tuple[bool, int, list[int], list[str]]:
    """What the studio can do before what others must allow, few changes before many, then kinds."""
    kinds = sorted(KINDS.index(easing.kind) for easing, _ in pulled)
    asks = any(easing.kind in LEAVE for easing, _ in pulled)
    return asks, len(pulled), kinds, [easing.what for easing, _ in pulled]


def _all_of(musts: tuple[tuple[Easing, ...], ...], trials: Trials) -> list[Pulled]:
    """Every must lifted; ways that serve as they are, else the first that does with more time."""
    wanted = [_plenty(ways) for ways in _sets(musts, trials)]
    found: dict[Pulled, None] = {}
    for whole in wanted:
        pulled = least(whole, trials) if trials.works(whole) else None
        if pulled:
            found[pulled] = None
        if len(found) == UNLOCKS_AT_MOST:
            break
    if found:
        return list(found)
    trials.cut = trials.cut or len(wanted) > WITH_TIME_AT_MOST
    soonest = (_with_time(whole, trials) for whole in wanted[:WITH_TIME_AT_MOST])
    return next(([pulled] for pulled in soonest if pulled), [])


def _sets(musts: tuple[tuple[Easing, ...], ...], trials: Trials) -> list[tuple[Easing, ...]]:
    """A way for each must, the least trouble first; one way may lift several of them."""
    trouble = trouble_of(trials)
    kinds = [sorted(ways, key=lambda row: trouble.of(row.kind))[:WAYS_AT_MOST] for ways in musts]
    sets = {frozenset(ways): tuple(dict.fromkeys(ways)) for ways in product(*kinds)}
    trials.cut = trials.cut or len(sets) > SETS_AT_MOST
    return sorted(sets.values(), key=trouble.of_all)[:SETS_AT_MOST]


def _plenty(wanted: Iterable[Easing]) -> Pulled:
    return tuple((easing, easing.most) for easing in wanted)


def _with_time(whole: Pulled, trials: Trials) -> Pulled | None:
    """What is wanted, and as it fits at no hour, one thing more that saves time, or a few."""
    answer, desk = trials.place(whole)
    if answer.short:
        return None
    more = _in_time(_still_in_the_way(whole, answer, desk, trials), whole, trials)
    return more[0] if more else None


def _one_of(
    may: Iterable[Easing], with_: Pulled, trials: Trials, *, first: bool = False
) -> list[Pulled]:
    """Each easing that does alone, beside what is wanted anyway; or the least trouble of them."""
    trouble = trouble_of(trials)
    order = trouble.of if first else _place_of
    found: list[Pulled] = []
    for easing in sorted(may, key=lambda row: (order(row.kind), row.what, row.hints)):
        own = sum(not _moves(pulled) for pulled in found)
        if easing.kind == "moved" and own >= OWN_ENOUGH:
            continue  # the studio can do enough itself: nobody is asked
        whole = (*with_, (easing, easing.most))
        if trials.works(whole):
            pulled = least(whole, trials)
            if pulled:
                found.append(pulled)
            if first and found:
                break
    return found


def _place_of(kind: str) -> int:
    return KINDS.index(kind)


def trouble_of(trials: Trials) -> Trouble:
    """How much trouble each kind of change is in this studio."""
    facts = trials.facts
    return trouble_on(facts.figures, on=facts.at.astimezone(facts.zone).date())


def _cheapest_pair(may: tuple[Easing, ...], with_: Pulled, trials: Trials) -> list[Pulled]:
    """The two easings that do together and are least trouble; none where no pair does.

    Once one thing is lifted, what still stands in the way shows: only that can be its other half.
    """
    trouble = trouble_of(trials)
    pairs = sorted(_halves(may, with_, trials), key=trouble.of_all)
    for one, other in pairs[:PAIRS_AT_MOST]:
        whole = (*with_, (one, one.most), (other, other.most))
        if trials.works(whole):
            pulled = least(whole, trials)
            if pulled:
                return [pulled]
    trials.cut = trials.cut or len(pairs) > PAIRS_AT_MOST
    return []


def _still_in_the_way(
    lifted: Pulled, answer: Answer, desk: Desk, trials: Trials
) -> tuple[Easing, ...]:
    """What could save time beside what is lifted already."""
    known = {easing.key for easing, _ in lifted}
    may = in_time(trials.run, answer, desk, trials.earlier)
    return tuple(easing for easing in may if easing.key not in known)


def _halves(
    may: tuple[Easing, ...], with_: Pulled, trials: Trials
) -> list[tuple[Easing, Easing]]:  # fmt: skip
    """Each easing with what still stands in the way once it is lifted, each pair once."""
    found: dict[frozenset[object], tuple[Easing, Easing]] = {}
    for one in may:
        answer, desk = trials.place((*with_, (one, one.most)))
        if answer.short or answer.answer == "yes":
            continue
        lifted = (*with_, (one, one.most))
        for other in _still_in_the_way(lifted, answer, desk, trials):
            found.setdefault(frozenset((one.key, other.key)), (one, other))
    return list(found.values())


def _few_of(may: tuple[Easing, ...], with_: Pulled, trials: Trials) -> list[Pulled]:
    """The easings that only do together: all at once, then one after another left out again."""
    kept = _enough(may, with_, trials)
    for row in sorted(kept, key=lambda row: -KINDS.index(row[0].kind)):
        without = [other for other in kept if other != row]
        if trials.works((*with_, *without)):
            kept = without
    if not kept or len(kept) + len(with_) > TOGETHER_AT_MOST:
        return []
    pulled = least((*with_, *kept), trials)
    return [pulled] if pulled else []


def _enough(may: tuple[Easing, ...], with_: Pulled, trials: Trials) -> list[tuple[Easing, int]]:
    """So many easings that the run is a yes; what stands behind one shows once it is lifted."""
    kept = {easing.key: (easing, easing.most) for easing in may if easing.kind != "moved"}
    for _ in range(LAYERS_AT_MOST):
        pulled = (*with_, *kept.values())
        if trials.works(pulled):
            return list(kept.values())
        answer, desk = trials.place(pulled)
        known = {easing.key for easing, _ in pulled}
        behind = [row for row in in_time(trials.run, answer, desk) if row.key not in known]
        if answer.short or not behind:
            return []
        kept |= {easing.key: (easing, easing.most) for easing in behind}
    return []


def least(whole: Pulled, trials: Trials) -> Pulled | None:
    """Each change made as small as it may be, one after another; None where none is needed.

    A change that turns out not to be needed is left out. In the end one grain less of any of them
    is no yes: where that no longer holds after the others were made smaller, the search goes round
    again, and after that gives up.
    """
    pulled = whole
    for _ in range(3):
        before = pulled
        for index in range(len(pulled)):
            pulled = _smaller(pulled, index, trials)
        pulled = tuple(row for row in pulled if row[1])
        if pulled == before and _tight(pulled, trials):
            return pulled
        if not pulled:
            return None
    return pulled if _tight(pulled, trials) else None


def _tight(pulled: Pulled, trials: Trials) -> bool:
    """Whether one grain less of any change is no yes, and neither is leaving it out."""
    return trials.works(pulled) and not any(
        trials.works(_with(pulled, index, grains))
        for index, (_, most) in enumerate(pulled)
        for grains in {most - 1, 0}
    )


def _smaller(pulled: Pulled, index: int, trials: Trials) -> Pulled:
    easing, most = pulled[index]
    if not trials.works(pulled):
        return pulled
    hints = (*easing.hints, *used(easing, most, *trials.place(pulled)))
    grains = fewest(lambda grains: trials.works(_with(pulled, index, grains)), most, hints)
    return _with(pulled, index, grains)


def _with(pulled: Pulled, index: int, grains: int) -> Pulled:
    """The same with so many grains of one change; none of it where they are 0."""
    row = (pulled[index][0], grains)
    return (*pulled[:index], row, *pulled[index + 1 :])


def fewest(works: Callable[[int], bool], most: int, hints: tuple[int, ...] = ()) -> int:
    """A number of grains that works, where one fewer does not; `most` is known to work.

    >>> fewest(lambda grains: grains >= 49, 500), fewest(lambda grains: grains >= 49, 500, (49,))
    (49, 49)
    """
    if works(0):
        return 0
    low, high = 0, most
    for hint in sorted(set(hints)):
        if not low < hint < high:
            continue
        if not works(hint):
            low = hint
        elif works(hint - 1):
            high = hint - 1
        else:
            return hint
    # Often what works with plenty of it works with no less: tried before the halves.
    if high == most and high - low > 1:
        if not works(most - 1):
            return most
        high = most - 1
    while high - low > 1:
        middle = (low + high) // 2
        if works(middle):
            high = middle
        else:
            low = middle
    return high
