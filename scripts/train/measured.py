"""Adds what a program reaches on photos with truth to the card of its net.

    python3 measured.py CARD EVALUATE PROGRAM SET...

EVALUATE is a script that scores the photos of a folder with PROGRAM and prints one figure a line: name, value, goal. Each SET is a folder
with truth.json.
"""

import datetime
import json
import re
import subprocess
import sys
from pathlib import Path

LINE = re.compile(r"^(\S.*?)\s{2,}(-?[\d.]+)\s")


def figures(evaluate, program, folder):
    command = ["/usr/bin/python3", evaluate, "--program", program, "--scenes", folder]
    printed = subprocess.run(command, capture_output=True, text=True, check=True).stdout
    found = (LINE.match(line) for line in printed.splitlines())
    return {match[1]: float(match[2]) for match in found if match and not match[1].startswith(("seconds", "worst"))}


def main(card, evaluate, program, sets):
    content = json.loads(Path(card).read_text())
    version = subprocess.run([program, "version"], capture_output=True, text=True, check=True).stdout.split()[1]
    content["measured"] = {
        "program": version,
        "date": datetime.date.today().isoformat(),
        "sets": {Path(folder).name: figures(evaluate, program, folder) for folder in sets},
    }
    Path(card).write_text(json.dumps(content, indent=1) + "\n")


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2], sys.argv[3], sys.argv[4:])
