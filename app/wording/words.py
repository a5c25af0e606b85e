"""The words for what the engine only names by a code: nutrients, salts, tanks, verdicts, solids."""

from __future__ import annotations

from app.wording.language import gettext as _
from app.wording.language import marked

NUTRIENT_WORDS = {
    "N": marked("nitrogen"),
    "NO3-N": marked("nitrate nitrogen"),
    "NH4-N": marked("ammonium nitrogen"),
    "urea-N": marked("urea nitrogen"),
    "P": marked("phosphorus"),
    "K": marked("potassium"),
    "Ca": marked("calcium"),
    "Mg": marked("magnesium"),
    "S": marked("sulfur"),
    "Fe": marked("iron"),
    "Mn": marked("manganese"),
    "Zn": marked("zinc"),
    "B": marked("boron"),
    "Cu": marked("copper"),
    "Mo": marked("molybdenum"),
    "Si": marked("silicon"),
    "Na": marked("sodium"),
    "Cl": marked("chloride"),
    "alkalinity": marked("alkalinity"),
}

TANK_TITLES = {
    "calcium": marked("calcium side"),
    "phosphate": marked("phosphate side"),
    "sulfate": marked("sulfate side"),
    "acid": marked("acid"),
    "silicate": marked("silicate"),
    "plain": marked("free salts"),
    "everything": marked("everything together"),
    "calcium-phosphate": marked("calcium and phosphate side"),
    "calcium-sulfate": marked("calcium and sulfate side"),
}

VERDICT_WORDS = {
    "clear": marked("stays clear"),
    "doubtful": marked("may settle"),
    "settles": marked("settles out"),
    "met": marked("met"),
    "fine": marked("fine"),
    "short": marked("short"),
    "over": marked("over"),
}

LEVEL_WORDS = {"note": marked("note"), "check": marked("check"), "stop": marked("stop")}

PLACE_WORDS = {"water": marked("the water, before anything else"), "reservoir": marked("the reservoir")}

SOLID_WORDS = {
    "gypsum": marked("calcium sulfate"),
    "syngenite": marked("potassium calcium sulfate"),
    "picromerite": marked("potassium magnesium sulfate"),
    "brushite": marked("calcium phosphate"),
    "newberyite": marked("magnesium phosphate"),
    "struvite": marked("magnesium ammonium phosphate"),
    "k-struvite": marked("magnesium potassium phosphate"),
    "calcite": marked("lime"),
    "amorphous-silica": marked("silica gel"),
    "calcium-chloride-hexahydrate": marked("calcium chloride"),
    "manganese-sulfate-pentahydrate": marked("manganese sulfate"),
    "silica": marked("silica gel"),
    "carbonate": marked("carbonates of calcium and magnesium"),
    "hydroxide": marked("hydroxides of the trace metals"),
    "phosphate": marked("phosphates"),
    "chelate": marked("the chelated metal"),
    "foam": marked("foam of acid and base"),
    "ammonia": marked("ammonia gas"),
}

WATER_WORDS = {"water": marked("the water"), "second_water": marked("the second water")}

WHY_PH_MISSED = {
    "residual": marked("the alkalinity to be left rules over it. Take one of the two out of the aim"),
    "no-acid": marked("no acid on the shelf may bring it down. Put one there, or blend in purer water"),
    "no-base": marked("no base on the shelf may bring it up. Put one there, such as potassium bicarbonate"),
    "held-back": marked("a limit or another target holds acid or base back. Free it, or aim for another pH"),
    "rounds": marked("acid and feed did not come to agree. Try another acid, or state the alkalinity to be left"),
}

BLEND_PREFIX = "blend:"


def nutrient_word(nutrient: str) -> str:
    """Return the word for a nutrient's symbol: "NO3-N" -> "nitrate nitrogen"; a symbol without a word stays."""
    return _(NUTRIENT_WORDS[nutrient]) if nutrient in NUTRIENT_WORDS else nutrient


def tank_title(content: str) -> str:
    """Return what a tank is called by what it holds: "calcium" -> "calcium side"."""
    return _(TANK_TITLES[content]) if content in TANK_TITLES else content


def verdict_word(verdict: str) -> str:
    """Return the word for a verdict on a tank or on a nutrient: "doubtful" -> "may settle"."""
    return _(VERDICT_WORDS[verdict]) if verdict in VERDICT_WORDS else verdict


def level_word(level: str) -> str:
    """Return the word for how grave a caution is: note, check, stop."""
    return _(LEVEL_WORDS[level]) if level in LEVEL_WORDS else level


def place_word(place: str) -> str:
    """Return where acid goes when it goes into no tank: "water", "reservoir"; a tank's own name stays."""
    return _(PLACE_WORDS[place]) if place in PLACE_WORDS else place


def solid_word(solid: str) -> str:
    """Return the common word for a solid, or the word for a salt, or the name as given."""
    return _(SOLID_WORDS[solid]) if solid in SOLID_WORDS else salt_in_sentence(solid)


def salt_name(salt_id: str) -> str:
    """Return a product's name: of the catalog for its salts, its own for a bought blend."""
    from core.catalog import salts

    if salt_id.startswith(BLEND_PREFIX):
        return salt_id.removeprefix(BLEND_PREFIX).strip() or _("unnamed blend")
    known = salts().get(salt_id)
    return salt_id if known is None else _(known.name)


def salt_in_sentence(salt_id: str) -> str:
    """Return a product's name as it stands inside a sentence: "nitric acid"; what its owner named it stays as it is."""
    name = salt_name(salt_id)
    if name == salt_id or salt_id.startswith(BLEND_PREFIX) or not name[1:2].islower():
        return name
    return name[:1].lower() + name[1:]


def water_word(which: str) -> str:
    """Return what a water of the recipe is called inside a sentence."""
    return _(WATER_WORDS[which]) if which in WATER_WORDS else which


BECAUSE_SHORT = {
    "no-source": marked("Nothing on the shelf brings it: put a source of it there, or take the target out."),
    "held": marked("The amounts you stated hold it back: raise or free them, or look for another source of it."),
    "rest": marked(
        "The shelf cannot bring more without upsetting the rest: look for another source of it, or widen its range."
    ),
}


def because_short(code: str) -> str:
    """Return why a target is not reached, and what to do about it."""
    return _(BECAUSE_SHORT[code])


def why_ph_missed(why: str) -> str:
    """Return why a pH was missed and what to do about it, the rest of a sentence."""
    return _(WHY_PH_MISSED[why]) if why in WHY_PH_MISSED else why


def catalog_words(text: str) -> str:
    """Return one of the catalog's own texts, such as a hazard or what to wear."""
    return _(text) if text else ""


def crop_words(crop: str, stage: str) -> tuple[str, str]:
    """Return the catalog's words for a crop and its stage, which may have none."""
    return catalog_words(crop), catalog_words(stage)


def crop_in_sentence(crop: str) -> str:
    """Return a crop named as "tomato, fruiting" in the catalog's words."""
    name, _comma, stage = crop.partition(", ")
    return ", ".join(filter(None, crop_words(name, stage)))


def joined(names: list[str] | tuple[str, ...]) -> str:
    """Return names as a list in a sentence: "potassium, calcium and iron"."""
    if len(names) < 2:
        return "".join(names)
    return _("{first} and {last}").format(first=", ".join(names[:-1]), last=names[-1])
