"""A sentence keeps what it is made of, and is plain text to whatever does not ask."""

from __future__ import annotations

import copy
import json
import pickle

from inventory.science.saying import (
    Capital,
    Row,
    Said,
    Sentence,
    Trimmed,
    counted,
    first_large,
    joined,
    say,
)


def test_a_sentence_is_text_and_keeps_its_pattern_and_values() -> None:
    said = say("Lot {lot}: {left:,} g left.", lot="L17", left=1180)

    assert said == "Lot L17: 1,180 g left."
    assert isinstance(said, Sentence)
    assert (said.pattern, said.values) == (
        "Lot {lot}: {left:,} g left.",
        {"lot": "L17", "left": 1180},
    )
    assert json.dumps([said]) == '["Lot L17: 1,180 g left."]'


def test_braces_without_values_are_left_alone() -> None:
    assert say("Write {} or 10 %.") == "Write {} or 10 %."


def test_an_error_hands_its_sentence_on() -> None:
    error = ValueError(say("{lot} is gone.", lot="L17"))

    assert isinstance(str(error), Sentence)


def test_only_one_is_said_by_the_pattern_for_one() -> None:
    said = [counted("{count} jar", "{count} jars", count=count) for count in (0, 1, 2)]

    assert said == ["0 jars", "1 jar", "2 jars"]


def test_what_is_joined_keeps_its_pieces() -> None:
    row = joined(", ", [say("a jar"), "P2"])
    longer = "Take " + row + "."

    assert (row, longer) == ("a jar, P2", "Take a jar, P2.")
    assert isinstance(row, Row)
    assert isinstance(row.pieces[0], Sentence)
    assert isinstance(longer, Row)


def test_a_large_letter_keeps_what_it_begins() -> None:
    small = say("pot {pot} is free", pot="P2")

    assert first_large(small) == "Pot P2 is free"
    assert small.capitalize() == "Pot p2 is free"
    assert isinstance(first_large(small), Capital)
    assert first_large("pot") == "Pot"


def test_what_is_trimmed_keeps_what_it_was_trimmed_from() -> None:
    said = say("{what} {more}", what="pot", more="")

    assert (said.strip(), said.rstrip()) == ("pot", "pot")
    assert isinstance(said.strip(), Trimmed)
    assert isinstance(say("pot").strip(), Sentence)
    assert pickle.loads(pickle.dumps(said.rstrip())).whole == "pot "


def test_copies_and_pickles_keep_what_they_are_made_of() -> None:
    for said in (say("{n} g", n=1), counted("a jar", "jars", count=2), joined(", ", [say("a")])):
        for kept in (pickle.loads(pickle.dumps(said)), copy.copy(said), copy.deepcopy(said)):
            assert (type(kept), kept) == (type(said), said)
    assert pickle.loads(pickle.dumps(first_large(say("a jar")))) == "A jar"


def test_signs_of_a_page_are_made_harmless() -> None:
    assert say("{lot} is gone", lot="<b>").__html__() == "&lt;b&gt; is gone"
    assert isinstance(say("a"), Said)
