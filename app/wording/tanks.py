"""The sentences of the Tanks surface: why a salt stands where it does, what is close to settling, what may change."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from app.wording import figures
from app.wording.language import gettext as _
from app.wording.language import marked
from app.wording.numbers import format_decimals, format_short
from app.wording.words import joined, solid_word, tank_title

if TYPE_CHECKING:
    from core.plan.records import NearSolid, Tank
    from core.plan.together import Together

REASONS = {
    "pinned": marked("Pinned here; everything else is placed around it."),
    "shared": marked("Half of it stands in each of two tanks, so that neither comes near to settling."),
    "free": marked("It goes with anything; here the tanks stay clearest and weigh most alike."),
    "silicate-alone": marked("Silicate turns to jelly beside anything else, so it stands alone and is dosed first."),
    "calcium-apart": marked("Calcium keeps apart from phosphate and sulfate: together they set like plaster."),
    "apart-from-calcium": marked("Phosphate and sulfate keep apart from calcium: together they set like plaster."),
    "base-apart": marked("A base would drop magnesium, trace metals and phosphate, so it stands by itself."),
    "acid-with-phosphate": marked("Acid suits phosphate and sulfate: it keeps magnesium phosphate dissolved."),
    "acid-with-calcium": marked("Acid may stand with calcium here, as no chelate of this tank is harmed by it."),
    "acid-apart": marked("Acid stands by itself, as it would harm what stands in the other tanks."),
    "chelate-with-calcium": marked("Chelated metals stand with calcium, away from phosphate and from acid."),
    "chelate-apart-from-acid": marked("Chelated metals stand away from the acid, which would take the metal out."),
    "chelate-anywhere": marked("Chelated metals harm nothing here, and no acid is near."),
    "metal-away-from-calcium": marked("This metal salt brings sulfate, so it keeps away from calcium."),
    "sulfate-under-gypsum-limit": marked(
        "Its sulfate is so little that calcium takes it: less than 10 mmol in a litre of concentrate."
    ),
    "iron-away-from-phosphate": marked("Unchelated iron keeps away from phosphate, with which it would settle."),
    "iron-beside-phosphate": marked("Unchelated iron would better not meet phosphate, but every tank has some."),
    "trace-anywhere": marked("A trace of it goes with anything."),
    "no-better-place": marked("It clashes with something in here, and no tank would be better."),
}
"""Why a product stands in its tank, by the code of the split."""

RULES = {
    "calcium-phosphate": marked("calcium meets phosphate"),
    "calcium-sulfate": marked("calcium meets sulfate"),
    "chelate-acid": marked("a chelate meets strong acid"),
    "silicate-alone": marked("silicate is not alone"),
    "base-acid": marked("a base meets acid"),
    "base-ammonium": marked("a base meets ammonium and drives off ammonia"),
    "base-chelate": marked("a base meets a chelate"),
    "base-hardness": marked("a base meets calcium or magnesium"),
    "base-metals": marked("a base meets unchelated trace metals"),
    "base-phosphate": marked("a base raises the pH of phosphate"),
    "magnesium-phosphate": marked("magnesium meets a phosphate above pH 5"),
}
"""What is wrong inside a tank, by the code of the broken rule."""

EDITS = {
    "ratio": marked("dilution of the tanks"),
    "tank_volume_l": marked("tank volume"),
    "temperature_c": marked("temperature of the tanks"),
    "coldest_c": marked("coldest temperature"),
    "fill_water": marked("water the tanks are filled with"),
}

LABELS = {
    "ratio": marked("Strength, 1 in"),
    "tank_volume_l": marked("Each tank, L"),
    "temperature_c": marked("Room now, °C"),
    "coldest_c": marked("Coldest night, °C"),
    "fill_water": marked("Filled up with"),
}

MOST_GRAMS = 1000.0


def reason(code: str) -> str:
    """Return why a product stands in its tank."""
    return _(REASONS[code]) if code in REASONS else code


def moved_reason(source: str | None, code: str) -> str:
    """Return why a product stands in its tank, and first that an edit moved it, where it came from another."""
    if source is None:
        return reason(code)
    return _("Your last change moved it here from the {tank}. {reason}").format(
        tank=tank_title(source), reason=reason(code)
    )


def brought_along(leader: str) -> str:
    """Return why a product is pinned that the program pinned, so that a moved one stands beside it."""
    return _("Pinned by the program, so that {product} could move in beside it; it goes free again with that.").format(
        product=figures.within(figures.name_parts(leader)[0])
    )


def came() -> str:
    """Return the mark of a product that the last edit moved to this tank."""
    return _("moved here")


def broken(codes: Sequence[str]) -> str:
    """Return what is wrong inside a tank, or nothing."""
    if not codes:
        return ""
    return _("Broken rule: {rules}.").format(
        rules=joined([_(RULES[code]) if code in RULES else code for code in codes])
    )


def label(name: str) -> str:
    """Return the label of a control."""
    return _(LABELS[name])


def edit(name: str) -> str:
    """Return what the menu calls an edit of a control."""
    return _(EDITS[name])


def controls_name() -> str:
    """Return what a screen reader calls the controls."""
    return _("How strong, how much, how cold")


def fill_waters() -> list[tuple[str, str]]:
    """Return what tanks may be filled up with, by key."""
    return [("pure", _("pure water")), ("recipe", _("the recipe's water"))]


def same_as_now() -> str:
    """Return what holds while no coldest night is entered."""
    return _("as now")


def step_hint(steps: Sequence[int | None], ratio: float) -> str:
    """Return how the tanks stand to the ratios injectors are built for; `steps` one per tank that has a limit."""
    if not steps:
        return _("Nothing in these tanks limits their strength.")
    if None in steps:
        return _("No injector step is weak enough to keep every tank clear.")
    step = min(step for step in steps if step is not None)
    if step > ratio:
        return _("Strongest injector step that stays clear: 1 in {step}.").format(step=step)
    if step == ratio:
        return _("This is the strongest injector step that stays clear.")
    return _("Next injector step that stays clear: 1 in {step}.").format(step=step)


def use_step(step: int) -> str:
    """Return the button that takes an injector step."""
    return _("Use 1 in {step}").format(step=step)


def poured(ml_per_l: float, fl_oz_per_gallon: float) -> str:
    """Return how a tank is poured."""
    return _("{ml} mL per litre of finished feed ({fl_oz} fl oz per US gallon)").format(
        ml=format_short(ml_per_l), fl_oz=format_short(fl_oz_per_gallon)
    )


def facts(tank: Tank) -> str:
    """Return a tank's pH, density and how much water is in it."""
    parts = []
    if tank.ph is not None:
        parts.append(_("pH about {ph}").format(ph=format_decimals(tank.ph, 1)))
    if tank.density_kg_per_l is not None and tank.water_kg is not None:
        parts.append(_("{density} kg/L").format(density=format_decimals(tank.density_kg_per_l, 3)))
        parts.append(_("{water} kg of water in it").format(water=format_short(tank.water_kg)))
    return "   ".join(parts)


