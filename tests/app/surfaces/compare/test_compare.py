"""Variants side by side, by keys and clicks: added, chosen, copied, opened, saved, taken out; the words beside them."""

from __future__ import annotations

from pathlib import Path

import pytest
from msgspec import structs
from PySide6.QtCore import QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QDropEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.session import changes
from app.surfaces.compare import CompareSurface
from app.surfaces.compare.adapt_sheet import AdaptSheet
from app.window.frame import MainWindow
from core.recipe import dumps, load
from core.recipe.records import Recipe
from tests.app.conftest import settle
from tests.app.surfaces.real_window import answered, press, recipe_of


@pytest.fixture
def compare(real: MainWindow) -> CompareSurface:
    real.go_to("compare")
    surface = real.room.surfaces["compare"]
    assert isinstance(surface, CompareSurface)
    return surface


def done(compare: CompareSurface) -> None:
    comparing = compare.comparing
    answered(comparing.maker, comparing.looker, comparing.senser)


def names(compare: CompareSurface) -> list[str]:
    return [name for name, _kind in compare.table.compared.heads]


def cells(compare: CompareSurface, name: str) -> list[str]:
    """What stands in the row of this name, the first of them."""
    row = next(row for row in compare.table.compared.rows if row.name == name and not row.is_section)
    return [cell.text for cell in row.cells]


def goals(compare: CompareSurface) -> None:
    compare.comparing.add_goals()
    done(compare)


def other_recipe(window: MainWindow, folder: Path) -> Path:
    recipe = changes.with_target(structs.replace(recipe_of(window), title="More potassium"), "K", 240.0)
    path = folder / "other.saltwright"
    path.write_bytes(dumps(recipe))
    return path


def test_empty_it_says_what_it_is_for_and_offers_two_ways(qtbot: QtBot, compare: CompareSurface) -> None:
    assert [button.text() for button in compare.begin.values()] == ["Closest, cheapest, fewest", "Add a recipe…"]
    assert not compare.table.isVisible()
    compare.begin["goals"].setFocus()
    press(qtbot, Qt.Key.Key_Space)
    done(compare)
    assert names(compare) == ["This recipe", "Cheapest", "Fewest salts"]
    assert compare.table.isVisible()
    assert not compare.begin["goals"].isVisible()


def test_the_table_shows_the_plans_own_figures(compare: CompareSurface) -> None:
    goals(compare)
    columns = compare.columns()
    assert cells(compare, "per 1000 L") == [f"{c.variant.costing.per_1000_l:.2f} €" for c in columns]
    assert cells(compare, "EC, mS/cm") == [f"{c.plan.feed.ec_ms_per_cm:.2f}" for c in columns]
    assert cells(compare, "Potassium nitrate")[0].endswith(" g")
    index = compare.table.compared.index(
        next(n for n, row in enumerate(compare.table.compared.rows) if row.copied == "K, mg/L"), 0
    )
    spoken = compare.table.compared.data(index, Qt.ItemDataRole.AccessibleTextRole)
    assert spoken == "172, target 172, wanted 163 to 181, met"


def test_goals_follow_the_recipe_and_never_repeat_its_own(real: MainWindow, compare: CompareSurface) -> None:
    goals(compare)
    before = cells(compare, "per 1000 L")
    session = real.room.session
    session.push("x", ("x",), structs.replace(changes.with_target(recipe_of(real), "K", 200.0), goal="cheapest"))
    settle(real)
    done(compare)
    assert names(compare) == ["This recipe", "Closest fit", "Fewest salts"]
    assert cells(compare, "per 1000 L") != before


def test_arrows_choose_a_column_and_the_words_follow(qtbot: QtBot, compare: CompareSurface) -> None:
    goals(compare)
    compare.table.setFocus()
    press(qtbot, Qt.Key.Key_Right)
    done(compare)
    assert compare.table.compared.chosen == 2
    assert compare.side.beside.text() == "Fewest salts, beside this recipe:"
    assert "Magnesium nitrate hexahydrate comes in: " in compare.side.difference.text()
    press(qtbot, Qt.Key.Key_Home)
    done(compare)
    assert compare.side.difference.text().startswith("Choose a column")


