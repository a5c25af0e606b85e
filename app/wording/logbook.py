"""The sentences of the Logbook surface: the line, the diary below it, reservoirs and batches."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.wording import figures
from app.wording.language import gettext as _
from app.wording.language import marked
from app.wording.numbers import format_decimals, format_short
from app.wording.words import tank_title

if TYPE_CHECKING:
    from core.logbook.moves import Doubt
    from core.logbook.records import Entry, MadeBatch

FIELDS = {
    "at": marked("When"),
    "water_l": marked("Water in, L"),
    "drained_l": marked("Let out, L"),
    "level_l": marked("Level, L"),
    "ec_ms_per_cm": marked("EC"),
    "ph": marked("pH"),
    "temperature_c": marked("°C"),
    "hco3_mg_per_l": marked("Bicarbonate, mg/L"),
    "meter": marked("Meter"),
    "note": marked("Note"),
    "batch_id": marked("Tanks"),
    "scale": marked("Meter shows"),
}

COLUMNS = {
    "at": marked("When"),
    "did": marked("What was done"),
    "level_l": marked("Level, L"),
    "ec_ms_per_cm": marked("EC read"),
    "foretold": marked("Foretold"),
    "off": marked("Off"),
    "ph": marked("pH"),
    "temperature_c": marked("°C"),
    "note": marked("Note"),
}

DOUBTS: dict[str, str] = {
    "volume-assumed": marked("The volume is not written down; the whole reservoir was taken."),
    "fill-differs": marked("Water and level of this filling do not agree; the level was taken."),
    "unlogged-water": marked("The level is higher than what went in: water must have come in that is not written."),
    "level-too-low": marked("The level is lower than what can be left."),
    "drained-too-much": marked("More was let out than there was."),
}


def field(name: str) -> str:
    """Return what a field of the line is called."""
    return _(FIELDS[name])


def column(name: str) -> str:
    """Return what a column of the diary is called."""
    return _(COLUMNS[name])


def column_meaning(name: str) -> str:
    """Return what a column of the diary counts, where its name alone leaves that open."""
    return {
        "foretold": _(
            "From the filling or the reading before, by water and salts: water used leaves its salts behind."
        ),
        "off": _("What was read over what was foretold. Marked where no crop explains it."),
    }.get(name, "")


def part_field(title: str) -> str:
    """Return what the field for a part is called."""
    return _("{tank}, mL").format(tank=figures.capital(title))


def acid_field(name: str) -> str:
    """Return what the field for an acid is called."""
    return _("{acid}, mL").format(acid=figures.capital(name))


def part_title(content: str, letter: str) -> str:
    """Return what a part is called: "calcium side A", or by its letter where its contents are not known."""
    if not content:
        return _("tank {letter}").format(letter=letter)
    return _("{title} {letter}").format(title=tank_title(content), letter=letter)


def fresh_field() -> str:
    """Return the box that says it was filled anew."""
    return _("Emptied and filled anew")


def more_fields(shown: bool) -> str:
    """Return the button to the fields used rarely."""
    return _("Fewer fields") if shown else _("Laboratory, draining, meter…")


def analysis_field(nutrient: str) -> str:
    """Return what the field of a laboratory's figure is called."""
    return _("{nutrient}, mg/L").format(nutrient=figures.symbol(nutrient))


def add_button(changing: bool) -> str:
    """Return the button that takes the line into the diary."""
    return _("Change it") if changing else _("Add")


def cancel_change() -> str:
    """Return the button that leaves an entry as it was."""
    return _("Leave it as it was")


def nothing_typed() -> str:
    """Return why an empty line is not taken."""
    return _("Nothing is typed yet: a level, a reading, what was poured or a note.")


def when_text(at: str) -> str:
    """Return an entry's time as it is shown and typed."""
    return at.replace("T", " ", 1)


def did_text(entry: Entry, tanks: dict[str, str], products: dict[str, str]) -> str:
    """Return what was done at an entry."""
    parts: list[str] = []
    if entry.fresh:
        parts.append(_("filled anew"))
    if entry.drained_l:
        parts.append(_("{litres} L out").format(litres=format_short(entry.drained_l)))
    if entry.water_l:
        parts.append(_("{litres} L water").format(litres=format_short(entry.water_l)))
    for letter, ml in entry.parts_ml.items():
        parts.append(_("{ml} mL {tank}").format(ml=format_short(ml, 4), tank=tanks.get(letter, letter)))
    for name, ml in entry.acid_ml.items():
        parts.append(_("{ml} mL {acid}").format(ml=format_short(ml, 4), acid=products.get(name, name)))
    if entry.analysis_mg_per_l:
        parts.append(_("laboratory's report"))
    return ", ".join(parts)


def ec_text(value: float | None) -> str:
    """Return an EC as the table shows it."""
    return "" if value is None else format_decimals(value, 2)


def ph_text(value: float | None) -> str:
    """Return a pH as the table shows it."""
    return "" if value is None else format_decimals(value, 1)


def off_text(percent: float | None) -> str:
    """Return how far a reading is off from what was foretold."""
    if percent is None:
        return ""
    sign = "+" if round(percent) > 0 else ""
    return _("{sign}{percent} %").format(sign=sign, percent=format_decimals(percent, 0))


def number_text(value: float | None) -> str:
    """Return a plain number as the table shows it."""
    return "" if value is None else format_short(value, 4)


