"""Writes pages down as a plain Markdown folder that any mkdocs can build: front matter, raw HTML, one mkdocs.yml."""

from __future__ import annotations

import dataclasses
import html
import re
import shutil
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

import yaml

from dossier.publish.markup import Markup, dead_links, look_over
from dossier.publish.template import template_folder

if TYPE_CHECKING:
    from dossier.pages.page import Page

_COLOUR = re.compile(r"#[0-9a-f]{6}")
_LANGUAGE = re.compile(r"[a-z]{2}(-[A-Za-z]{2,4})?")
_SLUG = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*")
_CLASSES = re.compile(r"([a-z][a-z0-9-]*( [a-z][a-z0-9-]*)*)?")
_NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]*(/[A-Za-z0-9][A-Za-z0-9._-]*)*")
# Naming Files, Paths, and Namespaces (Microsoft): no Windows machine opens these from a stick, whatever their ending.
_DEVICE = re.compile(r"(con|prn|aux|nul|com[0-9]|lpt[0-9])(\..*)?", re.IGNORECASE)
_TAKEN = ("assets", "search", "templates")
# HTML Living Standard, 13.2.3.5: control characters, surrogates and noncharacters may not stand in a document.
_UNFIT = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\ud800-\udfff\ufdd0-\ufdef\ufffe\uffff]")
_FENCE = re.compile(r"^([`~])(?=\1\1)", re.MULTILINE)
# The search's own parser strings texts together with nothing between them, whatever block they stood in.
_BLOCK_END = re.compile(r"</(?:dt|dd|summary|figcaption|caption|p|li|div)>(?=\S)")


class StagingError(ValueError):
    """Pages, facts or files that cannot be published as they are; every fault in one message. A fault of the program."""


@dataclass(frozen=True)
class SiteFacts:
    """What stands on every sheet of one site. `epoch` is the edition's date in seconds since 1970-01-01 UTC.

    An archive, which is no single build, leaves `build` and `revision` empty and keeps the livery given here: slate,
    7.77 by day and 9.91 by night on their papers (WCAG 2.2 contrast ratio; at least 4.5 is asked for).
    """

    title: str
    short: str
    build: str
    builder: str
    edition: str
    revision: str
    revised: str
    livery_day: str = "#3d5061"
    livery_night: str = "#b3c4d4"
    notice: str = ""
    language: str = "en"
    epoch: int = 0


def stage(
    pages: Sequence[Page], facts: SiteFacts, folder: Path, files: Mapping[str, Path | bytes], later: Iterable[str] = ()
) -> tuple[str, ...]:
    """Write `docs/`, `theme/` and `mkdocs.yml` into `folder`, which must be absent or empty.

    `files` maps each name relative to the site's root (`img/…`) to its source or its bytes; `later` are names that are put beside
    the pages once the site is built. Returns the dead links, which the caller may report; raises StagingError at anything that must not be published.
    """
    looked = {page.slug: look_over(page.html) for page in pages}
    faults = [*_facts_faults(facts), *_page_faults(pages, looked), *_file_faults(files), *_folder_faults(folder)]
    if faults:
        raise StagingError("\n".join(faults))
    docs = folder / "docs"
    docs.mkdir(parents=True)
    shutil.copytree(template_folder(), folder / "theme", copy_function=shutil.copyfile)
    for page in pages:
        _write(docs / f"{page.slug}.md", _markdown(page))
    for name in sorted(files):
        _place(files[name], docs / name)
    _write(folder / "mkdocs.yml", _dump(_configuration(pages, facts)))
    return dead_links(looked, {*files, *later})


def _facts_faults(facts: SiteFacts) -> list[str]:
    faults = [
        f"{name} {getattr(facts, name)!r} is not a colour written as # and six small hexadecimal digits"
        for name in ("livery_day", "livery_night")
        if not _COLOUR.fullmatch(getattr(facts, name))
    ]
    if not _LANGUAGE.fullmatch(facts.language):
        faults.append(f"language {facts.language!r} is not a language code such as en")
    if facts.epoch < 0:
        faults.append(f"epoch {facts.epoch} lies before 1970")
    return faults


