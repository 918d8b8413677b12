"""What can go wrong with intentions: one class each, with its values and what can be done."""

from __future__ import annotations

from datetime import date, datetime

from inventory.errors import LarderError, in_words, on, quoted


def day_said(day: date) -> str:
    """A day as it is said.

    Examples
    --------
    >>> day_said(date(2026, 11, 3))
    '3 November 2026'
    """
    return f"{day.day} {day:%B %Y}"


class NoSuchSource(LarderError):
    """A name that no source of the studio has."""

    code = "no_such_source"

    def __init__(self, source: str) -> None:
        self.source = source
        super().__init__(f"No source is called {source}. Look at its name, or add it first.")


class NoSourceThere(LarderError):
    """An address of a source that the studio does not have."""

    code = "no_source_there"

    def __init__(self, source: int) -> None:
        self.source = source
        super().__init__("No source of this studio is kept there. Look in the list of sources.")


class TooMuchGiven(LarderError):
    """More hand-overs in the time asked for than one answer holds."""

    code = "too_much_given"

    def __init__(self, since: date, most: int) -> None:
        self.since, self.most = since.isoformat(), most
        super().__init__(
            f"More than {most:,} hand-overs since {since.day} {since:%B %Y}. Say a later day."
        )


class SourceTaken(LarderError):
    """A name that another source already has."""

    code = "source_taken"

    def __init__(self, source: str) -> None:
        self.source = source
        super().__init__(
            f"There is a source called {source} already. Give the new one a name of its own."
        )


class TubsNotThere(LarderError):
    """More tubs taken from a source than stood there."""

    code = "tubs_not_there"

    def __init__(self, *, source: str, asked: int, there: int, at: datetime) -> None:
        self.source, self.asked, self.there, self.at = source, asked, there, at
        tubs = "tub" if asked == 1 else "tubs"
        super().__init__(
            f"{asked} {tubs} taken from {source} on {on(at)}, and {there} stood there. "
            "Take fewer, or write down first what was left there."
        )


class TubsSaidBefore(LarderError):
    """Another number of tubs for a move that is on record."""

    code = "tubs_said_before"

    def __init__(self, *, at: datetime, how: str, tubs: int) -> None:
        self.at, self.how, self.tubs = at, how, tubs
        said = "tub is" if tubs == 1 else "tubs are"
        super().__init__(
            f"{tubs} {said} on record as {how} on {on(at)}. Give another moment for more."
        )


class NoSuchAgreement(LarderError):
    """Something that a source never agreed to give."""

    code = "no_such_agreement"

    def __init__(self, *, source: str, gives: str) -> None:
        self.source, self.gives = source, gives
        super().__init__(
            f"{source} has not agreed to give {gives or 'anything'}. Agree what it gives first."
        )


class NoPermission(LarderError):
    """A permission taken back that nobody had given."""

    code = "no_permission"

    def __init__(self, *, source: str, gives: str) -> None:
        self.source, self.gives = source, gives
        super().__init__(
            f"No permission is on record for {gives} from {source}, so there is none to withdraw."
        )


class WrongWayRound(LarderError):
    """A last day before the first."""

    code = "wrong_way_round"

    def __init__(self, first: date, last: date) -> None:
        self.first, self.last = first, last
        super().__init__(
            f"{day_said(last)} comes before {day_said(first)}. "
            "Give the earlier day first, or look at the years."
        )


class TooManyDays(LarderError):
    """More single days, or closed stretches of days, than one agreement holds."""

    code = "too_many_days"

    def __init__(self, days: int, *, most: int) -> None:
        self.days, self.most = days, most
        super().__init__(
            f"That makes {days} days or stretches of days; an agreement holds {most}. "
            "Say a weekday, or one longer stretch."
        )


class TwoAmounts(LarderError):
    """What a source expects to give, said twice over."""

    code = "two_amounts"

    def __init__(self) -> None:
        super().__init__("Say what is likely to come by weight or by count: one of the two.")


