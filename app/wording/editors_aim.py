"""The sentences of the aim editor: crops, their sources, targets, columns."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.wording import figures
from app.wording.editors import HOW_KNOWN, HOW_KNOWN_SHORT
from app.wording.language import gettext as _
from app.wording.language import marked
from app.wording.numbers import format_short
from app.wording.refusals import what_is_wrong
from app.wording.words import catalog_words, crop_words, joined, nutrient_word

if TYPE_CHECKING:
    from core.catalog import CropProfile


def row_not_taken(nutrient: str, what: str, mend: str) -> str:
    """Return why a row of the aim is not in the recipe."""
    return _("{nutrient} {what}; {mend}.").format(
        nutrient=figures.capital(nutrient_word(nutrient)), what=what_is_wrong(what), mend=what_is_wrong(mend)
    )


def crop_search() -> str:
    """Return what a screen reader calls the search among crops."""
    return _("Take the targets of a crop")


def crop_hint() -> str:
    """Return the hint of the search among crops."""
    return _("From a crop: tomato, strawberry, lettuce …")


def crop_name(profile: CropProfile) -> str:
    """Return a profile's crop and stage."""
    return figures.capital(", ".join(crop_words(profile.crop, profile.stage)))


def source_name(key: str) -> str:
    """Return a source as author and year."""
    from core.catalog import sources

    source = sources().get(key)
    if source is None:
        return key
    return source.author if source.year is None else f"{source.author} {source.year}"


def profile_aside(profile: CropProfile) -> str:
    """Return a profile's source and how it is known, in brief."""
    mark = "▲ " if profile.known.how_known == "MEMORY" else ""
    return f"{mark}{_(HOW_KNOWN_SHORT[profile.known.how_known])} · {source_name(profile.known.source)}"


KINDS = {
    "recipe": marked("a solution to feed"),
    "uptake": marked("uptake per litre of water: for topping up, not for a first fill"),
    "range": marked("ranges"),
}


def profile_words(profile: CropProfile) -> str:
    """Return a profile in words: crop, source, kind, how it is known."""
    from core.catalog import sources

    source = sources().get(profile.known.source)
    where = "" if source is None else ", ".join(filter(None, (source.title, source.where)))
    head = f"{crop_name(profile)}: {source_name(profile.known.source)}"
    memory = "▲ " if profile.known.how_known == "MEMORY" else ""
    known = f"{memory}{_(HOW_KNOWN[profile.known.how_known])}"
    parts = (where, _(KINDS[profile.kind]), known, catalog_words(profile.known.note))
    return f"{head}. " + "; ".join(filter(None, parts)) + "."


def profile_head(profile: CropProfile) -> str:
    """Return the head of a profile's column: author, stage, how known, a line each."""
    author = source_name(profile.known.source).replace(" et al.", "").split(",")[0]
    mark = "▲ " if profile.known.how_known == "MEMORY" else ""
    stage = crop_words(profile.crop, profile.stage)[1]
    lines = (_shortened(author, 14), _shortened(stage, 14), mark + _(HOW_KNOWN_SHORT[profile.known.how_known]))
    return "\n".join(lines)


def _shortened(text: str, letters: int) -> str:
    return text if len(text) <= letters else text[: letters - 1].rstrip() + "…"


def sources_side_by_side() -> str:
    """Return what a screen reader calls the table of sources."""
    return _("Sources side by side, mg/L")


def sources_disagree(name: str) -> str:
    """Return that the sources are far apart."""
    return _("The sources disagree about {name} by more than a quarter.").format(name=figures.symbol(name))


def no_crop() -> str:
    """Return what stands in place of sources while the aim names no crop."""
    return _("No crop chosen: these targets are your own.")


def span(low: float | None, high: float | None, *, rise: bool = False) -> str:
    """Return a range: "1.2–1.6", or one figure, or a dash."""
    ends = list(dict.fromkeys(format_short(end) for end in (low, high) if end is not None))
    text = figures.DASH.join(ends) or figures.DASH
    return f"+{text}" if rise and ends else text


def crop_taken(count: int, kept_traces: tuple[str, ...]) -> str:
    """Return what was taken from a crop's profile and what was kept."""
    taken = _("{count} targets taken.").format(count=count)
    if not kept_traces:
        return taken
    names = joined([nutrient_word(name) for name in kept_traces])
    return f"{taken} " + _("The source does not name {names}: yours are kept.").format(names=names)


def aim_links() -> tuple[str, str, str]:
    """Return the words that paste and copy a column and unfold the weights."""
    return _("Paste a column"), _("Copy the column"), _("Weights and more")


