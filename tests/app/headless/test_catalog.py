"""The command `catalog`: every record, as text and as JSON."""

from __future__ import annotations

import json

import pytest

from app.__main__ import main
from core.catalog import crops, salts, waters

IDS = {
    "salts": list(salts()),
    "crops": [profile.id for profile in crops()],
    "waters": [profile.id for profile in waters()],
}


@pytest.mark.parametrize("kind", IDS)
def test_each_record_is_a_line(kind: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["catalog", kind]) == 0
    assert [line.split()[0] for line in capsys.readouterr().out.splitlines()] == IDS[kind]


@pytest.mark.parametrize("kind", IDS)
def test_json_holds_the_same_records(kind: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["catalog", kind, "--json"]) == 0
    shown = capsys.readouterr().out
    assert shown.isascii()
    records = json.loads(shown)
    assert [record["id"] for record in records] == IDS[kind]
    assert all(record["known"] for record in records)
