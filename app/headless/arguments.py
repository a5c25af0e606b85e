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
  saltwright dose FILE --volume V --now EC --target EC [--after-pouring V --reads EC]
                  [--meter SCALE] [--json]    an EC reading in, how much to pour out
  saltwright correct FILE --analysis FILE [--volume V] [--at-once PERCENT] [--json]
                                              a reservoir's lab report in, what to drain and add
  saltwright log FILE [--reservoir NAME] [--add --level V --ec EC --part A=ML ...] [--import IN | --csv OUT]
                 [--uptake] [--why] [--json]  a reservoir's diary, what the crop took up, why a reading differs
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
    parser = _named("plan", "Plan a recipe.")
    _file(parser, "a recipe")
    parser.add_argument("--goal", choices=("closest", "cheapest", "fewest"), help="plan for another goal than its own")
    return _with_json(parser)


def _why() -> ArgumentParser:
    parser = _named("why", "Say why a recipe's blend is as it is.")
    _file(parser, "a recipe")
    parser.add_argument("--of", metavar="NAME", help="the working of a nutrient, a shelf entry, EC or cost")
    return _with_json(parser)


def _compare() -> ArgumentParser:
    parser = _named("compare", "Set recipes side by side.")
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
    parser = _named("adapt", "Make a new recipe from one there is. Crop, water and tanks may be given together.")
    _file(parser, "a recipe")
    parser.add_argument("--crop", metavar="ID", help="a crop profile of the catalog")
    parser.add_argument("--water", metavar="FILE", help="a water report, or a recipe whose water to take")
    parser.add_argument("--from-tanks", metavar="FILE", help="the recipe whose tanks are mixed; - for FILE's own")
    parser.add_argument("-o", "--output", metavar="OUT", help="where to save the new recipe; nothing is overwritten")
    return _with_json(parser)


def _sheet() -> ArgumentParser:
    parser = _named("sheet", "Write the weigh-out sheet of one batch, labels, dosing card and recipe summary.")
    _file(parser, "a recipe")
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


def _dose() -> ArgumentParser:
    parser = _named(
        "dose", "Say how much of each tank to pour into a reservoir. Volumes take any unit (L, US gal, fl oz)."
    )
    _file(parser, "the recipe of the tanks")
    parser.add_argument("--volume", required=True, metavar="V", help="what is in the reservoir: 400 L, 40 US gal")
    parser.add_argument("--now", required=True, metavar="EC", help="what the meter shows before anything is poured")
    parser.add_argument("--target", required=True, metavar="EC", help="EC wanted, in mS/cm unless it says otherwise")
    parser.add_argument("--after-pouring", metavar="V", help="what was poured of each tank so far")
    parser.add_argument(
        "--reads", action="append", default=[], metavar="EC", help="what the meter shows after that; again, read again"
    )
    parser.add_argument("--meter", default="mS/cm", metavar="SCALE", help="mS/cm, uS/cm, CF, ppm-500, ppm-640, ppm-700")
    parser.add_argument("--uncompensated-at", metavar="T", help="the meter shows EC at this temperature, not at 25 C")
    parser.add_argument("--finished", action="store_true", help="--volume is that of the finished feed")
    parser.add_argument("--feed-left", action="store_true", help="the reservoir holds what is left of this feed")
    parser.add_argument("--water-ec", metavar="EC", help="EC of the water at hand, where the reservoir holds feed")
    parser.add_argument("--factor", type=float, default=1.0, help="how these tanks read over the forecast (1)")
    parser.add_argument("--ph", type=float, help="pH wanted")
    parser.add_argument("--acid", default="", metavar="ID", help="acid or base to trim with, of shelf or catalog")
    parser.add_argument("--strength", type=float, metavar="PERCENT", help="its strength by mass")
    return _with_json(parser)


