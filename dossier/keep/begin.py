"""A first build folder: every form laid out with a remark on each key, made from the forms themselves so that the two cannot drift apart."""

from __future__ import annotations

import ast
import dataclasses
import inspect
import sys
import textwrap
from collections.abc import Iterable, Iterator
from functools import cache
from itertools import pairwise
from pathlib import Path
from typing import Any

from dossier.model import fields
from dossier.model.audience import audiences_of
from dossier.model.forms.logs import LogsFile
from dossier.model.forms.workshop import WorkshopFile
from dossier.read.folder import FORMS, workshop_path
from dossier.read.shapes import TO_DO, choices, fields_of, is_form, keys_of, listed

FOLDERS = ("photos", "logs", "notes")
_EXAMPLES: dict[Any, tuple[str, str]] = {
    fields.Id: ("X-01", "an id"), fields.Day: ("1900-01-01", "year-month-day"), fields.Count: ("2", "a whole number"),
    fields.YesNo: ("no", "yes or no"), fields.YesNoUnknown: ("unknown", "yes, no or unknown"), fields.Rung: ("owner", "public, owner or workshop"),
    fields.Amount: ("1.0 mm", "a value with its unit"), fields.Length: ("1.0 mm", "a length"), fields.Volume: ("350 cc", "a volume"),
    fields.Mass: ("1.0 kg", "a mass"), fields.Time: ("1.0 h", "a time"), fields.Temperature: ("20 °C", "a temperature"),
    fields.Pressure: ("1.0 bar", "a pressure"), fields.RotationSpeed: ("1000 rpm", "a speed of rotation"), fields.Number: ("1.0", "a number"),
    fields.Allowed: ("1.0 to 2.0 mm", "limits"), fields.Said: ("1.0 mm", "a value with its unit, or words"),
}  # fmt: skip
"""For each kind of field an example that reads, and what it is."""
_BY_KEY = {
    "unit": ("mm", "the unit of bare numbers, once for all"), "day": ('"#14513b"', "a colour"), "night": ('"#93c7aa"', "a colour"),
    "completed": ("1900", "a year"),
}  # fmt: skip


def begin(folder: Path, title: str = "") -> list[Path]:
    """Write a first build folder, and the workshop file above it where there is none; the files written. Never over what is there.

    OSError where the folder cannot be made or written.
    """
    folder.mkdir(parents=True, exist_ok=True)
    for name in FOLDERS:
        (folder / name).mkdir(exist_ok=True)
    files = {workshop_path(folder): text_of(WorkshopFile, "")}
    files |= {folder / f"{subject}.yaml": text_of(form, title if subject == "machine" else "") for subject, form in FORMS.items()}
    files[folder / "logs.yaml"] = text_of(LogsFile)
    return [path for path, text in files.items() if _written(path, text)]


def _written(path: Path, text: str) -> bool:
    try:
        with path.open("x", encoding="utf-8", newline="\n") as file:
            file.write(text)
    except FileExistsError:
        return False
    return True


def text_of(form: Any, title: str = "") -> str:
    """A form as a YAML file to be filled in: needed keys stand open, all others behind one #, explanations behind two."""
    about = inspect.getdoc(sys.modules[form.__module__]) or ""
    lines = [f"## {line}" for line in textwrap.wrap(about, 118)]
    lines += ["## A line with one # is a key that may be filled in: take the # away and mend the example.", ""]
    for key, kind, needed in _keys(form):
        lines += _open_or_not(_key(form, key, kind, 0, title if key in ("title", "short") else ""), needed)
    return "\n".join(lines) + "\n"


def _open_or_not(lines: Iterable[str], needed: bool) -> list[str]:
    """Lines as they are where the key is needed, otherwise behind one #."""
    return [line if needed or line.startswith("#") else f"# {line}".rstrip() for line in lines]


def _keys(form: Any) -> Iterator[tuple[str, Any, bool]]:
    """The keys of a form with their kinds and whether they are needed; what every record may have comes last."""
    needed = {field.name for field in dataclasses.fields(form) if field.default is field.default_factory is dataclasses.MISSING}
    names = fields_of(form)
    own = sorted(keys_of(form), key=lambda key: key in ("audience", "remark"))
    return ((key, keys_of(form)[key], names[key] in needed) for key in own)


def _key(form: Any, key: str, kind: Any, depth: int, value: str = "") -> Iterator[str]:
    """The lines of one key: its explanation, itself with an example, and what lies within."""
    pad = "  " * depth
    inner = listed(kind)
    said = _remarks(form).get(fields_of(form)[key], "")
    if is_form(inner) or is_form(kind):
        record: Any = inner if is_form(inner) else kind
        about = inspect.getdoc(record) or ""
        yield from (f"## {pad}{line}" for line in textwrap.wrap(f"{key}: {about}", 118))
        yield f"{pad}{key}:"
        yield from _record(record, depth + 1, in_list=is_form(inner))
        return
    example, what = _example(inner if inner is not None else kind, key)
    example = value or example
    remark = " · ".join(filter(None, (what, said, _for_whom(form, key))))
    yield f"{pad}{key}: {f'[{example}]' if inner is not None else example}{f'  # {remark}' if remark else ''}"


def _record(form: Any, depth: int, *, in_list: bool) -> Iterator[str]:
    first = in_list
    for key, kind, needed in _keys(form):
        if key in ("audience", "remark"):
            continue
        for line in _open_or_not(_key(form, key, kind, depth + in_list), needed or in_list):
            if first and not line.startswith("#"):
                line = "  " * depth + "- " + line.lstrip()
                first = False
            yield line


def _example(kind: Any, key: str) -> tuple[str, str]:
    """An example that the field reads, and what it is."""
    if words := choices(kind):
        # what the machine is, nobody says but a person
        return TO_DO if key == "this_machine_is" else words[0], f"one of: {' | '.join(words)}" if len(words) > 1 else ""
    if key in _BY_KEY:
        return _BY_KEY[key]
    marks = [mark for mark in getattr(kind, "__metadata__", ()) if isinstance(mark, fields.Reads)]
    for known, example in _EXAMPLES.items():
        if marks and marks[0] in known.__metadata__:
            return example
    return TO_DO, ""


def _for_whom(form: Any, key: str) -> str:
    word = audiences_of(form)[fields_of(form)[key]].word
    return "" if word == "public" else f"for {word if word == 'workshop' else 'owner and workshop'}"


@cache
def _remarks(form: Any) -> dict[str, str]:
    """What the form says of each of its fields: the text that stands below the field in its source."""
    found: dict[str, str] = {}
    for one in inspect.getmro(form):
        if not is_form(one):
            continue
        tree = ast.parse(textwrap.dedent(inspect.getsource(one)))
        body = next(node.body for node in tree.body if isinstance(node, ast.ClassDef))
        for field, text in pairwise(body):
            if isinstance(field, ast.AnnAssign) and isinstance(text, ast.Expr) and isinstance(text.value, ast.Constant):
                name = field.target.id if isinstance(field.target, ast.Name) else ""
                found.setdefault(name, " ".join(str(text.value.value).split()))
    return found
