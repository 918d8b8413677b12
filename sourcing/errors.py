"""What can go wrong with intentions: one class each, with its values and what can be done."""

from __future__ import annotations

from datetime import date, datetime

from inventory.errors import LarderError, in_words, on, quoted
from inventory.science.saying import joined, say


def day_said(day: date) -> str:
    """A day as it is said.

    Examples
    --------
    >>> day_said(date(2026, 11, 3))
    '3 November 2026'
    """
    return say("{day} {day_2:%B %Y}", day=day.day, day_2=day)


class NoSuchSource(LarderError):
    """A name that no source of the studio has."""

    code = "no_such_source"

    def __init__(self, source: str) -> None:
        self.source = source
        super().__init__(
            say("No source is called {source}. Look at its name, or add it first.", source=source)
        )


class NoSourceThere(LarderError):
    """An address of a source that the studio does not have."""

    code = "no_source_there"

    def __init__(self, source: int) -> None:
        self.source = source
        super().__init__(
            say("No source of this studio is kept there. Look in the list of sources.")
        )


class TooMuchGiven(LarderError):
    """More hand-overs in the time asked for than one answer holds."""

    code = "too_much_given"

    def __init__(self, since: date, most: int) -> None:
        self.since, self.most = since.isoformat(), most
        super().__init__(
            say(
                "More than {most:,} hand-overs since {day} {since:%B %Y}. Say a later day.",
                most=most,
                day=since.day,
                since=since,
            )
        )


class SourceTaken(LarderError):
    """A name that another source already has."""

    code = "source_taken"

    def __init__(self, source: str) -> None:
        self.source = source
        super().__init__(
            say(
                "There is a source called {source} already. Give the new one a name of its own.",
                source=source,
            )
        )


class TubsNotThere(LarderError):
    """More tubs taken from a source than stood there."""

    code = "tubs_not_there"

    def __init__(self, *, source: str, asked: int, there: int, at: datetime) -> None:
        self.source, self.asked, self.there, self.at = source, asked, there, at
        tubs = "tub" if asked == 1 else "tubs"
        super().__init__(
            say(
                "{asked} {tubs} taken from {source} on {at}, and {there} stood there. Take "
                "fewer, or write down first what was left there.",
                asked=asked,
                tubs=tubs,
                source=source,
                at=on(at),
                there=there,
            )
        )


class TubsSaidBefore(LarderError):
    """Another number of tubs for a move that is on record."""

    code = "tubs_said_before"

    def __init__(self, *, at: datetime, how: str, tubs: int) -> None:
        self.at, self.how, self.tubs = at, how, tubs
        said = "tub is" if tubs == 1 else "tubs are"
        super().__init__(
            say(
                "{tubs} {said} on record as {how} on {at}. Give another moment for more.",
                tubs=tubs,
                said=said,
                how=how,
                at=on(at),
            )
        )


class NoSuchAgreement(LarderError):
    """Something that a source never agreed to give."""

    code = "no_such_agreement"

    def __init__(self, *, source: str, gives: str) -> None:
        self.source, self.gives = source, gives
        super().__init__(
            say(
                "{source} has not agreed to give {gives}. Agree what it gives first.",
                source=source,
                gives=gives or "anything",
            )
        )


class NoPermission(LarderError):
    """A permission taken back that nobody had given."""

    code = "no_permission"

    def __init__(self, *, source: str, gives: str) -> None:
        self.source, self.gives = source, gives
        super().__init__(
            say(
                "No permission is on record for {gives} from {source}, so there is none to "
                "withdraw.",
                gives=gives,
                source=source,
            )
        )


class WrongWayRound(LarderError):
    """A last day before the first."""

    code = "wrong_way_round"

    def __init__(self, first: date, last: date) -> None:
        self.first, self.last = first, last
        super().__init__(
            say(
                "{day_said} comes before {day_said_2}. Give the earlier day first, or look at "
                "the years.",
                day_said=day_said(last),
                day_said_2=day_said(first),
            )
        )


