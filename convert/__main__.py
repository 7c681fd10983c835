"""`python -m convert` is the command `tallyhook`."""

from convert.cli import main

raise SystemExit(main())
