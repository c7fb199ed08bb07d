"""The picture in the README is the screen as it is; `python -m tests.screens.picture` takes a new one."""

from __future__ import annotations

from tests.screens.picture import PICTURE, picture


async def test_the_readmes_picture_is_current() -> None:
    assert await picture() == PICTURE.read_text(encoding="utf-8")
