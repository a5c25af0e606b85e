"""The words around the steps of the Feed surface: fields, choices, buttons, cards, the diary."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.wording import feed
from app.wording.language import gettext as _
from app.wording.language import marked
from app.wording.words import joined, tank_title

if TYPE_CHECKING:
    from core.bench.meter import Meter
    from core.logbook.records import MadeBatch
    from core.plan.feeding_records import Feeding, Pour
    from core.units.formats import System

LABELS = {
    "reservoir": marked("Reservoir"),
    "tanks": marked("Tanks"),
    "water": marked("Water"),
    "volume": marked("Volume"),
    "volume_is": marked("which is"),
    "holds": marked("It holds"),
    "wanted": marked("Wanted EC"),
    "scale": marked("Meter shows"),
    "compensates": marked("and it"),
    "temperature": marked("at"),
    "ph": marked("Wanted pH"),
    "acid": marked("with"),
    "strength": marked("strength"),
}

MODES = {
    "dose": marked("Dose it"),
    "topup": marked("Top it up"),
    "injector": marked("Injector and bleed"),
}


def label(name: str) -> str:
    """Return what a field or choice is called."""
    return _(LABELS[name])


def modes() -> list[tuple[str, str]]:
    """Return the three things done at a reservoir."""
    return [(key, _(text)) for key, text in MODES.items()]


def no_reservoir() -> str:
    """Return the choice of no reservoir of the logbook."""
    return _("none of the logbook")


def planned_tanks() -> str:
    """Return the choice of the open recipe's tanks, which are only planned."""
    return _("as this recipe plans them")


def batch(made: MadeBatch) -> str:
    """Return the choice of tanks that were mixed."""
    return _("{title}, mixed {date}").format(title=made.recipe.title or made.batch_id, date=made.mixed_on)


def own_water(name: str) -> str:
    """Return the choice of the recipe's own water."""
    return name or _("the recipe's water")


def volume_ways() -> list[tuple[str, str]]:
    """Return what a volume may be."""
    return [("start", _("in it now")), ("finished", _("when finished"))]


def contents() -> list[tuple[str, str]]:
    """Return what may be in the reservoir."""
    return [("water", _("fresh water")), ("feed", _("this feed, what is left"))]


def compensations() -> list[tuple[str, str]]:
    """Return what a meter does with the temperature."""
    return [("yes", _("brings it to 25 °C")), ("no", _("shows it as it is"))]


def no_temperature() -> str:
    """Return why a temperature is not taken."""
    return _("Readings are brought to 25 °C from 0 to 50 °C.")


def title(reservoir: str, told: Feeding | None, system: System, volume_l: float | None) -> str:
    """Return the surface's head: which reservoir and how much is in it."""
    name = reservoir or _("The reservoir")
    litres = told.volume_l if told is not None and told.now > 0 else volume_l
    if litres is None:
        return name
    return _("{reservoir}, {volume}").format(reservoir=name, volume=feed.volume(litres, system))


def take_back() -> str:
    """Return the button that takes the last step back."""
    return _("Take the last step back")


def start_over() -> str:
    """Return the button that begins anew."""
    return _("Start over")


def poured_button(kind: str) -> str:
    """Return the button that says a step was done as told."""
    return {"add-water": _("Added"), "finish": _("Write it down")}.get(kind, _("Poured"))


def another_amount() -> str:
    """Return the button that lets another amount be typed."""
    return _("I poured another amount…")


def another_water() -> str:
    """Return the button that lets another amount of water be typed."""
    return _("I added another amount…")


def as_told() -> str:
    """Return the button that gives up typing another amount."""
    return _("As told after all")


def take_reading() -> str:
    """Return the button that takes a reading."""
    return _("Take the reading")


def leave_out_ph() -> str:
    """Return the button that ends a dosing without a pH."""
    return _("Leave the pH")


def unbroken(text: str) -> str:
    """Return a sentence whose units are never broken over two lines."""
    return text.replace("S/cm", "S/\N{WORD JOINER}cm").replace(" ppm (", "\N{NO-BREAK SPACE}ppm\N{NO-BREAK SPACE}(")


