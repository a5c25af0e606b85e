"""What stays as it is in every language: names people gave, what sources are called, units, symbols and keys."""

from __future__ import annotations

from core.catalog import sources

GIVEN = {"Tunnel strawberries, first truss", "Borehole water, 12 March"}
"""Names the sample's grower gave."""

SIGNS = {
    "Saltwright", "saltwright", "Qt", "meq", "mmol", "-o", "CaCO", "Fe", "Ca", "Na", "Mo", "Si", "Cu", "EUR",
    "US", "imp", "gal", "oz", "EDTA", "DTPA", "EDDHA", "HBED", "Ctrl", "Shift", "Alt", "Esc",
}  # fmt: skip

CITED = {text for source in sources().values() for text in (source.author, source.title, source.where) if text}
AUTHORS = {word.strip(".,;:()") for text in CITED for word in text.split() if word[:1].isupper()}
"""Authors and titles are quoted as they are printed; the heads of columns name an author in short."""

OWN = frozenset(GIVEN | SIGNS | CITED | AUTHORS)
