"""Where the data folders are: beside the package in the repository, inside it in a wheel."""

from __future__ import annotations

from pathlib import Path

__all__ = ["folder"]


def folder(name: str) -> Path:
    """The folder `name` ("themes" or "demo").

    Raises FileNotFoundError where it is in neither place, which means a broken installation.
    """
    package = Path(__file__).parent
    for place in (package / "_data" / name, package.parent / name):
        if place.is_dir():
            return place
    raise FileNotFoundError(f"the folder {name!r} is missing from this installation")
