"""Our pages and lists of 50 rows beside the barest that Django makes of 50 rows."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta

from tests.benchmarks.doors import Served, Service, at
from tests.benchmarks.grown import grown
from tests.benchmarks.rounds import in_turn
from tests.benchmarks.rows import Row, ms, within
from tests.benchmarks.setting import Setting

PAGE, LIST = 1.5, 2.0  # budgets
COUNTED = (
    "fifty, {engine}: the request through all middleware, no socket; bare: one `.values()` query "
    "of as many lots and the posting that began each, 8 columns, through the same middleware into "
    "a plain table or plain JSON, nothing worked out. Of our pages, pieces whose words have not "
    "changed are kept by a process; “written anew”: without these, as the first page after a start "
    "has it. Of our lists, what holds of a row for its day is kept. In turn, lower quartile of "
    "{rounds} rounds."
)
# What is shown 50 rows at a time; of the figures a page has 100, and no page is shorter.
NOUNS = ("lots", "jars", "fibre", "movements", "postings", "stays", "runs")
PARTS = ("lots", "fibre", "jars", "moved")


def fifty(setting: Setting) -> Iterator[Row]:
    """A row for each part of the shelves, as a page and as a list."""
    from sourcing.notebook.load import load_files

    if setting.larders.use("fifty"):
        load_files(grown(49, 51, jars=50))  # and one lot that is on its way
    service, rounds = Service(), setting.rounds(40)
    counted = COUNTED.format(engine=setting.engine, rounds=rounds)
    for part in PARTS:
        address = at("/shelves/", part=part)
        yield _row(service, address, f"page of 50 {part}", "page/50", PAGE, rounds, counted)
        anew, what = service.anew(address), f"page of 50 {part}, written anew"
        yield _row(service, address, what, "page/50", PAGE, rounds, counted, ours=anew)
    for part in PARTS:
        address = at("/api/v1/shelves/", part=part)
        yield _row(service, address, f"list of 50 {part}", "list/50", LIST, rounds, counted)
    address = at("/api/v1/figures/")
    yield _row(service, address, "list of 100 figures", "list/100", LIST, rounds, counted)
    yield from _records(service, rounds, counted)


def _records(service: Service, rounds: int, counted: str) -> Iterator[Row]:
    """A row for each of some lists of records: first whoever sits here, then with a token."""
    for known in ("", ", token"):
        token = _token() if known else ""
        for noun in NOUNS:
            address, what = f"/api/v1/{noun}/?limit=50", f"list of 50 {noun}{known}"
            yield _row(service, address, what, "list/50", LIST, rounds, counted, token=token)


def _token() -> str:
    """A program's token; from here on nobody comes in without."""
    from api.models import Account, Membership
    from api.rights import Right
    from api.tokens import make_token
    from inventory.models import Studio

    now, studio = datetime.now(UTC), Studio.objects.get()
    account = Account.objects.create(
        email="scale@pellitory-yard.example", name="scale", made_at=now
    )
    member = Membership.objects.of(studio).create(account=account, right=Right.DYER, since=now)
    until = now + timedelta(days=1)
    return make_token(member, name="scale", right=Right.DYER, until=until, at=now)[1]


def _row(
    service: Service,
    address: str,
    what: str,
    plain: str,
    most: float,
    rounds: int,
    counted: str,
    token: str = "",
    ours: Callable[[], Served] | None = None,
) -> Row:
    seconds, bare = in_turn(
        ours or service.visit(address, token=token),
        service.visit(f"/plain/{plain}/"),
        rounds=rounds,
        at_most_s=20,
    )
    judged = within(seconds / bare, most)
    return Row(what, ms(seconds), f"{ms(bare)} plain {plain}", counted=counted, **judged)  # type: ignore[arg-type]
