"""The command `adapt`: a recipe for another crop or water, or from tanks already mixed, as a new recipe."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Any

from app.headless.input import read
from app.headless.output import BadInput, visible, write
from app.headless.plan import open_recipe, plan_json
from app.session import adapting
from app.wording.language import gettext as _

if TYPE_CHECKING:
    from core.blend.adapt import Adapted
    from core.plan.comparison import Differing
    from core.plan.records import Plan
    from core.recipe import Recipe
    from core.recipe.records import Water


def adapt_command(
    file: str,
    *,
    crop: str | None = None,
    water: str | None = None,
    tanks: str | None = None,
    output: str | None = None,
    as_json: bool = False,
) -> int:
    """Adapt a recipe, say what changes, save it where asked, and return the exit status.

    Crop and water may be changed together, and from tanks of another recipe, or of this very one.

    Raises
    ------
    BadInput : nothing to adapt to, a file that cannot be read, an unknown crop, an output that exists already.
    """
    from core.plan import derive
    from core.plan.comparison import difference, variant, variant_of

    if crop is None and water is None and tanks is None:
        raise BadInput("adapt to what? Give --crop, --water or --from-tanks (try: saltwright adapt --help)")
    parent = open_recipe(file)
    adapted = _adapt(parent, crop, water, tanks)
    planned = derive(adapted.recipe, adapted.blend)
    changes = difference(variant(parent), variant_of(adapted.recipe, adapted.blend, planned))
    if output is not None:
        _save(output, adapted.recipe)
    write(_json(adapted, planned, changes) if as_json else _text(adapted, planned, changes, output))
    return 1 if any(caution.level == "stop" for caution in planned.cautions) else 0


def _adapt(parent: Recipe, crop: str | None, water: str | None, tanks: str | None) -> Adapted:
    from app.wording.compare import from_tanks_words
    from core.blend import adapt
    from core.catalog import UnknownCrop

    adapted, about = None, []
    recipe = parent
    try:
        if crop is not None:
            adapted = adapt.for_crop(recipe, crop)
            recipe, about = adapted.recipe, [crop]
    except (UnknownCrop, ValueError) as refusal:
        raise BadInput(str(refusal)) from None
    if water is not None:
        adapted = adapt.for_water(recipe, open_water(water))
        recipe, about = adapted.recipe, [*about, adapting.water_name(adapted.recipe.water)]
    if tanks is not None:
        try:
            adapted = adapting.from_tanks(recipe, parent if tanks == "-" else open_recipe(tanks))
        except adapting.NoTanks:
            raise BadInput("that recipe plans no tanks, so there are none to start from") from None
        about = [*about, from_tanks_words()]
    assert adapted is not None
    return adapting.titled(adapted, parent, about)


def open_water(file: str) -> Water:
    """Open a water report: a JSON object with `mg_per_l`, or a recipe, whose water is taken.

    Raises
    ------
    BadInput : it cannot be read or is refused.
    """
    from core.recipe import RecipeError
    from core.recipe.strict_json import MAX_BYTES

    try:
        return adapting.read_water(read(file, MAX_BYTES), file)
    except RecipeError as error:
        raise BadInput(str(error)) from None


def _save(output: str, recipe: Recipe) -> None:
    """Write a new file; one that exists is never replaced."""
    from core.recipe import RecipeError, check, dumps

    try:
        check(recipe)
        with Path(output).open("xb") as opened:
            opened.write(dumps(recipe))
    except RecipeError as error:
        raise BadInput(str(error)) from None
    except FileExistsError:
        raise BadInput(f"{output}: exists already; give another name") from None
    except (OSError, ValueError) as error:
        raise BadInput(f"{output}: cannot be written: {error}") from None


def _json(adapted: Adapted, planned: Plan, changes: tuple[Differing, ...]) -> str:
    from msgspec import to_builtins

    from app.wording.compare import differing_text
    from core.recipe import dumps

    document: dict[str, Any] = {
        "parent": adapted.parent,
        "recipe": json.loads(dumps(adapted.recipe)),
        "in_range": adapted.in_range,
        "doses": to_builtins(adapted.doses),
        "supplements": list(adapted.supplements),
        "kept_traces": list(adapted.kept_traces),
        "differences": [{**to_builtins(one), "text": differing_text(one)} for one in changes],
        "plan": json.loads(plan_json(planned)),
    }
    return json.dumps(document, indent=1, allow_nan=False) + "\n"


def _text(adapted: Adapted, planned: Plan, changes: tuple[Differing, ...], output: str | None) -> str:
    from msgspec.structs import replace

    from app.headless.plan_text import plan_text
    from app.wording.compare import adapted_text, added_text, differing_text, dose_text

    lines = [adapted.recipe.title, "", adapted_text(adapted), *(dose_text(dose) for dose in adapted.doses)]
    if adapted.doses:  # mixed tanks are dosed, not weighed into new ones
        lines += [added_text(a.entry_id, a.mg_per_l) for a in planned.amounts if a.entry_id in adapted.supplements]
        planned = replace(planned, tanks=())
    lines.append("")
    lines += [_("What changes:"), *(f"  {differing_text(one)}" for one in changes)]
    if output is not None:
        lines += ["", _("Saved as {name}.").format(name=output)]
    return "\n".join(visible(line) for line in lines) + "\n\n" + plan_text(planned)
