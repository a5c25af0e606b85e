"""What may be typed after the program's name."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace, RawDescriptionHelpFormatter
from typing import IO, NoReturn

from app.headless.output import BadInput, write

HELP = """\
commands:
  saltwright [FILE]                           open the window
  saltwright plan FILE [--goal closest|cheapest|fewest] [--json]
                                              what to weigh, and what it makes
  saltwright why FILE [--of NAME] [--json]    why the blend is as it is; the working of one figure
  saltwright compare FILE FILE... [--feed-l LITRES] [--json]
                                              recipes side by side, and what differs
  saltwright adapt FILE --crop ID | --water FILE | --from-tanks FILE [-o OUT] [--json]
                                              a new recipe made from one there is
  saltwright sheet FILE -o OUT.pdf|.html|.csv [--paper a4|letter] [--units metric|us]
                   [--decimal point|comma] [--only sheet|labels|card|summary]
                                              weigh-out sheet, labels, dosing card, summary
  saltwright solution FILE [--json]           EC, pH and ions of a solution given by its contents
  saltwright catalog salts|crops|waters [--json]
                                              what is in the catalog
  saltwright --version

FILE may be - for standard input, except for the window.
exit status: 0 done; 1 done, with a caution to stop; 2 the input cannot be used
"""


class _Parser(ArgumentParser):
    """An argument parser that writes through our own output and refuses in one line."""

    def error(self, message: str) -> NoReturn:
        raise BadInput(f"{message} (try: {self.prog} --help)")

    def print_help(self, file: IO[str] | None = None) -> None:  # type: ignore[override]
        write(self.format_help())


def parse(arguments: list[str]) -> Namespace:
    """Return the arguments as a namespace whose `command` is "window" or one of _COMMANDS.

    Raises
    ------
    BadInput : they make no sense.
    SystemExit : help was asked for, and has been written.
    """
    if arguments and arguments[0] in _COMMANDS:
        return _COMMANDS[arguments[0]]().parse_args(arguments[1:], Namespace(command=arguments[0]))
    return _window().parse_args(arguments, Namespace(command="window"))


def _window() -> ArgumentParser:
    parser = _Parser(
        prog="saltwright",
        usage="saltwright [FILE] | saltwright COMMAND ...",
        description="Plan, weigh out and dose feeds from single salts.",
        epilog=HELP,
        formatter_class=RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    parser.add_argument("file", nargs="?", metavar="FILE", help="a recipe to open in the window")
    parser.add_argument("--version", action="store_true", help="say which version this is")
    return parser


def _plan() -> ArgumentParser:
    parser = _Parser(prog="saltwright plan", description="Plan a recipe.", allow_abbrev=False)
    parser.add_argument("file", metavar="FILE", help="a recipe, or - for standard input")
    parser.add_argument("--goal", choices=("closest", "cheapest", "fewest"), help="plan for another goal than its own")
    return _with_json(parser)


def _why() -> ArgumentParser:
    parser = _Parser(prog="saltwright why", description="Say why a recipe's blend is as it is.", allow_abbrev=False)
    parser.add_argument("file", metavar="FILE", help="a recipe, or - for standard input")
    parser.add_argument("--of", metavar="NAME", help="the working of a nutrient, a shelf entry, EC or cost")
    return _with_json(parser)


def _compare() -> ArgumentParser:
    parser = _Parser(prog="saltwright compare", description="Set recipes side by side.", allow_abbrev=False)
    parser.add_argument("file", metavar="FILE", help="the recipe the others are compared with")
    parser.add_argument("others", metavar="FILE", nargs="+", help="more recipes")
    parser.add_argument("--feed-l", type=_litres, metavar="LITRES", help="how much feed to buy bags for")
    return _with_json(parser)


def _litres(text: str) -> float:
    litres = float(text)
    if not 0.0 < litres < 1e12:
        raise ValueError(text)
    return litres


def _adapt() -> ArgumentParser:
    parser = _Parser(
        prog="saltwright adapt",
        description="Make a new recipe from one there is. Crop, water and tanks may be given together.",
        allow_abbrev=False,
    )
    parser.add_argument("file", metavar="FILE", help="a recipe, or - for standard input")
    parser.add_argument("--crop", metavar="ID", help="a crop profile of the catalog")
    parser.add_argument("--water", metavar="FILE", help="a water report, or a recipe whose water to take")
    parser.add_argument("--from-tanks", metavar="FILE", help="the recipe whose tanks are mixed; - for FILE's own")
    parser.add_argument("-o", "--output", metavar="OUT", help="where to save the new recipe; nothing is overwritten")
    return _with_json(parser)


def _sheet() -> ArgumentParser:
    parser = _Parser(
        prog="saltwright sheet",
        description="Write the weigh-out sheet of one batch, labels, dosing card and recipe summary.",
        allow_abbrev=False,
    )
    parser.add_argument("file", metavar="FILE", help="a recipe, or - for standard input")
    parser.add_argument("-o", "--output", metavar="OUT", required=True, help="OUT.pdf, OUT.html or OUT.csv")
    parser.add_argument("--paper", choices=("a4", "letter"), default="a4", help="size of the paper (a4)")
    parser.add_argument("--units", choices=("auto", "metric", "us"), default="auto", help="units (auto: as the scales)")
    parser.add_argument("--decimal", choices=("point", "comma"), default="point", help="decimal mark; CSV has points")
    parser.add_argument(
        "--only",
        action="append",
        choices=("sheet", "labels", "card", "summary"),
        default=[],
        help="one part; may be given again",
    )
    return parser


def _solution() -> ArgumentParser:
    parser = _Parser(
        prog="saltwright solution", description="Forecast a solution given by its contents.", allow_abbrev=False
    )
    parser.add_argument("file", metavar="FILE", help="the contents as JSON, or - for standard input")
    return _with_json(parser)


def _catalog() -> ArgumentParser:
    parser = _Parser(prog="saltwright catalog", description="Show the catalog.", allow_abbrev=False)
    parser.add_argument("kind", choices=("salts", "crops", "waters"), help="which part of it")
    return _with_json(parser)


def _with_json(parser: ArgumentParser) -> ArgumentParser:
    parser.add_argument("--json", action="store_true", help="answer in JSON, for programs")
    return parser


_COMMANDS = {
    "plan": _plan,
    "why": _why,
    "compare": _compare,
    "adapt": _adapt,
    "sheet": _sheet,
    "solution": _solution,
    "catalog": _catalog,
}