def _page_faults(pages: Sequence[Page], looked: Mapping[str, Markup]) -> list[str]:
    slugs = [page.slug for page in pages]
    faults = [f"page {slug!r} comes twice" for slug in sorted({slug for slug in slugs if slugs.count(slug) > 1})]
    if slugs[:1] != ["index"]:
        faults.append("the first page must be the front sheet, slug 'index'")
    for page in pages:
        if not _SLUG.fullmatch(page.slug) or page.slug in {*_TAKEN, "readme"} or _DEVICE.fullmatch(page.slug):
            faults.append(f"page {page.slug!r}: not a usable slug (small letters, digits, single hyphens)")
        if not page.title.strip():
            faults.append(f"page {page.slug!r} has no title")
        if page.under and page.under not in {one.slug for one in pages if not one.under}:
            faults.append(f"page {page.slug!r} continues {page.under!r}, which is no listed page")
        if not _CLASSES.fullmatch(page.kind):
            faults.append(f"page {page.slug!r}: kind {page.kind!r} is not a class name")
        faults += [f"page {page.slug!r}: {fault}" for fault in looked[page.slug].faults]
        faults += [
            f"page {page.slug!r}: section {name!r} has no such id in the sheet"
            for name, _ in page.sections
            if name not in looked[page.slug].ids
        ]
    return faults


def _file_faults(files: Mapping[str, Path | bytes]) -> list[str]:
    faults = []
    for name in sorted(files):
        if not _NAME.fullmatch(name) or any(part.endswith(".") or _DEVICE.fullmatch(part) for part in name.split("/")):
            faults.append(f"file {name!r}: not a name that every system can hold (letters, digits, dot, hyphen, underscore, /)")
        elif name.split("/")[0].lower() in _TAKEN or name.lower().endswith((".md", ".html", ".markdown")):
            faults.append(f"file {name!r}: that place or ending belongs to the pages")
    folded = [name.lower() for name in files]
    faults += [f"file {name!r}: two names differ in nothing but case" for name in sorted(files) if folded.count(name.lower()) > 1]
    return faults


def _folder_faults(folder: Path) -> list[str]:
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        return [f"{folder} is there already and not an empty folder"]
    return []


def _place(source: Path | bytes, target: Path) -> None:
    target.parent.mkdir(parents=True, exist_ok=True)
    if isinstance(source, bytes):
        target.write_bytes(source)
    else:
        shutil.copyfile(source, target)


def _write(path: Path, text: str) -> None:
    path.write_text(text, encoding="utf-8", newline="\n")


def _markdown(page: Page) -> str:
    front: dict[str, Any] = {"title": html.escape(_fit(page.title), quote=False)}  # themes put a title in as HTML
    if page.heading:
        front["heading"] = _fit(page.heading)
    if page.lead:
        front["lead"] = _fit(page.lead)
    if page.kind:
        front["kind"] = page.kind
    if page.under:
        front["under"] = page.under
        front["search"] = {"exclude": True}  # the sheet it continues is found
    if page.sections:
        front["sections"] = [[name, _fit(title)] for name, title in page.sections]
    # One raw block: what stands in a closed <div> at the line's start Markdown leaves alone, save fences, which are cut out first.
    body = _BLOCK_END.sub(r"\g<0>\n", _FENCE.sub(lambda fence: f"&#{ord(fence[1])};", _fit(page.html)))
    return f'---\n{_dump(front)}---\n\n<div class="sheet-body">\n{body}\n</div>\n'


def _configuration(pages: Sequence[Page], facts: SiteFacts) -> dict[str, Any]:
    stated = {name: _fit(value) if isinstance(value, str) else value for name, value in dataclasses.asdict(facts).items()}
    return {
        "site_name": html.escape(stated["title"], quote=False),  # themes put it in as HTML
        "docs_dir": "docs",
        "site_dir": "site",
        "use_directory_urls": False,
        "theme": {"name": "material", "custom_dir": "theme", "font": False, "language": facts.language, "features": ["search.highlight"]},
        "plugins": [{"search": {"lang": [facts.language]}}, "material/offline"],
        "nav": [f"{page.slug}.md" for page in pages if not page.under],
        "extra": {"dossier": stated, "polyfills": ["assets/iframe-worker/worker-over-frame.js"]},
    }


def _fit(text: str) -> str:
    return _UNFIT.sub("\N{REPLACEMENT CHARACTER}", text.replace("\r\n", "\n").replace("\r", "\n"))


def _dump(value: dict[str, Any]) -> str:
    # Safe dumping quotes whatever YAML would read as anything but this text; one line a value keeps `---` off a line's start.
    return yaml.safe_dump(value, sort_keys=False, allow_unicode=True, width=10**9)
