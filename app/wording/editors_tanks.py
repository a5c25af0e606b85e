"""The sentences of the editor of tanks and scales."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.wording import figures
from app.wording.language import gettext as _
from app.wording.language import marked
from app.wording.phrases import dilution_text
from app.wording.words import tank_title

if TYPE_CHECKING:
    pass

TANK_LABELS = {
    "count": marked("Tanks"),
    "ratio": marked("Of each, per litre of feed"),
    "temperature_c": marked("They stand at"),
    "coldest_c": marked("On the coldest night"),
    "tank_volume_l": marked("Each holds"),
}


def tank_label(name: str) -> str:
    """Return the label of a field of the tanks."""
    return _(TANK_LABELS[name])


def tank_count(number: int) -> str:
    """Return a number of tanks."""
    return _("one") if number == 1 else str(number)


def poured(ratio: float) -> str:
    """Return a dilution in words that cannot be read two ways."""
    return figures.capital(dilution_text(ratio)) + "."


def same() -> str:
    """Return what holds while the coldest temperature is empty."""
    return _("the same")


def acid_label() -> str:
    """Return the label of where acid goes."""
    return _("Acid goes into")


def acid_places() -> list[tuple[str, str]]:
    """Return where acid may go."""
    return [
        ("", _("whatever the plan finds right")),
        ("water", _("the water, before anything else")),
        ("tank", _("a tank")),
        ("reservoir", _("the reservoir, last")),
    ]


def pins_title() -> str:
    """Return the words that unfold the pins."""
    return _("Pin a product to a tank")


def pins_intro() -> str:
    """Return what pins are for."""
    return _("The plan places every product so that the tanks stay clear. Pin one only if you must.")


def tank_any() -> str:
    """Return the choice of no pin."""
    return _("as planned")


def tank_named(letter: str, content: str | None) -> str:
    """Return a tank by what it holds, its letter behind."""
    return _("tank {letter}").format(letter=letter) if content is None else f"{tank_title(content)} ({letter})"


TANK_EDITS = {
    "count": marked("number of tanks"),
    "ratio": marked("dilution of the tanks"),
    "temperature_c": marked("temperature of the tanks"),
    "coldest_c": marked("coldest temperature"),
    "tank_volume_l": marked("tank volume"),
    "acid_into": marked("place of the acid"),
    "scales": marked("scales"),
    "pins": marked("pinned product"),
}


def tanks_edit(name: str) -> str:
    """Return what the menu calls an edit of the tanks."""
    return _(TANK_EDITS[name])


def scales_title() -> str:
    """Return the title over the scales."""
    return _("Scales at hand")


def scale_parts() -> tuple[str, str]:
    """Return the labels of a scale's two figures."""
    return _("carries"), _("in steps of")


def scale_field(number: int, part: str) -> str:
    """Return what a screen reader calls a field of a scale."""
    return _("Scale {number} {part}, g").format(number=number, part=part)


def half_a_scale() -> str:
    """Return what a scale still lacks."""
    return _("A scale needs both what it carries and the step it shows.")
