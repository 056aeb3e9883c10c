"""The command bench, and python -m bench."""

from __future__ import annotations

import gc
import sys

# So many new objects before a look for cycles among all there are: loading the program makes fewer, and each
# look while it loads takes longer than the one before and finds nothing.
WHILE_LOADING = 200_000


def main() -> None:
    """Run the program with the arguments it was given, and leave with its exit code."""
    gc.set_threshold(WHILE_LOADING)
    from bench.cli import run

    code = run(sys.argv[1:])
    gc.freeze()  # the interpreter's own last look would go through all of the program for nothing
    sys.exit(code)


if __name__ == "__main__":
    main()
