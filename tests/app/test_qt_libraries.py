"""Says once, by name, why the tests of the window did not run where Qt's system libraries are missing."""

from __future__ import annotations

import os

import pytest

from app.headless.libraries import missing_libraries


def test_the_window_can_be_tested() -> None:
    missing = missing_libraries(os.environ["QT_QPA_PLATFORM"])
    if missing:
        pytest.skip(f"no test of the window was run: Qt lacks {', '.join(missing)}")
