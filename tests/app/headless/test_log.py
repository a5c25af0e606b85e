"""The command `log`: the diary read and added to, tables both ways, balances, causes, and every way to refuse."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from app.__main__ import main
from core.logbook.file import dumps, load
from core.logbook.records import Entry, Logbook
from tests.app.diary import sample_logbook
from tests.core.logbook.test_forecast import ACID

Run = Callable[..., str]
HERE = ("--reservoir", "Tunnel 1")


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "house.saltwright-log"
    path.write_bytes(dumps(sample_logbook(ACID)))
    return path


@pytest.fixture
def run(file: Path, capsys: pytest.CaptureFixture[str]) -> Run:
    def log(*rest: str, status: int = 0) -> str:
        assert main(["log", str(file), *rest]) == status
        shown = capsys.readouterr()
        assert (shown.err.count("\n") == 1) == (status == 2)
        return shown.err if status == 2 else shown.out

    return log


def test_the_reservoirs_and_batches_are_listed(run: Run) -> None:
    assert run().splitlines()[:2] == ["Diary, 12 entries: Tunnel 1", "Diary, 0 entries: Propagation bench"]
    assert "2026-03-09: " in run()


def test_a_diary_with_what_was_foretold(run: Run) -> None:
    shown = run(*HERE)
    assert "What was done" in shown
    assert "filled anew, 285 L water, 2900 mL calcium side A, 2900 mL phosphate side B" in shown
    assert "EC read" in shown


def test_everything_as_json(run: Run) -> None:
    found = json.loads(run(*HERE, "--uptake", "--why", "--json"))
    assert found["reservoir"] == "Tunnel 1"
    assert len(found["entries"]) == 12
    first = found["entries"][0]
    assert first["foretold"]["basis"] == "analysis"
    assert first["foretold"]["ec_ms_per_cm"] > 1.0
    assert found["uptake"][0]["taken"][0]["nutrient"] == "N"
    assert found["why"]["causes"][0]["text"].endswith(".")
    assert found["why"]["causes"][0]["test"]


def test_balances_and_causes_in_words(run: Run) -> None:
    shown = run(*HERE, "--uptake", "--why")
    assert "What the crop took up\n2026-03-01 to 2026-03-07" in shown
    assert "Nitrogen is falling faster than EC shows" in shown
    assert "Why does it differ?\nThe meter read" in shown
    assert "  To tell: " in shown


def test_an_entry_is_added_with_quantities_in_any_unit(run: Run, file: Path) -> None:
    run(*HERE, "--add", "--at", "2026-03-13 08:00", "--level", "79.25 US gal", "--ec", "645 ppm-500", "--ph", "6,1",
        "--part", "A=0.12 L", "--part", "B=120", "--acid", "nitric-acid=5", "--temperature", "59 °F",
        "--analysis", "K=150", "--hco3", "30", "--note", "by hand", "--water", "20", "--meter", "pen")  # fmt: skip
    last = load(file).reservoirs[0].entries[-1]
    assert last.level_l == pytest.approx(300.0, abs=0.1)
    assert (last.ec_ms_per_cm, last.ph, last.parts_ml) == (1.29, 6.1, {"A": 120.0, "B": 120.0})
    assert last.temperature_c == pytest.approx(15.0)
    assert (last.acid_ml, last.batch_id) == ({"nitric-acid": 5.0}, "2026-03-09-1")
    assert (last.analysis_mg_per_l, last.hco3_mg_per_l) == ({"K": 150.0}, 30.0)
    assert (last.note, last.meter, last.water_l) == ("by hand", "pen", 20.0)


def test_a_table_out_and_in_again(run: Run, file: Path, tmp_path: Path) -> None:
    table = tmp_path / "diary.csv"
    assert "12 entries are in" in run(*HERE, "--csv", str(table))
    assert run(*HERE, "--csv", "-") == table.read_bytes().decode()
    assert "0 lines were added; 12 were in the diary already." in run(*HERE, "--import", str(table))
    run("--reservoir", "Propagation bench", "--import", str(table))
    both = load(file).reservoirs
    assert both[0].entries == both[1].entries
    assert "exists already; give another name" in run(*HERE, "--csv", str(table), status=2)


def test_a_new_logbook_and_a_new_reservoir(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "new.saltwright-log"
    assert (
        main(
            ["log", str(path), "--reservoir", "one", "--holds", "300", "--add", "--level", "280", "--at", "2026-03-01"]
        )
        == 0
    )
    (made,) = load(path).reservoirs
    assert (made.name, made.volume_l, made.entries) == ("one", 300.0, (Entry("2026-03-01", level_l=280.0),))
    assert "one" in capsys.readouterr().out
    assert list(tmp_path.iterdir()) == [path]


def test_a_link_stays_a_link_and_what_it_points_to_is_written(tmp_path: Path, file: Path) -> None:
    link = tmp_path / "link.saltwright-log"
    link.symlink_to(file)
    assert main(["log", str(link), *HERE, "--add", "--ph", "6.1", "--at", "2026-03-14"]) == 0
    assert link.is_symlink()
    assert load(file).reservoirs[0].entries[-1].ph == 6.1


def test_a_reservoir_that_is_there_keeps_its_volume(run: Run, file: Path) -> None:
    before = load(file)
    assert run(*HERE, "--holds", "300 L").startswith("Tunnel 1")
    assert load(file) == before
    refused = run(*HERE, "--holds", "77", status=2)
    assert "'Tunnel 1' is there already and holds 300 L" in refused


def test_a_laboratorys_figures_come_in_its_units(run: Run, file: Path) -> None:
    run(*HERE, "--add", "--at", "2026-03-13", "--analysis", "NO3-N=100 mg/L", "--analysis", "K=2 mmol/L",
        "--hco3", "1 meq/L")  # fmt: skip
    last = load(file).reservoirs[0].entries[-1]
    assert last.analysis_mg_per_l == pytest.approx({"NO3-N": 100.0, "K": 78.2}, rel=1e-3)
    assert last.hco3_mg_per_l == pytest.approx(61.02, rel=1e-3)


def test_one_line_is_one_line(run: Run, tmp_path: Path) -> None:
    table = tmp_path / "one.csv"
    table.write_text("at,ph\n2026-03-20,6\n")
    assert run(*HERE, "--import", str(table)).startswith("1 line was added.\n")
    assert run(*HERE, "--import", str(table)).startswith("0 lines were added; 1 was in the diary already.\n")


def test_a_folder_is_no_table(run: Run, tmp_path: Path) -> None:
    assert "is a folder; choose a table, a CSV file" in run(*HERE, "--import", str(tmp_path), status=2)


def test_standard_input(file: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    import io
    import sys

    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(file.read_bytes())))
    assert main(["log", "-"]) == 0
    assert "Tunnel 1" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("rest", "said"),
    [
        (("--reservoir", "Tunnel 9"), "there is no reservoir 'Tunnel 9'; there are Tunnel 1, Propagation bench"),
        (("--why",), "say which reservoir with --reservoir"),
        ((*HERE, "--add"), "there is nothing to add"),
        ((*HERE, "--add", "--level", "plenty"), '--level: "plenty" does not begin with a number'),
        ((*HERE, "--add", "--ph", "about 6"), '--ph: "about 6" does not begin with a number'),
        ((*HERE, "--add", "--part", "A=x"), '--part: "x" does not begin with a number'),
        ((*HERE, "--add", "--analysis", "K=x"), '--analysis: "x" does not begin with a number'),
        ((*HERE, "--csv", "-", "--json"), "--csv writes a table, so leave --json out"),
        ((*HERE, "--add", "--ph", "61"), "ph) is 61, outside 0 to 14"),
        ((*HERE, "--add", "--at", "yesterday", "--ph", "6"), '--at: "yesterday" is no date; write it as 2026-06-01'),
        ((*HERE, "--add", "--at", "3/5/2026", "--ph", "6"), "did you mean 2026-05-03 or 2026-03-05?"),
        (
            (*HERE, "--add", "--ec", "480"),
            "--ec: No feed reads 480 mS/cm, 20 mS/cm is the most: did you mean 480 µS/cm?",
        ),
        ((*HERE, "--add", "--part", "A"), "--part 'A' has no equals sign"),
        ((*HERE, "--add", "--part", "D=5"), 'holds the unknown name "D"; known are A, B'),
        ((*HERE, "--add", "--part", "A=5", "--batch", "x"), 'names the batch "x", which is not in this logbook'),
        ((*HERE, "--add", "--analysis", "Kalium=5"), 'holds the unknown name "Kalium"'),
        ((*HERE, "--import", "nowhere.csv"), "nowhere.csv cannot be found"),
        ((*HERE, "--csv", "a", "--import", "b"), "not allowed with argument"),
        (("--holds", "300"), "name the new reservoir with --reservoir"),
    ],
)
def test_refusals(run: Run, file: Path, rest: tuple[str, ...], said: str) -> None:
    before = file.read_bytes()
    assert said in run(*rest, status=2)
    assert file.read_bytes() == before


def test_a_table_that_is_refused_names_line_and_column(run: Run, file: Path, tmp_path: Path) -> None:
    table = tmp_path / "mine.csv"
    table.write_text("at,ph\n2026-03-20,6\n2026-03-21,seven\n")
    before = file.read_bytes()
    assert 'mine.csv has in line 3, column "ph", what is "seven", no plain number' in run(
        *HERE, "--import", str(table), status=2
    )
    assert file.read_bytes() == before


def test_a_batch_is_needed_for_parts(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "bare.saltwright-log"
    path.write_bytes(dumps(Logbook()))
    assert main(["log", str(path), "--reservoir", "one", "--holds", "9", "--add", "--part", "A=5"]) == 2
    assert "the logbook holds no batch yet" in capsys.readouterr().err
    assert main(["log", str(path)]) == 0
    assert "There is no reservoir yet." in capsys.readouterr().out


def test_no_logbook_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "x.saltwright-log"
    path.write_text('{"format": "saltwright-log", "schema": 2}')
    assert main(["log", str(path)]) == 2
    assert "was written by a newer Saltwright (schema 2)" in capsys.readouterr().err