AIM_COLUMNS = {
    "mg_per_l": (marked("target"), marked("What the crop should get, mg/L")),
    "low_mg_per_l": (marked("from"), marked("Lowest wanted value, mg/L; while empty the usual tolerance holds")),
    "high_mg_per_l": (marked("to"), marked("Highest wanted value, mg/L; while empty the usual tolerance holds")),
    "at_most_mg_per_l": (marked("at most"), marked("The feed holds at most this, mg/L, water included")),
    "at_least_mg_per_l": (marked("at least"), marked("The feed holds at least this, mg/L, water included")),
    "tolerance_percent": (marked("± %"), marked("How far the feed may be off the target, instead of a range")),
    "weight": (marked("weight"), marked("How much a miss counts against the others")),
}


def aim_column(name: str) -> str:
    """Return the head of a column of the aim."""
    return _(AIM_COLUMNS[name][0])


def aim_column_help(name: str) -> str:
    """Return what a column of the aim means."""
    return _(AIM_COLUMNS[name][1])


def aim_field(nutrient: str, column: str) -> str:
    """Return what a screen reader calls a field of the aim."""
    return f"{figures.capital(nutrient_word(nutrient))}: {aim_column(column)}"


def number_edit(nutrient: str, column: str) -> str:
    """Return what the menu calls an edit of one of the aim's numbers."""
    if column == "mg_per_l":
        return _("target for {nutrient}").format(nutrient=nutrient_word(nutrient))
    if column in ("low_mg_per_l", "high_mg_per_l", "tolerance_percent"):
        return _("range for {nutrient}").format(nutrient=nutrient_word(nutrient))
    if column == "weight":
        return _("weight of {nutrient}").format(nutrient=nutrient_word(nutrient))
    return _("limit for {nutrient}").format(nutrient=nutrient_word(nutrient))


AIM_EDITS = {
    "crop": marked("targets of a crop"),
    "paste": marked("pasted column"),
    "title": marked("name of the recipe"),
    "urea": marked("use of urea"),
    "ph": marked("wanted pH"),
    "ec_ms_per_cm": marked("wanted EC"),
    "ec_is_rise_over_water": marked("meaning of the wanted EC"),
    "residual_alkalinity_meq_per_l": marked("alkalinity to leave"),
    "ammonium_share_at_most_percent": marked("share of ammonium"),
}


def aim_edit(name: str) -> str:
    """Return what the menu calls an edit of the rest of the aim."""
    return _(AIM_EDITS[name])


def target_first() -> str:
    """Return why a weight or tolerance is not taken."""
    return _("Type the target first.")


def aim_rest_title() -> str:
    """Return the title over what is wanted of the feed as a whole."""
    return _("The feed as a whole")


def target_ec() -> str:
    """Return the label of the wanted EC."""
    return _("EC at 25 °C")


def ec_kind() -> str:
    """Return the label of what the wanted EC means."""
    return _("This EC is")


def ec_kinds() -> list[tuple[str, str]]:
    """Return the two meanings of a wanted EC."""
    return [("reading", _("what the meter reads")), ("rise", _("the rise over the water"))]


AIM_LABELS = {
    "ph": marked("pH"),
    "residual_alkalinity_meq_per_l": marked("Alkalinity to leave"),
    "ammonium_share_at_most_percent": marked("Ammonium at most"),
}


def aim_label(name: str) -> str:
    """Return the label of a field of the rest of the aim."""
    return _(AIM_LABELS[name])


def by_itself() -> str:
    """Return what holds while a field is empty that the plan fills."""
    return _("by plan")


def urea_allowed() -> str:
    """Return the words beside the box that allows urea."""
    return _("Urea may be used")


def recipe_title() -> str:
    """Return the label of the recipe's name."""
    return _("Name of the recipe")


def pasted(count: int, unread: tuple[tuple[str, str], ...]) -> str:
    """Return what was taken from a pasted column and what was not."""
    taken = _("{count} targets pasted.").format(count=count) if count else _("No target found in what was copied.")
    return pasted_figures(taken, unread)


def pasted_figures(taken: str, unread: tuple[tuple[str, str], ...]) -> str:
    """Return what was taken of something pasted, and the first lines that were not, each with the reason."""
    if not unread:
        return taken
    lines = "; ".join(f"“{_shortened(line, 24)}”: {reason.rstrip('.')}" for line, reason in unread[:3])
    return f"{taken} " + _("Not taken: {lines}.").format(lines=lines)


def copied(count: int) -> str:
    """Return that the column is on the clipboard."""
    return _("{count} targets copied, with their names.").format(count=count)


def no_nutrient(name: str) -> str:
    """Return that a name of a pasted column is no nutrient."""
    return _("“{name}” is no nutrient known here").format(name=_shortened(name, 24))


def twice_in_column(nutrient: str) -> str:
    """Return that a pasted column names a nutrient twice."""
    return _("{nutrient} stands there twice").format(nutrient=figures.symbol(nutrient))
