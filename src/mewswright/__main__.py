"""`python -m mewswright` is the `mewswright` command."""

from mewswright.cli import main

main()