class NoSuchRun(LarderError):
    """A code that no run of the studio has."""

    code = "no_such_run"

    def __init__(self, run: str) -> None:
        self.run = run
        super().__init__(f"No run has the code {run}. Ask for it first.")


class NoSuchRecipe(LarderError):
    """A code that no recipe of the studio has."""

    code = "no_such_recipe"

    def __init__(self, recipe: str) -> None:
        self.recipe = recipe
        super().__init__(f"No recipe has the code {recipe}. Write it first.")


class RecipeThere(LarderError):
    """A recipe written as new whose code is taken."""

    code = "recipe_there"

    def __init__(self, recipe: str) -> None:
        self.recipe = recipe
        super().__init__(
            f"There is a recipe {recipe} already. Change that one, or give the new one a code of "
            "its own."
        )


class RecipeChanged(LarderError):
    """A recipe of which somebody wrote another version meanwhile."""

    code = "recipe_changed"

    def __init__(self, recipe: str, *, version: int) -> None:
        self.recipe, self.version = recipe, version
        super().__init__(
            f"Somebody wrote version {version} of {recipe} meanwhile. Look at it, and write yours "
            "once more if it is still wanted."
        )


class RunTaken(LarderError):
    """A code that another run already has."""

    code = "run_taken"

    def __init__(self, run: str) -> None:
        self.run = run
        super().__init__(f"There is a run {run} already. Give the new one a code of its own.")


class RunTooHeavy(LarderError):
    """A run of more fibre than the week is worked out for."""

    code = "run_too_heavy"

    def __init__(self, run: str, *, weight_mg: int, most_mg: int) -> None:
        self.run, self.weight_mg, self.most_mg = run, weight_mg, most_mg
        super().__init__(
            f"Run {run}: {-(-weight_mg // 1_000_000):,} kg asked for; a run of "
            f"{most_mg // 1_000_000:,} kg at most is worked out. Divide it into several."
        )


class OtherFibre(LarderError):
    """A recipe asked for on a fibre that it is not for."""

    code = "other_fibre"

    def __init__(self, *, recipe: str, fibre: str, fibres: tuple[str, ...]) -> None:
        self.recipe, self.fibre, self.fibres = recipe, fibre, fibres
        super().__init__(
            f"{recipe} is for {' or '.join(fibres)}, not for {fibre}. Choose another recipe."
        )


class RunFinished(LarderError):
    """Something asked of a run that is dyed already."""

    code = "run_finished"

    def __init__(self, *, run: str, at: datetime) -> None:
        self.run, self.at = run, at
        super().__init__(f"Run {run} was finished on {on(at)}. Ask for a new one.")


class RunHasBegun(LarderError):
    """Something asked of a run that is under way."""

    code = "run_has_begun"

    def __init__(self, run: str) -> None:
        self.run = run
        super().__init__(
            f"Run {run} is under way, so it is neither changed nor let go. Finish it with what "
            "came out of it; what is no use is tipped out afterwards."
        )


class NotFinished(LarderError):
    """Something taken back that was never said."""

    code = "not_finished"

    def __init__(self, run: str) -> None:
        self.run = run
        super().__init__(f"Run {run} is not finished, so there is nothing to take back.")


class NoAmount(LarderError):
    """A pick-up without weight or count, or with both."""

    code = "no_amount"

    def __init__(self) -> None:
        super().__init__("Weigh what came or count it: one of the two.")


class NothingToPutBy(LarderError):
    """Runs asked for of something that is neither a dyestuff nor a shade here."""

    code = "nothing_to_put_by"

    def __init__(self, of: str) -> None:
        self.of = of
        super().__init__(
            f"Nothing here is called {of}: no dyestuff, and no shade that takes one. "
            "Look among the sources and recipes."
        )


