"""The line's fields and the entry they stand for."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from app.widgets.form_field import FormField
from app.widgets.measure import Measure

if TYPE_CHECKING:
    from core.logbook.records import Entry

ANALYSIS = ("NO3-N", "NH4-N", "N", "P", "K", "Ca", "Mg", "S", "Fe", "Mn", "Zn", "B", "Cu", "Na", "Cl")
MILLILITRES = Measure("volume", "mL", others=("L", "fl oz"))


def typed_entry(
    given: dict[str, Any],
    fields: Mapping[str, FormField],
    parts: Mapping[str, FormField],
    acids: Mapping[str, FormField],
    analysis: Mapping[str, FormField],
) -> Entry | None:
    """Return the entry typed, or None where nothing but its date is."""
    from core.logbook.records import Entry

    numbers = {name: field.quantity() for name, field in fields.items()}
    groups = {
        "parts_ml": _given(parts),
        "acid_ml": _given(acids),
        "analysis_mg_per_l": _given(analysis),
    }
    something = given["fresh"] or given["note"] or any(groups.values())
    if not something and all(value is None for value in numbers.values()):
        return None
    if not (groups["parts_ml"] or groups["acid_ml"]):
        given = given | {"batch_id": ""}
    fields_of: dict[str, Any] = {**given, **numbers, **groups}
    return Entry(**fields_of)


def _given(group: Mapping[str, FormField]) -> dict[str, float]:
    return {name: value for name, field in group.items() if (value := field.quantity()) is not None}


def put_entry(
    entry: Entry, fields: Mapping[str, FormField], parts: Mapping[str, FormField], acids: Mapping[str, FormField]
) -> None:
    """Show an entry's figures in the fields."""
    for name, field in fields.items():
        field.set_quantity(getattr(entry, name))
    for group, values in ((parts, entry.parts_ml), (acids, entry.acid_ml)):
        for name, field in group.items():
            field.set_quantity(values.get(name))


def put_analysis(entry: Entry, analysis: Mapping[str, FormField]) -> None:
    """Show a laboratory's figures in the fields."""
    report = {str(name): value for name, value in entry.analysis_mg_per_l.items()}
    for name, field in analysis.items():
        field.set_quantity(report.get(name))
