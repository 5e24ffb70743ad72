"""Finds the frame every page is set in: theme overrides, style sheets, fonts and the search script."""

from __future__ import annotations

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent.parent


class TemplateMissing(RuntimeError):
    """The installed program lacks its own template: a fault of the installation, never of a build folder."""


def template_folder(package: Path = _PACKAGE) -> Path:
    """The folder `site_template`: inside the package when installed from a wheel, beside it in a checkout.

    Raises TemplateMissing, naming both places looked at.
    """
    places = (package / "site_template", package.parent / "site_template")
    for place in places:
        if (place / "main.html").is_file():
            return place
    raise TemplateMissing("no site_template with a main.html in " + " nor in ".join(str(place) for place in places))
