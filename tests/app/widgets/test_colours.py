"""Every text can be read on the ground it stands on: contrast computed, not looked at."""

from __future__ import annotations

import pytest
from PySide6.QtGui import QColor, QPalette

from app.widgets import theme
from app.widgets.colours import DARK, LIGHT, Colours

TEXT, SHAPE = 4.5, 3.0
"""Least contrast of text and of meaningful shapes (WCAG 2.1, success criteria 1.4.3 and 1.4.11)."""

GROUNDS = {
    "text": ("card", "zebra", "window", "strip", "field", "rail_chosen", "hover"),
    "muted": ("card", "zebra", "window", "strip", "field", "hover"),
    "accent": ("card", "zebra", "window", "strip", "hover", "rail_chosen"),
    "check": ("card", "zebra", "strip"),
    "stop": ("card", "zebra", "strip", "window"),
    "on_accent": ("accent",),
    "on_selection": ("selection",),
}
SHAPES = {"target": ("card", "wanted", "track"), "accent": ("wanted", "track", "field"), "focus": ("window", "card")}


def luminance(colour: QColor) -> float:
    parts = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in colour.getRgbF()[:3])
    red, green, blue = parts
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: QColor, other: QColor) -> float:
    bright, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (bright + 0.05) / (dark + 0.05)


def test_the_measure_itself() -> None:
    assert contrast(QColor("white"), QColor("black")) == pytest.approx(21.0)
    assert contrast(QColor("#777777"), QColor("white")) == pytest.approx(4.48, abs=0.01)


@pytest.mark.parametrize("colours", [LIGHT, DARK], ids=["light", "dark"])
def test_text_can_be_read(colours: Colours) -> None:
    found = {
        f"{ink} on {ground}": contrast(getattr(colours, ink), getattr(colours, ground))
        for ink, grounds in GROUNDS.items()
        for ground in grounds
    }
    assert {name: ratio for name, ratio in found.items() if ratio < TEXT} == {}


@pytest.mark.parametrize("colours", [LIGHT, DARK], ids=["light", "dark"])
def test_shapes_can_be_told(colours: Colours) -> None:
    found = {
        f"{ink} on {ground}": contrast(getattr(colours, ink), getattr(colours, ground))
        for ink, grounds in SHAPES.items()
        for ground in grounds
    }
    assert {name: ratio for name, ratio in found.items() if ratio < SHAPE} == {}


@pytest.mark.parametrize("colours", [LIGHT, DARK], ids=["light", "dark"])
def test_words_on_ions_and_places_can_be_read(colours: Colours) -> None:
    shades = [*colours.cations, *colours.anions]
    assert [fill.name() for fill, ink in shades if contrast(fill, ink) < TEXT] == []
    grounds = (colours.card, colours.zebra)
    assert [place.name() for place in colours.places for ground in grounds if contrast(place, ground) < TEXT] == []


@pytest.mark.parametrize("colours", [LIGHT, DARK], ids=["light", "dark"])
def test_what_qt_draws_can_be_read(colours: Colours) -> None:
    palette, role = theme.palette(colours), QPalette.ColorRole
    pairs = (
        (role.WindowText, role.Window), (role.Text, role.Base), (role.ButtonText, role.Button),
        (role.HighlightedText, role.Highlight), (role.ToolTipText, role.ToolTipBase), (role.PlaceholderText, role.Base),
    )  # fmt: skip
    assert [(ink, ground) for ink, ground in pairs if contrast(palette.color(ink), palette.color(ground)) < TEXT] == []


def test_the_override_chooses_the_scheme(dressed: None, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SALTWRIGHT_THEME", "dark")
    theme.recolour()
    assert theme.colours() is DARK
    monkeypatch.setenv("SALTWRIGHT_THEME", "light")
    theme.recolour()
    assert theme.colours() is LIGHT
