"""The window's colours by role, light and dark; no other module names a colour."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtGui import QColor

Shades = tuple[tuple[QColor, QColor], ...]
"""Fill and text on it, from the largest share to the smallest."""


@dataclass(frozen=True)
class Colours:
    """One value per role; text roles keep 4.5:1 on `card`, `window` and the grounds they stand on."""

    dark: bool
    window: QColor
    card: QColor
    zebra: QColor
    line: QColor
    text: QColor
    muted: QColor
    accent: QColor
    on_accent: QColor
    rail_chosen: QColor
    hover: QColor
    field: QColor
    field_line: QColor
    focus: QColor
    selection: QColor
    on_selection: QColor
    track: QColor
    water: QColor
    wanted: QColor
    wanted_line: QColor
    added: QColor
    target: QColor
    check: QColor
    stop: QColor
    strip: QColor
    strip_line: QColor
    places: tuple[QColor, ...]
    cations: Shades
    anions: Shades


def _shades(*pairs: str) -> Shades:
    return tuple((QColor(fill), QColor(text)) for fill, text in (pair.split() for pair in pairs))


LIGHT = Colours(
    dark=False,
    window=QColor("#f1f4f3"),
    card=QColor("#ffffff"),
    zebra=QColor("#f8faf9"),
    line=QColor("#dfe6e4"),
    text=QColor("#182427"),
    muted=QColor("#566569"),
    accent=QColor("#0b6b66"),
    on_accent=QColor("#ffffff"),
    rail_chosen=QColor("#e0f0ed"),
    hover=QColor("#eef3f2"),
    field=QColor("#ffffff"),
    field_line=QColor("#c3cecb"),
    focus=QColor("#0b6b66"),
    selection=QColor("#bfe3dc"),
    on_selection=QColor("#182427"),
    track=QColor("#e9eeec"),
    water=QColor("#8fb8d9"),
    wanted=QColor("#c4e5dc"),
    wanted_line=QColor("#7dbcae"),
    added=QColor("#b9c6c3"),
    target=QColor("#182427"),
    check=QColor("#9a4a00"),
    stop=QColor("#b3261e"),
    strip=QColor("#fff8ea"),
    strip_line=QColor("#ecdcb8"),
    places=(QColor("#0b6b66"), QColor("#5b45a0"), QColor("#8a4b12"), QColor("#8a2f62"), QColor("#1f5f96")),
    cations=_shades("#0b6b66 #ffffff", "#3d968d #041c1a", "#6fb5ab #0b1f1c", "#a5d3cb #0b1f1c", "#cfe8e3 #0b1f1c"),
    anions=_shades("#4a3b8c #ffffff", "#6a5aae #ffffff", "#9d91cf #140f2e", "#c3bbe4 #140f2e", "#e0dbf3 #140f2e"),
)

DARK = Colours(
    dark=True,
    window=QColor("#10171a"),
    card=QColor("#192225"),
    zebra=QColor("#1d272a"),
    line=QColor("#2c383b"),
    text=QColor("#e7eeec"),
    muted=QColor("#9fb0b0"),
    accent=QColor("#5cc8b8"),
    on_accent=QColor("#06211e"),
    rail_chosen=QColor("#1c3a38"),
    hover=QColor("#223034"),
    field=QColor("#131b1d"),
    field_line=QColor("#44565a"),
    focus=QColor("#5cc8b8"),
    selection=QColor("#1f5c55"),
    on_selection=QColor("#f2fbf9"),
    track=QColor("#2a3639"),
    water=QColor("#4d81a8"),
    wanted=QColor("#22544d"),
    wanted_line=QColor("#3d857a"),
    added=QColor("#4d5e61"),
    target=QColor("#f2f7f6"),
    check=QColor("#f0a95b"),
    stop=QColor("#ff8a80"),
    strip=QColor("#26210f"),
    strip_line=QColor("#4b4123"),
    places=(QColor("#5cc8b8"), QColor("#b5a6f2"), QColor("#e2a566"), QColor("#e899c2"), QColor("#86b9e6")),
    cations=_shades("#5cc8b8 #06211e", "#3f9d91 #041715", "#2c756c #ffffff", "#225851 #ffffff", "#1d423e #e7eeec"),
    anions=_shades("#b5a6f2 #150f30", "#9384d6 #0f0a26", "#6757ab #ffffff", "#4c4082 #ffffff", "#393164 #e7eeec"),
)
