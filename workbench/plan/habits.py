"""What `derive` is told besides the session: the brewer's instruments, and the zone of the clock on the wall."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from workbench.brewing.instruments import BRIX_PER_PLATO

if TYPE_CHECKING:
    from datetime import tzinfo

__all__ = ["Habits"]


class Habits(NamedTuple):
    """Values that belong to this brewer, not to one batch."""

    hydrometer_reference_c: float = 20.0  # or 60 °F: it is printed on the scale
    brix_per_plato: float = BRIX_PER_PLATO
    tz: tzinfo | None = None  # None: this machine's
