"""The sentences of the feed chemistry: forms and figures, what each is, where it comes from, how sure it is."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from app.wording import figures
from app.wording.language import gettext as _
from app.wording.language import marked
from app.wording.numbers import format_short

if TYPE_CHECKING:
    from core.chemistry.provenance import Provenance
    from core.plan.chemistry_details import Form

RAISED = str.maketrans("0123456789+-", "⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻")
_CHARGE = re.compile(r"[+-]\d*$")

TOTALS = {
    "Ca": marked("calcium"),
    "Mg": marked("magnesium"),
    "K": marked("potassium"),
    "Na": marked("sodium"),
    "NH4": marked("ammonium"),
    "Fe": marked("iron(II)"),
    "Fe3": marked("iron"),
    "Mn": marked("manganese"),
    "Zn": marked("zinc"),
    "Cu": marked("copper"),
    "NO3": marked("nitrate"),
    "P": marked("phosphate"),
    "S": marked("sulfate"),
    "Cl": marked("chloride"),
    "C": marked("carbonate"),
    "B": marked("borate"),
    "Si": marked("silicate"),
    "Mo": marked("molybdate"),
    "citrate": marked("citrate"),
    "urea": marked("urea"),
}
"""What a total is called; the names of the synthetic ligands stay as they are."""

SPECIAL = {
    "H+": marked("acid (protons)"),
    "OH-": marked("hydroxide"),
    "CO2": marked("carbonic acid"),
    "HCO3-": marked("bicarbonate"),
    "CO3-2": marked("carbonate"),
    "NH3": marked("ammonia"),
    "H3BO3": marked("boric acid"),
    "H4SiO4": marked("silicic acid"),
    "H3PO4": marked("phosphoric acid"),
    "H2PO4-": marked("phosphate, acid form"),
    "HPO4-2": marked("phosphate, second form"),
    "HSO4-": marked("bisulfate"),
    "urea": marked("urea"),
    "inert+": marked("cations not named"),
    "inert-": marked("anions not named"),
}

KNOWN = {
    "READ": marked("read in the source"),
    "DERIVED": marked("worked out from the source"),
    "MEMORY": marked("from memory, the source was not at hand"),
}

FIRST_OF_A_PAIR = ("Ca", "Mg", "K", "Na", "NH4", "Fe", "Fe3", "Mn", "Zn", "Cu")


def title() -> str:
    """Return the panel's title."""
    return _("Chemistry of the feed")


def link() -> str:
    """Return the link that opens the panel."""
    return _("Chemistry…")


def link_tip() -> str:
    """Return what the link leads to, with its keys."""
    return _("Ions, pairs, what carries the EC, and how acid moves the pH (Ctrl+I)")


def back() -> str:
    """Return the link that closes the panel."""
    return _("Back to the recipe (Esc)")


def working() -> str:
    """Return what stands there until the chemistry is worked out."""
    return _("Working out the chemistry of this feed")


def beyond(reason: str) -> str:
    """Return why there is no chemistry to show."""
    return _("No chemistry for this feed. {reason}").format(reason=figures.capital(reason))


def hint() -> str:
    """Return what stands in the line of explanations until something is pointed at."""
    return _("Point at a figure, or move to it with Tab and the arrow keys: what it is, from where, how sure.")


def explanation_name() -> str:
    """Return what a screen reader calls the line of explanations."""
    return _("Explanation")


def form_symbol(name: str, charge: int) -> str:
    """Return a form as it is printed: "CaH2PO4+" -> "CaH₂PO₄⁺", "SO4-2" -> "SO₄²⁻"."""
    if name.startswith("inert"):
        return _("others") + name[-1].translate(RAISED)
    if not charge:
        return figures.symbol(name)
    size = str(abs(charge)) if abs(charge) > 1 else ""
    sign = "+" if charge > 0 else "-"
    return figures.symbol(_CHARGE.sub("", name)) + (size + sign).translate(RAISED)


def total_word(total: str) -> str:
    """Return the word for a total: "S" -> "sulfate", "EDTA" -> "EDTA"."""
    return _(TOTALS[total]) if total in TOTALS else total


def form_words(form: Form) -> str:
    """Return what a form is: "calcium, free", "calcium with sulfate", "iron in EDTA"."""
    if form.name in SPECIAL:
        return _(SPECIAL[form.name])
    parts = sorted(form.of, key=lambda total: total not in FIRST_OF_A_PAIR)
    words = [total_word(total) for total in parts]
    if form.kind == "chelate":
        return _("{metal} in {ligand}").format(metal=words[0], ligand=words[-1]) if len(words) > 1 else words[0]
    if len(words) > 1:
        return _("{first} with {second}").format(first=words[0], second=words[1])
    return _("{word}, free").format(word=words[0]) if form.kind == "ion" else words[0]


def forms_title() -> str:
    """Return the title of the table of forms."""
    return _("Ions and pairs")


def forms_aside() -> str:
    """Return what the table's bar shows."""
    return _("what carries the EC")


def form_columns() -> tuple[str, str, str, str, str]:
    """Return the table's headings."""
    return _("form"), _("what it is"), _("mmol/L"), _("meq/L"), _("of the EC")


def percent(value: float) -> str:
    """Return a share, small ones as "< 0.1 %"."""
    if 0.0 < value < 0.1:
        return _("< 0.1 %")
    return _("{number} %").format(number=format_short(value, 3 if value >= 10 else 2))


def form_row_name(form: Form) -> str:
    """Return a row of the table in words."""
    text = _("{form}, {words}: {amount} mmol/L").format(
        form=form_symbol(form.name, form.charge), words=form_words(form), amount=format_short(form.mmol_per_l)
    )
    if form.charge:
        text = _("{row}, {share} of the EC").format(row=text, share=percent(form.ec_percent))
    return text


def form_explanation(
    form: Form, share_of: tuple[str, float] | None, formed: Provenance | None, moves: Provenance | None
) -> str:
    """Return what a form is, from which constants its numbers come, and how those are known."""
    parts = [form_row_name(form) + "."]
    if share_of is not None:
        total, share = share_of
        parts.append(_("That is {share} of all {total}.").format(share=percent(share), total=total_word(total)))
    if form.name.startswith("inert"):
        parts.append(_("What the water report or a label leaves open, counted so that the charges balance."))
    elif form.kind == "chelate":
        parts.append(_("Shown as it was bought; what other metals take of it is told under iron kept."))
    elif formed is not None and formed.value is not None:
        constant = _("Forms with log K {log_k} at 25 °C from the plain ions ({source}).")
        parts.append(constant.format(log_k=format_short(formed.value, 4), source=source_text(formed)))
    if moves is not None and moves.value is not None:
        doubt = "" if moves.plus_minus is None else f" ± {format_short(moves.plus_minus)}"
        speed = _("Mobility {value}{doubt} S cm²/mol before the others slow it ({source}).")
        parts.append(speed.format(value=format_short(moves.value), doubt=doubt, source=source_text(moves)))
    elif not form.charge:
        parts.append(_("Without a charge it carries no current."))
    return " ".join(parts)


def source_text(found: Provenance) -> str:
    """Return a source with how it is known."""
    return _("{source}; {known}").format(source=found.source, known=_(KNOWN[found.how_known]))


def ec_bar_name() -> str:
    """Return what a screen reader calls the bar of shares of the EC."""
    return _("What carries the EC")


def ec_share(symbol: str, value: float) -> str:
    """Return one share of the EC in words."""
    return _("{form} {share}").format(form=symbol, share=percent(value))


def other_ions() -> str:
    """Return the name of the shares too small to be told apart."""
    return _("others")