class NoGapAhead(LarderError):
    """Runs asked for over the next gap of a dyestuff that has none."""

    code = "no_gap_ahead"

    def __init__(self, dyestuff: str) -> None:
        self.dyestuff = dyestuff
        super().__init__(
            f"No gap of {dyestuff} is ahead. Say from when to when the runs are wanted."
        )


class NoSuchPutBy(LarderError):
    """A code that no wish to put by for has."""

    code = "no_such_put_by"

    def __init__(self, put_by: str) -> None:
        self.put_by = put_by
        super().__init__(f"Nothing is put by for under the code {put_by}. Look at the list.")


class PutByOfOneThing(LarderError):
    """A wish that names neither a recipe nor a dyestuff, or both, or a recipe with a state."""

    code = "put_by_of_one_thing"

    def __init__(self) -> None:
        super().__init__(
            "Name a recipe, or a dyestuff with its state: one of the two. A recipe says itself in "
            "which state it takes what."
        )


class TakesNoDyestuff(LarderError):
    """Runs to put by for of a recipe that takes nothing that could be put by."""

    code = "takes_no_dyestuff"

    def __init__(self, shade: str) -> None:
        self.shade = shade
        super().__init__(f"{shade} takes no dyestuff, so there is nothing to put by for it.")


class TooManyRuns(LarderError):
    """More runs than one wish may hold."""

    code = "too_many_runs"

    def __init__(self, runs: int, most: int) -> None:
        self.runs, self.most = runs, most
        super().__init__(f"{runs:,} runs wished for, {most} at most. Divide the wish.")


class SpreadUnknown(LarderError):
    """A word for how runs are spread, or what is put by, that is not known."""

    code = "spread_unknown"

    def __init__(self, word: str, known: tuple[str, ...]) -> None:
        self.word, self.known = word, " or ".join(known)
        super().__init__(f"“{word}” is not known here. Say {self.known}.")


class NoPieceMass(LarderError):
    """A count of pieces of which nobody knows what one weighs."""

    code = "no_piece_mass"

    def __init__(self, dyestuff: str) -> None:
        self.dyestuff = dyestuff
        super().__init__(
            f"Nobody knows what one piece of {dyestuff} weighs. Weigh what came, "
            "or write the mass of a piece in the studio's rules."
        )


class CutLater(LarderError):
    """Something said to be cut after it was handed over."""

    code = "cut_later"

    def __init__(self, *, gives: str, cut_on: date, came_on: date) -> None:
        self.gives, self.cut_on, self.came_on = gives, cut_on, came_on
        super().__init__(
            f"{gives} came on {day_said(came_on)} and cannot have been cut on "
            f"{day_said(cut_on)}. Look at the dates again."
        )


class NoNestCheck(LarderError):
    """A hedge cut in the nesting season, and nobody looked for nests."""

    code = "no_nest_check"

    def __init__(self, *, gives: str, cut_on: date, season: str) -> None:
        self.gives, self.cut_on, self.season = gives, cut_on, season
        super().__init__(
            f"{gives} cut on {day_said(cut_on)} was cut in the nesting season here ({season}). "
            "Say who looked the hedge over for nests before the cut, and on which day."
        )


class NestCheckElsewhen(LarderError):
    """A look for nests that was after the cut, or too long before it."""

    code = "nest_check_elsewhen"

    def __init__(self, *, gives: str, cut_on: date, looked_on: date, days: int) -> None:
        self.gives, self.cut_on, self.looked_on, self.days = gives, cut_on, looked_on, days
        counts = f"at most {days} days before it" if days else "on the same day"
        super().__init__(
            f"{gives} was cut on {day_said(cut_on)}, and nests were looked for on "
            f"{day_said(looked_on)}: a look counts before the cut, {counts}. "
            "Say when the hedge was last looked over."
        )