def comes_out(tank: Tank) -> str:
    """Return what leaves a tank, or nothing where it stays clear."""
    if not tank.settling:
        return ""
    solids = [_solid_within(solid) for solid in tank.settling]
    if "settles" in (tank.verdict, tank.cold_verdict):
        return _("Comes out: {solids}").format(solids=joined(solids))
    return _("May come out: {solids}").format(solids=joined(solids))


def _solid_within(solid: str) -> str:
    return figures.within(figures.name_parts(solid_word(solid))[0])


def strongest(tank: Tank, *, named: bool = True) -> str:
    """Return how strong a tank may be made, and what is wrong inside it where something is.

    Named with what sets it, where that is known and there is room for it.
    """
    parts = [broken(tank.broken)]
    if tank.clear_ratio is not None and tank.clear_ratio >= 1.0 and tank.clear_limited_by and named:
        parts.append(
            _("Surely clear up to 1 in {ratio}, set by {solid}").format(
                ratio=whole(tank.clear_ratio), solid=_solid_within(tank.clear_limited_by)
            )
        )
    elif tank.clear_ratio is not None and tank.clear_ratio >= 1.0:
        parts.append(_("Surely clear up to 1 in {ratio}").format(ratio=whole(tank.clear_ratio)))
    elif tank.clear_ratio is not None:
        parts.append(_("Not clear at any strength"))
    return " ".join(part for part in parts if part)


