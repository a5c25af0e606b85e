"""The wheel holds everything, installs, and runs from another folder; what the desktop is told agrees with it."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
import sysconfig
import tomllib
import venv
import zipfile
from pathlib import Path
from xml.etree import ElementTree

import pytest

APP_ID = "org.saltwright.Saltwright"


def run(*command: str | Path, cwd: Path) -> str:
    done = subprocess.run([str(part) for part in command], cwd=cwd, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    return done.stdout


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    top = Path(__file__).resolve().parents[2]
    copy = tmp_path_factory.mktemp("copy")
    for room in ("app", "core", "resources"):
        shutil.copytree(top / room, copy / room, ignore=shutil.ignore_patterns("__pycache__"))
    for file in ("pyproject.toml", "README.md"):
        shutil.copy(top / file, copy)
    run(sys.executable, "-m", "pip", "wheel", "-q", "--no-deps", "--no-build-isolation", "-w", "dist", ".", cwd=copy)
    (built,) = (copy / "dist").glob("*.whl")
    return built


def test_the_wheel_holds_every_resource_and_no_test(wheel: Path, repository: Path) -> None:
    names = set(zipfile.ZipFile(wheel).namelist())
    rooms = (repository / "app", repository / "core", repository / "resources")
    wanted = {
        path.relative_to(repository).as_posix()
        for room in rooms
        for path in room.rglob("*")
        if path.is_file() and path.suffix != ".pyc" and path.relative_to(repository).parts[1] != "pictures"
    }
    assert wanted - names == set()
    assert not [name for name in names if "tests" in Path(name).parts]


def test_the_wheel_names_its_licence_and_its_command(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as opened:
        texts = {Path(name).name: opened.read(name).decode() for name in opened.namelist() if ".dist-info/" in name}
    assert "License-Expression: Apache-2.0" in texts["METADATA"]
    assert "Apache License" in texts["LICENSE"]
    assert "saltwright = app.__main__:main" in texts["entry_points.txt"]


def test_installed_it_runs_from_another_folder(wheel: Path, tmp_path: Path) -> None:
    home = tmp_path / "own venv"
    venv.create(home, with_pip=False, symlinks=True)
    scripts = home / ("Scripts" if sys.platform == "win32" else "bin")
    run(sys.executable, "-m", "pip", "-q", "--python", home, "install", "--no-deps", "--no-index", wheel, cwd=tmp_path)
    packages = Path(
        run(scripts / "python", "-c", "import sysconfig; print(sysconfig.get_path('purelib'))", cwd=tmp_path).strip()
    )
    # Other packages come from the environment of the tests, as plain paths: so no editable install is followed.
    (packages / "others.pth").write_text("\n".join({sysconfig.get_path("purelib"), sysconfig.get_path("platlib")}))

    where = Path(run(scripts / "python", "-c", "import app; print(app.__file__)", cwd=tmp_path).strip())
    assert where.is_relative_to(packages)
    demo = packages / "resources" / "demo" / "strawberry.saltwright"
    assert "mS/cm" in run(scripts / "saltwright", "plan", demo, cwd=tmp_path)
    planned = json.loads(run(scripts / "saltwright", "plan", "--json", demo, cwd=tmp_path))
    assert all(amount["mg_per_l"] > 0 for amount in planned["amounts"])


def desktop_entry(repository: Path) -> dict[str, str]:
    lines = (repository / "resources" / "desktop" / f"{APP_ID}.desktop").read_text(encoding="utf-8").splitlines()
    assert lines[0] == "[Desktop Entry]"
    return dict(line.split("=", 1) for line in lines[1:])


def test_the_menu_entry_starts_the_command_and_opens_our_files(repository: Path) -> None:
    entry = desktop_entry(repository)
    project = tomllib.loads((repository / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert entry["Exec"].split() == [*project["scripts"], "%f"]
    mime = ElementTree.parse(repository / "resources" / "desktop" / f"{APP_ID}.mime.xml").getroot()
    names = {"m": "http://www.freedesktop.org/standards/shared-mime-info"}
    assert [kind.get("type") for kind in mime.findall("m:mime-type", names)] == [entry["MimeType"].rstrip(";")]
    assert [glob.get("pattern") for glob in mime.findall(".//m:glob", names)] == ["*.saltwright"]


def test_the_description_agrees_with_the_package(repository: Path) -> None:
    from app import __version__

    described = ElementTree.parse(repository / "resources" / "desktop" / f"{APP_ID}.metainfo.xml").getroot()
    project = tomllib.loads((repository / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert described.findtext("id") == APP_ID
    assert described.findtext("launchable") == f"{APP_ID}.desktop"
    assert described.findtext("project_license") == project["license"]
    assert described.findtext("provides/binary") in project["scripts"]
    assert described.findtext("provides/mediatype") == desktop_entry(repository)["MimeType"].rstrip(";")
    assert described.find("releases/release").get("version") == __version__


@pytest.mark.parametrize(
    ("tool", "arguments", "file"),
    [
        ("desktop-file-validate", (), f"{APP_ID}.desktop"),
        ("appstreamcli", ("validate", "--no-net"), f"{APP_ID}.metainfo.xml"),
    ],
)
def test_the_desktops_own_tools_agree(tool: str, arguments: tuple[str, ...], file: str, repository: Path) -> None:
    found = shutil.which(tool)
    if found is None:
        pytest.skip(f"{tool} is not installed")
    run(found, *arguments, repository / "resources" / "desktop" / file, cwd=repository)
