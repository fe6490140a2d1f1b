"""Measures what pkg/compare/repeatability.go states: how well two photos of one unchanged valve agree.

    python3 repeatability.py PROGRAM FOLDER...

Each FOLDER holds photos and a truth.json whose `group` names the valve, as scripts/train/demo.py writes them for reposed.plan. Every
pair of photos of one valve is compared by PROGRAM; pairs that it refuses are left out.
"""

import collections
import itertools
import json
import subprocess
import sys
import tempfile
from pathlib import Path

REFUSED = 3  # exit code of a comparison that was refused
QUANTILE = 1.959964  # half width of a 95 % interval in standard deviations


def compared(program, folders):
    """Yields (valve, result) of every pair that could be compared."""
    for folder in map(Path, folders):
        valves = collections.defaultdict(list)
        for photo in json.loads((folder / "truth.json").read_text()):
            valves[folder / photo["group"]].append(str(folder / photo["photo"]))
        for valve, photos in valves.items():
            for pair in itertools.combinations(photos, 2):
                with tempfile.NamedTemporaryFile(suffix=".json") as file:
                    done = subprocess.run([program, "compare", "--json", file.name, *pair], capture_output=True, text=True)
                    if done.returncode not in (0, REFUSED):
                        raise RuntimeError(f"{pair}: {done.stderr}")
                    result = json.loads(Path(file.name).read_text() or "{}")
                if result.get("verdict"):
                    yield valve, result


def promised(figure):
    """Variance of the difference that the two intervals stand for when they share nothing, in points²."""
    deviation = lambda when: (figure[when + "_high"] - figure[when + "_low"]) / (2 * QUANTILE)
    return deviation("before") ** 2 + deviation("after") ** 2


def main(program, folders):
    pairs = list(compared(program, folders))
    if len(pairs) < 3:
        sys.exit(f"{len(pairs)} pairs could be compared: too few to measure on")
    changed = sum(result["verdict"] == "changed" for _, result in pairs)
    print(f"{len(pairs)} pairs of {len({valve for valve, _ in pairs})} valves, {changed} changed")
    for name in ("index", "coverage"):
        rows = sorted((promised(r[name]), r[name]["difference"] ** 2, valve) for valve, r in pairs)
        sure, unsure = rows[: 2 * len(rows) // 3], rows[2 * len(rows) // 3 :]
        sem = (sum(square for _, square, _ in sure) / (2 * len(sure))) ** 0.5
        shared = 1 - sum(square for _, square, _ in unsure) / sum(variance for variance, _, _ in unsure)
        # n photos of a valve give n(n-1)/2 pairs and n-1 degrees of freedom.
        counts = collections.Counter(valve for _, _, valve in sure).values()
        freedom = sum(round((1 + (1 + 8 * count) ** 0.5) / 2) - 1 for count in counts)
        print(f"{name}: SEM {sem:.2f}, Shared {max(0, shared):.2f}, DF {freedom}")


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2:])
