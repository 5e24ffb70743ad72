"""The commands a person types, one file a group; each declares its commands on `main`."""

from dossier.cli import bench as bench
from dossier.cli import looking as looking
from dossier.cli import packs as packs
from dossier.cli import printing as printing
from dossier.cli import publishing as publishing
from dossier.cli.door import main as main
