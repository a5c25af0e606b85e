"""The line to type at the top: when, what went in, what the meters say; Tab goes through it, Enter takes it."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QPalette, QResizeEvent
from PySide6.QtWidgets import QCheckBox, QLabel, QWidget

from app.session import clock
from app.surfaces.logbook.line_fields import ANALYSIS, MILLILITRES, put_analysis, put_entry, typed_entry
from app.surfaces.logbook.reading import acids_of, letters_of, product_names
from app.widgets import paint, theme
from app.widgets.choice import Choice
from app.widgets.ec_reading import EC_READING
from app.widgets.form_field import FormField
from app.widgets.form_text import FormText
from app.widgets.laid_card import Text
from app.widgets.link_button import LinkButton
from app.widgets.main_button import MainButton
from app.widgets.measure import EC, NUMBER, TEMPERATURE, VOLUME, Measure
from app.wording import logbook as say
from app.wording.refusals import refusal

if TYPE_CHECKING:
    from core.logbook.records import Entry, MadeBatch

PAD, GAP, LABEL, TALL = 16, 12, 20, 28
WIDE = {"at": 138, "note": 170, "meter": 120, "batch_id": 210, "scale": 92}
USUAL, PART, WIDEST_NOTE = 78, 104, 420
SCALES = (EC.unit, "µS/cm", "CF", "ppm-500", "ppm-640", "ppm-700")


class EntryLine(QWidget):
    """Fields side by side, on as many lines as the width needs; those used rarely unfold.

    Signals
    -------
    entered : an entry was typed and is to be taken.
    given_up : an entry that was being changed stays as it was.
    planned_wanted : the open recipe's tanks are to be taken as mixed.
    height_changed : it needs another height.
    """

    entered = Signal(object)
    given_up = Signal()
    planned_wanted = Signal()
    height_changed = Signal()

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._batches: tuple[MadeBatch, ...] = ()
        self._titles: dict[str, dict[str, str]] = {}
        self._changing = False
        self._changed_entry: Entry | None = None
        self._labels: dict[QWidget, QLabel] = {}
        self.texts = {name: FormText(self, say.field(name)) for name in ("at", "meter", "note")}
        measures = {
            "water_l": VOLUME, "level_l": VOLUME, "ec_ms_per_cm": EC_READING, "ph": NUMBER,
            "temperature_c": TEMPERATURE, "drained_l": VOLUME, "hco3_mg_per_l": NUMBER,
        }  # fmt: skip
        self.fields = {
            name: self._field(say.field(name), measure, signed=name == "temperature_c")
            for name, measure in measures.items()
        }
        self.scale = Choice(self, say.field("scale"), [(unit, unit) for unit in SCALES])
        self.scale.chosen.connect(self.fields["ec_ms_per_cm"].set_unit)
        self.fields["ec_ms_per_cm"].unit_changed.connect(lambda unit: self.scale.set_key(unit, unit))
        self.batch = Choice(self, say.field("batch_id"))
        self.batch.chosen.connect(lambda _key: self._show_batch())
        self.parts: dict[str, FormField] = {}
        self.acids: dict[str, FormField] = {}
        self.analysis = {name: self._field(say.analysis_field(name), NUMBER) for name in ANALYSIS}
        self.fresh = QCheckBox(say.fresh_field(), self)
        self.fresh.setFont(theme.font())
        outlined = QPalette(self.fresh.palette())
        outlined.setColor(QPalette.ColorRole.Window, theme.colours().muted)  # the box's line is a shade of it
        self.fresh.setPalette(outlined)
        self.more = LinkButton(self, unfolds=True)
        self.more.set_text(say.more_fields(False))
        self.more.toggled.connect(self._unfold)
        self.planned = LinkButton(self)
        self.planned.set_text(say.take_planned())
        self.planned.clicked.connect(self.planned_wanted)
        self.hint = Text(self, 12.5, role="muted")
        self.told = Text(self, 12.5, role="stop")
        self.add = MainButton(self)
        self.add.set_text(say.add_button(False))
        self.add.clicked.connect(self.take)
        self.leave = LinkButton(self)
        self.leave.set_text(say.cancel_change())
        self.leave.clicked.connect(self._give_up)
        self._name_all()
        for text in self.texts.values():
            text.returnPressed.connect(self.take)
        self.clear()

    def _field(self, name: str, measure: Measure, *, signed: bool = False) -> FormField:
        field = FormField(self, measure._replace(signed=signed), name)
        field.setFixedHeight(theme.px(TALL))
        field.returnPressed.connect(self.take)
        return field

    def _name_all(self) -> None:
        """Give every field without one its label."""
        named: list[tuple[QWidget, str]] = [(text, text.accessibleName()) for text in self.texts.values()]
        fields = (*self.fields.values(), *self.parts.values(), *self.acids.values(), *self.analysis.values())
        named += [(field, field.accessibleName()) for field in fields]
        named += [(self.scale, say.field("scale")), (self.batch, say.field("batch_id"))]
        for part, name in named:
            if part not in self._labels:
                label = self._labels[part] = QLabel(name, self)
                label.setFont(theme.small())
                label.setForegroundRole(QPalette.ColorRole.PlaceholderText)
                label.setBuddy(part)
                part.setFixedHeight(theme.px(TALL))

    def show_batches(self, batches: tuple[MadeBatch, ...], titles: dict[str, dict[str, str]], wanted: str) -> None:
        """Offer these batches' tanks, the wanted one first; `titles` say what their tanks are called."""
        self._batches, self._titles = batches, titles
        several = len({one.recipe.title for one in batches}) > 1
        self.batch.set_pairs([(one.batch_id, say.batch_choice(one, titled=several)) for one in reversed(batches)])
        if wanted and not self._changing:
            self.batch.set_key(wanted)
        self._show_batch()

    def made(self) -> MadeBatch | None:
        """Return the batch whose tanks are poured."""
        return next((one for one in self._batches if one.batch_id == self.batch.key()), None)

    def _show_batch(self) -> None:
        made = self.made()
        titles, products = self._titles.get(self.batch.key(), {}), product_names(made)
        parts = {
            letter: say.part_field(titles.get(letter) or say.part_title("", letter)) for letter in letters_of(made)
        }
        acids = {key: say.acid_field(products[key]) for key in acids_of(made)}
        for group, wanted in ((self.parts, parts), (self.acids, acids)):
            for key in [key for key in group if key not in wanted]:
                field = group.pop(key)
                self._labels.pop(field).deleteLater()
                field.deleteLater()
            for key, name in wanted.items():
                if key not in group:
                    group[key] = self._field(name, MILLILITRES)
                    self._name_all()
                group[key].setAccessibleName(name)
                self._labels[group[key]].setText(name)
        self.hint.say("" if self._batches else say.no_batch())
        self.planned.setVisible(not self._batches)
        self._changed()

    def clear(self) -> None:
        """Begin a new line, dated now."""
        self._changing, self._changed_entry = False, None
        self.texts["at"].set_kept(say.when_text(clock.now_text()))
        self.texts["note"].set_kept("")
        for field in self._numbers():
            field.set_quantity(None)
        self.fresh.setChecked(False)
        self.add.set_text(say.add_button(False))
        self.told.say("")
        self._changed()

    def load(self, entry: Entry) -> None:
        """Show an entry, to be changed."""
        self.clear()
        self._changing, self._changed_entry = True, entry
        if entry.batch_id:
            self.batch.set_key(entry.batch_id)
            self._show_batch()
        self.texts["at"].set_kept(say.when_text(entry.at))
        self.texts["note"].set_kept(entry.note)
        self.texts["meter"].set_kept("" if entry.meter in SCALES else entry.meter)
        self.fresh.setChecked(entry.fresh)
        put_entry(entry, self.fields, self.parts, self.acids)
        put_analysis(entry, self.analysis)
        if entry.analysis_mg_per_l or entry.drained_l or self.texts["meter"].text() or entry.hco3_mg_per_l is not None:
            self.more.setChecked(True)
        self.add.set_text(say.add_button(True))
        self._changed()
        self.begin()

    def begin(self) -> None:
        """Put the keyboard where a day's line begins."""
        self.fields["water_l"].setFocus(Qt.FocusReason.TabFocusReason)

    def take(self) -> None:
        """Take what was typed, or say what is missing."""
        wrong = next((field for field in self._numbers() if field.fault()), None)
        if wrong is not None:
            wrong.setFocus(Qt.FocusReason.OtherFocusReason)
            return
        from core.units import UnitError, read_moment

        try:
            at = read_moment(self.texts["at"].text().strip() or clock.now_text())
        except UnitError as error:
            self.refuse(say.refused(refusal(error)))
            self.texts["at"].setFocus(Qt.FocusReason.OtherFocusReason)
            return
        given: dict[str, Any] = {"at": at, "fresh": self.fresh.isChecked(), "batch_id": self.batch.key()}
        given |= {"meter": self._meter(), "note": self.texts["note"].text().strip()}
        entry = typed_entry(given, self.fields, self.parts, self.acids, self.analysis)
        if entry is None:
            self.refuse(say.nothing_typed())
        else:
            self.entered.emit(entry)

    def _meter(self) -> str:
        """The meter as named, else the scale its reading was typed on, so that no other is suspected later."""
        named, ec = self.texts["meter"].text().strip(), self.fields["ec_ms_per_cm"].quantity()
        if named or ec is None:
            return named
        kept = self._changed_entry
        return kept.meter if kept is not None and kept.ec_ms_per_cm == ec else self.scale.key()

    def refuse(self, words: str) -> None:
        """Say why the line is not taken; what was typed stays."""
        self.told.say(words)
        self._changed()

    def _give_up(self) -> None:
        self.clear()
        self.given_up.emit()

    def _numbers(self) -> list[FormField]:
        groups = (self.fields, self.parts, self.acids, self.analysis)
        return [field for group in groups for field in group.values()]

    def _unfold(self, shown: bool) -> None:
        self.more.set_text(say.more_fields(shown))
        self._changed()

    def _changed(self) -> None:
        self._order()
        self._lay(self.width(), place=True)
        self.height_changed.emit()

    def _rows(self) -> list[list[tuple[QWidget, int]]]:
        """Blocks in the keyboard's order with their designed widths: what was done, what was read, what is rare."""
        fields, texts = self.fields, self.texts
        poured = [(field, PART) for field in (*self.parts.values(), *self.acids.values())]
        did: list[tuple[QWidget, int]] = [
            (texts["at"], WIDE["at"]),
            (fields["water_l"], USUAL),
            *poured,
            (self.fresh, 0),
        ]
        reads: list[tuple[QWidget, int]] = [
            (fields["level_l"], USUAL), (fields["ec_ms_per_cm"], USUAL), (self.scale, WIDE["scale"]),
            (fields["ph"], USUAL), (fields["temperature_c"], USUAL), (texts["note"], WIDE["note"]), (self.add, 0),
        ]  # fmt: skip
        reads += [(self.leave, 0)] if self._changing else []
        rare: list[tuple[QWidget, int]] = [(fields["drained_l"], USUAL), (texts["meter"], WIDE["meter"])]
        if len(self._batches) > 1:
            rare.insert(0, (self.batch, WIDE["batch_id"]))
        lab: list[tuple[QWidget, int]] = [(field, USUAL) for field in self.analysis.values()]
        lab.append((fields["hco3_mg_per_l"], USUAL))
        return [did, reads, [(self.more, 0)], *([rare, lab] if self.more.isChecked() else [])]

    def _order(self) -> None:
        """Show what is in a row, hide the rest, and let the keyboard walk them in order."""
        shown = [part for row in self._rows() for part, _wide in row]
        for part, label in self._labels.items():
            part.setVisible(part in shown)
            label.setVisible(part in shown)
        self.leave.setVisible(self._changing)
        for before, after in pairwise(shown):
            QWidget.setTabOrder(before, after)

    def height_for(self, width: int) -> int:
        """Return the height needed at a width [px]."""
        return self._lay(width, place=False)

    def _lay(self, width: int, *, place: bool) -> int:
        top = theme.px(10)
        for row in self._rows():
            top = self._lay_row(row, width, top, place=place)
            if row[0][0] is self.more:
                top = self._lay_words(width, top, place=place)
        return top + theme.px(4)

    def _lay_row(self, row: list[tuple[QWidget, int]], width: int, top: int, *, place: bool) -> int:
        """Put blocks side by side, labels above them, on as many lines as they need; return where they end [px]."""
        pad, gap, label, tall = (theme.px(one) for one in (PAD, GAP, LABEL, TALL))
        bare = row[0][0] is self.more
        left, line = pad, tall if bare else label + tall + theme.px(8)
        for part, designed in row:
            wide = self._width_of(part, designed)
            if left > pad and left + wide > width - pad:
                left, top = pad, top + line - (label if part not in self._labels and part is not self.add else 0)
            wide = min(wide, width - 2 * pad)
            if part is self.texts["note"]:  # takes what is left over on its line
                rest = sum(self._width_of(other, one) + gap for other, one in row[row.index((part, designed)) + 1 :])
                wide = max(wide, min(theme.px(WIDEST_NOTE), width - pad - left - rest - gap))
            if place:
                self._put(part, left, top + (0 if bare else label), wide)
            left += wide + gap
        return top + line

    def _width_of(self, part: QWidget, designed: int) -> int:
        if part not in self._labels:
            return part.sizeHint().width()
        return max(theme.px(designed), theme.small().width(self._labels[part].text()) + theme.px(4))

    def _put(self, part: QWidget, left: int, top: int, wide: int) -> None:
        tall = theme.px(TALL)
        if part in self._labels:
            self._labels[part].setGeometry(left, top - theme.px(LABEL), wide + theme.px(GAP), theme.px(LABEL))
        own = part.sizeHint().height() if part is self.add else tall
        part.setGeometry(left, top - (own - tall) // 2, wide, own)
        if isinstance(part, FormField):
            part.put(part.geometry())

    def _lay_words(self, width: int, top: int, *, place: bool) -> int:
        """Whatever is to be said of the line."""
        pad, gap = theme.px(PAD), theme.px(GAP)
        for words, button in ((self.told, None), (self.hint, self.planned)):
            if words.isHidden():
                continue
            room = width - 2 * pad
            beside = 0 if button is None else button.sizeHint().width() + gap
            tall = max(words.heightForWidth(room - beside), theme.px(26) if button else 0)
            if place:
                words.setGeometry(pad, top, room - beside, tall)
                if button is not None:
                    button.setGeometry(pad + room - beside + gap, top, beside - gap, theme.px(26))
            top += tall + theme.px(4)
        return top

    def resizeEvent(self, _event: QResizeEvent) -> None:
        self._lay(self.width(), place=True)

    def paintEvent(self, _event: QPaintEvent) -> None:
        colours = theme.colours()
        paint.panel(QPainter(self), QRectF(self.rect()), colours.card, colours.line, theme.px(theme.RADIUS))
