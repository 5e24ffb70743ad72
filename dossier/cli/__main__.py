"""`python -m dossier.cli`."""

from dossier.cli import main

main()
