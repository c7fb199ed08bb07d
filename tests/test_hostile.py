"""Files made to hurt: escape codes in every text, bytes of any kind; nothing steers the terminal, nothing breaks."""

from __future__ import annotations

import os
import random
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.panes.scenes import CET, NOW
from tests.screens.apps import app_on
from workbench.app import Workbench
from workbench.cli import main
from workbench.config import Config
from workbench.errors import WorkbenchError
from workbench.session.load import parsed
from workbench.session.read import read
from workbench.units.mark import Mark

if TYPE_CHECKING:
    from workbench.panes.canvas import Canvas

DEMO = Path(__file__).parent.parent / "demo"
STRANGE = [
    "\x1b[2J\x1b]0;title\x07\x00\r\n",  # escape sequences, controls
    "\x9b31m\x85\x90q\x9c\x7f",  # the same as C1 controls
    "\u202eabc\u2066\u2028b\u2029",  # direction turned, lines of other alphabets
    "\u200d\u200b\ufeffe\u0301👍🏻❤️👩‍👧",  # of no width, joined, combined
    "[red]x[/] <script>|`*_#\\",  # markup
]


def session(text: str) -> str:
    """With that in every text and key that is free."""
    q = '"' + "".join(f"\\U{ord(c):08x}" for c in text) + '"'
    event = f"[[event]]\nat = 2026-11-26T06:00:00Z\nstep = 1\ntask = {q}\ntext = {q}\n"
    return f"""format = 1
{q} = {q}
[batch]
name = {q}
note = {q}
pitch_at = 2026-11-28T15:00:00+01:00
[beer]
volume = "23 L"
gravity = "1.056"
[[yeast]]
kind = "kept"
made_on = 2026-11-10
cells = "100 B"
from = {q}
[[step]]
wort = "1.6 L"
{event}what = {q}
{event}what = "note"
{event}what = "task-done"
"""


def harmless(text: str) -> bool:
    return all(line.isprintable() for line in text.split("\n"))


@pytest.mark.parametrize("text", STRANGE, ids=range(len(STRANGE)))
@pytest.mark.parametrize("faulty", [False, True])
def test_commands_show_it_and_obey_none_of_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], text: str, faulty: bool
) -> None:
    path = tmp_path / "a.toml"
    path.write_text(session(text) + (f"[keep]\ncells = {text[:1].encode('unicode_escape')!r}\n" if faulty else ""))
    for words in (["sheet"], ["sheet", "--markdown"], ["sheet", "--json"], ["check"]):
        main([*words, str(path)])
        told = capsys.readouterr()
        assert harmless(told.out + told.err)
        if words[-1] == "--markdown":
            assert "<script>" not in told.out.replace("\\<", "")
    main(["list", "--folder", str(tmp_path)])
    assert harmless(capsys.readouterr().out)


@pytest.mark.parametrize(
    "name", [b"a\xff\x1b[31m\xc2\x9b.toml", b"b\xe2\x80\xae\n\xe2\x80\xa8.toml"], ids=["controls", "lines"]
)
def test_names_of_files_neither(tmp_path: Path, capsys: pytest.CaptureFixture[str], name: bytes) -> None:
    path = str(tmp_path / os.fsdecode(name))
    Path(path).write_text("format = ", "utf-8")
    for words in (
        ["sheet", path], ["check", path], ["check", f"{path}no"], ["new", path], ["sheet", path, path],
        ["new", "y", "--folder", path], ["new", "y", "--from", path], ["list", "--folder", str(tmp_path)], [path, "x"],
    ):  # fmt: skip
        main(words)
        told = capsys.readouterr()
        assert harmless(told.out + told.err), words
        assert (told.out + told.err).encode()


def canvases(app: Workbench) -> list[Canvas]:
    return [canvas for canvas in app.screen.query("Canvas").results() if canvas.display]  # type: ignore[misc]


@pytest.mark.parametrize("text", STRANGE, ids=range(len(STRANGE)))
async def test_the_screen_neither(tmp_path: Path, text: str) -> None:
    folder = tmp_path / "batches"
    folder.mkdir()
    app = app_on(folder / "a.toml", session(text))
    async with app.run_test(size=(120, 40)) as pilot:
        for pane in "16":
            await pilot.press(pane)
            assert all(harmless(canvas.text) for canvas in canvases(app))
        await pilot.press("1", "enter")
        assert all(harmless(canvas.text) for canvas in canvases(app))
    home = Workbench(folder, clock=lambda: Mark(NOW), config=Config(), tz=CET, home=True)
    async with home.run_test(size=(80, 24)) as pilot:
        await pilot.press("R")
        assert all(harmless(canvas.text) for canvas in canvases(home))


@given(st.binary(max_size=300))
def test_any_bytes_are_read_or_refused_in_words(raw: bytes) -> None:
    said(raw)


@pytest.mark.parametrize("demo", sorted(DEMO.glob("*.toml")), ids=lambda path: path.stem)
def test_a_file_cut_short_or_mangled_is_read_or_refused_in_words(demo: Path) -> None:
    chance, whole = random.Random(demo.stem), demo.read_bytes()  # noqa: S311
    for _ in range(60):
        at = chance.randrange(len(whole))
        mangled = bytearray(whole[:at] if chance.random() < 0.4 else whole)
        for _ in range(chance.randrange(4)):
            mangled[chance.randrange(max(1, len(mangled))) : at] = chance.randbytes(chance.randrange(3))
        said(bytes(mangled))


def said(raw: bytes) -> None:
    """Read it; all that there is to say of it can be shown."""
    try:
        loaded = parsed(raw, "a.toml")
        outcome = read(loaded.data, loaded.text)
        told = [str(fault) for fault in (*outcome.faults, *outcome.notes)]
    except WorkbenchError as refused:
        told = [str(refused)]
    assert all(map(harmless, told))


@pytest.mark.parametrize("raw", [b"\xff\x1b[2J = 1", b"format = 1\n[", b'format = 1\n[beer]\nvolume = "\\u001b[2J"\n'])
async def test_the_screen_of_what_cannot_be_read(tmp_path: Path, raw: bytes) -> None:
    path = tmp_path / "a.toml"
    app = app_on(path, "")
    path.write_bytes(raw)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        text = "\n".join(canvas.text for canvas in canvases(app))
        assert harmless(text)
        assert "can't be shown" in text