class TooManyDays(LarderError):
    """More single days, or closed stretches of days, than one agreement holds."""

    code = "too_many_days"

    def __init__(self, days: int, *, most: int) -> None:
        self.days, self.most = days, most
        super().__init__(
            say(
                "That makes {days} days or stretches of days; an agreement holds {most}. Say a "
                "weekday, or one longer stretch.",
                days=days,
                most=most,
            )
        )


class TwoAmounts(LarderError):
    """What a source expects to give, said twice over."""

    code = "two_amounts"

    def __init__(self) -> None:
        super().__init__(say("Say what is likely to come by weight or by count: one of the two."))


class NoSuchRun(LarderError):
    """A code that no run of the studio has."""

    code = "no_such_run"

    def __init__(self, run: str) -> None:
        self.run = run
        super().__init__(say("No run has the code {run}. Ask for it first.", run=run))


class NoSuchRecipe(LarderError):
    """A code that no recipe of the studio has."""

    code = "no_such_recipe"

    def __init__(self, recipe: str) -> None:
        self.recipe = recipe
        super().__init__(say("No recipe has the code {recipe}. Write it first.", recipe=recipe))


class RecipeThere(LarderError):
    """A recipe written as new whose code is taken."""

    code = "recipe_there"

    def __init__(self, recipe: str) -> None:
        self.recipe = recipe
        super().__init__(
            say(
                "There is a recipe {recipe} already. Change that one, or give the new one a "
                "code of its own.",
                recipe=recipe,
            )
        )


class RecipeChanged(LarderError):
    """A recipe of which somebody wrote another version meanwhile."""

    code = "recipe_changed"

    def __init__(self, recipe: str, *, version: int) -> None:
        self.recipe, self.version = recipe, version
        super().__init__(
            say(
                "Somebody wrote version {version} of {recipe} meanwhile. Look at it, and write "
                "yours once more if it is still wanted.",
                version=version,
                recipe=recipe,
            )
        )


class RunTaken(LarderError):
    """A code that another run already has."""

    code = "run_taken"

    def __init__(self, run: str) -> None:
        self.run = run
        super().__init__(
            say("There is a run {run} already. Give the new one a code of its own.", run=run)
        )


