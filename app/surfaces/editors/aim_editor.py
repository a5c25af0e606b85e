"""The aim: from a crop's published profiles, from a column of a spreadsheet, or typed; limits and the rest below."""

from __future__ import annotations

from collections.abc import Callable

from msgspec import structs
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QHBoxLayout, QWidget

from app.session.session import Session
from app.surfaces.editors import aim_changes, columns
from app.surfaces.editors.aim_table import AimTable
from app.surfaces.editors.crop_table import CropTable
from app.surfaces.editors.draft import Draft
from app.surfaces.recipe_sheet import EditorSheet
from app.widgets.form import Section, Words
from app.widgets.form_field import FormField
from app.widgets.link_button import LinkButton
from app.widgets.measure import ALKALINITY, EC, NUMBER, PERCENT
from app.widgets.pick_list import Pick, PickList
from app.wording import editors as say
from app.wording import editors_aim as of_aim
from app.wording import format_short
from core.recipe.records import Aim, Limit, Recipe, Target


class AimEditor(EditorSheet):
    """Crop search and its sources on top, then the numbers."""

    def __init__(self, over: QWidget, session: Session) -> None:
        super().__init__(over, session, say.title("aim"))
        self.draft: Draft[Aim] = Draft(session, _aim_of, _with_aim, self._show)
        self._fields: dict[str, FormField] = {}
        self.crop = PickList(self.top, of_aim.crop_search(), of_aim.crop_hint())
        self.crop.pointed.connect(self._preview)
        self.crop.picked.connect(lambda crop_id, _typed: self._take_crop(crop_id))
        self.top_layout.addWidget(self.crop)
        self.crop.height_changed.connect(self.settle)
        self.sources = CropTable(self.body)
        self.profile_words, self.told = Words(self.body), Words(self.body)
        for widget in (self.sources, self.profile_words, self.told):
            self.body_layout.addWidget(widget)
        self._build_table()
        self._build_rest()
        self.body_layout.addStretch(1)
        self._fill_crops()
        self._show()

    def begin(self) -> None:
        self.told.say("")
        self.crop.setFocus()

    def show_recipe(self) -> None:
        self.title_field.set_kept(self.recipe.title)
        self.draft.follow(self.recipe)

    def _build_table(self) -> None:
        row = QWidget(self.body)
        links = QHBoxLayout(row)
        links.setContentsMargins(0, 0, 0, 0)
        self.paste, self.copy, self.weights = LinkButton(row), LinkButton(row), LinkButton(row, unfolds=True)
        for link, words in zip((self.paste, self.copy, self.weights), of_aim.aim_links(), strict=True):
            link.set_text(words)
            links.addWidget(link)
        links.addStretch(1)
        self.table = AimTable(self.body)
        self.wrong = Words(self.body)
        self.body_layout.addWidget(row)
        self.body_layout.addWidget(self.wrong)
        self.body_layout.addWidget(self.table)
        self.paste.clicked.connect(lambda: self._paste(QApplication.clipboard().text(), ""))
        self.copy.clicked.connect(self._copy)
        self.weights.toggled.connect(self.table.show_details)
        self.table.typed.connect(self._set_number)
        self.table.pasted.connect(self._paste)

    def _build_rest(self) -> None:
        section = Section(self.body, of_aim.aim_rest_title())
        self._fields["ec_ms_per_cm"] = section.add_quantity(
            of_aim.target_ec(), EC, self._setter("ec_ms_per_cm"), live=False
        )
        self.ec_kind = section.add_choice(of_aim.ec_kind(), of_aim.ec_kinds(), self._set_ec_kind)
        for name, measure in (
            ("ph", NUMBER),
            ("residual_alkalinity_meq_per_l", ALKALINITY),
            ("ammonium_share_at_most_percent", PERCENT),
        ):
            self._fields[name] = section.add_quantity(of_aim.aim_label(name), measure, self._setter(name), live=False)
        self._fields["residual_alkalinity_meq_per_l"].set_hint(of_aim.by_itself())
        self._fields["ammonium_share_at_most_percent"].set_hint(of_aim.by_itself())
        self.urea = section.add_check(of_aim.urea_allowed(), self._set_urea)
        self.title_field = section.add_text(of_aim.recipe_title(), self._set_title)
        self.body_layout.addWidget(section)

    def _fill_crops(self) -> None:
        from core.catalog import crops

        picks = [
            Pick(profile.id, of_aim.crop_name(profile), of_aim.profile_aside(profile), profile.id.replace("-", " "))
            for profile in crops()
            if profile.targets
        ]
        self.crop.set_picks(tuple(picks))

    def _preview(self, crop_id: str) -> None:
        self._show_sources(crop_id or self.draft.value.crop or "")

    def _show_sources(self, crop_id: str) -> None:
        from core.catalog import UnknownCrop, crop, crops_of

        try:
            profile = crop(crop_id) if crop_id else None
        except UnknownCrop:
            profile = None
        self.sources.setVisible(profile is not None)
        self.profile_words.say(of_aim.profile_words(profile) if profile is not None else of_aim.no_crop())
        if profile is not None:
            profiles = sorted(crops_of(profile.crop), key=lambda other: other.id != crop_id)
            self.sources.show_crop(tuple(profiles), crop_id)

    def _take_crop(self, crop_id: str) -> None:
        from core.catalog import crop

        profile = crop(crop_id)
        aim, kept = aim_changes.from_profile(self.draft.value, profile)
        self.draft.change(of_aim.aim_edit("crop"), ("aim", "crop"), aim)
        self.told.say(of_aim.crop_taken(len(profile.targets), kept))
        self.table.fields["N", "mg_per_l"].setFocus(Qt.FocusReason.TabFocusReason)

    def _set_number(self, nutrient: str, column: str, value: float | None) -> None:
        change = aim_changes.with_limit_field if column in aim_changes.LIMIT_FIELDS else aim_changes.with_target_field
        aim = change(self.draft.value, nutrient, column, value)
        if column in ("weight", "tolerance_percent") and value is not None and aim == self.draft.value:
            self.table.fields[nutrient, column].blame(of_aim.target_first())
            return
        path = ("aim", nutrient) if column == "mg_per_l" else ("aim", nutrient, column)
        self.draft.change(of_aim.number_edit(nutrient, column), path, aim)

    def _paste(self, text: str, row: str) -> None:
        pasted = columns.read_column(text, row or "N")
        if pasted.mg_per_l:
            self.draft.change(
                of_aim.aim_edit("paste"), ("aim", "paste"), aim_changes.with_column(self.draft.value, pasted.mg_per_l)
            )
        self.told.say(of_aim.pasted(len(pasted.mg_per_l), pasted.unread), warns=bool(pasted.unread))

    def _copy(self) -> None:
        QApplication.clipboard().setText(columns.column_text(self.draft.value.targets))
        self.told.say(of_aim.copied(len(self.draft.value.targets)))

    def _setter(self, name: str) -> Callable[[float | None], None]:
        return lambda value: self._change(name, **{name: value})

    def _set_ec_kind(self, key: str) -> None:
        self._change("ec_is_rise_over_water", ec_is_rise_over_water=key == "rise")

    def _set_urea(self, allowed: bool) -> None:
        self._change("urea", urea=allowed)

    def _set_title(self, title: str) -> None:
        self.session.push(of_aim.aim_edit("title"), ("title",), structs.replace(self.recipe, title=title))

    def _change(self, name: str, **changed: object) -> None:
        self.draft.change(of_aim.aim_edit(name), ("aim", name), structs.replace(self.draft.value, **changed))

    def _show(self) -> None:
        if not hasattr(self, "title_field"):
            return
        aim, fault = self.draft.value, self.draft.fault
        if self.crop.list.isHidden():
            self._show_sources(aim.crop or "")
        self.table.show_aim(aim, lambda nutrient, column: _usual(aim, nutrient, column))
        for name, field in self._fields.items():
            field.set_quantity(getattr(aim, name))
            field.blame(self.draft.reason() if fault is not None and name in fault.path else "")
        self.ec_kind.set_key("rise" if aim.ec_is_rise_over_water else "reading")
        self.urea.setChecked(aim.urea)
        self.wrong.say(self.draft.reason(), warns=True)
        self._blame_row(aim)

    def _blame_row(self, aim: Aim) -> None:
        """Mark the row a refused target or limit stands in."""
        path = () if self.draft.fault is None else self.draft.fault.path
        part, index = (path[1], path[2]) if len(path) > 2 else ("", None)
        rows: tuple[Target, ...] | tuple[Limit, ...] = aim.limits if part == "limits" else aim.targets
        if part not in ("targets", "limits") or not isinstance(index, int):
            self.table.blame("", (), "")
            return
        fault = self.draft.fault
        if fault is not None and len(path) == 3:
            self.wrong.say(of_aim.row_not_taken(rows[index].nutrient, fault.what, fault.mend), warns=True)
        column = str(path[3]) if len(path) > 3 else ""
        whole = aim_changes.LIMIT_FIELDS if part == "limits" else ("mg_per_l", "low_mg_per_l", "high_mg_per_l")
        self.table.blame(rows[index].nutrient, (column,) if column else whole, self.draft.reason())


def _aim_of(recipe: Recipe) -> Aim:
    return recipe.aim


def _with_aim(recipe: Recipe, aim: Aim) -> Recipe:
    return structs.replace(recipe, aim=aim)


def _usual(aim: Aim, nutrient: str, column: str) -> str:
    """Return what holds for an empty field of a nutrient that has a target."""
    target = aim_changes.target_in(aim, nutrient)
    if target is None or column not in ("low_mg_per_l", "high_mg_per_l", "weight"):
        return ""
    from core.blend.demands import target_row

    row = target_row(target)
    return format_short({"low_mg_per_l": row.low, "high_mg_per_l": row.high, "weight": row.weight}[column])
