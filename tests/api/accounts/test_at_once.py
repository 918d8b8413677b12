"""Many at once: no more tries than are allowed, one link lets in one, and one owner stays."""

from __future__ import annotations

from pathlib import Path

from tests.inventory.scratch import python, scratch_database

SETUP = """
import collections, datetime, os, threading
import django
django.setup()
from django.db import connections
from inventory.errors import LarderError
from api.models import Account, Membership
from api.rest.refused import Refused
from inventory.models import Studio
NOW = datetime.datetime.now(tz=datetime.UTC)
yard = Studio.objects.create(name="Pellitory Yard", zone="Europe/London")
def somebody(number):
    return Account.objects.create(email=f"m{number}@yard.example", name="M", made_at=NOW)
def at_once(deeds):
    gate, came = threading.Barrier(len(deeds)), collections.Counter()
    def hand(deed):
        gate.wait()
        try:
            deed()
            came["done"] += 1
        except Exception as error:
            came[type(error).__name__] += 1
        finally:
            connections.close_all()
    hands = [threading.Thread(target=hand, args=(deed,)) for deed in deeds]
    [each.start() for each in hands]
    [each.join() for each in hands]
    print(sorted(came.items()))
"""
TRIES = """
from api.tries import SIGN_IN, count_try
at_once([lambda: count_try("m", "house", at=NOW, allowance=SIGN_IN)] * 12)
"""
OWNERS = """
from django.db import transaction
from api.members import end_membership, join, member_of
from api.rights import Right
both = [join(yard, somebody(number), right=Right.OWNER, at=NOW).pk for number in range(2)]
def leave(key):
    with transaction.atomic():
        end_membership(member_of(yard, key, lock=True), at=NOW)
at_once([lambda key=key: leave(key) for key in both])
"""
LINKS = """
from api.invitations import accept_anew, invite
from api.members import join
from api.rights import Right
owner = join(yard, somebody(0), right=Right.OWNER, at=NOW)
_, secret = invite(owner, email="cal@yard.example", right=Right.HELPER, at=NOW)
at_once([lambda: accept_anew(secret, name="Cal", password="weld over woad", at=NOW)] * 4)
print(Membership.everywhere().count())
"""


def _ran(folder: Path, script: str) -> str:
    with scratch_database(folder) as there:
        return python(there, "-c", SETUP + script).strip()


def test_of_many_tries_at_once_no_more_are_let_through_than_are_allowed(tmp_path: Path) -> None:
    assert _ran(tmp_path, TRIES) == "[('TooOften', 7), ('done', 5)]"


def test_of_two_owners_who_leave_at_once_one_stays(tmp_path: Path) -> None:
    assert _ran(tmp_path, OWNERS) == "[('LastOwner', 1), ('done', 1)]"


def test_a_link_that_several_follow_at_once_lets_one_in(tmp_path: Path) -> None:
    assert _ran(tmp_path, LINKS) == "[('InvitationUnknown', 3), ('done', 1)]\n2"