def whole(ratio: float) -> str:
    """Return a ratio rounded down, so that it never promises more than was found: 411.9 -> 411."""
    return str(int(ratio)) if ratio >= 1.0 else format_short(ratio, 2)


def near_heading(coldest_c: float) -> tuple[str, str]:
    """Return what stands over the bars to saturation: for which room, and what the right column tells."""
    return (
        _("Closest to settling on the coldest night, {coldest_c} °C").format(coldest_c=format_short(coldest_c)),
        _("comes out at"),
    )


def near_name(near: NearSolid) -> str:
    """Return the solid of a bar."""
    return figures.capital(figures.name_parts(solid_word(near.solid))[0])


def near_ratio(near: NearSolid) -> str:
    """Return the strength at which a solid comes out."""
    return _("1 in {ratio}").format(ratio=whole(near.ratio_limit))


def near_text(near: NearSolid) -> str:
    """Return in words what a bar draws."""
    return _("{solid}: {percent} % of the way, comes out at 1 in {ratio}").format(
        solid=near_name(near), percent=format_short(100 * near.fullness, 2), ratio=whole(near.ratio_limit)
    )


def nothing_near() -> str:
    """Return what stands in place of the bars where nothing could settle."""
    return _("Nothing in here could settle.")


def share(part: float) -> str:
    """Return how much of a product stands in a tank, where it is not all of it."""
    return _("{percent} % of it").format(percent=format_short(100 * part, 3)) if part < 1.0 else ""


def row_name(product: str, weight: str, part: float, pinned: bool, moved: bool = False) -> str:
    """Return what a screen reader calls a row of a tank."""
    parts = [product, weight, share(part), _("pinned here") if pinned else "", came() if moved else ""]
    return ", ".join(one for one in parts if one)


def why_hint() -> str:
    """Return what stands where reasons are told while nothing is pointed at."""
    return _("Point at a salt to see why it stands here. Drag it to another tank, or press Ctrl+Shift+Left or Right.")


def move_to(content: str | None) -> str:
    """Return the command that moves a salt to a tank, or to one of its own."""
    return _("Move to a tank of its own") if content is None else _("Move to {tank}").format(tank=tank_title(content))


def pin_here() -> str:
    """Return the command that keeps a salt where it is."""
    return _("Keep it here")


def release() -> str:
    """Return the command that gives the choice of tank back to the program."""
    return _("Let the program choose the tank")


def move_edit(product: str) -> str:
    """Return what the menu calls moving a salt to a tank."""
    return _("tank of {product}").format(product=product)


def together_link() -> str:
    """Return the question the last line answers."""
    return _("What if everything went into one tank?")


def together_words(found: Together | None, volume_l: float) -> str:
    """Return what would settle if all products shared a tank, or if the tanks met undiluted."""
    if found is None:
        return _("There is only one tank.")
    volume = format_short(volume_l, 4)
    if found.one_tank.gypsum_g_per_l <= 0.0:
        if found.one_tank.verdict == "clear":
            return _("One {volume} L tank would stay clear with everything in it.").format(volume=volume)
        solids = joined([solid_word(solid) for solid in found.one_tank.settling])
        return _("In one {volume} L tank this would come out: {solids}.").format(volume=volume, solids=solids)
    one = _(
        "In one {volume} L tank {grams} of calcium sulfate would lie on the floor, with {percent} % of the calcium."
    ).format(
        volume=volume, grams=_mass(found.one_tank.gypsum_g), percent=format_short(100 * found.one_tank.calcium_lost, 2)
    )
    if found.poured.gypsum_g_per_l <= 0.0:
        return one
    return (
        one
        + " "
        + _(
            "Poured together undiluted, every litre of the mixture would still drop {grams}: let each tank meet plenty "
            "of water first, and stir before the next."
        ).format(grams=_mass(found.poured.gypsum_g_per_l))
    )


def _mass(grams: float) -> str:
    if grams >= MOST_GRAMS:
        return _("{number} kg").format(number=format_short(grams / MOST_GRAMS, 2))
    return _("{number} g").format(number=format_short(grams, 2))
