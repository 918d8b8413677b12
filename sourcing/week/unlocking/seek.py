"""The least changes that turn a run's answer into a yes, found by placing and proved by it.

One constraint is eased at a time (DESIGN 6). Where several must be lifted they stand together, and
none of them can be left out. With one grain less of any change the run is no yes.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace

from sourcing.week.answer import answer_run
from sourcing.week.desk import Desk
from sourcing.week.facts import RunFacts, WeekFacts
from sourcing.week.plan import Answer, Unlock
from sourcing.week.unlocking.easing import KINDS, LEAVE, Easing, eased
from sourcing.week.unlocking.obstacles import in_time, obstacles, used
from sourcing.week.unlocking.turn import Turn, desk_at
from sourcing.week.unlocking.wording import unlock_of

UNLOCKS_AT_MOST = 5  # shown for one run
TRIALS_AT_MOST = 300  # placings of one run
WEEK_TRIALS_AT_MOST = 600  # placings after which no other run is begun
LATER_AT_MOST = 40  # runs after an unlocked one that are looked at for what it takes from them
TOGETHER_AT_MOST = 6  # changes that one unlock may ask for
LAYERS_AT_MOST = 4  # how often what stands behind is added to what is eased

Pulled = tuple[tuple[Easing, int], ...]


@dataclass
class Trials:
    """One run placed in studios that differ; each one only once."""

    run: RunFacts
    facts: WeekFacts
    days: int
    turn: Turn
    like: Desk | None = None  # the desk of the studio as it is
    made: int = 0
    _known: dict[Pulled, tuple[Answer, Desk]] = field(default_factory=dict)

    def place(self, pulled: Pulled) -> tuple[Answer, Desk]:
        """The run's answer with so many grains of each easing, and the desk it lies on."""
        pulled = tuple(row for row in pulled if row[1])
        known = self._known.get(pulled)
        if known is None:
            known = self._known[pulled] = self._placed(pulled)
        return known

    def _placed(self, pulled: Pulled) -> tuple[Answer, Desk]:
        facts = self.facts
        # A day is opened before somebody can stay longer on it.
        for easing, grains in sorted(pulled, key=lambda row: row[0].kind != "open day"):
            facts = eased(facts, easing, grains)
        desk = desk_at(self.turn, facts, days=self.days, like=self.like)
        run = next(row for row in facts.runs if row.code == self.run.code)
        desk.larder.open_for(run.code)
        self.made += 1
        return answer_run(run, desk), desk

    def works(self, pulled: Pulled) -> bool:
        """Whether the answer is yes; nothing new is tried once enough has been."""
        kept = tuple(row for row in pulled if row[1])
        if self.made >= TRIALS_AT_MOST and kept not in self._known:
            return False
        return self.place(kept)[0].answer == "yes"


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
    found = []
    made = 0
    for number, answer in enumerate(answers):
        turn = turns.get(answer.run)
        if answer.answer != "yes" and turn is not None and made < WEEK_TRIALS_AT_MOST:
            trials = Trials(runs[answer.run], facts, desk.days, turn, desk)
            unlocks = _seek(trials, answer, desk, answers[number + 1 :])
            answer = replace(answer, unlocks=unlocks, sought=True)
            made += trials.made
        found.append(answer)
    return tuple(found)


def _seek(
    trials: Trials, answer: Answer, desk: Desk, later: tuple[Answer, ...]
) -> tuple[Unlock, ...]:
    found = []
    for pulled in least_changes(trials, answer, desk):
        unlocked_answer, its_desk = trials.place(pulled)
        unlock = unlock_of(pulled, unlocked_answer, its_desk, trials.facts)
        found.append(replace(unlock, loses=_loses(its_desk, later)))
    return tuple(found)


def _loses(desk: Desk, later: tuple[Answer, ...]) -> tuple[str, ...]:
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
    ways = obstacles(trials.run, answer, desk)
    if ways.hopeless:
        return []
    if ways.musts:
        return _worth_saying(_all_of(ways.musts, trials))
    return _worth_saying(_one_of(ways.may, (), trials) or _few_of(ways.may, (), trials))


def _worth_saying(found: list[Pulled]) -> list[Pulled]:
    """The least first; nothing that asks for more changes than one that stands before it."""
    kept: list[Pulled] = []
    for pulled in sorted(set(found), key=_rank):
        if not kept or len(pulled) <= len(kept[-1]):
            kept.append(pulled)
    return kept[:UNLOCKS_AT_MOST]


def _rank(pulled: Pulled) -> tuple[bool, int, list[int], list[str]]:
    """What the studio can do before what others must allow, few changes before many, then kinds."""
    kinds = sorted(KINDS.index(easing.kind) for easing, _ in pulled)
    asks = any(easing.kind in LEAVE for easing, _ in pulled)
    return asks, len(pulled), kinds, [easing.what for easing, _ in pulled]


def _all_of(musts: tuple[tuple[Easing, ...], ...], trials: Trials) -> list[Pulled]:
    """Every must lifted; ways that serve as they are, else the first that does with more time."""
    wanted = [_plenty(ways) for ways in _sets(musts)]
    direct = [least(whole, trials) for whole in wanted if trials.works(whole)]
    if any(direct):
        return [pulled for pulled in direct if pulled]
    return next(([found] for whole in wanted if (found := _with_time(whole, trials))), [])


def _sets(musts: tuple[tuple[Easing, ...], ...]) -> list[list[Easing]]:
    """Each must in its first way, then with one must after another in its other ways."""
    first = [ways[0] for ways in musts]
    sets = [first]
    for index, ways in enumerate(musts):
        sets += [[*first[:index], way, *first[index + 1 :]] for way in ways[1:]]
    return sets


def _plenty(wanted: Iterable[Easing]) -> Pulled:
    return tuple((easing, easing.most) for easing in wanted)


def _with_time(whole: Pulled, trials: Trials) -> Pulled | None:
    """What is wanted, and as it fits at no hour, one thing more that saves time, or a few."""
    answer, desk = trials.place(whole)
    if answer.short:
        return None
    may = tuple(in_time(trials.run, answer, desk))
    more = _one_of(may, whole, trials, first=True) or _few_of(may, whole, trials)
    return more[0] if more else None


def _one_of(
    may: Iterable[Easing], with_: Pulled, trials: Trials, *, first: bool = False
) -> list[Pulled]:
    """Each easing that does alone, beside what is wanted anyway."""
    found = []
    for easing in sorted(may, key=lambda row: (KINDS.index(row.kind), row.what, row.hints)):
        whole = (*with_, (easing, easing.most))
        if trials.works(whole):
            pulled = least(whole, trials)
            if pulled:
                found.append(pulled)
            if first and found:
                break
    return found


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
    kept = {easing.key: (easing, easing.most) for easing in may}
    for _ in range(LAYERS_AT_MOST):
        pulled = (*with_, *kept.values())
        if trials.works(pulled):
            return list(kept.values())
        answer, desk = trials.place(pulled)
        behind = [easing for easing in in_time(trials.run, answer, desk) if easing.key not in kept]
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
    return trials.works(pulled) and not any(
        trials.works(_with(pulled, index, pulled[index][1] - 1)) for index in range(len(pulled))
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
    if not works(most - 1):
        return most
    if works(0):
        return 0
    low, high = 0, most - 1
    for hint in sorted(set(hints)):
        if not low < hint < high:
            continue
        if not works(hint):
            low = hint
        elif works(hint - 1):
            high = hint - 1
        else:
            return hint
    while high - low > 1:
        middle = (low + high) // 2
        if works(middle):
            high = middle
        else:
            low = middle
    return high
