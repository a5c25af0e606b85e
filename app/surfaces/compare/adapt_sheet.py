"""Makes a new recipe of the open one: another crop, another water, its tanks as they stand mixed, or all of these."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QCheckBox, QWidget

from app.session import adapting
from app.session.session import Session
from app.surfaces.recipe_sheet import EditorSheet
from app.widgets import theme
from app.widgets.form import Words
from app.widgets.link_button import LinkButton
from app.widgets.main_button import MainButton
from app.widgets.pick_list import Pick, PickList
from app.wording import comparing as say
from app.wording import comparing_cards as cards
from app.wording import editors, editors_aim, editors_water
from app.wording.refusals import refusal
from core.recipe import RecipeError
from core.recipe.records import Water, WaterContents


class AdaptSheet(EditorSheet):
    """Collects what the new recipe is for; the recipe itself is made behind the window."""

    def __init__(self, over: QWidget, session: Session) -> None:
        super().__init__(over, session, editors.title("adapt"))
        self.crop_id = ""
        self.new_water: Water | None = None
        self.crop = PickList(self.body, *cards.adapt_crop())
        self.water = PickList(self.body, *cards.adapt_water(), opens_empty=True)
        self.from_file = LinkButton(self.body)
        self.from_file.set_text(cards.adapt_water_file())
        self.tanks = QCheckBox(cards.adapt_tanks(), self.body)
        self.tanks.setFont(theme.font())
        self.about_tanks = Words(self.body, cards.adapt_tanks_words())
        self.chosen_crop, self.chosen_water = Words(self.body, muted=False), Words(self.body, muted=False)
        self.told = Words(self.body, muted=False)
        self.make = MainButton(self.body)
        self.make.set_text(cards.adapt_make())
        self._lay_out()
        self.crop.picked.connect(lambda key, _typed: self._take_crop(key))
        self.water.picked.connect(lambda key, _typed: self._take_water(key))
        self.from_file.clicked.connect(self._ask_water)
        self.tanks.toggled.connect(lambda _on: self._tell())
        self.make.clicked.connect(self._make)
        self._fill()

    def begin(self) -> None:
        self.crop.setFocus()

    def show_recipe(self) -> None:
        self._tell()

    def take_water_file(self, path: Path) -> None:
        """Take the water of a report or a recipe; what is refused is said."""
        try:
            self.new_water = adapting.read_water(path.read_bytes(), path.name)
        except (RecipeError, OSError) as error:
            self.told.say(say.cannot_add(refusal(error)), warns=True)
            return
        if not self.new_water.name:
            from msgspec import structs

            self.new_water = structs.replace(self.new_water, name=path.stem)
        self._tell()

    def _lay_out(self) -> None:
        self.top_layout.addWidget(Words(self.top, cards.adapt_intro()))
        searches = (
            (cards.adapt_crop()[0], self.crop, self.chosen_crop),
            (cards.adapt_water()[0], self.water, self.chosen_water),
        )
        for title, part, chosen in searches:
            self.body_layout.addWidget(Words(self.body, title, muted=False, strong=True))
            self.body_layout.addWidget(part)
            chosen.setContentsMargins(theme.px(6), 0, 0, theme.px(4))
            self.body_layout.addWidget(chosen)
        left = Qt.AlignmentFlag.AlignLeft
        self.body_layout.addWidget(self.from_file, 0, left)
        for words in (self.tanks, self.about_tanks, self.told):
            self.body_layout.addWidget(words)
        self.body_layout.addWidget(self.make, 0, left)
        self.body_layout.addStretch(1)

    def _fill(self) -> None:
        from core.catalog import crops, waters

        of_crops = [
            Pick(one.id, editors_aim.crop_name(one), editors_aim.profile_aside(one), one.id.replace("-", " "))
            for one in crops()
            if one.targets and one.kind != "uptake"
        ]
        self.crop.set_picks(tuple(of_crops))
        of_waters = [
            Pick(one.id, one.name, editors_water.typical_aside(one.ec_ms_per_cm, one.mg_per_l.get("HCO3")))
            for one in waters()
        ]
        self.water.set_picks(tuple(of_waters))

    def _take_crop(self, crop_id: str) -> None:
        self.crop_id = crop_id
        self._tell()

    def _take_water(self, water_id: str) -> None:
        from core.catalog import waters

        profile = next(water for water in waters() if water.id == water_id)
        contents = {name.lower().replace("-", "_"): mg_per_l for name, mg_per_l in profile.mg_per_l.items()}
        name = editors_water.typical_name(profile.name)
        self.new_water = Water(name, WaterContents(**contents), profile.ph, profile.ec_ms_per_cm, profile.temperature_c)
        self._tell()

    def _ask_water(self) -> None:
        from PySide6.QtWidgets import QFileDialog

        name, _filter = QFileDialog.getOpenFileName(self, cards.water_dialog(), "", cards.water_filter())
        if name:
            self.take_water_file(Path(name))

    def _tell(self) -> None:
        from core.catalog import crop

        of_crop = editors_aim.crop_name(crop(self.crop_id)) if self.crop_id else ""
        of_water = "" if self.new_water is None else adapting.water_name(self.new_water)
        self.chosen_crop.say(cards.adapt_chosen(of_crop))
        self.chosen_water.say(cards.adapt_chosen(of_water))
        something = bool(of_crop or of_water or self.tanks.isChecked())
        self.told.say("" if something else cards.adapt_nothing())
        self.make.setEnabled(something)

    def _make(self) -> None:
        self.session.comparing.adapt(self.crop_id, self.new_water, tanks=self.tanks.isChecked())
        self.crop_id, self.new_water = "", None
        self.tanks.setChecked(False)
        self._tell()
        self.closed.emit()
