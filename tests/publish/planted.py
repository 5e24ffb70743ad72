"""A copy of a demo build with a distinct word planted in every private field, file name and picture, for the tests that look for leaks."""

from __future__ import annotations

import dataclasses
import shutil
import types
import typing
from pathlib import Path
from typing import Any

import yaml
from PIL import Image

from dossier.model.audience import Audience, SeenBy
from dossier.model.build import Build
from dossier.model.fields import Reads
from dossier.model.forms.custody import Release
from dossier.model.forms.record import Record
from dossier.model.forms.workshop import WorkshopFile

BUILDS = Path(__file__).resolve().parents[2] / "builds"
_REFERENCES = {"id", "photo", "paper", "certificate", "supplier", "document", "by", "file", "opinion", "log", "sha256", "evidence", "drawing"}
_NEVER_BY_HAND = {"written", "facts", "audience"}


class Planter:
    """Writes `word` plus a running number into every private field that is empty or free text; keeps a list of what was planted."""

    def __init__(self, word: str, above: Audience) -> None:
        self.word, self.above, self.planted, self.count = word, above, 0, 0

    def next(self) -> str:
        self.count += 1
        self.planted += 1
        return f"{self.word}{self.count:04d}"

    def form(self, form: type[Any], data: dict[str, Any], inherited: Audience) -> None:
        hints = typing.get_type_hints(form, include_extras=True)
        own = data.get("audience")
        inherited = max(inherited, Audience[own.upper()]) if own else inherited
        if own := data.get("seen_by"):
            inherited = max(inherited, Audience[own.upper()])
        for field in dataclasses.fields(form):
            if field.name in _NEVER_BY_HAND or (form is Release and field.name == "what"):
                continue
            rung = max(inherited, next((m.audience for m in _marks(hints[field.name]) if isinstance(m, SeenBy)), Audience.WORKSHOP))
            self.one(data, field.name, hints[field.name], rung)

    def one(self, data: dict[str, Any], name: str, hint: Any, rung: Audience) -> None:
        key = name.rstrip("_")
        inner = _record_in(hint)
        if inner is not None:
            value = data.get(key)
            for each in value if isinstance(value, list) else [value] if isinstance(value, dict) else []:
                self.form(inner, each, rung)
            return
        private_text = rung > self.above and _is_text(hint) and name not in _REFERENCES
        if private_text and (key not in data or isinstance(data[key], str)):
            data[key] = f"{data.get(key) or ''} {self.next()}".strip()


def _marks(hint: Any) -> tuple[Any, ...]:
    return getattr(hint, "__metadata__", ())


def _bare(hint: Any) -> list[Any]:
    if hasattr(hint, "__metadata__"):
        return _bare(hint.__origin__)
    if isinstance(hint, types.UnionType) or typing.get_origin(hint) is typing.Union:
        return [bare for arg in typing.get_args(hint) for bare in _bare(arg)]
    return [hint]


def _record_in(hint: Any) -> type[Any] | None:
    for bare in _bare(hint):
        parts = typing.get_args(bare) if typing.get_origin(bare) is tuple else (bare,)
        for part in parts:
            if isinstance(part, type) and issubclass(part, Record):
                return part
    return None


def _reads(hint: Any) -> bool:
    if any(isinstance(mark, Reads) for mark in _marks(hint)):
        return True
    inner = [hint.__origin__] if hasattr(hint, "__metadata__") else list(typing.get_args(hint)) if isinstance(hint, types.UnionType) else []
    return any(_reads(one) for one in inner)


def _is_text(hint: Any) -> bool:
    return str in _bare(hint) and not _reads(hint) and not any(typing.get_origin(bare) is typing.Literal for bare in _bare(hint))


def plant(slug: str, into: Path, planter: Planter) -> Path:
    """Copy the demo build `slug` with the workshop file to `into`, planting as it goes; returns the new build folder."""
    target = into / slug
    shutil.copytree(BUILDS / slug, target)
    hints = typing.get_type_hints(Build)
    for subject, form in hints.items():
        path = target / f"{subject}.yaml"
        if path.is_file():
            _replant(path, form, planter)
    shutil.copy(BUILDS / "workshop.yaml", into / "workshop.yaml")
    _replant(into / "workshop.yaml", WorkshopFile, planter)
    _rename_photos(target, planter)
    (target / "notes" / "private.md").write_text(f"audience: workshop\n\n# Hidden {planter.next()}\n\n{planter.next()}\n", encoding="utf-8")
    return target


def _replant(path: Path, form: type[Any], planter: Planter) -> None:
    data = yaml.load(path.read_text(encoding="utf-8"), Loader=yaml.BaseLoader)
    planter.form(form, data, Audience.PUBLIC)
    path.write_text(yaml.safe_dump(data, allow_unicode=True, sort_keys=False), encoding="utf-8")


def _rename_photos(target: Path, planter: Planter) -> None:
    """Photographs get telling names and a planted word in every place a picture can hold one."""
    path = target / "photos.yaml"
    data = yaml.load(path.read_text(encoding="utf-8"), Loader=yaml.BaseLoader)
    for one in data["photos"]:
        old = target / "photos" / one["file"]
        new = old.with_name(f"{planter.next()}.jpg")
        with Image.open(old) as image:
            exif = image.getexif()
            exif[0x010E] = exif[0x013B] = exif[0x8298] = planter.next()
            image.save(new, quality=88, exif=exif, comment=planter.next().encode())
        old.unlink()
        one["file"] = new.name
    path.write_text(yaml.safe_dump(data, allow_unicode=True, sort_keys=False), encoding="utf-8")
