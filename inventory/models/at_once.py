"""Tables of one migration made at once: Django draws up all models anew after each step of one."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django.db.migrations.operations import AddConstraint, AddIndex, CreateModel
from django.db.migrations.operations.special import SeparateDatabaseAndState

MAY_FOLLOW = (AddConstraint, AddIndex)


class AtOnce(SeparateDatabaseAndState):
    """New tables, with what is then asked of them; one step of a migration.

    The tables and the state are those that the steps one by one would make. An empty larder is
    there in less than half of the time.

    Parameters
    ----------
    steps : those that make a model, and those that add a constraint or an index to one of them

    Raises
    ------
    ValueError
        A step does anything else.
    """

    def __init__(self, steps: Sequence[CreateModel | AddConstraint | AddIndex]) -> None:
        super().__init__(database_operations=list(steps), state_operations=list(steps))
        made = {step.name_lower for step in steps if isinstance(step, CreateModel)}
        for step in steps:
            if isinstance(step, CreateModel):
                continue
            if not isinstance(step, MAY_FOLLOW) or step.model_name_lower not in made:
                raise ValueError(f"At once goes what makes a table, not: {step.describe()}.")

    def deconstruct(self) -> tuple[str, list[Any], dict[str, Any]]:
        return type(self).__qualname__, [self.state_operations], {}

    def state_forwards(self, app_label: str, state: Any) -> None:
        state.__dict__.pop("apps", None)  # Drawn up once, when it is next looked at.
        super().state_forwards(app_label, state)

    def database_forwards(
        self, app_label: str, schema_editor: Any, from_state: Any, to_state: Any
    ) -> None:
        # A table is made as it stands in the end, its constraints in it.
        for step in self._tables():
            step.database_forwards(app_label, schema_editor, from_state, to_state)

    def database_backwards(
        self, app_label: str, schema_editor: Any, from_state: Any, to_state: Any
    ) -> None:
        for step in reversed(self._tables()):
            step.database_backwards(app_label, schema_editor, from_state, to_state)

    def _tables(self) -> list[CreateModel]:
        return [step for step in self.database_operations if isinstance(step, CreateModel)]
