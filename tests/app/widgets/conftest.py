"""Locales whose marks, digits and grouping differ."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QLocale


@pytest.fixture(params=["en_US", "de_DE", "fr_FR", "ar_EG"])
def locale(request: pytest.FixtureRequest) -> Iterator[None]:
    before = QLocale()
    QLocale.setDefault(QLocale(request.param))
    yield
    QLocale.setDefault(before)
