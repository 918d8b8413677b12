"""A printed code is read by a phone, through steam and under a splash too."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from api.web.drawing.qr import QUIET, draw_qr
from tests.api.web.drawing.printed import blurred, printed, reads, soiled

J1 = "https://larder.pellitory.example/found/?code=J1&studio=Pellitory+Yard"


def test_a_code_of_18_mm_is_read() -> None:
    assert reads(printed(draw_qr(J1), mm=18)) == [J1]


def test_a_code_is_read_through_steam() -> None:
    """Each dot is spread over a third of a field: more than a phone does that is not in focus."""
    assert reads(blurred(printed(draw_qr(J1), mm=18), mm=0.14)) == [J1]


def test_a_code_is_read_under_a_splash_and_through_steam() -> None:
    seen = blurred(soiled(printed(draw_qr(J1), mm=18), share=0.06), mm=0.12)

    assert reads(seen) == [J1]


def test_a_code_that_is_mostly_dye_is_not_read() -> None:
    """Or the tests above would prove nothing."""
    assert reads(soiled(printed(draw_qr(J1), mm=18), share=0.5)) == []


def test_light_fields_stand_all_round() -> None:
    code = draw_qr(J1)

    edge = printed(code, mm=code.side)[: QUIET * 11, :]

    assert edge.min() > 200


@given(st.text(st.characters(min_codepoint=33, max_codepoint=126), min_size=1, max_size=120))
@settings(max_examples=25, deadline=None)
def test_whatever_an_address_holds_is_read_back(text: str) -> None:
    assert reads(printed(draw_qr(text), mm=40)) == [text]


@pytest.mark.parametrize("text", ["", "x" * 601])
def test_an_address_that_cannot_be_printed_is_our_own_mistake(text: str) -> None:
    with pytest.raises(AssertionError):
        draw_qr(text)