def no_writing() -> str:
    """Return the button that ends a dosing without the diary."""
    return _("Next reservoir")


def reading_name(kind: str, scale: str) -> str:
    """Return what a screen reader calls the field of a reading."""
    return _("pH read") if kind == "read-ph" else _("EC read, {scale}").format(scale=scale)


def poured_name(content: str) -> str:
    """Return what a screen reader calls the field of a poured amount."""
    return _("Poured of the {part}").format(part=tank_title(content))


def of_part(content: str) -> str:
    """Return what stands behind the amount of a part."""
    return feed.part(content)


def step_name(number: int, title: str, text: str) -> str:
    """Return a step in words for screen readers."""
    return _("Step {number}: {title}. {text}").format(number=number, title=title, text=text).strip()


def stir_each(expected: str) -> str:
    """Return what to do with every part, before what should be read then."""
    return _("Stir after each. {expected}").format(expected=expected).strip()


def of_water() -> str:
    """Return what stands behind an amount of water."""
    return _("of water, stir")


def steps_title() -> str:
    """Return the title of the card of steps."""
    return _("Step by step")


def write_where() -> str:
    """Return the label of the choice of a diary to write into."""
    return _("Into the diary of")


def new_reservoir() -> str:
    """Return the choice of a reservoir that is new to the logbook."""
    return _("a new reservoir…")


def new_name() -> str:
    """Return the label of a new reservoir's name."""
    return _("its name")


def written(reservoir: str) -> str:
    """Return that it was written down."""
    return _("Written into the diary of {reservoir}.").format(reservoir=reservoir)


def not_on_disk() -> str:
    """Return that the logbook's file could not be written."""
    return _("The logbook's file could not be written: the entry stands in this window alone. Look at its disk.")


def write_label(reservoir: str) -> str:
    """Return what the menu calls writing an entry."""
    return _("dosing of {reservoir}").format(reservoir=reservoir)


def name_taken(name: str) -> str:
    """Return why a new reservoir cannot have this name."""
    return _("There is a reservoir {name} already: choose it, or name this one otherwise.").format(name=name)


def name_missing() -> str:
    """Return what is missing to write it down."""
    return _("Give the new reservoir a name.")


def note_of(told: Feeding, system: System, recipe_title: str) -> str:
    """Return what an entry notes of tanks that are no batch of the logbook."""
    parts = [feed.pours_text(_as_pours(told), system)] if told.parts_ml else []
    parts += [f"{feed.amount(drop, system)} {feed.product_within(drop)}" for drop in told.drops]
    if not parts:
        return ""
    return _("{amounts}; tanks of {recipe}, not in the logbook").format(
        amounts=joined(parts), recipe=recipe_title or _("a recipe")
    )


def _as_pours(told: Feeding) -> tuple[Pour, ...]:
    from core.plan.feeding_records import Pour as Poured

    content = {pour.name: pour.content for step in told.steps for pour in step.pours}
    return tuple(Poured(name, content.get(name, name), ml) for name, ml in told.parts_ml.items() if ml)


def recipe_changed() -> str:
    """Return that the recipe is another one than this dosing goes by."""
    return _("The recipe was changed meanwhile. This dosing goes on with the tanks as they stood.")


def with_new_recipe() -> str:
    """Return the button that begins anew with the changed recipe."""
    return _("Start over with the new one")


def no_tanks() -> str:
    """Return what stands there where the recipe plans no tanks."""
    return _("This recipe plans no tanks, so there is nothing to pour. Put salts on its shelf first.")


def working() -> str:
    """Return what stands there while the tanks are worked out."""
    return _("Working the tanks out…")


def finish_lines(told: Feeding, meter: Meter) -> list[tuple[str, str]]:
    """Return how the reservoir stands in the end: what is large, and what stands behind it."""
    lines = []
    if told.ec_ms_per_cm is not None:
        also = "" if meter.unit == "mS/cm" and meter.compensates else feed.ms_per_cm(told.ec_ms_per_cm)
        lines.append((feed.reading(told.ec_ms_per_cm, meter), also))
    if told.read_ph is not None:
        lines.append((feed.ph(told.read_ph), ""))
    return lines
