"""The sentences of the window's frame: headline, menus, notices, names of the surfaces."""

from __future__ import annotations

from app.wording.language import gettext as _
from app.wording.language import marked
from app.wording.numbers import format_short
from app.wording.words import crop_words

PROGRAM = "Saltwright"

CURRENCY_SIGNS = {"EUR": "€", "GBP": "£", "USD": "US$", "CAD": "CA$", "AUD": "A$"}


def ec_heading() -> tuple[str, str]:
    """Return what stands over the expected EC, and before it where room is short."""
    return _("EC expected at 25 °C"), _("EC")


def ec_band(percent: float) -> tuple[str, str]:
    """Return the unit of EC with the honest band of the forecast, and shorter."""
    band = format_short(percent, 2)
    return _("mS/cm, ± {percent} %").format(percent=band), _("± {percent} %").format(percent=band)


def ph_heading() -> tuple[str, str]:
    """Return what stands over the pH, and before it where room is short."""
    return _("pH, once aired"), _("pH aired")


def ph_now(ph: str) -> tuple[str, str]:
    """Return the pH before the feed has lost its carbon dioxide."""
    return _("now {ph}").format(ph=ph), _("now {ph}").format(ph=ph)


def cost_heading(missing: int) -> tuple[str, str]:
    """Return what stands over the cost, with how many products it leaves out for want of a price, and shorter."""
    return (_("Cost, {count} unpriced").format(count=missing) if missing else _("Cost")), ""


def cost_unit(currency: str) -> tuple[str, str]:
    """Return the unit of the cost, and shorter."""
    sign = CURRENCY_SIGNS.get(currency, currency)
    return _("{currency} per 1000 L").format(currency=sign).strip(), _("{currency}/1000 L").format(currency=sign)


def no_prices() -> tuple[str, str]:
    """Return what stands in place of a cost that cannot be known."""
    return _("no prices"), _("no prices")


def no_forecast() -> tuple[str, str]:
    """Return what stands in place of a forecast outside the range of the chemistry, and shorter."""
    return _("beyond the forecast"), _("unknown")


def untitled() -> str:
    """Return the title of a recipe without one."""
    return _("Recipe without a title")


def tank_line(count: int, volume_l: float, ml_per_l: str) -> str:
    """Return the tank set-up in the headline: how many, how large, how much of each."""
    volume = format_short(volume_l, 4)
    if count == 1:
        return _("one {volume} L tank, {ml} mL per litre").format(volume=volume, ml=ml_per_l)
    return _("{count} tanks of {volume} L, {ml} mL of each per litre").format(count=count, volume=volume, ml=ml_per_l)


def unnamed_water() -> str:
    """Return the name of a water without one."""
    return _("Unnamed water")


def pure_water() -> str:
    """Return what the water is when no report was entered."""
    return _("Pure water assumed")


def aim_unnamed() -> str:
    """Return the name of an aim that came from no crop profile."""
    return _("Own aim")


def crop_line(crop: str, stage: str) -> str:
    """Return a crop and its stage."""
    crop, stage = crop_words(crop, stage)
    return _("{crop}, {stage}").format(crop=crop, stage=stage) if stage else crop


def planning() -> str:
    """Return what stands there until the first plan is made."""
    return _("Working out the plan")


def welcome() -> str:
    """Return what stands over the demo on the first start."""
    return _(
        "This is an example: an invented strawberry grower with hard borehole water. Change whatever you like; it is "
        "saved only where you say."
    )


def begin_own_button() -> str:
    """Return what the button that leads from the demo to an empty recipe says."""
    return _("Begin my own")


def cannot_open(reason: str) -> str:
    """Return why a file was not opened; the recipe in the window stays."""
    return _("Not opened: {reason}. The recipe in the window is unchanged.").format(reason=reason.rstrip("."))


