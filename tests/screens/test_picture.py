"""The pictures of the README are the screen as it is; `python -m tests.screens.picture` takes new ones."""

from __future__ import annotations

import pytest

from tests.screens.picture import DEMO, PICTURES, path_of, picture


@pytest.mark.parametrize("name", PICTURES)
async def test_a_picture_is_current(name: str) -> None:
    assert await picture(name) == path_of(name).read_text(encoding="utf-8")


def test_the_readme_shows_each_of_them() -> None:
    readme = (DEMO.parent / "README.md").read_text(encoding="utf-8")
    assert {path.stem for path in DEMO.glob("*.svg")} == PICTURES.keys()
    assert {name for name in PICTURES if f"](demo/{name}.svg)" not in readme} == set()