class SpokenFor(LarderError):
    """More asked for than is left beside what other runs were promised."""

    code = "spoken_for"

    def __init__(
        self, *, lot: str, what: str, asked: int, left: int, claimed: int, unit: str, runs: str
    ) -> None:
        self.lot, self.what, self.asked, self.left = lot, what, asked, left
        self.claimed, self.unit, self.runs = claimed, unit, runs
        self.spare = max(left - claimed, 0)
        self.short = asked - self.spare
        super().__init__(
            f"Lot {lot}, {what}: {in_words(asked, unit)} asked for, {in_words(left, unit)} left, "
            f"of which {in_words(claimed, unit)} are promised to {runs}; "
            f"short by {in_words(self.short, unit)}. Take less, or release a claim."
        )


class NoSuchPickUp(LarderError):
    """A pick-up struck that nobody expects."""

    code = "no_such_pick_up"

    def __init__(self, *, source: str, gives: str, on: str, why: str, expected: str) -> None:
        self.source, self.gives, self.on = source, gives, on
        what = f" of {gives}" if gives else ""
        there = f"Expected are {expected}." if expected else "None is expected of it at all."
        do = "Choose one of these." if expected else "Look at its agreement."
        super().__init__(f"No pick-up{what} from {source} is expected on {on}{why}. {there} {do}")


class NoSuchReader(LarderError):
    """A name that no reader of the studio has."""

    code = "no_such_reader"

    def __init__(self, reader: str) -> None:
        self.reader = reader
        super().__init__(f"No reader is called {reader}. Look at the name, or add it first.")


class ReaderTaken(LarderError):
    """A name, an address or a source that another reader has."""

    code = "reader_taken"

    def __init__(self, *, what: str, reader: str) -> None:
        self.what, self.reader = what, reader
        super().__init__(f"{what} is written to already, as {reader}. Change what {reader} wants.")


class TooManyReaders(LarderError):
    """More readers than a studio writes to."""

    code = "too_many_readers"

    def __init__(self, most: int) -> None:
        self.most = most
        super().__init__(
            f"The studio writes to {most} readers, as many as it can. Let "
            "several read under one address."
        )


class NoAddress(LarderError):
    """An address that no letter reaches."""

    code = "no_address"

    def __init__(self, address: str) -> None:
        self.address = address
        super().__init__(
            f"{quoted(address)} is no e-mail address. Write one such as dyer@example.org."
        )


class NotForReader(LarderError):
    """A kind of letter that is not for this reader, or none at all."""

    code = "not_for_reader"

    def __init__(self, *, reader: str, asked: tuple[str, ...], may: tuple[str, ...]) -> None:
        self.reader, self.asked, self.may = reader, asked, may
        said = f"{reader} cannot be sent {' and '.join(asked)}" if asked else f"{reader}: nothing"
        said += "" if asked else " is asked for"
        super().__init__(f"{said}. Choose among {', '.join(may)}.")


class NoAgreement(LarderError):
    """A source that has agreed to nothing, so that there is no day to be told of."""

    code = "no_agreement"

    def __init__(self, source: str) -> None:
        self.source = source
        super().__init__(
            f"{source} has no agreement, so there is no pick-up to be told of. Write one first."
        )


class NoLeaveToWrite(LarderError):
    """A source that nobody asked whether it may be written to."""

    code = "no_leave_to_write"

    def __init__(self, source: str) -> None:
        self.source = source
        super().__init__(
            f"{source} has not said that it may be written to. Ask, and write down who said so "
            "and when."
        )


class NoHours(LarderError):
    """A morning sheet without its hour, or quiet hours without both ends."""

    code = "no_hours"

    def __init__(self, *, reader: str, what: str, say: str) -> None:
        self.reader, self.what = reader, what
        super().__init__(f"{reader}: {what}. {say}")


