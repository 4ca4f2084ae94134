"""``python -m labelkit``: the same as the installed command."""

from labelkit.cli import main

main()
