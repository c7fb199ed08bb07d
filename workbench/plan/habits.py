"""What `derive` is told besides the session: the brewer's instruments."""

from __future__ import annotations

from typing import NamedTuple

from workbench.brewing.instruments import BRIX_PER_PLATO

__all__ = ["Habits"]


class Habits(NamedTuple):
    """Values that belong to this brewer, not to one batch."""

    hydrometer_reference_c: float = 20.0  # or 60 °F: it is printed on the scale
    brix_per_plato: float = BRIX_PER_PLATO