def test_a_column_is_copied_for_a_spreadsheet(qtbot: QtBot, compare: CompareSurface) -> None:
    goals(compare)
    compare.table.setFocus()
    qtbot.keyClick(compare.table, Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier)
    lines = QApplication.clipboard().text().splitlines()
    assert lines[0] == "\tCheapest"
    copied = dict(line.split("\t") for line in lines[1:] if "\t" in line)
    variant = compare.columns()[1].variant
    assert float(copied["K, mg/L"]) == pytest.approx(variant.nutrients_mg_per_l["K"], rel=1e-3)
    amount = variant.amounts_mg_per_l["potassium-nitrate"]
    assert float(copied["Potassium nitrate, g per 1000 L"]) == pytest.approx(amount, rel=1e-3)
    qtbot.keyClick(compare.table, Qt.Key.Key_A, Qt.KeyboardModifier.ControlModifier)
    qtbot.keyClick(compare.table, Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier)
    assert QApplication.clipboard().text().splitlines()[0] == "\tThis recipe\tCheapest\tFewest salts"


def test_a_copy_is_kept_and_named_while_the_recipe_goes_on(
    qtbot: QtBot, real: MainWindow, compare: CompareSurface
) -> None:
    qtbot.mouseClick(compare.ways.ways["keep"], Qt.MouseButton.LeftButton)
    done(compare)
    real.room.session.push("x", ("x",), changes.with_target(recipe_of(real), "K", 220.0))
    settle(real)
    done(compare)
    assert cells(compare, "K  potassium") == ["220", "172"]
    compare.table.choose(1)
    compare.acts.name.setFocus()
    compare.acts.name.selectAll()
    qtbot.keyClicks(compare.acts.name, "as in March")
    press(qtbot, Qt.Key.Key_Return)
    done(compare)
    assert names(compare) == ["This recipe", "as in March"]
    compare.table.setFocus()
    press(qtbot, Qt.Key.Key_Return)  # opens it as the recipe, an edit as any other
    settle(real)
    target = changes.target_of(recipe_of(real), "K")
    assert target is not None
    assert target.mg_per_l == 172.0
    real.room.session.edits.undo()
    settle(real)
    assert changes.target_of(recipe_of(real), "K").mg_per_l == 220.0  # type: ignore[union-attr]


def test_a_file_is_dropped_opened_and_the_recipe_before_kept(
    real: MainWindow, compare: CompareSurface, tmp_path: Path
) -> None:
    path, before = other_recipe(real, tmp_path), recipe_of(real)
    dropped = QMimeData()
    dropped.setUrls([QUrl.fromLocalFile(str(path))])
    compare.dropEvent(
        QDropEvent(
            QPointF(10, 10), Qt.DropAction.CopyAction, dropped, Qt.MouseButton.LeftButton,
            Qt.KeyboardModifier.NoModifier,
        )
    )  # fmt: skip
    done(compare)
    assert names(compare) == ["This recipe", "More potassium"]
    compare.acts.acts["open"].click()
    settle(real)
    done(compare)
    assert recipe_of(real).title == "More potassium"
    assert real.room.session.path == path
    assert names(compare) == ["This recipe", before.title]
    assert compare.columns()[1].recipe == before


def test_a_file_that_is_refused_is_told(compare: CompareSurface, tmp_path: Path) -> None:
    path = tmp_path / "broken.saltwright"
    path.write_text("{")
    compare.add_files([path])
    assert compare.ways.state.text().startswith(f"Not added: {path}")
    assert len(compare.comparing.held) == 1


def test_a_variant_is_taken_out_and_the_last_leaves_the_beginning(qtbot: QtBot, compare: CompareSurface) -> None:
    goals(compare)
    compare.table.setFocus()
    press(qtbot, Qt.Key.Key_Delete)
    done(compare)
    assert names(compare) == ["This recipe", "Fewest salts"]
    press(qtbot, Qt.Key.Key_Delete)
    assert compare.begin["goals"].isVisible()


