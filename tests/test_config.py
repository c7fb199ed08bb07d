"""The brewer's own settings: all optional, every fault told, used where they belong."""

from __future__ import annotations

from pathlib import Path

import pytest

from workbench.config import Config, config_path, load_config, own_themes
from workbench.session.faults import FaultyFile


def settings(folder: Path, text: str) -> Path:
    path = folder / "config.toml"
    path.write_text(text, encoding="utf-8")
    return path


def test_no_file_means_the_defaults(tmp_path: Path) -> None:
    assert load_config(tmp_path / "none.toml") == Config()


def test_what_is_set_is_used(tmp_path: Path) -> None:
    path = settings(
        tmp_path,
        'units = "us"\ndecimal = "comma"\ntheme = "pine-frost"\nfolder = "~/brew"\n'
        '[instruments]\nhydrometer_reference = "60 °F"\n[flask]\nsize = "2 L"\n[keys]\nundo = "ctrl+u"\n',
    )
    config = load_config(path)
    assert (config.units, config.comma, config.theme) == ("us", True, "pine-frost")
    assert config.batches() == Path.home() / "brew"
    assert config.habits.hydrometer_reference_c == pytest.approx(15.5556, abs=1e-4)
    assert config.flask == {"size": "2 L"}
    assert config.keys == {"undo": "ctrl+u"}


@pytest.mark.parametrize(
    ("text", "line", "key"),
    [
        ('units = "imperial"', 1, "units"),
        ('colour = "red"', 1, "colour"),
        ('[flask]\nsize = "2 kg"', 2, "flask.size"),
        ("[wort]\ngravity = 1.034", 2, "wort.gravity"),
        ('[wort]\ngravitas = "1.034"', 2, "wort.gravitas"),
        ('[instruments]\nhydrometer_reference = "99 °C"', 2, "instruments.hydrometer_reference"),
        ("[keys]\nundo = 7", 2, "keys.undo"),
        ("flask = 3", 1, "flask"),
        ('theme = "nosuch"', 1, "theme"),
        ('[keys]\nquit = "Q"\nundoo = "u"', 3, "keys.undoo"),
        ('[keys]\nundo = "Z"\nwhy = "z"', 3, "keys.why"),
        ('[keys]\nzoom = "Z"\nundo = "u, ctrl+b"', 3, "keys.undo"),
        ('[keys]\ncopy = "alt+c"', 2, "keys.copy"),
        ('[keys]\ncopy = "kopy"', 2, "keys.copy"),
        ('mouse = "yes"', 1, "mouse"),
    ],
)
def test_a_fault_is_told_with_its_line_and_key(tmp_path: Path, text: str, line: int, key: str) -> None:
    with pytest.raises(FaultyFile) as wrong:
        load_config(settings(tmp_path, text + "\n"))
    (fault,) = wrong.value.faults
    assert (fault.line, fault.key) == (line, key)
    assert fault.right


def test_all_faults_are_told_at_once(tmp_path: Path) -> None:
    with pytest.raises(FaultyFile) as wrong:
        load_config(settings(tmp_path, 'units = "x"\ndecimal = "y"\n[flask]\ncount = 0\n'))
    assert [fault.key for fault in wrong.value.faults] == ["units", "decimal", "flask.count"]


def test_the_environment_may_name_the_file(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("WORKBENCH_CONFIG", str(tmp_path / "mine.toml"))
    assert config_path() == tmp_path / "mine.toml"
    monkeypatch.delenv("WORKBENCH_CONFIG")
    assert config_path().name == "config.toml"


def test_keys_may_change_places(tmp_path: Path) -> None:
    assert load_config(settings(tmp_path, '[keys]\nundo = "w"\nwhy = "u"\n')).keys == {"undo": "w", "why": "u"}


def test_several_wrong_keys_are_told_at_their_table(tmp_path: Path) -> None:
    with pytest.raises(FaultyFile) as wrong:
        load_config(settings(tmp_path, '[keys]\nundoo = "u"\nwhyy = "w"\n'))
    assert [(fault.line, fault.key) for fault in wrong.value.faults] == [(1, "keys")]


def test_flasks_by_name_are_checked_like_any_flask(tmp_path: Path) -> None:
    config = load_config(settings(tmp_path, '[flasks.jug]\nsize = "5 L"\nbrim = "5.3 L"\n'))
    assert config.flasks == {"jug": {"size": "5 L", "brim": "5.3 L"}}
    for text, key in (('[flasks.jug]\nsize = "5 kg"\n', "flasks.jug.size"), ("[flasks]\njug = 5\n", "flasks.jug")):
        with pytest.raises(FaultyFile) as told:
            load_config(settings(tmp_path, text))
        assert [fault.key for fault in told.value.faults] == [key]


def test_a_theme_of_ones_own_is_known_even_where_it_is_broken(tmp_path: Path) -> None:
    (tmp_path / "themes").mkdir()
    (tmp_path / "themes" / "mine.toml").write_text("no TOML", "utf-8")
    assert own_themes() == tmp_path / "themes"
    assert load_config(settings(tmp_path, 'theme = "mine"\n')).theme == "mine"
