"""What README and DEVELOPERS name exists: files, folders, commands."""

import re
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent.parent
PATHS = re.compile(r"`((?:\.ci|shared|drivers|simulators|station|tests)/[\w./-]*)`|\]\(((?!http)[\w./-]+)\)")


@pytest.mark.parametrize("document", ["README.md", "DEVELOPERS.md"])
def test_every_file_named_exists(document):
    """A path in a document points to a file or a folder of the checkout."""
    text = (ROOT / document).read_text(encoding="utf-8")
    named = [first or second for first, second in PATHS.findall(text)]
    assert len(named) > 1
    assert [path for path in named if not (ROOT / path).exists()] == []


def test_every_command_of_the_readme_is_there(overbottom, tmp_path):
    """Each command in the README's table answers to --help."""
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    commands = re.findall(r"^\| `overbottom (\w+)", text, re.MULTILINE)
    assert {"watch", "rehearse", "replay", "verify", "ports"} <= set(commands)
    for command in commands:
        assert overbottom(command, "--help", home=tmp_path).exit_status == 0, command


def test_make_has_the_two_commands():
    """The two commands of the README's first lines are targets of the Makefile."""
    makefile = (ROOT / "Makefile").read_text(encoding="utf-8")
    assert re.search(r"^rehearse:", makefile, re.MULTILINE)
    assert re.search(r"^test:", makefile, re.MULTILINE)


def test_caution_stands_in_the_readme_and_in_every_help(overbottom, tmp_path):
    """The first thing a reader meets says that the program is an aid only."""
    assert "aid only" in (ROOT / "README.md").read_text(encoding="utf-8")
    assert "aid only" in overbottom("--help", home=tmp_path).out
