"""Sets a sheet: Typst source and data in, a tagged PDF for keeping out; the only file that knows typst."""

from __future__ import annotations

import atexit
import io
import json
import shutil
import tempfile
from collections.abc import Mapping
from functools import cache
from pathlib import Path

import typst
from fontTools.ttLib import TTFont

from dossier.publish.template import template_folder

STANDARDS: list[typst.PDFStandard] = ["a-2a", "ua-1"]
"""ISO 19005-2, level A, for keeping; ISO 14289-1 for readers who cannot see."""


class PressError(RuntimeError):
    """A sheet that could not be set; the message is what typst said. A fault of the program."""


def press(source: str, data: Mapping[str, object], epoch: int) -> bytes:
    """The sheet as PDF. `data` reaches the source as JSON in `sys.inputs.data`, so nothing in it is ever read as markup.

    Nothing of the machine that makes it enters: fonts are the house's own, the date is `epoch` (seconds since 1970-01-01 UTC).
    """
    compiler = typst.Compiler(source.encode(), font_paths=_fonts(), sys_inputs={"data": json.dumps(data, ensure_ascii=False, sort_keys=True)})
    try:
        made = compiler.compile(format="pdf", pdf_standards=list(STANDARDS), timestamp=epoch)
    except typst.TypstError as fault:
        raise PressError(f"{fault.message} {fault.diagnostic}") from fault
    if not isinstance(made, bytes):
        raise PressError("typst made no PDF")
    return made


@cache
def _fonts() -> typst.Fonts:
    """The fonts of the site, unpacked from their web form, which typst does not read; none of the machine's own."""
    folder = template_folder() / "assets" / "fonts"
    aside = _aside()
    for path in sorted(folder.glob("*.woff2")):
        (aside / path.with_suffix(".ttf").name).write_bytes(_unpacked(path.read_bytes()))
    return typst.Fonts(include_system_fonts=False, include_embedded_fonts=False, font_paths=[aside])


@cache
def _aside() -> Path:
    """A folder that lasts as long as the process: typst reads a font when it first needs it."""
    folder = tempfile.mkdtemp(prefix="dossier-fonts-")
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    return Path(folder)


def _unpacked(packed: bytes) -> bytes:
    font, out = TTFont(io.BytesIO(packed), recalcTimestamp=False), io.BytesIO()
    font.flavor = None
    font.save(out)
    return out.getvalue()
