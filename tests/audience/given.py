"""Builds and editions that the tests of the gate start from."""

import datetime
from decimal import Decimal
from pathlib import Path

from dossier.audience import let_out
from dossier.model.audience import Audience
from dossier.model.build import Build
from dossier.model.forms.custody import Release
from dossier.model.forms.parts import Part
from dossier.model.forms.photos import Photo
from dossier.model.forms.workshop import WorkshopFile
from dossier.model.quantity import Quantity
from dossier.model.units import UNITS
from tests.conform.small_build import machine
from tests.filled_build import KnownBuild

DAY = datetime.date(2025, 5, 24)
ROOT = Path(__file__).parent.parent.parent


def build(**sheets):
    return Build(slug="b", **({"machine": machine(), "workshop": WorkshopFile(form="1", name="W")} | sheets))


def seen(audience, **sheets):
    return let_out(KnownBuild(build(**sheets)), audience)


def public(**sheets):
    return seen(Audience.PUBLIC, **sheets)


def owner(**sheets):
    return seen(Audience.OWNER, **sheets)


def part(id="P05", **more):
    return Part(id=id, group="engine", name="Liners", origin="reproduction", **more)


def photo(id="PH-1", seen_by=Audience.PUBLIC, **more):
    return Photo(**({"id": id, "file": "secret name.jpg", "shows": "s", "seen_by": seen_by} | more))


def released(what, to, **more):
    return Release(what=what, to=to, by="MH", on=DAY, **more)


def corner(percent):
    """A side of an area, in per cent."""
    return Quantity(Decimal(percent), UNITS["%"])
