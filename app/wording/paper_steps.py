"""The sentences of the steps: filling a tank, and dosing from it."""

from __future__ import annotations

from collections.abc import Sequence

from app.wording.language import gettext as _
from app.wording.language import marked

STEP_SENTENCES = {
    "part-fill-warm": marked("Fill the tank to {level} with warm water, about {warm}."),
    "part-fill-cool": marked("Fill the tank to {level} with cool water."),
    "part-fill": marked("Fill the tank to {level} with water."),
    "acid": marked("Add {products} slowly, stirring: acid into water, never water into acid."),
    "base": marked("Stir in {products} slowly: eyes and hands covered, little by little."),
    "silicate": marked("Stir in {products}. Nothing else goes into this tank."),
    "sulfates": marked("Stir in {products} until clear."),
    "nitrates": marked("Stir in {products} until clear."),
    "phosphates": marked("Stir in {products} until clear."),
    "others": marked("Stir in {products} until clear."),
    "blends": marked("Stir in {products} until nothing is left on the bottom."),
    "cup": marked("Dissolve in a cup of warm water, one by one, and pour in: {products}."),
    "bottle": marked("Pour in from the trace bottle: {products}."),
    "chelates": marked("Last, {products}."),
    "rinse": marked("Rinse cups and scoops into the tank."),
    "fill": marked("Only now fill to the {volume} mark. Stir, put the lid on."),
    "keep": marked("Stick on the label. Shake or stir before each use."),
    "seal": marked("Close the bags at once, they draw water from the air: {products}."),
    "dose-water": marked("Fill the reservoir nearly full and let it stir."),
    "dose-silicate": marked("First the silicate, on its own: stir until it is spread."),
    "dose-acid": marked("Then the acid, slowly into the moving water: {acids}."),
    "dose-parts": marked("Then equal volumes of {tanks}, stirring in between: four fifths of the dose first."),
    "dose-read": marked("Wait, read the EC, and add the rest in proportion to what it has risen."),
    "dose-ph": marked("Fill up, read again. Only when the EC is right look at the pH, in small steps."),
    "dose-acid-last": marked("Fill up, read again. Only when the EC is right the acid, in small steps: {acids}."),
}
"""Step code -> its sentence."""

REMARKS = {
    "cools": marked("(it cools the water)"),
    "heats": marked("(it heats the water)"),
}

DARK = marked("Keep it dark.")
DARK_ABOVE = marked("Keep it dark, not below {cold}.")
ABOVE = marked("Do not let it stand below {cold}.")


def in_turn(names: Sequence[str]) -> str:
    """Return products in the order they go in: "a, then b, then c"."""
    return _(", then ").join(names)


def step_sentence(code: str, **blanks: str) -> str:
    """Return the sentence of a step with its blanks filled."""
    return _(STEP_SENTENCES[code]).format(**blanks)


def remark(mark: str) -> str:
    """Return a remark on a step, or nothing for a mark that is no remark."""
    return _(REMARKS[mark]) if mark in REMARKS else ""


def keep_sentence(*, dark: bool, cold: str | None) -> str:
    """Return how the tank is to stand, or nothing."""
    if dark:
        return _(DARK) if cold is None else _(DARK_ABOVE).format(cold=cold)
    return "" if cold is None else _(ABOVE).format(cold=cold)
