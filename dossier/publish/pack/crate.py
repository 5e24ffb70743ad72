"""ro-crate-metadata.json: what the payload is, for machines that know nothing of this program (RO-Crate 1.2)."""

from __future__ import annotations

import json
import mimetypes
from collections.abc import Mapping
from typing import Any

from dossier.model.edition import Edition
from dossier.publish.pack.names import CRATE, MACHINE_COPY, PRINTED, SET_UP

_TYPES = mimetypes.MimeTypes(filenames=())
_MORE = {".yaml": "application/yaml", ".md": "text/markdown", ".webp": "image/webp", ".woff2": "font/woff2", ".js": "text/javascript"}
_CALLED = {
    "site/index.html": "The dossier, to be opened in a browser", MACHINE_COPY: "The dossier for machines",
    PRINTED: "Print edition: the whole dossier on paper, A4", SET_UP: "Set-up sheet, A5",
}  # fmt: skip


def crate(edition: Edition, sizes: Mapping[str, int]) -> bytes:
    """The metadata of the payload: its files by name with their sizes in bytes. Dates are the edition's own."""
    machine, day = edition.build.machine, edition.revised.isoformat()
    files = [_file(name, sizes[name]) for name in sorted(sizes)]
    root: dict[str, Any] = {
        "@id": "./", "@type": "Dataset", "name": machine.title, "datePublished": day, "version": edition.revision,
        "description": f"{machine.statement} This is the {edition.audience.word} edition of its dossier, revision {edition.revision}.",
        "creator": {"@id": "#builder"}, "license": {"@id": "#terms"}, "identifier": machine.build_no,
        "hasPart": [{"@id": one["@id"]} for one in files], "mainEntity": {"@id": "site/index.html"},
    }  # fmt: skip
    terms = "This pack gives no licence by itself. The credit and licence of each photograph stand beside it in the dossier."
    graph = [
        {"@id": CRATE, "@type": "CreativeWork", "about": {"@id": "./"}, "conformsTo": {"@id": "https://w3id.org/ro/crate/1.2"}},
        root,
        {"@id": "#builder", "@type": "Organization", "name": machine.builder},
        {"@id": "#terms", "@type": "CreativeWork", "name": "Terms", "description": terms},
        *files,
    ]
    body = {"@context": "https://w3id.org/ro/crate/1.2/context", "@graph": graph}
    return (json.dumps(body, ensure_ascii=False, indent=1) + "\n").encode()


def _file(name: str, size: int) -> dict[str, Any]:
    ending = name[name.rfind(".") :].lower()
    kind = _MORE.get(ending) or _TYPES.guess_type(name)[0] or "application/octet-stream"
    return {"@id": name, "@type": "File", "name": _CALLED.get(name, name), "contentSize": str(size), "encodingFormat": kind}
