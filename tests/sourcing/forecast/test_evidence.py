"""The evidence command in little: the scores are honest, and ours is lower where it should be."""

import numpy as np
import pytest

from sourcing.forecast.figures import shipped
from sourcing.forecast.learn import learn, learn_along
from tests.benchmarks.forecast_score import score_model, score_points
from tests.benchmarks.strange_sources import KINDS, VISITS, Family, families
from tests.sourcing.forecast.shown import record


@pytest.mark.parametrize("kind", ["weekday pattern", "trends"])
def test_ours_loses_less_than_every_point_method(kind: str) -> None:
    family = next(each for each in families(3, sources=3) if each.name == kind)

    ours, theirs = score_model(family, shipped()), score_points(family)

    assert ours.loss < min(score.loss for score in theirs.values())


def test_a_source_that_never_changes_is_foretold_almost_without_loss() -> None:
    amounts = np.full((1, VISITS), 40.0)
    weekdays = np.zeros(VISITS, dtype=np.intp)
    family = Family("still", True, amounts, weekdays, np.array([np.nan]))

    assert score_model(family, shipped(), first=30).loss < 0.06


def test_what_comes_later_does_not_change_what_was_foretold() -> None:
    past = [60.0, 0, 48, 70, 55, 62]

    along = [habit.mean[0] for habit in learn_along(record([*past, 500.0], promised=50), shipped())]

    before = learn(record(past, promised=50), shipped()).mean[0]
    assert along[len(past)] == before != along[-1]


def test_every_kind_of_source_is_made_alike_from_one_seed() -> None:
    one, two = families(9, sources=2), families(9, sources=2)

    assert [each.name for each in one] == list(KINDS)
    for left, right in zip(one, two, strict=True):
        assert (left.amounts == right.amounts).all()
        assert (left.amounts >= 0).all()
