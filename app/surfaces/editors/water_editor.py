"""The water, as its report is printed; a second one may be blended in by share."""

from __future__ import annotations

from msgspec import structs
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from app.session.session import Session
from app.surfaces.editors.water_form import WaterForm
from app.surfaces.recipe_sheet import EditorSheet
from app.widgets.form import Section, Words
from app.widgets.form_field import FormField
from app.widgets.link_button import LinkButton
from app.widgets.measure import PERCENT
from app.widgets.pick_list import Pick, PickList
from app.wording import editors as say
from app.wording import editors_water as of_water
from app.wording.words import catalog_words
from core.recipe import RecipeError
from core.recipe.records import Water, WaterContents


class WaterEditor(EditorSheet):
    """One form, and a second below it where two waters are blended."""

    def __init__(self, over: QWidget, session: Session) -> None:
        super().__init__(over, session, say.title("water"))
        self.typical = PickList(self.top, of_water.typical_waters(), of_water.typical_hint())
        self.typical.picked.connect(self._start_from)
        self.top_layout.addWidget(Words(self.top, of_water.water_intro()))
        self.top_layout.addWidget(self.typical)
        self.typical.height_changed.connect(self.settle)
        self.first = WaterForm(self.body, session, "water")
        self.body_layout.addWidget(self.first)
        self.blend = LinkButton(self.body)
        self.blend.clicked.connect(self._toggle_second)
        self.body_layout.addWidget(self.blend)
        self.second: WaterForm | None = None
        self.share: FormField | None = None
        self._second_part: QWidget | None = None
        self.body_layout.addStretch(1)
        self._fill_typical()

    def begin(self) -> None:
        self.first.name.setFocus()
        self.first.name.selectAll()

    def show_recipe(self) -> None:
        recipe = self.recipe
        self.first.show_recipe(recipe)
        two = recipe.second_water is not None
        if two and self._second_part is None:
            self._build_second()
        elif not two and self._second_part is not None:
            self._second_part.deleteLater()
            self._second_part = self.second = self.share = None
        if self.second is not None and self.share is not None:
            self.second.show_recipe(recipe)
            self.share.set_quantity(recipe.second_water_share_percent)
        self.blend.set_text(of_water.one_water_again() if two else of_water.blend_second())

    def _build_second(self) -> None:
        section = Section(self.body, of_water.second_water_title())
        self.share = section.add_quantity(of_water.second_share(), PERCENT, self._set_share, live=False)
        self.second = WaterForm(section, self.session, "second_water")
        section.outer.addWidget(self.second)
        self._second_part = section
        self.body_layout.insertWidget(self.body_layout.count() - 1, section)
        section.show()

    def _set_share(self, percent: float | None) -> None:
        changed = structs.replace(self.recipe, second_water_share_percent=percent or 0.0)
        try:
            self.session.push(of_water.water_edit("share"), ("second_water", "share"), changed)
        except RecipeError as error:
            assert self.share is not None
            self.share.blame(say.not_taken(error.path, error.what, error.mend))

    def _toggle_second(self) -> None:
        recipe = self.recipe
        second = Water() if recipe.second_water is None else None
        changed = structs.replace(recipe, second_water=second, second_water_share_percent=50.0 if second else 0.0)
        self.session.push(of_water.water_edit("second"), ("second_water",), changed)
        if self.share is not None:
            self.show_part(self.share)
            self.share.setFocus(Qt.FocusReason.TabFocusReason)

    def _fill_typical(self) -> None:
        from core.catalog import waters

        picks = [
            Pick(water.id, catalog_words(water.name), of_water.typical_aside(water.ec_ms_per_cm, hco3))
            for water, hco3 in ((water, water.mg_per_l.get("HCO3")) for water in waters())
        ]
        self.typical.set_picks(tuple(picks))

    def _start_from(self, water_id: str, _typed: str) -> None:
        from core.catalog import waters

        profile = next(water for water in waters() if water.id == water_id)
        contents = {name.lower().replace("-", "_"): mg_per_l for name, mg_per_l in profile.mg_per_l.items()}
        water = Water(
            of_water.typical_name(profile.name),
            WaterContents(**contents),
            profile.ph,
            profile.ec_ms_per_cm,
            profile.temperature_c,
        )
        self.first.set_water(of_water.water_edit("typical"), water)
        self.first.name.setFocus()