def adapt(qtbot: QtBot, real: MainWindow, compare: CompareSurface) -> AdaptSheet:
    qtbot.mouseClick(compare.ways.ways["adapt"], Qt.MouseButton.LeftButton)
    sheet = real.room.editors.sheets["adapt"]
    assert isinstance(sheet, AdaptSheet)
    return sheet


def test_another_crop_is_made_by_keys_named_with_its_parent_and_saved(
    qtbot: QtBot, real: MainWindow, compare: CompareSurface, tmp_path: Path
) -> None:
    sheet = adapt(qtbot, real, compare)
    assert not sheet.make.isEnabled()
    qtbot.keyClicks(QApplication.focusWidget(), "cucumber full ikeda")
    press(qtbot, Qt.Key.Key_Return)
    sheet.make.setFocus()
    press(qtbot, Qt.Key.Key_Space)
    done(compare)
    assert not sheet.isVisible()
    assert names(compare)[1].startswith("Cucumber")
    made = compare.columns()[1]
    parent = recipe_of(real)
    assert made.recipe.parent == parent.title
    assert made.recipe.aim.crop == "cucumber-ikeda-1996"
    assert "Every target is in its range." in compare.side.remarks.text() or "Not every" in compare.side.remarks.text()
    path = tmp_path / "cucumber.saltwright"
    assert real.room.variants.save(made.held, made.recipe, path)
    assert load(path) == made.recipe
    done(compare)
    assert compare.table.compared.heads[1][1] == "adapted, saved"


def test_another_water_from_a_file(qtbot: QtBot, real: MainWindow, compare: CompareSurface, tmp_path: Path) -> None:
    report = tmp_path / "well.json"
    report.write_text('{"mg_per_l": {"Ca": 90, "HCO3": 250}, "ph": 7.4}')
    sheet = adapt(qtbot, real, compare)
    sheet.take_water_file(report)
    assert sheet.chosen_water.text() == "Chosen: well"
    assert sheet.told.text() == ""
    sheet.make.click()
    done(compare)
    assert compare.columns()[1].recipe.water.mg_per_l.ca == 90
    assert compare.columns()[1].recipe.title.startswith("well, adapted from ")


def test_from_the_tanks_already_mixed(qtbot: QtBot, real: MainWindow, compare: CompareSurface) -> None:
    sheet = adapt(qtbot, real, compare)
    sheet.crop_id = "tomato-ikeda-1996"
    sheet.tanks.setFocus()
    press(qtbot, Qt.Key.Key_Space)
    sheet.make.click()
    done(compare)
    column = compare.columns()[1]
    assert set(column.held.doses_ml_per_l) == {"blend:calcium side A as mixed", "blend:phosphate side B as mixed"}
    assert cells(compare, "tanks, at their coldest")[1] == "as mixed"
    dose = column.held.doses_ml_per_l["blend:phosphate side B as mixed"]
    assert cells(compare, "Phosphate side B as mixed")[1] == f"{dose:.3g} L"
    assert "mL per litre of finished feed instead of 10" in compare.side.remarks.text()


def test_an_adapted_recipe_opens_as_one_that_is_not_saved(real: MainWindow, compare: CompareSurface) -> None:
    before = recipe_of(real)
    compare.comparing.adapt("cucumber-ikeda-1996", None, tanks=False)
    done(compare)
    compare.acts.acts["open"].click()
    settle(real)
    done(compare)
    assert recipe_of(real).parent == before.title
    assert real.room.session.unsaved
    assert real.room.session.path is None
    assert names(compare)[1] == before.title


def test_what_is_worked_out_can_be_given_up(compare: CompareSurface) -> None:
    goals(compare)
    compare.comparing.adapt("tomato-ikeda-1996", None, tanks=True)
    assert compare.ways.cancel.isVisible()
    compare.ways.cancel.click()
    assert not compare.ways.cancel.isVisible()
    done(compare)
    assert names(compare) == ["This recipe", "Cheapest", "Fewest salts"]


