"""Qt's system libraries are named before Qt ends the process over them."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from app.headless import libraries
from app.headless.libraries import EVERY, WAYLAND, X11, how_to_install, missing_libraries, platform_wanted

linux_only = pytest.mark.skipif(sys.platform != "linux", reason="the probe is for Linux")


def without(monkeypatch: pytest.MonkeyPatch, *gone: str) -> None:
    monkeypatch.setattr(libraries, "_loads", lambda library: library not in gone)


@linux_only
def test_only_the_libraries_of_the_platform_are_looked_for(monkeypatch: pytest.MonkeyPatch) -> None:
    without(monkeypatch, "libEGL.so.1", "libxcb-cursor.so.0", "libwayland-cursor.so.0")
    assert list(missing_libraries("offscreen")) == ["libEGL.so.1"]
    assert list(missing_libraries("xcb")) == ["libEGL.so.1", "libxcb-cursor.so.0"]
    assert list(missing_libraries("wayland")) == ["libEGL.so.1", "libwayland-cursor.so.0"]


@linux_only
def test_the_probe_itself() -> None:
    assert libraries._loads("libc.so.6")
    assert not libraries._loads("libsaltwright-nowhere.so.1")


@linux_only
def test_the_sentence_names_the_install_line_of_three_kinds_of_linux(monkeypatch: pytest.MonkeyPatch) -> None:
    without(monkeypatch, "libEGL.so.1", "libGL.so.1", "libxcb-cursor.so.0")
    assert how_to_install(missing_libraries("xcb")) == (
        "the window needs system libraries that are missing (libEGL.so.1, libGL.so.1, libxcb-cursor.so.0); install: "
        "apt-get install libegl1 libgl1 libxcb-cursor0 | dnf install libglvnd-egl libglvnd-glx xcb-util-cursor | "
        "pacman -S libglvnd xcb-util-cursor"
    )


@linux_only
@pytest.mark.parametrize(
    ("environment", "gone", "platform"),
    [
        ({}, "", ""),
        ({"DISPLAY": ""}, "", ""),
        ({"DISPLAY": ":0"}, "", "xcb"),
        ({"WAYLAND_DISPLAY": "wayland-0"}, "", "wayland"),
        ({"WAYLAND_DISPLAY": "wayland-0", "DISPLAY": ":0"}, "", "wayland"),
        ({"WAYLAND_DISPLAY": "wayland-0", "DISPLAY": ":0"}, "libwayland-cursor.so.0", "xcb"),
        ({"WAYLAND_DISPLAY": "wayland-0"}, "libwayland-cursor.so.0", "wayland"),
        ({"QT_QPA_PLATFORM": "offscreen"}, "", "offscreen"),
        ({"QT_QPA_PLATFORM": "wayland;xcb", "DISPLAY": ":0"}, "", "wayland"),
        ({"QT_QPA_PLATFORM": "vnc:size=800x600"}, "", "vnc"),
    ],
)
def test_the_platform_qt_will_choose(
    monkeypatch: pytest.MonkeyPatch, environment: dict[str, str], gone: str, platform: str
) -> None:
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"):
        monkeypatch.delenv(name, raising=False)
    for name, value in environment.items():
        monkeypatch.setenv(name, value)
    without(monkeypatch, gone)
    assert platform_wanted() == platform


def test_elsewhere_nothing_is_missing(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "platform", "win32")
    monkeypatch.delenv("QT_QPA_PLATFORM", raising=False)
    without(monkeypatch, *EVERY)
    assert platform_wanted() == "win32"
    assert missing_libraries("win32") == {}


def test_the_readme_lists_them_all(repository: Path) -> None:
    readme = (repository / "README.md").read_text(encoding="utf-8").split()
    for packages in (EVERY | X11 | WAYLAND).values():
        for package in packages:
            assert any(word.strip("`;.") == package for word in readme), package
