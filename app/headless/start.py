"""Starting the window, or saying in one line why there is none."""

from __future__ import annotations

from pathlib import Path

from app.headless.libraries import how_to_install, missing_libraries, platform_wanted
from app.headless.output import BadInput, complain, write


def start(file: str | None, *, version: bool = False) -> int:
    """Open the window on a recipe, or on the one used last; without a display print its plan instead.

    Raises
    ------
    BadInput : the file is no recipe, or system libraries of the window are missing.
    """
    if version:
        from app import __version__

        write(f"saltwright {__version__}\n")
        return 0
    platform = platform_wanted()
    if not platform:
        return _without_display(file)
    missing = missing_libraries(platform)
    if missing:
        raise BadInput(how_to_install(missing))
    from app.window import run

    return run(None if file is None else Path(file))


def _without_display(file: str | None) -> int:
    from app.headless.plan import open_recipe, write_plan
    from app.session.demo import demo_recipe

    recipe = demo_recipe() if file is None else open_recipe(file)
    which = "the demo's plan" if file is None else "the plan"
    complain(f"there is no display for a window, so here is {which}; see saltwright --help for what else there is")
    return write_plan(recipe)