def _correct() -> ArgumentParser:
    parser = _named("correct", "Say how to bring a reservoir back to a recipe's aim from a laboratory's report of it.")
    _file(parser, "the recipe the reservoir should meet")
    parser.add_argument(
        "--analysis", metavar="FILE", required=True, help="the report: a JSON object with mg_per_l, as a water's"
    )
    parser.add_argument("--volume", default="1000 L", metavar="V", help="what is in the reservoir (1000 L)")
    parser.add_argument(
        "--at-once", type=float, default=50.0, metavar="PERCENT", help="most a nutrient is changed by at once (50)"
    )
    return _with_json(parser)


def _log() -> ArgumentParser:
    parser = _named(
        "log", "Show a reservoir's diary, add to it, or say what follows from it. Quantities take any unit."
    )
    _file(parser, "a logbook")
    parser.add_argument("--reservoir", metavar="NAME", help="which one; may be left out where there is one")
    parser.add_argument("--holds", metavar="V", help="add --reservoir, holding this, where it is not there yet")
    parser.add_argument("--add", action="store_true", help="add an entry with the options below")
    parser.add_argument("--at", metavar="TIME", help="2026-06-01 08:30, or the day alone (now)")
    parser.add_argument("--fresh", action="store_true", help="it was emptied and filled anew")
    for name, what in (("drained", "let out before"), ("water", "water that came in"), ("level", "volume read after")):
        parser.add_argument(f"--{name}", metavar="V", help=what)
    parser.add_argument("--batch", metavar="ID", help="batch of the parts and the acid (the one poured last)")
    for name, what in (("part", "A=120 mL"), ("acid", "nitric-acid=5 mL"), ("analysis", "K=150 mg/L, a laboratory's")):
        parser.add_argument(f"--{name}", action="append", default=[], metavar="NAME=AMOUNT", help=what)
    parser.add_argument("--hco3", metavar="MG_PER_L", help="the laboratory's bicarbonate")
    parser.add_argument("--ec", metavar="EC", help="in mS/cm unless it says otherwise: 920 ppm-500, 18 CF")
    parser.add_argument("--ph", metavar="PH", help="pH read after")
    parser.add_argument("--temperature", metavar="T", help="temperature read after")
    for name in ("meter", "note"):
        parser.add_argument(f"--{name}", default="", metavar="TEXT", help=f"which {name}" if name == "meter" else name)
    table = parser.add_mutually_exclusive_group()
    table.add_argument("--csv", metavar="OUT", help="write the diary as a table; - for standard output")
    table.add_argument("--import", dest="read_in", metavar="IN", help="add the lines of a table that are new")
    parser.add_argument("--uptake", action="store_true", help="what the crop took up between laboratory reports")
    parser.add_argument("--why", action="store_true", help="search for the cause of a reading that differs")
    return _with_json(parser)


def _solution() -> ArgumentParser:
    parser = _named("solution", "Forecast a solution given by its contents.")
    _file(parser, "the contents as JSON")
    return _with_json(parser)


def _catalog() -> ArgumentParser:
    parser = _named("catalog", "Show the catalog.")
    parser.add_argument("kind", choices=("salts", "crops", "waters"), help="which part of it")
    return _with_json(parser)


def _named(command: str, description: str) -> ArgumentParser:
    return _Parser(prog=f"saltwright {command}", description=description, allow_abbrev=False)


def _file(parser: ArgumentParser, what: str) -> None:
    parser.add_argument("file", metavar="FILE", help=f"{what}, or - for standard input")


def _with_json(parser: ArgumentParser) -> ArgumentParser:
    parser.add_argument("--json", action="store_true", help="answer in JSON, for programs")
    return parser


_COMMANDS = {
    "plan": _plan,
    "why": _why,
    "compare": _compare,
    "adapt": _adapt,
    "sheet": _sheet,
    "dose": _dose,
    "correct": _correct,
    "log": _log,
    "solution": _solution,
    "catalog": _catalog,
}
