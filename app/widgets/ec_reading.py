"""The measure of a conductivity that is read or wanted: what no feed can have is asked back at once."""

from __future__ import annotations

from app.widgets.measure import EC, Heard, Measure


class ReadingMeasure(Measure):
    """Hears an EC as its measure does, and refuses what is another scale."""

    __slots__ = ()

    def hear(self, text: str, shown_unit: str) -> Heard:
        from core.bench.meter import check_reading

        heard = super().hear(text, shown_unit)
        check_reading(heard.value, heard.unit)
        return heard


EC_READING = ReadingMeasure(*EC)