class RunTooHeavy(LarderError):
    """A run of more fibre than the week is worked out for."""

    code = "run_too_heavy"

    def __init__(self, run: str, *, weight_mg: int, most_mg: int) -> None:
        self.run, self.weight_mg, self.most_mg = run, weight_mg, most_mg
        super().__init__(
            say(
                "Run {run}: {weight_mg:,} kg asked for; a run of {most_mg:,} kg at most is "
                "worked out. Divide it into several.",
                run=run,
                weight_mg=-(-weight_mg // 1_000_000),
                most_mg=most_mg // 1_000_000,
            )
        )


class OtherFibre(LarderError):
    """A recipe asked for on a fibre that it is not for."""

    code = "other_fibre"

    def __init__(self, *, recipe: str, fibre: str, fibres: tuple[str, ...]) -> None:
        self.recipe, self.fibre, self.fibres = recipe, fibre, fibres
        super().__init__(
            say(
                "{recipe} is for {fibres}, not for {fibre}. Choose another recipe.",
                recipe=recipe,
                fibres=joined(" or ", fibres),
                fibre=fibre,
            )
        )


class RunFinished(LarderError):
    """Something asked of a run that is dyed already."""

    code = "run_finished"

    def __init__(self, *, run: str, at: datetime) -> None:
        self.run, self.at = run, at
        super().__init__(
            say("Run {run} was finished on {at}. Ask for a new one.", run=run, at=on(at))
        )


class RunHasBegun(LarderError):
    """Something asked of a run that is under way."""

    code = "run_has_begun"

    def __init__(self, run: str) -> None:
        self.run = run
        super().__init__(
            say(
                "Run {run} is under way, so it is neither changed nor let go. Finish it with "
                "what came out of it; what is no use is tipped out afterwards.",
                run=run,
            )
        )


class NotFinished(LarderError):
    """Something taken back that was never said."""

    code = "not_finished"

    def __init__(self, run: str) -> None:
        self.run = run
        super().__init__(
            say("Run {run} is not finished, so there is nothing to take back.", run=run)
        )


class NoAmount(LarderError):
    """A pick-up without weight or count, or with both."""

    code = "no_amount"

    def __init__(self) -> None:
        super().__init__(say("Weigh what came or count it: one of the two."))


class NothingToPutBy(LarderError):
    """Runs asked for of something that is neither a dyestuff nor a shade here."""

    code = "nothing_to_put_by"

    def __init__(self, of: str) -> None:
        self.of = of
        super().__init__(
            say(
                "Nothing here is called {of}: no dyestuff, and no shade that takes one. Look "
                "among the sources and recipes.",
                of=of,
            )
        )


class NoGapAhead(LarderError):
    """Runs asked for over the next gap of a dyestuff that has none."""

    code = "no_gap_ahead"

    def __init__(self, dyestuff: str) -> None:
        self.dyestuff = dyestuff
        super().__init__(
            say(
                "No gap of {dyestuff} is ahead. Say from when to when the runs are wanted.",
                dyestuff=dyestuff,
            )
        )


class NoSuchPutBy(LarderError):
    """A code that no wish to put by for has."""

    code = "no_such_put_by"

    def __init__(self, put_by: str) -> None:
        self.put_by = put_by
        super().__init__(
            say("Nothing is put by for under the code {put_by}. Look at the list.", put_by=put_by)
        )


class PutByOfOneThing(LarderError):
    """A wish that names neither a recipe nor a dyestuff, or both, or a recipe with a state."""

    code = "put_by_of_one_thing"

    def __init__(self) -> None:
        super().__init__(
            say(
                "Name a recipe, or a dyestuff with its state: one of the two. A recipe says "
                "itself in which state it takes what."
            )
        )


class TakesNoDyestuff(LarderError):
    """Runs to put by for of a recipe that takes nothing that could be put by."""

    code = "takes_no_dyestuff"

    def __init__(self, shade: str) -> None:
        self.shade = shade
        super().__init__(
            say("{shade} takes no dyestuff, so there is nothing to put by for it.", shade=shade)
        )


class TooManyRuns(LarderError):
    """More runs than one wish may hold."""

    code = "too_many_runs"

    def __init__(self, runs: int, most: int) -> None:
        self.runs, self.most = runs, most
        super().__init__(
            say("{runs:,} runs wished for, {most} at most. Divide the wish.", runs=runs, most=most)
        )


class SpreadUnknown(LarderError):
    """A word for how runs are spread, or what is put by, that is not known."""

    code = "spread_unknown"

    def __init__(self, word: str, known: tuple[str, ...]) -> None:
        self.word, self.known = word, joined(" or ", known)
        super().__init__(
            say("“{word}” is not known here. Say {known}.", word=word, known=self.known)
        )


class NoPieceMass(LarderError):
    """A count of pieces of which nobody knows what one weighs."""

    code = "no_piece_mass"

    def __init__(self, dyestuff: str) -> None:
        self.dyestuff = dyestuff
        super().__init__(
            say(
                "Nobody knows what one piece of {dyestuff} weighs. Weigh what came, or write "
                "the mass of a piece in the studio's rules.",
                dyestuff=dyestuff,
            )
        )


class CutLater(LarderError):
    """Something said to be cut after it was handed over."""

    code = "cut_later"

    def __init__(self, *, gives: str, cut_on: date, came_on: date) -> None:
        self.gives, self.cut_on, self.came_on = gives, cut_on, came_on
        super().__init__(
            say(
                "{gives} came on {day_said} and cannot have been cut on {day_said_2}. Look at "
                "the dates again.",
                gives=gives,
                day_said=day_said(came_on),
                day_said_2=day_said(cut_on),
            )
        )


class NoNestCheck(LarderError):
    """A hedge cut in the nesting season, and nobody looked for nests."""

    code = "no_nest_check"

    def __init__(self, *, gives: str, cut_on: date, season: str) -> None:
        self.gives, self.cut_on, self.season = gives, cut_on, season
        super().__init__(
            say(
                "{gives} cut on {day_said} was cut in the nesting season here ({season}). Say "
                "who looked the hedge over for nests before the cut, and on which day.",
                gives=gives,
                day_said=day_said(cut_on),
                season=season,
            )
        )


class NestCheckElsewhen(LarderError):
    """A look for nests that was after the cut, or too long before it."""

    code = "nest_check_elsewhen"

    def __init__(self, *, gives: str, cut_on: date, looked_on: date, days: int) -> None:
        self.gives, self.cut_on, self.looked_on, self.days = gives, cut_on, looked_on, days
        counts = say("at most {days} days before it", days=days) if days else say("on the same day")
        super().__init__(
            say(
                "{gives} was cut on {day_said}, and nests were looked for on {day_said_2}: a "
                "look counts before the cut, {counts}. Say when the hedge was last looked over.",
                gives=gives,
                day_said=day_said(cut_on),
                day_said_2=day_said(looked_on),
                counts=counts,
            )
        )


class SpokenFor(LarderError):
    """More asked for than is left beside what other runs were promised."""

    code = "spoken_for"

    def __init__(
        self,
        *,
        lot: str,
        what: str,
        asked: int,
        left: int,
        claimed: int,
        unit: str,
        runs: str,
        turns: bool = False,
    ) -> None:
        self.lot, self.what, self.asked, self.left = lot, what, asked, left
        self.claimed, self.unit, self.runs = claimed, unit, runs
        self.spare = max(left - claimed, 0)
        self.short = asked - self.spare
        do = say("Take less, or release a claim.")
        if turns and self.spare:
            do = say(
                "Take {spare} at most, say for which run it is, or release a claim.",
                spare=in_words(self.spare, unit),
            )
        elif turns:
            do = say("Say for which run it is, or release a claim.")
        super().__init__(
            say(
                "Lot {lot}, {what}: {asked} asked for, {left} left, of which {claimed} are "
                "promised to {runs}; short by {short}. {do}",
                do=do,
                lot=lot,
                what=what,
                asked=in_words(asked, unit),
                left=in_words(left, unit),
                claimed=in_words(claimed, unit),
                runs=runs,
                short=in_words(self.short, unit),
            )
        )


class NoSuchPickUp(LarderError):
    """A pick-up struck that nobody expects."""

    code = "no_such_pick_up"

    def __init__(self, *, source: str, gives: str, on: str, why: str, expected: str) -> None:
        self.source, self.gives, self.on = source, gives, on
        what = say(" of {gives}", gives=gives) if gives else ""
        there = (
            say("Expected are {expected}.", expected=expected)
            if expected
            else say("None is expected of it at all.")
        )
        do = say("Choose one of these.") if expected else say("Look at its agreement.")
        super().__init__(
            say(
                "No pick-up{what} from {source} is expected on {on}{why}. {there} {do}",
                what=what,
                source=source,
                on=on,
                why=why,
                there=there,
                do=do,
            )
        )


class NoSuchReader(LarderError):
    """A name that no reader of the studio has."""

    code = "no_such_reader"

    def __init__(self, reader: str) -> None:
        self.reader = reader
        super().__init__(
            say("No reader is called {reader}. Look at the name, or add it first.", reader=reader)
        )


class ReaderTaken(LarderError):
    """A name, an address or a source that another reader has."""

    code = "reader_taken"

    def __init__(self, *, what: str, reader: str) -> None:
        self.what, self.reader = what, reader
        super().__init__(
            say(
                "{what} is written to already, as {reader}. Change what {reader} wants.",
                what=what,
                reader=reader,
            )
        )


class TooManyReaders(LarderError):
    """More readers than a studio writes to."""

    code = "too_many_readers"

    def __init__(self, most: int) -> None:
        self.most = most
        super().__init__(
            say(
                "The studio writes to {most} readers, as many as it can. Let several read "
                "under one address.",
                most=most,
            )
        )


class NoAddress(LarderError):
    """An address that no letter reaches."""

    code = "no_address"

    def __init__(self, address: str) -> None:
        self.address = address
        super().__init__(
            say(
                "{address} is no e-mail address. Write one such as dyer@example.org.",
                address=quoted(address),
            )
        )


class NotForReader(LarderError):
    """A kind of letter that is not for this reader, or none at all."""

    code = "not_for_reader"

    def __init__(self, *, reader: str, asked: tuple[str, ...], may: tuple[str, ...]) -> None:
        self.reader, self.asked, self.may = reader, asked, may
        said = (
            say("{reader} cannot be sent {asked}", reader=reader, asked=joined(" and ", asked))
            if asked
            else say("{reader}: nothing", reader=reader)
        )
        said += "" if asked else " is asked for"
        super().__init__(say("{said}. Choose among {may}.", said=said, may=joined(", ", may)))


class NoAgreement(LarderError):
    """A source that has agreed to nothing, so that there is no day to be told of."""

    code = "no_agreement"

    def __init__(self, source: str) -> None:
        self.source = source
        super().__init__(
            say(
                "{source} has no agreement, so there is no pick-up to be told of. Write one first.",
                source=source,
            )
        )


class NoLeaveToWrite(LarderError):
    """A source that nobody asked whether it may be written to."""

    code = "no_leave_to_write"

    def __init__(self, source: str) -> None:
        self.source = source
        super().__init__(
            say(
                "{source} has not said that it may be written to. Ask, and write down who said "
                "so and when.",
                source=source,
            )
        )


class NoHours(LarderError):
    """A morning sheet without its hour, or quiet hours without both ends."""

    code = "no_hours"

    def __init__(self, *, reader: str, what: str, wanted: str) -> None:
        self.reader, self.what = reader, what
        super().__init__(say("{reader}: {what}. {wanted}", reader=reader, what=what, wanted=wanted))


class NoSuchSupplier(LarderError):
    """A name that no supplier of the studio has."""

    code = "no_such_supplier"

    def __init__(self, supplier: str) -> None:
        self.supplier = supplier
        super().__init__(
            say(
                "No supplier is called {supplier}. Look at the name, or add it first.",
                supplier=quoted(supplier),
            )
        )


class SupplierTaken(LarderError):
    """A name that another supplier already has."""

    code = "supplier_taken"

    def __init__(self, supplier: str) -> None:
        self.supplier = supplier
        super().__init__(
            say(
                "There is a supplier {supplier} already. Change that one, or give the new one "
                "a name of its own.",
                supplier=quoted(supplier),
            )
        )


class TermsUnclear(LarderError):
    """Terms of a supplier, or prices, that no sum could be made with."""

    code = "terms_unclear"

    def __init__(self, whose: str, why: str) -> None:
        self.whose = whose
        super().__init__(say("{whose}: {why}", whose=whose, why=why))


class OfferTaken(LarderError):
    """A price list with the same fibre, pack and first day as one that stands."""

    code = "offer_taken"

    def __init__(self, *, supplier: str, what: str) -> None:
        self.supplier, self.what = supplier, what
        super().__init__(
            say(
                "{supplier} has {what} with that first day already. Give the day from which "
                "the new price holds.",
                supplier=supplier,
                what=what,
            )
        )


class NoSuchOffer(LarderError):
    """An offer that the supplier does not have, or no longer."""

    code = "no_such_offer"

    def __init__(self, *, offer: int, supplier: str, day: date) -> None:
        self.offer, self.supplier, self.day = offer, supplier, day
        super().__init__(
            say(
                "{supplier} has no offer {offer} on {day_said}. Look at the price list of that "
                "day.",
                supplier=supplier,
                offer=offer,
                day_said=day_said(day),
            )
        )


class NothingOrdered(LarderError):
    """An order without a line, or a delivery without one."""

    code = "nothing_ordered"

    def __init__(self, what: str) -> None:
        self.what = what
        super().__init__(
            say("{what} without a line says nothing. Name one at least.", what=what.capitalize())
        )


class TooManyLines(LarderError):
    """More lines than one order may have."""

    code = "too_many_lines"

    def __init__(self, *, lines: int, most: int) -> None:
        self.lines, self.most = lines, most
        super().__init__(
            say(
                "{lines} lines in one order, {most} at most. Write two orders.",
                lines=lines,
                most=most,
            )
        )


class LineTwice(LarderError):
    """The same offer or line named twice."""

    code = "line_twice"

    def __init__(self, what: str) -> None:
        self.what = what
        super().__init__(say("{what} is named twice. Name it once, with all its packs.", what=what))


class NotWholePacks(LarderError):
    """A weight that is no whole number of packs."""

    code = "not_whole_packs"

    def __init__(self, *, what: str, asked_mg: int, pack_mg: int) -> None:
        self.what, self.asked_mg, self.pack_mg = what, asked_mg, pack_mg
        fewer = asked_mg // pack_mg
        around = (
            say("{fewer} or {fewer_2} packs", fewer=fewer, fewer_2=fewer + 1) if fewer else "1 pack"
        )
        super().__init__(
            say(
                "{what}: {asked_mg} asked for, a pack holds {pack_mg}. Order {around}.",
                what=what,
                asked_mg=in_words(asked_mg, "mg"),
                pack_mg=in_words(pack_mg, "mg"),
                around=around,
            )
        )


class BelowLeastOfLine(LarderError):
    """Fewer packs than a supplier sells of it."""

    code = "below_least_of_line"

    def __init__(self, *, supplier: str, what: str, packs: int, least: int, pack_mg: int) -> None:
        self.supplier, self.what, self.packs, self.least = supplier, what, packs, least
        super().__init__(
            say(
                "{supplier}, {what}: {packs} asked for, {least} is the least that is sold. "
                "Order {least_2} packs, or ask another supplier.",
                supplier=supplier,
                what=what,
                packs=in_words(packs * pack_mg, "mg"),
                least=in_words(least * pack_mg, "mg"),
                least_2=least,
            )
        )


class MoreThanOffered(LarderError):
    """More packs than a supplier has."""

    code = "more_than_offered"

    def __init__(self, *, supplier: str, what: str, packs: int, most: int) -> None:
        self.supplier, self.what, self.packs, self.most = supplier, what, packs, most
        super().__init__(
            say(
                "{supplier}, {what}: {packs} packs asked for, {most} there. Order fewer, or "
                "ask another supplier.",
                supplier=supplier,
                what=what,
                packs=packs,
                most=most,
            )
        )


class BelowLeastOfOrder(LarderError):
    """An order of less value than a supplier takes."""

    code = "below_least_of_order"

    def __init__(self, *, supplier: str, goods_minor: int, least_minor: int, currency: str) -> None:
        self.supplier, self.goods_minor, self.least_minor = supplier, goods_minor, least_minor
        self.currency = currency
        super().__init__(
            say(
                "{supplier} takes orders from {least_minor} on, this one comes to "
                "{goods_minor}. Order more at once, or ask another supplier.",
                supplier=supplier,
                least_minor=_money(least_minor, currency),
                goods_minor=_money(goods_minor, currency),
            )
        )


class TooManyOrders(LarderError):
    """A year whose order numbers are used up."""

    code = "too_many_orders"

    def __init__(self, *, year: int, most: int) -> None:
        self.year, self.most = year, most
        super().__init__(
            say(
                "{most} orders were written in {year}, and there are no more numbers for that "
                "year. Put several fibres into one order.",
                most=most,
                year=year,
            )
        )


class NoSuchOrder(LarderError):
    """A number that no order of the studio has."""

    code = "no_such_order"

    def __init__(self, order: str) -> None:
        self.order = order
        super().__init__(
            say(
                "No order has the number {order}. Look at its number, or write it first.",
                order=order,
            )
        )


class OrderNotSent(LarderError):
    """Something said of an order that has not been sent."""

    code = "order_not_sent"

    def __init__(self, *, order: str, what: str) -> None:
        self.order, self.what = order, what
        super().__init__(
            say(
                "Order {order} has not been sent, so it cannot be {what}. Say first when it "
                "was sent.",
                order=order,
                what=what,
            )
        )


class AlreadySent(LarderError):
    """An order sent twice."""

    code = "already_sent"

    def __init__(self, *, order: str, at: datetime) -> None:
        self.order, self.at = order, at
        super().__init__(
            say(
                "Order {order} was sent on {at}. For more of the fibre write a new order.",
                order=order,
                at=on(at),
            )
        )


class OrderOver(LarderError):
    """Something said of an order of which nothing more is to come."""

    code = "order_over"

    def __init__(self, *, order: str, state: str) -> None:
        self.order, self.state = order, state
        super().__init__(
            say(
                "Order {order} is {state}: nothing more is to come of it. Write a new order.",
                order=order,
                state=state,
            )
        )


class BeforeTheOrder(LarderError):
    """Something said to have happened to an order before it was written or sent."""

    code = "before_the_order"

    def __init__(self, *, order: str, what: str, at: datetime, since: datetime) -> None:
        self.order, self.what, self.at, self.since = order, what, at, since
        super().__init__(
            say(
                "Order {order} was {what} on {since}; {at} is before that. Look at the day and "
                "the hour again.",
                order=order,
                what=what,
                since=on(since),
                at=on(at),
            )
        )


class ArrivesBeforeSaid(LarderError):
    """A day of arrival that lies before the day on which it was said."""

    code = "arrives_before_said"

    def __init__(self, *, order: str, day: date, said: date) -> None:
        self.order, self.day, self.said = order, day, said
        super().__init__(
            say(
                "Order {order}: {day_said} was confirmed on {day_said_2}, which is later. Look "
                "at the day again.",
                order=order,
                day_said=day_said(day),
                day_said_2=day_said(said),
            )
        )


class NoSuchLine(LarderError):
    """A line that an order does not have."""

    code = "no_such_line"

    def __init__(self, *, order: str, line: int, lines: int) -> None:
        self.order, self.line, self.lines = order, line, lines
        has = "1 line" if lines == 1 else say("{lines} lines", lines=lines)
        super().__init__(
            say(
                "Order {order} has {has}, and no line {line}. Look at the order again.",
                order=order,
                has=has,
                line=line,
            )
        )


class MoreThanOrdered(LarderError):
    """More packs said to have come than are still to come."""

    code = "more_than_ordered"

    def __init__(self, *, order: str, what: str, packs: int, ordered: int, came: int) -> None:
        self.order, self.what, self.packs = order, what, packs
        self.ordered, self.came = ordered, came
        before = say(", of which {came} have come before", came=came) if came else ""
        super().__init__(
            say(
                "Order {order}, {what}: {packs} packs weighed in, {ordered} ordered{before}. "
                "Count the packs again; what nobody ordered goes on the shelf as fibre "
                "received by itself.",
                order=order,
                what=what,
                packs=packs,
                ordered=ordered,
                before=before,
            )
        )


def _money(minor: int, currency: str) -> str:
    return say(
        "{currency} {minor:,}.{minor_2:02}",
        currency=currency,
        minor=minor // 100,
        minor_2=minor % 100,
    )
