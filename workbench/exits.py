"""What an exit code means: fine, the input is at fault, or wrong use and no terminal."""

from __future__ import annotations

__all__ = ["AT_FAULT", "FINE", "WRONG_USE"]

FINE, AT_FAULT, WRONG_USE = 0, 1, 2
