"""`python -m railbond`."""

import sys

from railbond.command import main

sys.exit(main())