def damaged(name: str, what: str) -> str:
    """Return that a file holds no recipe any more, what can be done, and what was left alone."""
    return _(
        "{name} is damaged, or is no recipe: it {what}. Look for an older copy in a backup, a mail or on another "
        "computer and open that; a text editor shows what is left of this one. The file was not changed, and the "
        "recipe in the window is still there."
    ).format(name=name, what=what.rstrip("."))


def open_another_button() -> str:
    """Return the button that opens another file."""
    return _("Open another…")


def show_folder_button() -> str:
    """Return the button that shows a file's folder in the desktop's own file manager."""
    return _("Show its folder")


def cannot_plan(reason: str, still_shown: bool) -> str:
    """Return why the recipe as it stands has no plan, and whether an earlier one is still in view."""
    fault = _("No plan for this: {reason}.").format(reason=reason.rstrip("."))
    return fault + " " + _("The last good one is still shown.") if still_shown else fault


def close_notice() -> str:
    """Return what a screen reader calls the button that closes a notice."""
    return _("Close this notice")


def not_a_recipe() -> str:
    """Return why a dropped thing was not opened."""
    return _("it is no file on this computer")


MENUS = {
    "file": marked("&File"),
    "edit": marked("&Edit"),
    "recipe": marked("&Recipe"),
    "logbook": marked("&Logbook"),
    "view": marked("&View"),
    "help": marked("&Help"),
}

ACTIONS = {
    "new": (marked("&New"), marked("Begin an empty recipe")),
    "open": (marked("&Open…"), marked("Open a recipe from a file")),
    "recent": (marked("Open &recent"), marked("Open a recipe used lately")),
    "clear_recent": (marked("&Clear this list"), marked("Forget the recipes used lately; the files stay")),
    "save": (marked("&Save"), marked("Write the recipe to its file")),
    "save_as": (marked("Save &as…"), marked("Write the recipe to another file")),
    "print": (marked("&Print…"), marked("Print the weigh-out sheet and the labels")),
    "preview": (marked("Print pre&view…"), marked("See the pages first, and choose what to print")),
    "export": (marked("&Export"), marked("Write the paper to a file")),
    "export_pdf": (marked("As &PDF…"), marked("Sheet, labels, dosing card and summary as one PDF")),
    "export_html": (marked("As &web page…"), marked("The same as one web page that needs nothing else")),
    "export_csv": (marked("Weights as a &table…"), marked("The weights as CSV, for spreadsheets")),
    "demo": (marked("Open the &demo"), marked("Open the invented strawberry recipe the program ships with")),
    "quit": (marked("&Quit"), marked("Close the window")),
    "undo": (marked("&Undo"), marked("Take back the last edit")),
    "redo": (marked("&Redo"), marked("Make the edit taken back again")),
    "chemistry": (marked("&Chemistry of the feed"), marked("Ions, pairs, what carries the EC, what acid does")),
    "about": (marked("&About"), marked("Version, licences and where figures come from")),
}


def menu(name: str) -> str:
    """Return a menu's title."""
    return _(MENUS[name])


def action(name: str) -> tuple[str, str]:
    """Return an action's text and its status tip."""
    text, tip = ACTIONS[name]
    return _(text), _(tip)


def no_recent() -> str:
    """Return what the recent menu says when it is empty."""
    return _("No recent file")


def file_filter() -> str:
    """Return the kinds of file the open dialog shows."""
    return _("Recipes (*.saltwright);;All files (*)")


def open_dialog() -> str:
    """Return the title of the open dialog."""
    return _("Open a recipe")


def about_text(version: str, qt_version: str) -> str:
    """Return what the program is, which version, and whose work is shipped with it."""
    return _(
        "Saltwright {version}\n\n"
        "Plans, weighs out and doses hydroponic and fertigation feeds from single salts.\n\n"
        "Licensed under the Apache License 2.0. Drawn with Qt {qt_version} (LGPL 3), which may be replaced by another "
        "build of the same version; set in Inter (SIL Open Font License 1.1). The licence texts lie beside the "
        "program's resources."
    ).format(version=version, qt_version=qt_version)