class NoSuchSupplier(LarderError):
    """A name that no supplier of the studio has."""

    code = "no_such_supplier"

    def __init__(self, supplier: str) -> None:
        self.supplier = supplier
        super().__init__(
            f"No supplier is called {quoted(supplier)}. Look at the name, or add it first."
        )


class SupplierTaken(LarderError):
    """A name that another supplier already has."""

    code = "supplier_taken"

    def __init__(self, supplier: str) -> None:
        self.supplier = supplier
        super().__init__(
            f"There is a supplier {quoted(supplier)} already. Change that one, or give the new one "
            "a name of its own."
        )


class TermsUnclear(LarderError):
    """Terms of a supplier, or prices, that no sum could be made with."""

    code = "terms_unclear"

    def __init__(self, whose: str, why: str) -> None:
        self.whose = whose
        super().__init__(f"{whose}: {why}")


class OfferTaken(LarderError):
    """A price list with the same fibre, pack and first day as one that stands."""

    code = "offer_taken"

    def __init__(self, *, supplier: str, what: str) -> None:
        self.supplier, self.what = supplier, what
        super().__init__(
            f"{supplier} has {what} with that first day already. Give the day from which the new "
            "price holds."
        )


class NoSuchOffer(LarderError):
    """An offer that the supplier does not have, or no longer."""

    code = "no_such_offer"

    def __init__(self, *, offer: int, supplier: str, day: date) -> None:
        self.offer, self.supplier, self.day = offer, supplier, day
        super().__init__(
            f"{supplier} has no offer {offer} on {day_said(day)}. Look at the price list of "
            "that day."
        )


class NothingOrdered(LarderError):
    """An order without a line, or a delivery without one."""

    code = "nothing_ordered"

    def __init__(self, what: str) -> None:
        self.what = what
        super().__init__(f"{what.capitalize()} without a line says nothing. Name one at least.")


class TooManyLines(LarderError):
    """More lines than one order may have."""

    code = "too_many_lines"

    def __init__(self, *, lines: int, most: int) -> None:
        self.lines, self.most = lines, most
        super().__init__(f"{lines} lines in one order, {most} at most. Write two orders.")


class LineTwice(LarderError):
    """The same offer or line named twice."""

    code = "line_twice"

    def __init__(self, what: str) -> None:
        self.what = what
        super().__init__(f"{what} is named twice. Name it once, with all its packs.")


class NotWholePacks(LarderError):
    """A weight that is no whole number of packs."""

    code = "not_whole_packs"

    def __init__(self, *, what: str, asked_mg: int, pack_mg: int) -> None:
        self.what, self.asked_mg, self.pack_mg = what, asked_mg, pack_mg
        fewer = asked_mg // pack_mg
        around = f"{fewer} or {fewer + 1} packs" if fewer else "1 pack"
        super().__init__(
            f"{what}: {in_words(asked_mg, 'mg')} asked for, a pack holds "
            f"{in_words(pack_mg, 'mg')}. Order {around}."
        )


class BelowLeastOfLine(LarderError):
    """Fewer packs than a supplier sells of it."""

    code = "below_least_of_line"

    def __init__(self, *, supplier: str, what: str, packs: int, least: int, pack_mg: int) -> None:
        self.supplier, self.what, self.packs, self.least = supplier, what, packs, least
        super().__init__(
            f"{supplier}, {what}: {in_words(packs * pack_mg, 'mg')} asked for, "
            f"{in_words(least * pack_mg, 'mg')} is the least that is sold. Order {least} packs, or "
            "ask another supplier."
        )


class MoreThanOffered(LarderError):
    """More packs than a supplier has."""

    code = "more_than_offered"

    def __init__(self, *, supplier: str, what: str, packs: int, most: int) -> None:
        self.supplier, self.what, self.packs, self.most = supplier, what, packs, most
        super().__init__(
            f"{supplier}, {what}: {packs} packs asked for, {most} there. Order fewer, or ask "
            "another supplier."
        )


