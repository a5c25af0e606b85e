"""The command line among other programs: pipes, closed pipes, full disks, odd terminals, odd file names.

What is asked of a program there is POSIX.1-2017, volume Shell & Utilities, section 1.4: answers on standard output,
diagnostics on standard error, exit status above zero for a failure.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from app.__main__ import main

STORY = Path(__file__).parent / "stories" / "hard_water_nitric.saltwright"
TOP = Path(__file__).resolve().parents[2]
COMMAND = [sys.executable, "-m", "app"]

pytestmark = pytest.mark.skipif(os.name != "posix", reason="a POSIX shell's conventions")


def shell(line: str, **environment: str) -> subprocess.CompletedProcess[bytes]:
    command = ["sh", "-c", line, "sh", sys.executable, str(STORY)]
    return subprocess.run(command, cwd=TOP, capture_output=True, check=False, env={**os.environ, **environment})


def one_line(stderr: bytes) -> bool:
    return stderr.startswith(b"saltwright: ") and stderr.count(b"\n") == 1 and stderr.endswith(b"\n")


def test_a_recipe_through_a_pipe_is_planned_like_the_file() -> None:
    from_file = shell('"$1" -m app plan "$2" --json')
    from_pipe = shell('cat "$2" | "$1" -m app plan - --json')
    assert from_file.returncode == from_pipe.returncode == 0
    assert json.loads(from_file.stdout) == json.loads(from_pipe.stdout)


def test_the_same_recipe_always_gives_the_same_bytes() -> None:
    answers = {shell('"$1" -m app plan "$2" --json', PYTHONHASHSEED=seed).stdout for seed in ("0", "77")}
    assert len(answers) == 1


def test_a_reader_that_goes_away_is_no_error() -> None:
    done = shell('{ "$1" -m app catalog salts --json; echo "$?" >&2; } | head -c 10')
    assert done.stderr == b"0\n"


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no /dev/full")
def test_a_full_disk_is_told_in_one_line() -> None:
    done = shell('"$1" -m app catalog salts > /dev/full')
    assert done.returncode == 2
    assert one_line(done.stderr)
    assert b"No space left" in done.stderr


def test_closed_streams_do_no_harm() -> None:
    assert shell('"$1" -m app catalog salts >&- 2>&-').returncode == 0
    done = shell('"$1" -m app plan - <&-')
    assert done.returncode == 2
    assert one_line(done.stderr)


def test_an_ascii_terminal() -> None:
    done = shell('"$1" -m app plan "$2" && "$1" -m app catalog salts', PYTHONIOENCODING="ascii")
    assert done.returncode == 0
    assert done.stdout.isascii()
    assert b"+-" in done.stdout
    assert b"\\u" not in done.stdout


@pytest.mark.parametrize("name", [b"\xff\xfe.saltwright", "\u202egpj.saltwright".encode(), b"a\nb", b"-\x1b[2J"])
def test_odd_file_names_are_shown_escaped(name: bytes, tmp_path: Path) -> None:
    wanted = os.fsencode(tmp_path) + b"/" + name
    done = subprocess.run([*COMMAND, "plan", wanted], cwd=TOP, capture_output=True, check=False)
    assert done.returncode == 2
    assert one_line(done.stderr)
    assert done.stderr[:-1].decode("utf-8").isprintable()


def test_what_is_no_recipe_is_refused_in_one_line(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    os.mkfifo(tmp_path / "pipe")
    (tmp_path / "empty").touch()
    (tmp_path / "picture").write_bytes(b"\x89PNG\r\n\x1a\n\0\0\0")
    (tmp_path / "deep").write_text("[" * 100_000)
    (tmp_path / "large").write_bytes(b" " * 2_000_000)
    for name in ("missing", "pipe", "empty", "picture", "deep", "large", "."):
        assert main(["plan", str(tmp_path / name)]) == 2, name
        shown = capsys.readouterr()
        assert shown.out == "", name
        assert one_line(shown.err.encode()), name


@pytest.mark.skipif(sys.platform != "linux", reason="displays are looked for on Linux")
def test_without_a_display_the_recipe_is_planned() -> None:
    environment = {k: v for k, v in os.environ.items() if k not in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")}
    done = subprocess.run([*COMMAND, STORY], cwd=TOP, capture_output=True, check=False, env=environment)
    assert done.returncode == 0
    assert one_line(done.stderr)
    assert b"mS/cm" in done.stdout


def test_nothing_is_written_beside_the_recipe(tmp_path: Path) -> None:
    copy = Path(shutil.copy(STORY, tmp_path))
    before = copy.stat().st_mtime_ns
    assert subprocess.run([*COMMAND, "plan", copy], cwd=TOP, capture_output=True, check=False).returncode == 0
    assert [entry.name for entry in tmp_path.iterdir()] == [STORY.name]
    assert copy.stat().st_mtime_ns == before
