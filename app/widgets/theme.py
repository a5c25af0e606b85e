"""The window's look: palette, typeface, type scale and spacing, following the system's light or dark."""

from __future__ import annotations

import os
from functools import cache
from importlib.resources import files

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QFontDatabase, QGuiApplication, QPalette
from PySide6.QtWidgets import QApplication

from app.widgets.colours import DARK, LIGHT, Colours
from app.widgets.face import Face

FONT_FILES = ("Inter-Regular.otf", "Inter-SemiBold.otf")
DESIGNED_POINTS = 11.0
"""System font size up to which the window keeps its drawn size; larger system fonts enlarge everything."""

GAP = 12
PAD = 16
RADIUS = 8

_current = LIGHT
_factor = 1.0


def colours() -> Colours:
    """Return the colours in use now; ask anew in every paint event."""
    return _current


@cache
def px(designed: float) -> int:
    """Return a length of the 100 % drawing in this window's logical pixels."""
    return round(designed * _factor)


_face = cache(Face)


@cache
def font(designed: float = 13, strong: bool = False) -> Face:
    """Return the window's typeface at this size of the 100 % drawing [px]."""
    return _face(px(designed), strong)


def small() -> Face:
    """Return the face of secondary text."""
    return font(12)


def title() -> Face:
    """Return the face of a card's title."""
    return font(15, strong=True)


def apply(app: QApplication) -> None:
    """Give the application its style, typeface and colours, and keep following the system's scheme."""
    global _factor
    _factor = min(1.6, max(1.0, app.font().pointSizeF() / DESIGNED_POINTS))
    px.cache_clear()
    font.cache_clear()
    app.setStyle("Fusion")
    for name in FONT_FILES:
        QFontDatabase.addApplicationFontFromData(files("resources.fonts").joinpath(name).read_bytes())
    app.setFont(font())
    recolour()
    app.styleHints().colorSchemeChanged.connect(recolour)


def recolour() -> None:
    """Choose light or dark anew and hand the palette to every widget."""
    global _current
    _current = DARK if _wants_dark() else LIGHT
    QApplication.setPalette(palette(_current))


def _wants_dark() -> bool:
    override = os.environ.get("SALTWRIGHT_THEME", "")
    if override in {"dark", "light"}:
        return override == "dark"
    return QGuiApplication.styleHints().colorScheme() == Qt.ColorScheme.Dark


def palette(roles: Colours) -> QPalette:
    """Return the Qt palette of these colours, for what Qt draws itself: menus, dialogs, scroll bars."""
    role = QPalette.ColorRole
    built = QPalette(roles.card, roles.window)
    for which, colour in {
        role.Window: roles.window,
        role.WindowText: roles.text,
        role.Base: roles.card,
        role.AlternateBase: roles.zebra,
        role.Text: roles.text,
        role.PlaceholderText: roles.muted,
        role.Button: roles.card,
        role.ButtonText: roles.text,
        role.Highlight: roles.selection,
        role.HighlightedText: roles.on_selection,
        role.Accent: roles.accent,
        role.Link: roles.accent,
        role.ToolTipBase: roles.card,
        role.ToolTipText: roles.text,
        role.Light: roles.line,
        role.Midlight: roles.line,
        role.Mid: roles.line,
        role.Dark: roles.field_line,
        role.Shadow: roles.field_line,
    }.items():
        built.setColor(which, colour)
    for which in (role.Text, role.WindowText, role.ButtonText):
        built.setColor(QPalette.ColorGroup.Disabled, which, faded(roles.muted, roles.card))
    return built


def faded(colour: QColor, towards: QColor, share: float = 0.35) -> QColor:
    """Return the colour mixed with a share of another."""
    keep = 1.0 - share
    return QColor.fromRgbF(
        colour.redF() * keep + towards.redF() * share,
        colour.greenF() * keep + towards.greenF() * share,
        colour.blueF() * keep + towards.blueF() * share,
    )