class BelowLeastOfOrder(LarderError):
    """An order of less value than a supplier takes."""

    code = "below_least_of_order"

    def __init__(self, *, supplier: str, goods_minor: int, least_minor: int, currency: str) -> None:
        self.supplier, self.goods_minor, self.least_minor = supplier, goods_minor, least_minor
        self.currency = currency
        super().__init__(
            f"{supplier} takes orders from {_money(least_minor, currency)} on, this one comes to "
            f"{_money(goods_minor, currency)}. Order more at once, or ask another supplier."
        )


class TooManyOrders(LarderError):
    """A year whose order numbers are used up."""

    code = "too_many_orders"

    def __init__(self, *, year: int, most: int) -> None:
        self.year, self.most = year, most
        super().__init__(
            f"{most} orders were written in {year}, and there are no more numbers for that year. "
            "Put several fibres into one order."
        )


class NoSuchOrder(LarderError):
    """A number that no order of the studio has."""

    code = "no_such_order"

    def __init__(self, order: str) -> None:
        self.order = order
        super().__init__(f"No order has the number {order}. Look at its number, or write it first.")


class OrderNotSent(LarderError):
    """Something said of an order that has not been sent."""

    code = "order_not_sent"

    def __init__(self, *, order: str, what: str) -> None:
        self.order, self.what = order, what
        super().__init__(
            f"Order {order} has not been sent, so it cannot be {what}. Say first when it was sent."
        )


class AlreadySent(LarderError):
    """An order sent twice."""

    code = "already_sent"

    def __init__(self, *, order: str, at: datetime) -> None:
        self.order, self.at = order, at
        super().__init__(
            f"Order {order} was sent on {on(at)}. For more of the fibre write a new order."
        )


class OrderOver(LarderError):
    """Something said of an order of which nothing more is to come."""

    code = "order_over"

    def __init__(self, *, order: str, state: str) -> None:
        self.order, self.state = order, state
        super().__init__(
            f"Order {order} is {state}: nothing more is to come of it. Write a new order."
        )


class BeforeTheOrder(LarderError):
    """Something said to have happened to an order before it was written or sent."""

    code = "before_the_order"

    def __init__(self, *, order: str, what: str, at: datetime, since: datetime) -> None:
        self.order, self.what, self.at, self.since = order, what, at, since
        super().__init__(
            f"Order {order} was {what} on {on(since)}; {on(at)} is before that. Look at the day "
            "and the hour again."
        )


class ArrivesBeforeSaid(LarderError):
    """A day of arrival that lies before the day on which it was said."""

    code = "arrives_before_said"

    def __init__(self, *, order: str, day: date, said: date) -> None:
        self.order, self.day, self.said = order, day, said
        super().__init__(
            f"Order {order}: {day_said(day)} was confirmed on {day_said(said)}, which is "
            "later. Look at the day again."
        )


class NoSuchLine(LarderError):
    """A line that an order does not have."""

    code = "no_such_line"

    def __init__(self, *, order: str, line: int, lines: int) -> None:
        self.order, self.line, self.lines = order, line, lines
        has = "1 line" if lines == 1 else f"{lines} lines"
        super().__init__(f"Order {order} has {has}, and no line {line}. Look at the order again.")


class MoreThanOrdered(LarderError):
    """More packs said to have come than are still to come."""

    code = "more_than_ordered"

    def __init__(self, *, order: str, what: str, packs: int, ordered: int, came: int) -> None:
        self.order, self.what, self.packs = order, what, packs
        self.ordered, self.came = ordered, came
        before = f", of which {came} have come before" if came else ""
        super().__init__(
            f"Order {order}, {what}: {packs} packs weighed in, {ordered} ordered{before}. Count "
            "the packs again; what nobody ordered goes on the shelf as fibre received by itself."
        )


def _money(minor: int, currency: str) -> str:
    return f"{currency} {minor // 100:,}.{minor % 100:02}"
