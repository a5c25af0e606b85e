"""A recipe reaches its file whole or not at all: full disks, folders that take nothing, recipes no reader opens."""

from __future__ import annotations

import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from msgspec import structs

from app.session import saving
from app.session.saving import SaveError, Why, save_recipe, write_whole
from core.recipe import dumps, load
from core.recipe.records import Recipe, ShelfEntry, Water
from tests.app.sample import sample_recipe

BAG = "of a long row of bags in the cold store behind the second house, on the left"
LARGE = structs.replace(
    sample_recipe(), shelf=tuple(ShelfEntry("urea", f"bag {n} {BAG}", price_per_kg=1.25) for n in range(190))
)
"""Larger than what Qt gathers before it writes."""

QT_BUFFER_BYTES = 16384

ON_A_SMALL_DISK = """
import os, sys
from pathlib import Path
from app.session.saving import SaveError, save_recipe
from core.recipe import dumps
from tests.app.sample import sample_recipe
from tests.app.session.test_saving import LARGE
file, fill = Path(sys.argv[1]) / "mine.saltwright", Path(sys.argv[1]) / "fill"
save_recipe(file, sample_recipe())
for recipe, spare in ((LARGE, 0), (LARGE, 8), (sample_recipe(), 0)):
    free = os.statvfs(file).f_bavail * os.statvfs(file).f_frsize
    fill.write_bytes(b"x" * (free - 1024 * spare))
    try:
        save_recipe(file, recipe)
    except SaveError as error:
        print(error.why.value, file.read_bytes() == dumps(sample_recipe()), sorted(os.listdir(sys.argv[1])))
    else:
        print("saved")
    fill.unlink()
save_recipe(file, LARGE)
print(file.read_bytes() == dumps(LARGE))
"""


@pytest.fixture
def file(tmp_path: Path) -> Path:
    file = tmp_path / "mine.saltwright"
    file.write_bytes(dumps(sample_recipe()))
    return file


@pytest.fixture
def limited() -> Iterator[Callable[[int], None]]:
    """Lets no file grow beyond so many bytes: the system then writes less than was asked for."""
    resource = pytest.importorskip("resource")
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    yield lambda size: resource.setrlimit(resource.RLIMIT_FSIZE, (size, before[1]))
    resource.setrlimit(resource.RLIMIT_FSIZE, before)


def refused(path: Path, recipe: Recipe) -> SaveError:
    with pytest.raises(SaveError) as raised:
        save_recipe(path, recipe)
    return raised.value


def test_what_is_saved_is_what_is_opened(file: Path) -> None:
    recipe = structs.replace(sample_recipe(), title="Küche — 日本 🌱")
    save_recipe(file, recipe)
    assert load(file) == recipe
    assert list(file.parent.iterdir()) == [file]


@pytest.mark.parametrize("recipe", [sample_recipe(), LARGE], ids=["small", "large"])
def test_a_file_that_takes_only_part_of_it_stays_as_it_was(
    file: Path, recipe: Recipe, limited: Callable[[int], None]
) -> None:
    before = file.read_bytes()
    changed = structs.replace(recipe, currency="USD")
    assert (len(dumps(changed)) > QT_BUFFER_BYTES) is (recipe is LARGE)
    limited(500)
    with pytest.raises(SaveError) as raised:
        save_recipe(file, changed)
    limited(-1)
    assert raised.value.why is Why.OTHER
    assert file.read_bytes() == before
    assert list(file.parent.iterdir()) == [file]


@pytest.mark.skipif(shutil.which("unshare") is None, reason="no way to mount a small disk")
def test_a_full_disk(tmp_path: Path, repository: Path) -> None:
    script = 'mount -t tmpfs -o size=256k disk "$1" || exit 77; exec "$2" -c "$3" "$1"'
    done = subprocess.run(
        ["unshare", "--mount", "sh", "-c", script, "sh", str(tmp_path), sys.executable, ON_A_SMALL_DISK],
        cwd=repository,
        capture_output=True,
        text=True,
        check=False,
    )
    if done.returncode == 77 or "unshare failed" in done.stderr:
        pytest.skip("no way to mount a small disk")
    assert done.stderr == ""
    assert done.stdout.splitlines() == 3 * ["full True ['fill', 'mine.saltwright']"] + ["True"]


@pytest.mark.parametrize(
    ("name", "why"),
    [
        ("file/b.saltwright", Why.NO_FOLDER),
        ("nowhere/b.saltwright", Why.NO_FOLDER),
        ("folder", Why.OTHER),
        ("nul\0.saltwright", Why.OTHER),
    ],
)
def test_places_that_take_no_file(tmp_path: Path, name: str, why: Why) -> None:
    (tmp_path / "file").write_text("x", encoding="utf-8")
    (tmp_path / "folder").mkdir()
    assert refused(tmp_path / name, sample_recipe()).why is why
    assert sorted(found.name for found in tmp_path.iterdir()) == ["file", "folder"]


def test_a_folder_or_file_that_may_not_be_written(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(saving.os, "access", lambda *_args: False)
    monkeypatch.setattr(saving.QSaveFile, "open", lambda *_args: False)
    assert refused(file, sample_recipe()).why is Why.READ_ONLY


def test_what_could_not_be_opened_again_is_not_saved(file: Path) -> None:
    before = file.read_bytes()
    error = refused(file, structs.replace(sample_recipe(), shelf=()))
    assert error.why is Why.NOT_A_RECIPE
    assert "put at least one salt on it" in error.detail
    assert refused(file, structs.replace(sample_recipe(), water=Water(ph=float("nan")))).why is Why.NOT_A_RECIPE
    assert file.read_bytes() == before


def test_a_link_stays_one_and_rights_stay(tmp_path: Path, file: Path) -> None:
    file.chmod(0o640)
    link = tmp_path / "link.saltwright"
    link.symlink_to(file)
    write_whole(link, b"new")
    assert link.is_symlink()
    assert file.read_bytes() == b"new"
    assert file.stat().st_mode & 0o777 == 0o640
