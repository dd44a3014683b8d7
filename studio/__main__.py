"""`python -m studio` does what `yokewright` does."""

import sys

from studio.cli import main

if __name__ == "__main__":
    sys.exit(main())
