"""Twenty people's programs at once over real HTTP: lists, the week, and entries between them."""

from __future__ import annotations

import http.client
import json
import time
import uuid
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from urllib.parse import urlsplit

from tests.api.serving import BARE, serving
from tests.benchmarks.crowd import environment_of
from tests.benchmarks.draw import _commit
from tests.benchmarks.rows import Row, ms
from tests.benchmarks.setting import Setting
from tests.inventory.scratch import ROOT

USERS = 20
AT = datetime(2026, 11, 23, 9, tzinfo=UTC)
LOT = "AV-BULK"
LISTS = ("/api/v1/lots/", "/api/v1/movements/", "/api/v1/runs/", "/api/v1/shelves/")
WEEK = "/api/v1/week/?at=2026-11-23T07:30"
ENTER = "/api/v1/entries/draw/"
# Of ten requests of a program: seven lists, the week, two entries.
MIX = ("list",) * 4 + ("enter",) + ("list",) * 2 + ("week",) + ("list", "enter")
COUNTED = (
    "mixed, {engine}: {users} people, each with a token of their own and {rounds} requests one "
    "after the other, at a threaded server in a process of its own; of ten seven lists of 50, one "
    "week, two entries. Bare: as many ask the same server for two bytes that no framework made, in "
    "the same run. Whoever asks shares the machine's cores with the server, so a wait is mostly a "
    "turn in the line: ratios say how much more work an answer is. Errors: answers that are not "
    "2xx."
)


@dataclass(frozen=True, slots=True)
class Sent:
    """One request: of which kind, how long it took, what it was answered."""

    kind: str
    seconds: float
    status: int


def mixed(setting: Setting) -> Iterator[Row]:
    """One row for each kind of request, then how many a second, then commits."""
    setting.larders.use("mixed")
    rounds, users = setting.rounds(50, 10), setting.rounds(USERS, 2)
    tokens = _yard(users)
    counted = COUNTED.format(engine=setting.engine, users=users, rounds=rounds)
    commits = _commits_a_second(setting.rounds(200, 5))
    with serving({**environment_of(setting), "DYE_LARDER_LIMITS": "off"}) as found:
        bare, bare_rate = _all(found["address"], tokens, ("bare",) * rounds)
        sent, rate = _all(found["address"], tokens, _turns(rounds))
    base = _share(bare, 0.95)
    for kind, what in (("list", "a list"), ("week", "the week"), ("enter", "an entry")):
        yield _row(what, [one for one in sent if one.kind == kind], base, counted)
    errors = sum(not 200 <= one.status < 300 for one in (*sent, *bare))
    yield Row(
        "requests a second", f"{rate:.0f}, {errors} errors", f"{bare_rate:.0f}",
        ratio=rate / bare_rate, budget="no error", met=errors == 0, counted=counted,
    )  # fmt: skip
    entries = rate * MIX.count("enter") / len(MIX)
    yield Row(
        "entries a second among them", f"{entries:.0f}", f"{commits:,.0f} durable commits",
        ratio=entries / commits, counted=counted,
    )  # fmt: skip


def _row(what: str, sent: list[Sent], base: float, counted: str) -> Row:
    middle, slow = _share(sent, 0.5), _share(sent, 0.95)
    measured = f"p50 {ms(middle)}, p95 {ms(slow)}"
    return Row(what, measured, f"p95 {ms(base)}", ratio=slow / base, counted=counted)


def _share(sent: list[Sent], share: float) -> float:
    """The time within which that share of requests was answered."""
    times = sorted(one.seconds for one in sent)
    return times[min(int(len(times) * share), len(times) - 1)]


def _yard(users: int) -> list[str]:
    """The demo studio with a lot that outlasts all draws, and a token for everybody."""
    from django.core.management import call_command
    from django.utils import timezone

    from api.models import Account, Membership
    from api.rights import Right
    from api.tokens import make_token
    from inventory import ledger
    from inventory.entries import NewLot, Place
    from inventory.models import Studio

    call_command("load", str(ROOT / "fixtures" / "pellitory-yard"), verbosity=0)
    studio, now = Studio.objects.get(), timezone.now()
    lot = NewLot(LOT, "avocado stones", state="fresh", place=Place("fridge"))
    ledger.receive(studio, entry=uuid.uuid4(), at=AT, lot=lot, amount=10**9)
    tokens = []
    for number in range(users):
        who = Account.objects.create(email=f"{number}@yard.example", name=f"{number}", made_at=now)
        member = Membership.objects.of(studio).create(account=who, right=Right.OWNER, since=now)
        until = now + timedelta(days=1)
        row = make_token(member, name="load", right=Right.HELPER, at=now, until=until)
        tokens.append(row[1])
    return tokens


def _commits_a_second(rounds: int) -> float:
    commit = _commit()
    since = time.perf_counter()
    for _ in range(rounds):
        commit()
    return rounds / (time.perf_counter() - since)


def _turns(rounds: int) -> tuple[str, ...]:
    return (MIX * (rounds // len(MIX) + 1))[:rounds]


def _all(address: str, tokens: list[str], turns: tuple[str, ...]) -> tuple[list[Sent], float]:
    """What everybody's requests took, and how many were answered in a second."""
    since = time.perf_counter()
    with ThreadPoolExecutor(len(tokens)) as people:
        done = people.map(lambda row: _one(address, *row, turns), enumerate(tokens))
        sent = [one for each in done for one in each]
    return sent, len(sent) / (time.perf_counter() - since)


def _one(address: str, number: int, token: str, turns: tuple[str, ...]) -> list[Sent]:
    """One person's requests, begun at another place of the mix than the neighbour's."""
    begin = number % len(turns)
    return [
        _sent(address, token, kind, turn)
        for turn, kind in enumerate(turns[begin:] + turns[:begin])
    ]  # fmt: skip


def _sent(address: str, token: str, kind: str, turn: int) -> Sent:
    paths = {"bare": BARE, "week": WEEK, "enter": ENTER, "list": LISTS[turn % len(LISTS)]}
    headers = {"Authorization": f"Bearer {token}", "Content-Type": "application/json"}
    body = None
    if kind == "enter":
        takes = [{"lot": LOT, "amount": "1 g"}]
        entry = {"id": str(uuid.uuid4()), "occurred_at": "2026-11-23T09:30:00Z", "takes": takes}
        body = json.dumps(entry)
    since = time.perf_counter()
    line = http.client.HTTPConnection(urlsplit(address).netloc, timeout=120)
    try:
        line.request("GET" if body is None else "POST", paths[kind], body, headers)
        answer = line.getresponse()
        answer.read()
    finally:
        line.close()
    return Sent(kind, time.perf_counter() - since, answer.status)
