"""The command line: exit codes, what goes where, and no traceback for any input."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from datetime import datetime
from pathlib import Path

import pytest

from tests.screens.terminals import Terminal
from workbench import __version__, demo, opening
from workbench.cli import main

DEMO = Path(__file__).parent.parent / "demo"
AMBER = DEMO / "alder-lane-amber.toml"
AT = "2026-11-26T08:00:00+01:00"


def run(*words: str, **env: str) -> subprocess.CompletedProcess[str]:
    """The command in a process of its own, without a terminal."""
    return subprocess.run(
        [sys.executable, "-m", "workbench", *words],
        capture_output=True, text=True, stdin=subprocess.DEVNULL, env=os.environ | env, check=False,
    )  # fmt: skip


def test_the_sheet_as_json_has_the_keys_other_programs_rely_on(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sheet", str(AMBER), "--json", "--at", AT]) == 0
    data = json.loads(capsys.readouterr().out)
    assert data["batch"] == {"name": "Alder Lane Amber", "pitch_at": "2026-11-28T15:00:00+01:00"}
    top = {
        "batch",
        "need",
        "hand",
        "starter_needed",
        "planned_by",
        "steps",
        "final",
        "chain",
        "schedule",
        "warnings",
        "clock",
    }
    assert set(data) == top
    assert data["planned_by"] == "brewer"
    start = datetime.fromisoformat(data["steps"][0]["start"])  # in this machine's zone
    assert start == datetime.fromisoformat("2026-11-27T17:00:00+01:00")


def test_the_sheet_as_text_is_a_page_for_a_brewer(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["sheet", str(AMBER), "--at", AT]) == 0
    text = capsys.readouterr().out
    for said in ("Alder Lane Amber", "149 g", "1.59 L", "263 B (186–349)", "scalds", "published", "recommended"):
        assert said in text
    assert max(map(len, text.splitlines())) <= 80


def test_the_sheet_as_markdown_escapes_what_would_be_markup(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "odd.toml"
    path.write_text('format = 1\n[batch]\nname = "<b>*Amber*</b> | [x](y) \\u001b[2J"\n', encoding="utf-8")
    assert main(["sheet", str(path), "--markdown"]) == 0
    out = capsys.readouterr().out
    assert "\x1b" not in out
    assert "\\<b\\>\\*Amber\\*" in out


def test_us_units_and_a_comma_follow_the_settings(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    settings = tmp_path / "config.toml"
    settings.write_text('units = "us"\ndecimal = "comma"\n', encoding="utf-8")
    monkeypatch.setenv("WORKBENCH_CONFIG", str(settings))
    assert main(["sheet", str(AMBER), "--at", AT]) == 0
    out = capsys.readouterr().out
    assert "1,69 qt" in out
    assert "5,2 oz" in out
    assert "69,8 °F" in out


def test_faults_go_to_stderr_with_line_key_and_remedy(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "bad.toml"
    path.write_text('format = 1\n[beer]\nvolume = "23 kg"\ngravity = 1.056\n', encoding="utf-8")
    assert main(["sheet", str(path)]) == 1
    said = capsys.readouterr()
    assert said.out == ""
    first, second = said.err.splitlines()
    assert first.startswith(f"{path}:3: beer.volume: ")
    assert "L" in first
    assert second.startswith(f"{path}:4: beer.gravity: ")


def test_check_tells_every_fault_of_every_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    bad = tmp_path / "bad.toml"
    bad.write_text('format = 1\n[beer]\nvolume = "-1 L"\ntype = "stout"\n', encoding="utf-8")
    assert main(["check", str(AMBER), str(bad), str(tmp_path / "none.toml")]) == 1
    lines = capsys.readouterr().out.splitlines()
    assert [line.split(": ")[1] for line in lines[:2]] == ["beer.volume", "beer.type"]
    assert "there is no such file" in lines[2]
    assert main(["check", str(AMBER)]) == 0


def test_new_writes_a_file_that_checks_and_never_overwrites(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["new", "Gatehouse Bitter", "--folder", str(tmp_path)]) == 0
    path = Path(capsys.readouterr().out.strip().splitlines()[-1])
    assert path.parent == tmp_path
    assert 'name = "Gatehouse Bitter"' in path.read_text(encoding="utf-8")
    assert main(["check", str(path)]) == 0
    before = path.read_bytes()
    assert main(["new", "Gatehouse Bitter", "--folder", str(tmp_path)]) == 1
    assert path.read_bytes() == before


def test_a_name_that_is_no_file_name_is_made_one(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["new", "../50/50: Bitter?", "--folder", str(tmp_path)]) == 0
    path = Path(capsys.readouterr().out.strip())
    assert path.parent == tmp_path
    assert 'name = "../50/50: Bitter?"' in path.read_text(encoding="utf-8")


def test_new_for_the_shelf_has_no_beer(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["new", "House yeast", "--shelf", "--folder", str(tmp_path)]) == 0
    path = Path(capsys.readouterr().out.strip())
    text = path.read_text(encoding="utf-8")
    assert "\n[keep]" in text
    assert "\n[beer]" not in text
    assert main(["check", str(path)]) == 0


@pytest.mark.parametrize("name", demo.names())
def test_demo_without_a_terminal_prints_the_sheet(name: str) -> None:
    done = run("demo", name)
    assert done.returncode == 0
    assert "How it was reckoned" in done.stdout
    assert "opens the screen" in done.stdout
    assert done.stderr == ""


def test_wrong_use_is_exit_2() -> None:
    assert run("sheet").returncode == 2
    assert run("--nonsense").returncode == 2
    no_terminal = run(str(AMBER))
    assert no_terminal.returncode == 2
    assert "needs a terminal" in no_terminal.stderr
    assert run("sheet", str(AMBER), "--at", "yesterday").returncode == 2


def test_version_and_help() -> None:
    assert run("--version").stdout.strip() == f"workbench {__version__}"
    said = run("--help").stdout
    for command in ("demo", "sheet", "check", "new", "list"):
        assert command in said


def test_a_reader_that_leaves_is_no_error() -> None:
    done = subprocess.run(
        f"{sys.executable} -m workbench sheet {AMBER} | head -1",
        shell=True, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.stdout.startswith("Alder Lane Amber")
    assert done.stderr == ""


@pytest.mark.parametrize(
    "raw",
    [
        b"\xff\xfe\x00", b"\x00", b"format = 1\x00", b"[", b"a=" + b"[" * 2000, b"", b"format = true", b"format = nan",
        b"format = 1\n[beer]\nvolume = 1e400\n", b"format = 1\n[yeast]\n", b"\xef\xbb\xbf\xef\xbb\xbfformat = 1",
        b"format = 1\n" + b"a." * 5000 + b"b = 1\n", b"format = 99999999999999999999999",
    ],
    ids=range(13),
)  # fmt: skip
def test_hostile_bytes_end_in_one_line_each(raw: bytes, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "hostile.toml"
    path.write_bytes(raw)
    assert main(["sheet", str(path)]) == 1
    said = capsys.readouterr().err
    assert said.startswith(str(path))
    assert "Traceback" not in said
    assert path.read_bytes() == raw


def test_a_calendar_and_a_table_have_the_bytes_of_their_standards_in_any_locale() -> None:
    for verb in ("calendar", "table"):
        words = [sys.executable, "-m", "workbench", verb, str(AMBER)]
        env = os.environ | {"LC_ALL": "C", "PYTHONIOENCODING": "ascii", "PYTHONUTF8": "0"}
        done = subprocess.run(words, capture_output=True, stdin=subprocess.DEVNULL, env=env)
        assert done.returncode == 0, done.stderr
        assert done.stdout.count(b"\r\n") == done.stdout.count(b"\n") == len(done.stdout.split(b"\r\n")) - 1
        assert done.stdout.endswith(b"\r\n")
        assert ("21 °C" if verb == "calendar" else "Alder Lane Amber") in done.stdout.replace(b"\r\n ", b"").decode()


def test_a_calendar_without_an_hour_says_what_is_missing(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "bare.toml"
    path.write_text("format = 1\n", encoding="utf-8")
    assert main(["calendar", str(path)]) == 1
    said = capsys.readouterr()
    assert said.out == ""
    assert "pitch_at" in said.err


def test_the_time_of_a_calendar_can_be_set(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["calendar", str(AMBER), "--at", AT]) == 0
    assert "DTSTAMP:20261126T070000Z\r\n" in capsys.readouterr().out


def test_a_table_tells_broken_files_and_goes_on(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    bad = tmp_path / "bad.toml"
    bad.write_text('format = 1\n[beer]\nvolume = "23 kg"\n', encoding="utf-8")
    assert main(["table", str(tmp_path / "none.toml"), str(bad), str(AMBER)]) == 1
    said = capsys.readouterr()
    header, line = said.out.split("\r\n")[:-1]
    assert header.startswith("batch,file,step,wort_l,")
    assert line.startswith(f"Alder Lane Amber,{AMBER},1,1.6,")
    assert len(said.err.splitlines()) == 2
    assert f"{bad}:3: beer.volume: " in said.err


@pytest.mark.parametrize("words", [["calendar"], ["calendar", "a.toml", "b.toml"], ["table"]])
def test_a_calendar_is_of_one_file_and_a_table_of_some(words: list[str]) -> None:
    assert run(*words).returncode == 2


def test_settings_that_are_no_text_go_into_a_new_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    settings = tmp_path / "config.toml"
    settings.write_text("[flask]\ncount = 2\n[wort]\nextract_fraction = 0.96\n", encoding="utf-8")
    monkeypatch.setenv("WORKBENCH_CONFIG", str(settings))
    assert main(["new", "Two flasks", "--folder", str(tmp_path)]) == 0
    text = (tmp_path / "two-flasks.toml").read_text(encoding="utf-8")
    assert "count = 2" in text
    assert "extract_fraction = 0.96" in text


def test_a_wrong_time_says_what_would_be_right() -> None:
    done = run("sheet", str(AMBER), "--at", "noon")
    assert done.returncode == 2
    assert "'noon' is no time" in done.stderr


@pytest.mark.parametrize("at", ["0001-01-01T00:00:00+05:00", "9999-12-31T23:59:59-05:00"])
def test_a_time_at_the_calendars_end_is_no_traceback(at: str) -> None:
    done = run("sheet", str(AMBER), "--at", at)
    assert done.returncode == 2
    assert "out of range" in done.stderr


def test_a_full_disk_behind_the_output_is_one_line() -> None:
    with Path("/dev/full").open("w") as full:
        done = subprocess.run(
            [sys.executable, "-m", "workbench", "sheet", str(AMBER)], stdout=full, stderr=subprocess.PIPE, text=True
        )
    assert done.returncode == 1
    assert len(done.stderr.splitlines()) == 1


@pytest.mark.parametrize("words", [[], [str(AMBER)]])
def test_a_terminal_that_cannot_place_its_cursor_is_refused_in_a_line(words: list[str]) -> None:
    with Terminal(AMBER, words=["env", "TERM=dumb", sys.executable, "-m", "workbench", *words]) as terminal:
        said = terminal.read_until(b"nothing writes this")
        assert said.startswith(b"the screen needs a terminal")
        assert b"TERM=dumb" in said
        assert b"\x1b" not in said
        assert terminal.program.wait(20) == 2


def test_a_closed_input_is_no_terminal() -> None:
    done = subprocess.run(
        f"{sys.executable} -m workbench {AMBER} <&-", shell=True, capture_output=True, text=True, check=False
    )
    assert done.returncode == 2
    assert "needs a terminal" in done.stderr


def test_a_file_name_cannot_steer_the_terminal(tmp_path: Path) -> None:
    done = run(str(tmp_path / "a\x1b[31m.toml"))
    assert "\x1b" not in done.stderr


WINE = DEMO / "long-night-barley-wine.toml"


@pytest.mark.parametrize("more", [(), ("--shelf",), ("--slurry", "200 mL"), ("--slurry", "200 mL", "--shelf")])
def test_new_from_another_file_checks(
    more: tuple[str, ...], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["new", "After", "--from", str(WINE), "--folder", str(tmp_path), *more]) == 0
    path = tmp_path / "after.toml"
    assert capsys.readouterr().out == f"{path}\n"
    assert main(["check", str(path)]) == 0
    assert capsys.readouterr().out == ""
    text = path.read_text(encoding="utf-8")
    assert 'from = "long-night-barley-wine.toml"\ngeneration = 1' in text
    assert ("[keep]" in text) == ("--shelf" in more or "--slurry" not in more)
    assert ('kind = "slurry"' in text) == ("--slurry" in more)
    assert main(["new", "After", "--from", str(WINE), "--folder", str(tmp_path), *more]) == 1
    assert "is there already" in capsys.readouterr().err


def test_new_from_what_keeps_nothing_says_what_to_set(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["new", "A", "--from", str(AMBER), "--folder", str(tmp_path)]) == 1
    assert "keeps nothing: set [keep]" in capsys.readouterr().err
    assert main(["new", "A", "--from", str(tmp_path / "none.toml"), "--folder", str(tmp_path)]) == 1
    assert not list(tmp_path.iterdir())


def test_slurry_is_a_volume_of_a_batch(tmp_path: Path) -> None:
    unasked = run("new", "A", "--slurry", "200 mL", "--folder", str(tmp_path))
    assert unasked.returncode == 2
    assert "--from" in unasked.stderr
    odd = run("new", "A", "--from", str(WINE), "--slurry", "2 kg", "--folder", str(tmp_path))
    assert odd.returncode == 2
    assert "no volume" in odd.stderr


def test_no_words_at_all_want_a_terminal_for_the_home_screen() -> None:
    done = run()
    assert (done.returncode, done.stdout) == (2, "")
    for said in ("needs a terminal", "workbench list", "workbench FILE"):
        assert said in done.stderr


@pytest.mark.parametrize("words", [[], ["--folder", "{tmp}/there"]])
def test_no_words_at_all_open_the_home_screen(
    words: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    settings = tmp_path / "config"
    settings.write_text(f'folder = "{tmp_path}/there"\n', encoding="utf-8")
    monkeypatch.setenv("WORKBENCH_CONFIG", str(settings) if not words else str(tmp_path / "none"))
    monkeypatch.setattr(opening, "_has_terminal", lambda: True)
    opened: list[tuple[Path, bool]] = []
    monkeypatch.setattr(opening, "_screen", lambda path, *, folder: opened.append((path, folder)) or 0)
    assert main([word.format(tmp=tmp_path) for word in words]) == 0
    assert opened == [(tmp_path / "there", True)]


@pytest.mark.parametrize(("answer", "made"), [("y", True), ("", False), (EOFError, False)])
def test_a_file_that_is_not_there_is_made_if_wanted(
    answer: str | type[EOFError], made: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def asked(prompt: str) -> str:
        assert "mybeer.toml" in prompt
        if isinstance(answer, str):
            return answer
        raise answer

    monkeypatch.setattr("builtins.input", asked)
    monkeypatch.setattr(opening, "_has_terminal", lambda: True)
    monkeypatch.setattr(opening, "_screen", lambda path: 0)
    assert main([str(tmp_path / "mybeer")]) == (0 if made else 1)
    assert list(tmp_path.iterdir()) == []  # on a first start it is made once the questions are over
    (tmp_path / "no-settings.toml").write_text("", "utf-8")
    assert main([str(tmp_path / "mybeer")]) == (0 if made else 1)
    assert (tmp_path / "mybeer.toml").exists() is made


def test_a_path_and_a_folder_are_not_two_places(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["new", "deep/a.toml", "--folder", str(tmp_path)]) == 0
    assert (tmp_path / "deep" / "a.toml").exists()
    capsys.readouterr()
    assert main(["new", str(tmp_path / "b.toml"), "--folder", str(tmp_path / "other")]) == 2
    assert "leave --folder out" in capsys.readouterr().err
    assert not (tmp_path / "b.toml").exists()


def test_help_tells_of_files_and_names_each_command_in_one_way() -> None:
    assert "workbench FILE opens that batch" in run("--help").stdout
    assert run("sheet", "--help").stdout.startswith("usage: workbench sheet [-h]")


def test_check_tells_faults_and_notes_of_one_file_together(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "both.toml"
    path.write_text('format = 1\ncolour = 3\n[beer]\nvolume = "23 kg"\n', encoding="utf-8")
    assert main(["check", str(path)]) == 1
    fault, note = capsys.readouterr().out.splitlines()
    assert fault.startswith(f"{path}:4: beer.volume: ")
    assert note.startswith(f"{path}:2: colour: ")
    assert note.endswith("(no fault)")


def test_a_newer_format_is_shown_with_the_reason_and_not_vouched_for(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "later.toml"
    path.write_text(AMBER.read_text("utf-8").replace("format = 1", "format = 2"), "utf-8")
    before = path.read_bytes()
    assert main(["sheet", str(path)]) == 1
    said = capsys.readouterr()
    assert "format 2: this program reads format 1, so figures may be wrong" in " ".join(said.out.split())
    assert "use a newer version of the program" in said.err
    assert main(["sheet", "--json", str(path)]) == 1
    assert '"newer-format"' in capsys.readouterr().out
    assert main(["check", str(path)]) == 1
    assert capsys.readouterr().out.count("format 2 is newer than this program, which reads format 1") == 1
    assert path.read_bytes() == before


@pytest.mark.parametrize("command", ["sheet", "calendar", "table"])
def test_what_is_newer_than_the_program_is_told_with_a_fault(
    command: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "later.toml"
    path.write_text(AMBER.read_text("utf-8").replace("format = 1", "format = 9"), "utf-8")
    assert main([command, str(path)]) == 1
    out, err = capsys.readouterr()
    assert out
    assert "format 9 is newer than this program" in err
