"""``python -m harnesscheck``."""

import sys

from harnesscheck.cli import main

if __name__ == "__main__":
    sys.exit(main())
