"""Tables of a migration made at once are those that its steps would make one by one."""

from __future__ import annotations

from typing import Any

import pytest
from django.db import connection, models
from django.db.migrations import AddConstraint, AddField, CreateModel
from django.db.migrations.state import ProjectState

from inventory.models.at_once import AtOnce


def key() -> tuple[str, models.Field[Any, Any]]:
    return "id", models.BigAutoField(primary_key=True)


def steps() -> list[Any]:
    filled = models.CheckConstraint(condition=models.Q(litres__gt=0), name="pail_is_filled")
    stands_in = models.ForeignKey("yard.Shed", on_delete=models.PROTECT)
    return [
        CreateModel("Shed", [key(), ("name", models.CharField(max_length=9))]),
        CreateModel("Pail", [key(), ("litres", models.IntegerField()), ("shed", stands_in)]),
        AddConstraint("pail", filled),
    ]


def after(*done: Any) -> ProjectState:
    state = ProjectState()
    for step in done:
        step.state_forwards("yard", state)
    return state


def listening() -> Any:
    """Keeps what it would say to the database; SQLite lets none speak amid a test."""
    editor = connection.schema_editor(collect_sql=True, atomic=False)
    editor.deferred_sql = []
    return editor


def test_the_state_is_that_of_the_steps_one_by_one() -> None:
    assert after(AtOnce(steps())) == after(*steps())


def test_models_that_were_drawn_up_before_are_drawn_up_with_the_new_ones() -> None:
    state = ProjectState()
    assert not state.apps.get_models()

    AtOnce(steps()).state_forwards("yard", state)

    pail = state.apps.get_model("yard", "pail")
    assert pail._meta.get_field("shed").related_model is state.apps.get_model("yard", "shed")


@pytest.mark.django_db
def test_each_table_is_made_once_with_all_that_is_asked_of_it_and_goes_the_other_way() -> None:
    at_once = AtOnce(steps())
    before, then = after(), after(at_once)

    forwards, backwards = listening(), listening()
    at_once.database_forwards("yard", forwards, before, then)
    at_once.database_backwards("yard", backwards, then, before)

    made = [line for line in forwards.collected_sql if line.startswith("CREATE TABLE")]
    assert [line.split('"')[1] for line in made] == ["yard_shed", "yard_pail"]
    assert "pail_is_filled" in made[1]
    assert "pail_is_filled" not in "".join(set(forwards.collected_sql) - set(made))
    gone = [line for line in backwards.collected_sql if line.startswith("DROP TABLE")]
    assert [line.split('"')[1] for line in gone] == ["yard_pail", "yard_shed"]


@pytest.mark.parametrize(
    "step",
    [
        AddField("pail", "lid", models.BooleanField(default=False)),
        AddConstraint(
            "tub", models.CheckConstraint(condition=models.Q(litres__gt=0), name="tub_is_filled")
        ),
    ],
)
def test_what_changes_a_table_is_refused(step: Any) -> None:
    with pytest.raises(ValueError, match="At once goes what makes a table, not"):
        AtOnce([*steps(), step])
