"""Run the command: `python -m rewriter`."""

import sys

from rewriter.cli import main

if __name__ == "__main__":
    sys.exit(main())
