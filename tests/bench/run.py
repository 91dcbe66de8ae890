"""Every bench, one after another, each figure held against its limit: `make bench`.

The limits stand in `.ci/bench.json` with the figures that were last accepted and the machine they came from.
`--accept` writes today's figures there. A figure beyond its limit makes the exit status 1; the benches are no
tests, and no test looks at a clock.
"""

import json
import os
import platform
import subprocess
import sys
from pathlib import Path
from typing import Any

HERE = Path(__file__).parent
ACCEPTED = HERE.parent.parent / ".ci" / "bench.json"
BENCHES = ("fold", "journal", "tables", "air", "panels", "station")


def flat(value: Any, name: str = "") -> dict[str, float]:
    """Nested figures by dotted name."""
    if isinstance(value, dict):
        found: dict[str, float] = {}
        for key, inner in value.items():
            found.update(flat(inner, f"{name}.{key}" if name else key))
        return found
    return {name: float(value)}


def measured() -> dict[str, float]:
    """All figures, each bench in a process of its own."""
    figures: dict[str, float] = {}
    for bench in BENCHES:
        sys.stderr.write(f"{bench} ...\n")
        ran = subprocess.run(
            [sys.executable, "-P", str(HERE / f"bench_{bench}.py")],
            check=True,
            stdout=subprocess.PIPE,
            env={**os.environ, "QT_QPA_PLATFORM": "offscreen"},
        )
        figures.update(flat(json.loads(ran.stdout), bench))
    return figures


def main() -> int:
    """Measure, print, compare."""
    kept = json.loads(ACCEPTED.read_text())
    figures = measured()
    beyond = 0
    for name, figure in sorted(figures.items()):
        line = f"{name:48} {figure:12.4g}"
        limit = kept["limits"].get(name)
        if limit is not None:
            # At the limit the ratio is 1; above it the figure is beyond.
            ratio = figure / limit["at_most"] if "at_most" in limit else limit["at_least"] / figure
            beyond += ratio > 1
            line += f"   {ratio:6.2f} of the limit{'   BEYOND' if ratio > 1 else ''}"
        sys.stdout.write(line + "\n")
    missing = sorted(set(kept["limits"]) - set(figures))
    if missing:
        sys.stdout.write(f"not measured: {', '.join(missing)}\n")
    if "--accept" in sys.argv:
        kept["figures"] = {name: float(f"{figure:.4g}") for name, figure in sorted(figures.items())}
        kept["machine"] = f"{platform.system()} {platform.machine()}, {os.cpu_count()} cores"
        ACCEPTED.write_text(json.dumps(kept, indent=1) + "\n")
    return 1 if beyond or missing else 0


if __name__ == "__main__":
    sys.exit(main())
