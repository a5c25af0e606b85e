"""What the sources say of one crop, side by side: where they disagree is seen, not averaged away."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, QRect, QRectF, Qt
from PySide6.QtGui import QFont, QPainter
from PySide6.QtWidgets import QAbstractButton, QAbstractItemView, QFrame, QHeaderView, QTableView, QWidget

from app.widgets import paint, theme
from app.wording import editors_aim as of_aim
from app.wording import figures, format_short
from core.catalog import CropProfile
from core.recipe.records import NUTRIENTS

Index = QModelIndex | QPersistentModelIndex
APART = 1.25
"""Highest over lowest from which two sources are said to disagree: twice the usual tolerance either way and more."""

Role = Qt.ItemDataRole


class CropModel(QAbstractTableModel):
    """A column per source, a row per nutrient any of them names, EC and pH."""

    def __init__(self) -> None:
        super().__init__()
        self.profiles: tuple[CropProfile, ...] = ()
        self.rows: tuple[str, ...] = ()
        self.chosen = ""

    def show(self, profiles: tuple[CropProfile, ...], chosen: str) -> None:
        """Show these, one of them chosen."""
        if profiles != self.profiles:
            self.beginResetModel()
            self.profiles = profiles
            named = {target.nutrient for profile in profiles for target in profile.targets}
            self.rows = (*(name for name in NUTRIENTS if name in named), "EC", "pH")
            self.chosen = chosen
            self.endResetModel()
        elif chosen != self.chosen and profiles:
            self.chosen = chosen
            last = self.index(len(self.rows) - 1, len(profiles) - 1)
            self.dataChanged.emit(self.index(0, 0), last)
            self.headerDataChanged.emit(Qt.Orientation.Horizontal, 0, len(profiles) - 1)

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008  # Qt's own signature
        return 0 if parent.isValid() else len(self.rows)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        return 0 if parent.isValid() else len(self.profiles)

    def data(self, index: Index, role: int = Role.DisplayRole) -> Any:
        if not index.isValid():
            return None
        profile, name = self.profiles[index.column()], self.rows[index.row()]
        if role in (Role.DisplayRole, Role.AccessibleTextRole):
            return _cell(profile, name)
        if role == Role.ToolTipRole:
            return of_aim.profile_words(profile)
        if role == Role.TextAlignmentRole:
            return int(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        chosen = profile.id == self.chosen
        if role == Role.FontRole:
            return QFont(theme.font(12, strong=chosen))
        if role == Role.ForegroundRole:
            return theme.colours().text
        if role == Role.BackgroundRole and chosen:
            return theme.colours().rail_chosen
        return None

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Role.DisplayRole) -> Any:
        if orientation == Qt.Orientation.Horizontal and section < len(self.profiles):
            profile = self.profiles[section]
            if role == Role.DisplayRole:
                return of_aim.profile_head(profile)
            return of_aim.profile_words(profile) if role == Role.ToolTipRole else None
        if role == Role.DisplayRole and section < len(self.rows):
            name = self.rows[section]
            return f"{figures.symbol(name)} ≠" if self.apart(name) else figures.symbol(name)
        if role == Role.ToolTipRole and section < len(self.rows) and self.apart(self.rows[section]):
            return of_aim.sources_disagree(self.rows[section])
        return None

    def apart(self, name: str) -> bool:
        """Tell whether the sources' figures for a nutrient lie far from each other."""
        figures_ = [t.mg_per_l for p in self.profiles for t in p.targets if t.nutrient == name and t.mg_per_l > 0]
        return len(figures_) > 1 and max(figures_) > APART * min(figures_)


class _Head(QHeaderView):
    """Heads without boxes: the words alone, on the card."""

    def paintSection(self, painter: QPainter, rect: QRect, logicalIndex: int) -> None:  # noqa: N803  # Qt's own name
        colours, upright = theme.colours(), self.orientation() == Qt.Orientation.Vertical
        words = str(self.model().headerData(logicalIndex, self.orientation()))
        align = Qt.AlignmentFlag.AlignLeft if upright else Qt.AlignmentFlag.AlignRight
        painter.fillRect(rect, colours.card)
        place = QRectF(rect.adjusted(0, 0, -theme.px(3), 0))
        ink = colours.text if upright else colours.muted
        face = theme.font(11.5, strong=upright)
        paint.paragraph(painter, place, words, face, ink, int(align | Qt.AlignmentFlag.AlignVCenter))


class CropTable(QTableView):
    """Shows the model; the keyboard walks its cells."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.crops = CropModel()
        self.crops.setParent(self)
        self.setVerticalHeader(_Head(Qt.Orientation.Vertical, self))
        self.setHorizontalHeader(_Head(Qt.Orientation.Horizontal, self))
        self.setModel(self.crops)
        self.setAccessibleName(of_aim.sources_side_by_side())
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setShowGrid(False)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSelectionMode(QAbstractItemView.SelectionMode.NoSelection)
        self.setTabKeyNavigation(False)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        for corner in self.findChildren(QAbstractButton):
            corner.setMaximumSize(0, 0)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.verticalHeader().setDefaultSectionSize(theme.px(20))
        self.verticalHeader().setMinimumSectionSize(theme.px(18))
        self.horizontalHeader().setDefaultSectionSize(theme.px(106))
        for header in (self.verticalHeader(), self.horizontalHeader()):
            header.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
            header.setHighlightSections(False)
        self.horizontalHeader().setFixedHeight(theme.px(52))

    def show_crop(self, profiles: tuple[CropProfile, ...], chosen: str) -> None:
        """Show these profiles at the height they need, the chosen one in view."""
        self.crops.show(profiles, chosen)
        self.setFixedHeight(theme.px(52 + 16) + theme.px(20) * len(self.crops.rows))
        column = next((n for n, profile in enumerate(profiles) if profile.id == chosen), 0)
        self.scrollTo(self.crops.index(0, column))


def _cell(profile: CropProfile, name: str) -> str:
    if name == "EC":
        return of_aim.span(profile.ec_low_ms_per_cm, profile.ec_high_ms_per_cm, rise=profile.ec_is_rise_over_water)
    if name == "pH":
        return of_aim.span(profile.ph_low, profile.ph_high)
    target = next((target for target in profile.targets if target.nutrient == name), None)
    if target is None:
        return figures.DASH
    if target.low_mg_per_l is not None or target.high_mg_per_l is not None:
        return of_aim.span(target.low_mg_per_l, target.high_mg_per_l)
    return format_short(target.mg_per_l)
