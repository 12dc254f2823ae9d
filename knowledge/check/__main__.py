"""`python -m knowledge.check [FOLDER]`: one line per fault, exit code 1 if there is any."""

import sys
from pathlib import Path

from knowledge.check import run


def main(arguments: list[str]) -> int:
    found = run(Path(arguments[0]) if arguments else None)
    for fault in found:
        print(fault)
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
