"""How a run of the figures was asked for, handed to every group of rows."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

from tests.benchmarks.larders import Larders
from tests.benchmarks.rows import Row


@dataclass(frozen=True)
class Setting:
    """On which engine, how much of it, and the databases of this process."""

    engine: str
    quick: bool = False
    slow: bool = False
    larders: Larders = field(default_factory=Larders)

    def rounds(self, many: int, few: int = 2) -> int:
        """So many rounds, or a few where only the command itself is tried."""
        return few if self.quick else many


Group = Callable[[Setting], Iterator[Row]]
