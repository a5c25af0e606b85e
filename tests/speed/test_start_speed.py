"""How long the command line takes from nothing, as whole processes."""

from __future__ import annotations

import pytest

from tests.speed.timing import medians_ms, process_ms, report

pytestmark = pytest.mark.speed

STORY = "tests/outside/stories/hard_water_nitric.saltwright"


def test_commands() -> None:
    lines = {
        "bare Python": ("-c", "pass"),
        "import app.__main__": ("-c", "import app.__main__"),
        "saltwright --version": ("-m", "app", "--version"),
        "a refused argument": ("-c", "from app.__main__ import main; main(['plan'])"),
        "saltwright catalog salts --json": ("-m", "app", "catalog", "salts", "--json"),
        "bare Python and scipy.optimize": ("-c", "import scipy.optimize"),
        "saltwright plan FILE --json": ("-m", "app", "plan", STORY, "--json"),
    }
    taken = dict(zip(lines, medians_ms(*(process_ms(*line) for line in lines.values()), rounds=9), strict=True))
    report([(what, ms, "ms") for what, ms in taken.items()])
    assert taken["import app.__main__"] - taken["bare Python"] < 40
    assert taken["saltwright plan FILE --json"] < 2 * taken["bare Python and scipy.optimize"]
