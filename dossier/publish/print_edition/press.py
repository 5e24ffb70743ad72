"""Sets a sheet: Typst source and data in, a tagged PDF for keeping out; the only file that knows typst."""

from __future__ import annotations

import atexit
import io
import json
import shutil
import tempfile
import unicodedata
from collections.abc import Mapping
from contextlib import suppress
from functools import cache
from pathlib import Path

import typst
from fontTools.ttLib import TTFont

from dossier.publish.template import template_folder

STANDARDS: list[typst.PDFStandard] = ["a-2a", "ua-1"]
"""ISO 19005-2, level A, for keeping; ISO 14289-1 for readers who cannot see."""


_FAMILIES = {"vollkorn-greek": "Vollkorn Greek", "vollkorn": "Vollkorn", "archivo-narrow": "Archivo"}
"""The families of the house's fonts, by how their files' names begin. Typst drops a `Narrow` from a name, save from some that it knows."""


_SIGNS = "‰′″→←↑↓∫√∑∞⌊⌋≤≥≈≠∂ΣΦΔΩΠΘΛαβγδεζηθικλμνξοπρστυφχψω"
"""Signs of formulas and units, which the fonts that typst brings have; they stand in where the house's own lack one."""


class PressError(RuntimeError):
    """A sheet that could not be set; the message is what typst said. A fault of the program."""


def press(source: str, data: Mapping[str, object], epoch: int, pictures: Path | None = None) -> bytes:
    """The sheet as PDF. `data` reaches the source as JSON in `sys.inputs.data`, so nothing in it is ever read as markup.
    `pictures` is the folder that picture files named in it lie in (`/name.jpg`).

    Nothing of the machine that makes it enters: fonts are the house's own and those that typst brings, the date is `epoch` (seconds since
    1970-01-01 UTC). Where these fonts lack a letter, its number stands for it, as in [U+4E2D]: a sheet for keeping holds no letter that
    cannot be seen.
    """
    with suppress(typst.TypstError):  # a letter that no font has, or that may not stand in such a PDF; anything else fails again
        return _set(source, data, epoch, pictures)
    try:
        return _set(source, _within(data, _letters()), epoch, pictures)
    except typst.TypstError as fault:
        raise PressError(f"{fault.message} {fault.diagnostic}") from fault


def _set(source: str, data: object, epoch: int, pictures: Path | None) -> bytes:
    given = {"data": json.dumps(data, ensure_ascii=False, sort_keys=True)}
    made = typst.Compiler(source.encode(), root=pictures, font_paths=_fonts(), sys_inputs=given).compile(
        format="pdf", pdf_standards=list(STANDARDS), timestamp=epoch
    )
    if not isinstance(made, bytes):
        raise PressError("typst made no PDF")
    return made


def _within(data: object, letters: frozenset[int]) -> object:
    match data:
        case str():
            return "".join(one if ord(one) in letters or one in " \n\t" else f"[U+{ord(one):04X}]" for one in data)
        case Mapping():
            return {key: _within(one, letters) for key, one in data.items()}
        case list():
            return [_within(one, letters) for one in data]
    return data


@cache
def _fonts() -> typst.Fonts:
    """The fonts of the site, unpacked from their web form, which typst does not read, and those it brings; none of the machine's."""
    aside = _aside()
    for path in _packed():
        font, out = TTFont(path, recalcTimestamp=False), io.BytesIO()
        font.flavor = None
        _call(font, next(family for start, family in _FAMILIES.items() if path.name.startswith(start)), path.stem)
        font.save(out)
        (aside / path.with_suffix(".ttf").name).write_bytes(out.getvalue())
    return typst.Fonts(include_system_fonts=False, include_embedded_fonts=True, font_paths=[aside])


def _call(font: TTFont, family: str, own: str) -> None:
    """Name a font's family, and the font itself: typst takes one font of a family and style, and would miss the letters of its other half."""
    for record in font["name"].names:
        if record.nameID in (1, 16):
            record.string = family
        elif record.nameID == 6:
            record.string = own


@cache
def _aside() -> Path:
    """A folder that lasts as long as the process: typst reads a font when it first needs it."""
    folder = tempfile.mkdtemp(prefix="dossier-fonts-")
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    return Path(folder)


@cache
def _letters() -> frozenset[int]:
    """The letters that the fonts of the site have; controls and letters of private use may not stand in a PDF for keeping."""
    found = {letter for path in _packed() for letter in TTFont(path).getBestCmap()}
    found |= set(map(ord, _SIGNS))
    return frozenset(letter for letter in found if not unicodedata.category(chr(letter)).startswith("C"))


def _packed() -> list[Path]:
    return sorted((template_folder() / "assets" / "fonts").glob("*.woff2"))
