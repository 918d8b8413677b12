"""How big can a run be? The largest weight that is a yes, what binds it, and how far things reach.

`search.py` looks for the weight, `weighed.py` places the run at one, `binding.py` says what one
step more would lack, `reach.py` how far each thing goes by itself, `answer.py` puts them together.
"""

from __future__ import annotations

from sourcing.week.how_big.answer import HowBig, how_big, how_big_of
from sourcing.week.how_big.binding import Binding
from sourcing.week.how_big.reach import Reach

__all__ = ["Binding", "HowBig", "Reach", "how_big", "how_big_of"]
