"""The file that opens the desk by a double click, on three systems."""

import configparser
import os
import re
import shlex
import subprocess
import sys

import pytest

from inkline.desk.shortcut import write_shortcut
from inkline.errors import InputError


def command_of_entry(text):
    """The command of a desktop entry, read as the Desktop Entry Specification says, chapter 7."""
    entry = configparser.RawConfigParser(strict=True)
    entry.optionxform = str
    entry.read_string(text)
    said = entry["Desktop Entry"]
    assert (said["Type"], said["Terminal"]) == ("Application", "true")
    line = said["Exec"].replace("\\\\", "\\")  # the escapes of a string, then those of a word
    words = re.findall(r'"((?:\\.|[^"\\])*)"', line)
    return [re.sub(r"\\(.)", r"\1", word).replace("%%", "%") for word in words]


@pytest.mark.parametrize("name", ["ferry.toml", 'my 50 % `kit` $HOME "x" \\.toml', "años.toml"])
def test_each_system_runs_the_desk_with_the_recipe(tmp_path, name):
    recipe = tmp_path / name
    recipe.write_text("version = 1")
    wanted = [sys.executable, "-m", "inkline", "desk", str(recipe)]
    entry = write_shortcut(recipe, on_desktop=False, system="linux")
    assert entry.suffix == ".desktop"
    assert command_of_entry(entry.read_text()) == wanted
    script = write_shortcut(recipe, on_desktop=False, system="darwin")
    assert shlex.split(script.read_text().splitlines()[1]) == ["exec", *wanted]
    for file in (entry, script):
        assert os.access(file, os.X_OK) or os.name == "nt"


def test_the_script_runs(tmp_path):
    if os.name == "nt":
        pytest.skip("a shell script")
    gone = write_shortcut(tmp_path / "gone away.toml", on_desktop=False, system="darwin")
    ran = subprocess.run([gone], capture_output=True, text=True, check=False, timeout=60)
    assert (ran.returncode, "gone away.toml" in ran.stderr) == (2, True)


def test_windows_quotes_every_word_and_refuses_what_it_cannot_say(tmp_path):
    file = write_shortcut(tmp_path / "ferry times.toml", on_desktop=False, system="win32")
    assert file.suffix == ".cmd"
    assert f'"{tmp_path / "ferry times.toml"}"' in file.read_text()
    with pytest.raises(InputError, match="rename it"):
        write_shortcut(tmp_path / "50%.toml", on_desktop=False, system="win32")


def test_it_lies_on_the_desktop_where_there_is_one_and_over_nothing(tmp_path, monkeypatch):
    home = tmp_path / "home"
    (home / ".config").mkdir(parents=True)
    monkeypatch.setenv("HOME", str(home))
    monkeypatch.delenv("XDG_CONFIG_HOME", raising=False)
    recipe = tmp_path / "ferry.toml"
    with pytest.raises(InputError, match="no desktop"):
        write_shortcut(recipe, on_desktop=True, system="linux")
    (home / ".config" / "user-dirs.dirs").write_text('XDG_DESKTOP_DIR="$HOME/Schreibtisch"\n')
    (home / "Schreibtisch").mkdir()
    file = write_shortcut(recipe, on_desktop=True, system="linux")
    assert file.parent == home / "Schreibtisch"
    with pytest.raises(InputError, match="exists already"):
        write_shortcut(recipe, on_desktop=True, system="linux")
