"""The first start: what is asked then, and the settings file that is made of the answers."""

from __future__ import annotations

import re
import tomllib
from datetime import UTC, datetime
from functools import partial
from typing import TYPE_CHECKING

from workbench.config import SAMPLE, Config, read_config
from workbench.errors import SaveFailed
from workbench.screens.first_desk import FirstDesk, Question
from workbench.session.fields import field_of
from workbench.session.folder import make
from workbench.session.fresh import fresh_text
from workbench.session.literal import literal
from workbench.session.values import Words

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path

    from rich.style import Style
    from textual.geometry import Size

    from workbench.panes.glyphs import Glyphs
    from workbench.screens.first_start import FirstStart
    from workbench.session.values import Value

__all__ = ["QUESTIONS", "asking", "config_of", "keep", "settings_text"]

_SYSTEMS = Words(("metric", "us"))
_SETTING = re.compile(r"(?:# )?(?P<key>\w+) = ")
_COMMENTS = 28  # the column they stand at


def _read(value: Value, text: str) -> str:
    """What the settings say for a text. Raises QuantityError."""
    return str(value.from_typed(text, datetime.now(UTC), UTC)[1])


QUESTIONS = (
    Question(
        "units",
        "units",
        "metric",
        "How figures are shown: metric (litres, grams, °C) or us (gallons, ounces, °F). You may type either anywhere.",
        partial(_read, _SYSTEMS),
        _SYSTEMS.words,
    ),
    Question(
        "size",
        "usual flask",
        "3 L",
        "The flask that starters grow in, as it is sold; often 1 to 5 L. Each batch may name another.",
        partial(_read, field_of("flask.size").value),
    ),
    Question(
        "gravity",
        "starter wort",
        "1.034",
        "Its usual gravity: 1034, 34 and 1.034 are the same; usually 1.030 to 1.040. Each feeding may have its own.",
        partial(_read, field_of("wort.gravity").value),
    ),
)
"""Three at most; `key` is that of the setting in its table."""


def settings_text(answers: Mapping[str, str]) -> str:
    """The settings file: the answers, by key, and as remarks all else that can be set."""
    left, lines = dict(answers), []
    for line in SAMPLE.splitlines():
        setting = _SETTING.match(line)
        if setting and setting["key"] in left:
            lines.append(_set(setting["key"], left.pop(setting["key"]), line))
        else:
            lines.append(f"# {line}" if setting and not line.startswith("#") else line)
    return "\n".join(lines) + "\n"


def _set(key: str, value: str, line: str) -> str:
    """The setting with its value, and the remark that the sample has behind it."""
    remark = line.find("#", 1)
    text = f"{key} = {literal(value)}"
    return text if remark < 0 else f"{text:<{_COMMENTS}}{line[remark:]}"


def config_of(answers: Mapping[str, str]) -> Config:
    """The settings that the answers make."""
    text = settings_text(answers)
    return read_config(tomllib.loads(text), text)[0]


def keep(settings: Path, answers: Mapping[str, str], batch: Path | None) -> str:
    """Write the settings, never over any that are there, and `batch` where it is still to be made; what to tell."""
    said = "i shows a tour on one page; ? lists the keys"
    try:
        make(settings, settings_text(answers))
    except SaveFailed as wrong:
        said = f"the settings are not kept, and will be asked for again: {wrong}"
    if batch is not None and not batch.exists():
        config = config_of(answers)
        try:
            make(batch, fresh_text(batch.stem, flask=config.flask, wort=config.wort))
        except SaveFailed as wrong:
            said = str(wrong)
    return said


def asking(
    size: Size, signs: Glyphs, table: Mapping[str, Style], done: Callable[[Mapping[str, str]], None]
) -> FirstStart:
    """The screen that asks; `done` gets the answers by key."""
    from workbench.screens.first_start import FirstStart

    desk = FirstDesk(QUESTIONS, signs)
    return FirstStart(desk, table, size, lambda: done(desk.answers))