def test_variants_given_up_before_they_were_shown_are_gone(compare: CompareSurface) -> None:
    compare.comparing.add_goals()
    compare.ways.cancel.click()
    done(compare)
    assert len(compare.comparing.held) == 1
    assert compare.begin["goals"].isVisible()


def test_bags_for_a_use_that_is_typed(qtbot: QtBot, compare: CompareSurface) -> None:
    goals(compare)
    use = compare.side.use
    assert use.words.text() == "Counted for one filling of the tanks, 6000 L."
    use.litres.setFocus()
    qtbot.keyClicks(use.litres, "600000")
    press(qtbot, Qt.Key.Key_Return)
    done(compare)
    bag = next(b for b in compare.columns()[0].variant.costing.bags if b.entry_id == "potassium-nitrate")
    assert bag.needed_kg == pytest.approx(0.6 * compare.columns()[0].variant.amounts_mg_per_l["potassium-nitrate"])
    use.season.setFocus()
    qtbot.keyClicks(use.season, "500")
    use.area.setFocus()
    qtbot.keyClicks(use.area, "2000")
    press(qtbot, Qt.Key.Key_Return)
    done(compare)
    costing = compare.columns()[0].variant.costing
    assert costing.feed_l == 1_000_000
    assert cells(compare, "per m² and season")[0] == f"{costing.per_m2_season:.2f} €"


def test_the_plot_is_walked_by_keys_and_holds_every_corner(qtbot: QtBot, compare: CompareSurface) -> None:
    goals(compare)
    plot, found = compare.side.plot, compare.comparing.found
    assert found is not None
    corners = {round(corner.per_1000_l, 9) for corner in found.frontier.corners}
    assert corners <= {round(stop.per_1000_l, 9) for stop in plot.stops()}
    assert {stop.name for stop in plot.stops()} == {"", "This recipe", "Cheapest", "Fewest salts"}
    plot.setFocus()
    press(qtbot, Qt.Key.Key_End)
    assert compare.side.plot_told.text() == plot.told()
    assert "With a worst miss of 25 %" in plot.told()
    press(qtbot, Qt.Key.Key_Home)
    assert "worst miss" in plot.accessibleDescription()


def bare(recipe: Recipe) -> Recipe:
    shelf = tuple(structs.replace(entry, price_per_kg=None) for entry in recipe.shelf)
    return structs.replace(recipe, shelf=shelf)


def test_without_prices_it_says_so_and_leads_to_the_shelf(
    qtbot: QtBot, real: MainWindow, compare: CompareSurface
) -> None:
    real.room.session.push("x", ("x",), bare(recipe_of(real)))
    settle(real)
    goals(compare)
    side = compare.side
    assert side.plot.isHidden()
    assert side.plot_note.text() == "Cost against fit needs prices, and nothing on the shelf has one."
    assert cells(compare, "per 1000 L") == ["price missing"] * 3
    side.prices.setFocus()
    press(qtbot, Qt.Key.Key_Space)
    assert real.room.editors.name == "shelf"


def test_a_salts_price_that_would_bring_it_in_is_told(compare: CompareSurface) -> None:
    goals(compare)
    compare.table.choose(0)
    done(compare)
    assert "Magnesium nitrate hexahydrate would be used below EUR 0.88" in compare.side.sensed.text()


def test_shares_are_told_with_what_is_usual_and_from_where(compare: CompareSurface) -> None:
    goals(compare)
    assert "Steiner 1984" in compare.side.shares_told.text()
    assert "Partly recalled" in compare.side.shares_told.text()
    assert "potassium" in compare.side.bars.accessibleDescription()


def test_every_control_has_a_name(compare: CompareSurface) -> None:
    goals(compare)
    stops = [part for part in compare.findChildren(object) if getattr(part, "focusPolicy", None) is not None]
    unnamed = [
        part for part in stops
        if part.focusPolicy() & Qt.FocusPolicy.TabFocus and part.isVisible()
        and not (part.accessibleName() or getattr(part, "text", str)())
    ]  # fmt: skip
    assert unnamed == []