def diary_title(count: int) -> str:
    """Return the title over the table."""
    if count == 1:
        return _("Diary, 1 entry")
    return _("Diary, {count} entries").format(count=count)


def diary_help() -> str:
    """Return how the table is worked."""
    return _("Enter changes a reading, Delete takes an entry out, Ctrl+Z brings it back.")


def doubt(code: Doubt) -> str:
    """Return what does not add up in an entry's volumes."""
    return _(DOUBTS[code])


def edit(name: str) -> str:
    """Return what an edit of the logbook is called in the menu."""
    names = {
        "entry": _("diary entry"),
        "change": _("change of a diary entry"),
        "delete": _("taking out of diary entries"),
        "reservoir": _("reservoir"),
        "rename": _("change of a reservoir"),
        "import": _("reading in of a table"),
        "batch": _("batch"),
    }
    return names[name]


def reservoir_choice() -> str:
    """Return what the choice of reservoirs is called."""
    return _("Reservoir")


def add_reservoir() -> str:
    """Return the button that adds a reservoir."""
    return _("New reservoir")


def change_reservoir() -> str:
    """Return the button that changes name, volume or water of the reservoir."""
    return _("Name, volume, water")


def reservoir_form(new: bool) -> str:
    """Return the title over the form of a reservoir."""
    return _("A new reservoir") if new else _("This reservoir")


def reservoir_fields() -> tuple[str, str, str]:
    """Return what its fields are called: name, volume, water."""
    return _("Name"), _("Holds, when full"), _("Filled up with")


def reservoir_waters(own: str) -> list[tuple[str, str]]:
    """Return the waters it may be filled up with."""
    return [
        ("batch", _("the recipe's own water")),
        ("open", _("the open recipe's water: {name}").format(name=own) if own else _("the open recipe's water")),
        ("pure", _("pure water")),
    ]


def kept_water(name: str) -> str:
    """Return the reservoir's own water in that choice."""
    return _("its own: {name}").format(name=name) if name else _("its own water")


def pure_water_name() -> str:
    """Return what pure water is called."""
    return _("Pure water")


def save_reservoir(new: bool) -> str:
    """Return the button that ends the form."""
    return _("Add it") if new else _("Change it")


def cancel() -> str:
    """Return the button that gives up."""
    return _("Cancel")


def name_missing() -> str:
    """Return why a reservoir without a name is not taken."""
    return _("It needs a name.")


def name_taken(name: str) -> str:
    """Return why a name is not taken."""
    return _('There is a reservoir "{name}" already.').format(name=name)


def volume_missing() -> str:
    """Return why a reservoir without a volume is not taken."""
    return _("It needs a volume.")


def empty_title() -> str:
    """Return the heading while there is no reservoir."""
    return _("A diary for each reservoir")


def empty_text() -> str:
    """Return what the logbook is for."""
    return _(
        "Write down once a day what went in and what the meters say: it takes less than a minute. The program "
        "foretells what they should say, tells you why they differ, and what your crop took up between two "
        "laboratory reports."
    )


def empty_button() -> str:
    """Return the one thing to do while there is no reservoir."""
    return _("Add the first reservoir")


def no_batch() -> str:
    """Return why there are no fields for the parts."""
    return _("No batch is in the logbook yet, so what is poured cannot be counted.")


def take_planned() -> str:
    """Return the button that takes the open recipe's tanks as mixed."""
    return _("I mixed the open recipe as planned")


def planned_note() -> str:
    """Return the note of a batch that was taken as planned."""
    return _("taken as planned, not weighed in the program")


def batch_choice(batch: MadeBatch, *, titled: bool) -> str:
    """Return a batch in a choice; `titled` where batches of several recipes are in it."""
    if not titled:
        return _("mixed {date}").format(date=batch.mixed_on[:10])
    return _("{date}: {title}").format(title=batch.recipe.title or batch.batch_id, date=batch.mixed_on[:10])


def batches_title() -> str:
    """Return the title over the batches."""
    return _("Batches mixed")


def batch_line(batch: MadeBatch) -> str:
    """Return a batch in a line."""
    mark = _(", mark {mark}").format(mark=batch.mark) if batch.mark else ""
    return _("{date}: {title}{mark}").format(
        date=batch.mixed_on[:10], title=batch.recipe.title or batch.batch_id, mark=mark
    )


def weighed_line(product: str, tank: str, weighed_g: float, planned_g: float) -> str:
    """Return one product of a batch: what went in, and what was planned where that is another weight."""
    grams = format_short(weighed_g, 4)
    if abs(weighed_g - planned_g) <= 0.001 * max(planned_g, weighed_g):
        return _("{tank}: {product}, {grams} g").format(tank=figures.capital(tank), product=product, grams=grams)
    return _("{tank}: {product}, {grams} g; planned {planned} g").format(
        tank=figures.capital(tank), product=product, grams=grams, planned=format_short(planned_g, 4)
    )


def filled_line(tank: str, litres: float) -> str:
    """Return what a tank was filled to."""
    return _("{tank}: filled to {litres} L").format(tank=figures.capital(tank), litres=format_short(litres, 4))


def no_batches() -> str:
    """Return what stands there while no batch was mixed."""
    return _("None yet. Weigh-out puts a batch here when it is mixed.")


def refused(reason: str) -> str:
    """Return why an entry or a figure was not taken."""
    return _("Not taken: {reason}.").format(reason=reason.rstrip("."))
