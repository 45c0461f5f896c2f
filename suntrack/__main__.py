"""`python -m suntrack` is the same as `suntrack`."""

import sys

from suntrack.cli import main

if __name__ == "__main__":
    sys.exit(main())
