"""A label that travels with the machine: what the sealed edition is, its digest in full, and both digest and address as QR codes."""

from __future__ import annotations

import calendar
import datetime
import io
from collections.abc import Mapping
from pathlib import Path

import segno

from dossier.publish.pack.signature import fingerprint_of
from dossier.publish.pack.verify import verify_pack
from dossier.publish.print_edition.press import press

_SOURCE = r"""
#let d = json(bytes(sys.inputs.data))
#set document(title: d.title, author: d.builder, date: auto)
#set page(width: 105mm, height: 148mm, margin: 8mm)
#set text(font: ("Vollkorn", "Vollkorn Greek", "Archivo"), size: 8.5pt, lang: "en", hyphenate: false, number-type: "lining")
#set par(leading: 0.5em, spacing: 0.7em)
#show heading: set text(size: 11pt)
#show raw: set text(font: ("Archivo", "Vollkorn"), size: 9.5pt)
#let code(one) = figure(image(bytes(one.svg), format: "svg", width: one.width * 1mm, alt: one.alt), caption: one.says, supplement: none,
  numbering: none)
#text(font: ("Archivo", "Vollkorn"), size: 15pt, weight: 600)[REPLICA]
= #d.title
#d.kind \
Build #d.build. #d.edition
#par[Digest of the sealed edition (SHA-256, 64 digits; compare all of them):]
#block(d.rows.map(row => raw(row)).join(linebreak()))
#par[Sealed by the key \ #raw(d.key)]
#show figure.caption: set text(font: ("Archivo", "Vollkorn"), size: 7pt)
#grid(columns: (1fr,) * d.codes.len(), column-gutter: 4mm, ..d.codes.map(code))
#par[To check a pack: the file VERIFY.txt in it says how. Two packs with other digits are two editions.]
"""
_WIDTHS = {1: 40.0, 2: 38.0}
"""Width of a code in mm, by how many stand side by side on the label."""
_LONGEST = 40
"""Letters of an address that stand below its code in one line."""


class LabelError(ValueError):
    """A label that cannot be made; the message says why."""


def label(pack: Path, address: str = "") -> bytes:
    """The label of a sealed pack as a PDF of size A6 (105 × 148 mm). `address` is where the dossier is to be found, if anywhere.

    LabelError where the pack is not whole, or the address does not fit.
    """
    seen = verify_pack(pack)
    if seen.defects or seen.link is None:
        raise LabelError("the pack is not whole: " + "; ".join(map(str, seen.defects)))
    if len(address) > _LONGEST or not address.isprintable():
        raise LabelError(f"an address for a label has at most {_LONGEST} printable letters")
    record, digest = seen.link.record, seen.link.digest
    codes = [("the digest", digest), *([(address, address)] if address else [])]
    data = {
        "title": record["title"], "builder": record["builder"], "build": record["build"], "key": fingerprint_of(record["keys"]["sealer"]),
        "kind": "This machine is a replica.", "edition": _edition(record), "rows": [_spaced(digest[:32]), _spaced(digest[32:])],
        "codes": [_code(says, content, _WIDTHS[len(codes)]) for says, content in codes],
    }  # fmt: skip
    return press(_SOURCE, data, max(0, calendar.timegm(datetime.date.fromisoformat(record["date"]).timetuple())))


def _edition(record: Mapping[str, object]) -> str:
    draft = " DRAFT." if record["draft"] else ""
    return f"{str(record['audience']).capitalize()} edition {record['number']}, revision {record['revision']}, {record['date']}.{draft}"


def _spaced(digits: str) -> str:
    return " ".join(digits[at : at + 4] for at in range(0, len(digits), 4))


def _code(says: str, content: str, width: float) -> dict[str, object]:
    """A QR code (ISO/IEC 18004) with a quarter of its area to spare, as a drawing with its quiet zone of four modules."""
    out = io.BytesIO()
    segno.make_qr(content, error="q", boost_error=False).save(out, kind="svg", border=4, xmldecl=False, svgclass=None, lineclass=None)
    return {"svg": out.getvalue().decode(), "width": width, "alt": f"QR code of {content}", "says": says}
