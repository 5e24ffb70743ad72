"""The commands a person types, one file a group; each declares its commands on `main`, which imports it when one of them is asked for."""

from dossier.cli.door import main as main
