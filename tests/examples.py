"""How many random examples a property is tried with, and which."""

from __future__ import annotations

import os

from hypothesis import settings

__all__ = ["SEARCH", "at_most", "profile"]

# So many new examples of every property, other ones in each run: WORKBENCH_EXAMPLES=5000 python -m pytest tests/plan
SEARCH = int(os.environ.get("WORKBENCH_EXAMPLES", "0"))


def profile() -> settings:
    """Without a search the examples are the same in every run: a change is judged by what it changed.

    A busy machine is no fault of the code, so an example may take its time.
    """
    if SEARCH:
        return settings(deadline=None, max_examples=SEARCH)
    return settings(deadline=None, derandomize=True)


def at_most(number: int) -> settings:
    """For a property whose examples take long."""
    return settings(max_examples=SEARCH or number)
