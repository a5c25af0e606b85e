"""Make the demo's shipped plan anew: `python -m tests.helpers.make_demo_plan` from the top of the repository."""

from pathlib import Path

import msgspec

from core.plan import plan
from core.recipe import load

DEMO = Path(__file__).resolve().parents[2] / "resources" / "demo"


def demo_plan_bytes() -> bytes:
    """The plan of the first demo recipe as JSON, numbers to twelve digits."""
    planned = msgspec.to_builtins(plan(load(DEMO / "strawberry.saltwright")))
    return msgspec.json.format(msgspec.json.encode(rounded(planned)), indent=1) + b"\n"


def rounded(value):
    """Floats to nine digits, so that the file is the same on every machine."""
    if isinstance(value, float):
        return float(f"{value:.9g}")
    if isinstance(value, dict):
        return {name: rounded(one) for name, one in value.items()}
    return [rounded(one) for one in value] if isinstance(value, (list, tuple)) else value


if __name__ == "__main__":
    (DEMO / "strawberry.plan.json").write_bytes(demo_plan_bytes())
