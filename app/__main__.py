"""Starts the program: the window, or one command of the command line."""

from __future__ import annotations

import sys
from argparse import Namespace
from collections.abc import Sequence

DEFECT = 70
"""Exit status of a defect in the program itself; Python's own would be 1, which means a caution to stop."""


def main(argv: Sequence[str] | None = None) -> int:
    """Do what the arguments say and return the exit status: 0 done, 1 done with a caution to stop, 2 bad input."""
    from app.headless.arguments import parse
    from app.headless.output import BadInput, complain

    try:
        return _answer(parse(sys.argv[1:] if argv is None else list(argv)))
    except BadInput as refusal:
        complain(str(refusal))
        return 2
    except SystemExit as finished:  # argparse ends that way after --help
        return int(finished.code or 0)
    except KeyboardInterrupt:
        return 130
    except ModuleNotFoundError as error:
        return _not_installed(error)
    except Exception as defect:  # noqa: BLE001 - whatever it was, it must not end in 1
        return _report(defect)


def _answer(wanted: Namespace) -> int:
    if wanted.command == "plan":
        from app.headless.plan import plan_command

        return plan_command(wanted.file, goal=wanted.goal, as_json=wanted.json)
    if wanted.command == "why":
        from app.headless.why import why_command

        return why_command(wanted.file, of=wanted.of, as_json=wanted.json)
    if wanted.command == "compare":
        from app.headless.compare import compare_command

        return compare_command([wanted.file, *wanted.others], feed_l=wanted.feed_l, as_json=wanted.json)
    if wanted.command == "adapt":
        return _adapt(wanted)
    if wanted.command == "sheet":
        return _sheet(wanted)
    if wanted.command == "dose":
        return _dose(wanted)
    if wanted.command == "correct":
        from app.headless.correct import correct_command

        typed = wanted.volume, wanted.at_once
        return correct_command(wanted.file, wanted.analysis, *typed, as_json=wanted.json)
    if wanted.command == "log":
        return _log(wanted)
    if wanted.command == "solution":
        from app.headless.solution import solution_command

        return solution_command(wanted.file, as_json=wanted.json)
    if wanted.command == "catalog":
        from app.headless.catalog import catalog_command

        return catalog_command(wanted.kind, as_json=wanted.json)
    from app.headless.start import start

    return start(wanted.file, version=wanted.version)


def _adapt(wanted: Namespace) -> int:
    from app.headless.adapt import adapt_command

    return adapt_command(
        wanted.file,
        crop=wanted.crop,
        water=wanted.water,
        tanks=wanted.from_tanks,
        output=wanted.output,
        as_json=wanted.json,
    )


def _sheet(wanted: Namespace) -> int:
    from app.headless.sheet import sheet_command

    return sheet_command(
        wanted.file,
        wanted.output,
        paper=wanted.paper,
        units=wanted.units,
        decimal=wanted.decimal,
        parts=tuple(wanted.only),
    )


def _dose(wanted: Namespace) -> int:
    from app.headless.dose import Wanted, dose_command

    typed = {name: getattr(wanted, name) for name in Wanted._fields} | {"reads": tuple(wanted.reads)}
    return dose_command(wanted.file, Wanted(**typed), as_json=wanted.json)


def _log(wanted: Namespace) -> int:
    from app.headless.log import Wanted, log_command

    typed = {name: getattr(wanted, name) for name in Wanted._fields}
    typed |= {name: tuple(typed[name]) for name in ("part", "acid", "analysis")}
    return log_command(wanted.file, Wanted(**typed), as_json=wanted.json)


def _not_installed(error: ModuleNotFoundError) -> int:
    """Say in one line that a package is missing; a missing module of our own is a defect."""
    from app.headless.output import complain

    package = (error.name or "").partition(".")[0]
    if package in ("", "app", "core", "resources"):
        return _report(error)
    complain(f"the Python package {package} is not installed; install Saltwright as its README says")
    return 2


def _report(defect: Exception) -> int:
    from traceback import print_exception

    print_exception(defect)
    return DEFECT


if __name__ == "__main__":
    sys.exit(main())
