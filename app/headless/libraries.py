"""The system libraries Qt needs on Linux, looked for before Qt is loaded: it ends the process without a word."""

from __future__ import annotations

import ctypes
import os
import sys
from collections.abc import Iterable

EVERY = {
    "libEGL.so.1": ("libegl1", "libglvnd-egl", "libglvnd"),
    "libGL.so.1": ("libgl1", "libglvnd-glx", "libglvnd"),
    "libxkbcommon.so.0": ("libxkbcommon0", "libxkbcommon", "libxkbcommon"),
    "libdbus-1.so.3": ("libdbus-1-3", "dbus-libs", "dbus"),
    "libfontconfig.so.1": ("libfontconfig1", "fontconfig", "fontconfig"),
    "libfreetype.so.6": ("libfreetype6", "freetype", "freetype2"),
    "libglib-2.0.so.0": ("libglib2.0-0", "glib2", "glib2"),
    "libX11.so.6": ("libx11-6", "libX11", "libx11"),
}
"""Library -> the package that holds it, as apt, dnf and pacman call it."""

X11 = {
    "libxcb-cursor.so.0": ("libxcb-cursor0", "xcb-util-cursor", "xcb-util-cursor"),
    "libxcb-icccm.so.4": ("libxcb-icccm4", "xcb-util-wm", "xcb-util-wm"),
    "libxcb-image.so.0": ("libxcb-image0", "xcb-util-image", "xcb-util-image"),
    "libxcb-keysyms.so.1": ("libxcb-keysyms1", "xcb-util-keysyms", "xcb-util-keysyms"),
    "libxcb-randr.so.0": ("libxcb-randr0", "libxcb", "libxcb"),
    "libxcb-render-util.so.0": ("libxcb-render-util0", "xcb-util-renderutil", "xcb-util-renderutil"),
    "libxcb-shape.so.0": ("libxcb-shape0", "libxcb", "libxcb"),
    "libxcb-shm.so.0": ("libxcb-shm0", "libxcb", "libxcb"),
    "libxcb-sync.so.1": ("libxcb-sync1", "libxcb", "libxcb"),
    "libxcb-util.so.1": ("libxcb-util1", "xcb-util", "xcb-util"),
    "libxcb-xfixes.so.0": ("libxcb-xfixes0", "libxcb", "libxcb"),
    "libxcb-xkb.so.1": ("libxcb-xkb1", "libxcb", "libxcb"),
    "libxkbcommon-x11.so.0": ("libxkbcommon-x11-0", "libxkbcommon-x11", "libxkbcommon-x11"),
    "libX11-xcb.so.1": ("libx11-xcb1", "libX11-xcb", "libx11"),
}

WAYLAND = {
    "libwayland-client.so.0": ("libwayland-client0", "libwayland-client", "wayland"),
    "libwayland-cursor.so.0": ("libwayland-cursor0", "libwayland-cursor", "wayland"),
}

INSTALLERS = ("apt-get install", "dnf install", "pacman -S")


def platform_wanted() -> str:
    """Return the platform Qt will choose: "xcb", "wayland", what QT_QPA_PLATFORM names, or "" for no display."""
    chosen = os.environ.get("QT_QPA_PLATFORM", "").partition(":")[0].partition(";")[0]
    if chosen or sys.platform != "linux":
        return chosen or sys.platform
    if os.environ.get("WAYLAND_DISPLAY") and not missing_libraries("wayland"):
        return "wayland"
    if os.environ.get("DISPLAY"):
        return "xcb"
    return "wayland" if os.environ.get("WAYLAND_DISPLAY") else ""


def missing_libraries(platform: str) -> dict[str, tuple[str, str, str]]:
    """Return the libraries that this Qt platform needs and that cannot be loaded, each with its packages."""
    if sys.platform != "linux":
        return {}
    needed = EVERY | {"xcb": X11, "wayland": WAYLAND}.get(platform, {})
    return {library: packages for library, packages in needed.items() if not _loads(library)}


def how_to_install(missing: dict[str, tuple[str, str, str]], what: str = "the window") -> str:
    """Return one sentence that names what is missing for `what` and the line that installs it, for three Linuxes."""
    lines = (
        f"{installer} {' '.join(_once(packages[column] for packages in missing.values()))}"
        for column, installer in enumerate(INSTALLERS)
    )
    return f"{what} needs system libraries that are missing ({', '.join(missing)}); install: {' | '.join(lines)}"


def _once(names: Iterable[str]) -> list[str]:
    return list(dict.fromkeys(names))


def _loads(library: str) -> bool:
    try:
        ctypes.CDLL(library)
    except OSError:
        return False
    return True
