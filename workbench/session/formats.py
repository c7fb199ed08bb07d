"""Files of an older format: brought up to this one step by step, in memory, and kept as they were before they change.

A step is a pure function of the file's text: from format n to format n + 1, all else letter for letter. There is but
one format so far, so there are no steps yet; a new format adds one here, and a file of the old one to its tests.
"""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING, Any

from workbench.errors import FileRefused

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

__all__ = ["STEPS", "back_up", "format_of", "older_path", "upgraded"]

STEPS: dict[int, Callable[[str], str]] = {}
"""By the format that each begins with; the number itself is written by `upgraded`."""


def format_of(data: Mapping[str, Any]) -> int | None:
    """The format that a file says it has; None where it says none, or no whole number."""
    form = data.get("format")
    return form if type(form) is int else None


def upgraded(text: str, form: int) -> str:
    """The text of a file of format `form` as this program's format has it; unchanged where no step begins there."""
    if form in STEPS:
        from workbench.session.document import with_value  # only a file that is older needs it

        while form in STEPS:
            text, form = with_value(STEPS[form](text), "format", form + 1), form + 1
    return text


def older_path(path: Path, form: int) -> Path:
    """Where a file of an older format is kept as it was: beside the file itself, `alder.toml.v1.bak`."""
    target = Path(os.path.realpath(path))
    return target.with_name(f"{target.name}.v{form}.bak")


def back_up(path: Path, raw: bytes, form: int) -> None:
    """Keep `raw`, which is of format `form`. Raises SaveFailed; the file must then not be changed."""
    from workbench.session.load import read_bytes
    from workbench.session.saving import write_atomically

    backup = older_path(path, form)
    try:
        before: bytes | None = read_bytes(backup)
    except FileRefused:  # none so far; what else may lie there is not replaced
        before = None
    write_atomically(backup, raw, on_disk=before)
