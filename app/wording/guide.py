"""What the help menu tells: how the program works, safety, where figures come from, and the keys."""

from __future__ import annotations

from app.wording.language import gettext as _
from app.wording.language import marked

TOPICS = {
    "how": (marked("&How it works"), marked("From water, shelf and aim to what is weighed")),
    "safety": (marked("&Safety"), marked("Acids, oxidisers and what rules over this program")),
    "sources": (marked("S&ources"), marked("Where every figure comes from, and how far to trust it")),
    "keys": (marked("&Keys"), marked("Everything the keyboard does")),
}

HOW = (
    marked(
        "Say what the crop should get (the aim), what the water brings, and which salts stand on the shelf. The "
        "program finds how much of each comes nearest, adding nothing that was not asked for."
    ),
    marked(
        "Every number can be changed in place, and everything follows while you type. An amount that you fix stays "
        "as it is; clear it and the program chooses again. Grams may be typed for the tank: 500 g."
    ),
    marked(
        "The salts are split into tanks that stay clear on the coldest night stated. Where nothing stays clear, the "
        "plan says so instead of leaving something out."
    ),
    marked(
        "Weigh-out prints what goes onto which scale and in which order. Feed says how much of each tank goes into the "
        "reservoir. EC and pH are forecasts with a band: a meter in the reservoir has the last word."
    ),
    marked(
        "A number may be followed by its unit: 3.2 meq/L, 48 SO4, 7 lb 14 oz. Comma and point both mean the decimal "
        "mark; thousands are typed without one. Edits can be undone, also after saving."
    ),
)

SAFETY = (
    marked(
        "Acid goes into plenty of water, never water into acid; slowly, stirred, in goggles, acid gloves and an apron, "
        "with water to rinse within reach and air that moves. Never near bleach."
    ),
    marked(
        "Nitrates and nitric acid feed fire: keep them dry, away from fuel, oil, sawdust, sugar and citric acid. Never "
        "put two products together undiluted."
    ),
    marked(
        "Label every tank with what it holds and the date, keep it shut, away from children, food and animals, and "
        "never drink from it."
    ),
    marked(
        "This program reckons; it knows neither your products nor your site. The suppliers' safety data sheets and "
        "labels, the local codes for storage and discharge, and licensed practice where it is required come first."
    ),
)

KEYS: tuple[tuple[str, str], ...] = (
    ("Tab", marked("to the next field; with Shift to the one before")),
    ("↑ ↓", marked("to the field above or below")),
    ("Enter", marked("take what was typed, and select it")),
    ("Esc", marked("bring back what stood there before typing; once more closes a sheet")),
    ("Space", marked("press the button or link the ring is around")),
    ("Ctrl+V", marked("a whole column from a spreadsheet, in the aim and in the water")),
)


def topic(name: str) -> tuple[str, str]:
    """Return the menu's text for a topic, and its status tip."""
    text, tip = TOPICS[name]
    return _(text), _(tip)


def paragraphs(name: str) -> tuple[str, ...]:
    """Return what is told of a topic that is plain text."""
    return tuple(_(text) for text in {"how": HOW, "safety": SAFETY}[name])


def keys_told() -> tuple[tuple[str, str], ...]:
    """Return the keys that are in no menu, and what they do."""
    return tuple((key, _(does)) for key, does in KEYS)


def sources_intro() -> str:
    """Return what the list of sources is."""
    return _(
        "Every figure from outside carries its source and how it is known: read there, worked out from it, or recalled "
        "and to be checked. Papers list the sources of the products they name. These are all:"
    )


def close_button() -> str:
    """Return the button that closes the help."""
    return _("&Close")


def contents_name() -> str:
    """Return what a screen reader calls the text of the help."""
    return _("Help")
