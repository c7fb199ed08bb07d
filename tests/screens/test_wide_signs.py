"""Letters two cells wide, and those that take none: whatever is called by them, no line is a cell too long or short."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from tests.panes.scenes import CET, NOW, ONE, plan
from tests.screens.apps import app_on
from tests.screens.desks import desk_on, do
from workbench.panes import batches
from workbench.panes.glyphs import FULL
from workbench.panes.spans import halves, width
from workbench.plan.summary import Summary, summary
from workbench.screens import bars, drawing, editor
from workbench.screens.bench import Bench

if TYPE_CHECKING:
    from workbench.panes.spans import Spans
    from workbench.screens.desk import Desk

NAMES = st.text("ab 麦酒ビ한👍❤\ufe0f\u0301\u3099🇩🇪", min_size=1, max_size=60)
SIZES = ((80, 2), (100, 2), (121, 1), (176, 1))


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Desk:
    """One for all names: it is only drawn from."""
    return desk_on(tmp_path_factory.mktemp("wide") / "a.toml", ONE)


def called(desk: Desk, name: str) -> Desk:
    session = desk.plan.session
    desk.plan = desk.plan._replace(session=session._replace(batch=session.batch._replace(name=name)))
    return desk


def flat(spans: Spans) -> str:
    return "".join(text for text, _ in spans)


@given(NAMES, st.sampled_from(SIZES))
def test_the_top_line_is_full_and_its_right_stands_where_it_stood(desk: Desk, name: str, size: tuple[int, int]) -> None:
    cells, height = size
    lines, usual = bars.top(called(desk, name), cells, height), bars.top(called(desk, "Ale"), cells, height)
    for line, as_usual in zip(lines, usual, strict=True):
        assert width(line) == width(as_usual) == cells - 1
        before, after = halves(line, cells // 2)
        assert width(before) == cells // 2, "no hole in the middle"
        assert width(after) <= cells - cells // 2
    if height == 2:
        assert flat(halves(lines[0], cells // 2)[1]).endswith("need 238 B · will have 263 B (186–349)")


@given(NAMES, st.sampled_from((80, 120)))
def test_the_columns_of_the_list_stand_under_each_other(name: str, cells: int) -> None:
    view = batches.View(NOW, FULL, CET)
    item = batches.Listed(Path("/b/a.toml"), _summary()._replace(name=name))
    line = flat(batches.row(item, view, cells))
    state = flat(batches.heading(cells)).index("state")
    assert line.count("plan ") == 1
    assert cell_len(line[: line.index("plan ")]) == state
    assert all(width(about) <= cells for about in batches.details(item, view, cells))


@cache
def _summary() -> Summary:
    return summary(plan(ONE))


@given(NAMES, st.integers(0, 60), st.sampled_from((34, 47, 80)))
def test_the_field_is_as_wide_as_it_looks_and_the_cursor_is_in_it(desk: Desk, text: str, at: int, cells: int) -> None:
    typing = do(desk, "pane-1")
    typing.put("beer.volume")
    do(typing, "edit")
    assert typing.entry is not None
    typing.entry.line = editor.Line(text, min(at, len(text)))
    lines = drawing.pane(typing, 0, cells, 20, titled=False)
    assert all(width(line) <= cells for line in lines)
    (line,) = (line for line in lines if any(role == "caret" for _, role in line))
    assert sum(cell_len(part) for part, role in line if role in {"field", "caret"}) >= drawing.FIELD
    assert drawing.caret(typing, cells, 20, titled=False)[0] < cells
    typing.entry = None


@pytest.mark.parametrize("before", range(55, 61))
async def test_what_is_painted_is_as_wide_as_the_screen(tmp_path: Path, before: int) -> None:
    name = f"Mild {'x' * (before - 5)}麦酒e\u0301❤\ufe0f ale"
    app = app_on(tmp_path / "a.toml", ONE.replace("Alder Lane Amber", name))
    async with app.run_test(size=(120, 30)):
        assert isinstance(app.screen, Bench)
        for canvas in app.screen.canvases:
            for y in range(canvas.size.height):
                strip = canvas.render_line(y)
                assert sum(cell_len(segment.text) for segment in strip) == canvas.size.width
        seen = app.screen.top.text.splitlines()[0] + app.screen.outlook.text.splitlines()[0]
        assert "".join(seen.split()).startswith("".join(name.replace("\ufe0f", "").split()))
        assert seen.endswith("(186–349)")
