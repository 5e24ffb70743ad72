"""Hands a staged folder to mkdocs and gets a site back; the only file that knows mkdocs."""

from __future__ import annotations

import base64
import hashlib
import logging
import os
import re
import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from typing import Any

import jinja2

os.environ.setdefault("NO_MKDOCS_2_WARNING", "1")  # read once, when the theme is first imported

from mkdocs.commands.build import build
from mkdocs.config import load_config
from mkdocs.exceptions import MkDocsException
from mkdocs.plugins import BasePlugin, CombinedEvent, event_priority

from dossier.publish.heard import heard

_ONE_AT_A_TIME = threading.Lock()  # mkdocs keeps its epoch in the environment and its log on one logger
_COMPILED: dict[str, bytes] = {}
_INLINE_SCRIPT = re.compile(r"<script>(.*?)</script>", re.DOTALL)
_RAW = re.compile(r'<div class="sheet-body">\n.*\n</div>', re.DOTALL)
_FOR_THE_SEARCH = re.compile(r'\s?data-search-\w+="[^"]+"')
_HEAD = '<meta charset="utf-8">'


class SiteError(RuntimeError):
    """The pages could not be made into a site; the message is what mkdocs said. A fault of the program."""


class _Compiled(jinja2.BytecodeCache):
    """Templates compiled once in a process, for all the sites of an archive: kept by their text, wherever it was staged."""

    def load_bytecode(self, bucket: jinja2.bccache.Bucket) -> None:
        if bucket.checksum in _COMPILED:
            bucket.bytecode_from_string(_COMPILED[bucket.checksum])

    def dump_bytecode(self, bucket: jinja2.bccache.Bucket) -> None:
        _COMPILED[bucket.checksum] = bucket.bytecode_to_string()


class _Listed(jinja2.FileSystemLoader):
    """Lists the files of the themes installed once in a process: they hold thousands of icons, of which no site of ours ships one."""

    def __init__(self, folders: Sequence[str], fresh: str) -> None:
        super().__init__(folders)
        self.fresh = fresh

    def list_templates(self) -> list[str]:
        return sorted({name for folder in self.searchpath for name in (_listing if folder == self.fresh else _kept_listing)(folder)})


def _listing(folder: str) -> tuple[str, ...]:
    return tuple(name for name in jinja2.FileSystemLoader(folder).list_templates() if not name.startswith("."))


_kept_listing = cache(_listing)


class _Tenant(BasePlugin):  # type: ignore[misc]
    """Keeps out what the theme would ship and no page of ours asks for, and lets no script run but those we know.

    A page of ours is one raw block, which Markdown leaves alone after having read every tag of it; it goes round that. So built, a page
    has the bytes that Markdown would give it.
    """

    def __init__(self, language: str) -> None:
        super().__init__()
        self.language = language
        self.raw: dict[str, str] = {}
        self.whole = ""

    def on_page_markdown(self, markdown: str, *, page: Any, config: Any, files: Any) -> str:
        body = markdown.strip()
        if not _RAW.fullmatch(body):
            return markdown
        self.raw[page.file.src_uri] = body
        return ""

    def on_page_content(self, html: str, *, page: Any, config: Any, files: Any) -> str:
        return self.raw.pop(page.file.src_uri, html)

    @event_priority(100)  # type: ignore[untyped-decorator]
    def _before_the_search(self, context: Any, *, page: Any, config: Any, nav: Any) -> None:
        self.whole = page.content
        page.content = heard(page.content)

    @event_priority(-100)  # type: ignore[untyped-decorator]
    def _after_the_search(self, context: Any, *, page: Any, config: Any, nav: Any) -> None:
        page.content = _FOR_THE_SEARCH.sub("", self.whole)

    on_page_context = CombinedEvent(_before_the_search, _after_the_search)

    def on_files(self, files: Any, *, config: Any) -> Any:
        for file in list(files):
            if file.src_dir != config.docs_dir and not self.wanted(file.src_uri):
                files.remove(file)
        return files

    def on_env(self, env: jinja2.Environment, *, config: Any, files: Any) -> jinja2.Environment:
        env.bytecode_cache = _Compiled()
        return env

    def on_post_page(self, output: str, *, page: Any, config: Any) -> str:
        return output.replace(_HEAD, f"{_HEAD}\n  {_policy(output)}", 1)

    def wanted(self, name: str) -> bool:
        if name == "sitemap.xml" or name.endswith(".map") or name.startswith(("assets/stylesheets/", "assets/images/")):
            return False
        if name.startswith("assets/javascripts/lunr/"):
            return self.language != "en" and name.removeprefix("assets/javascripts/lunr/") in self.stemming()
        return True

    def stemming(self) -> set[str]:
        special = {"ja": {"tinyseg.js"}, "hi": {"wordcut.js"}, "th": {"wordcut.js"}}
        code = self.language.split("-")[0]
        return {"min/lunr.stemmer.support.min.js", f"min/lunr.{code}.min.js"} | special.get(code, set())


def _policy(page: str) -> str:
    """The page's Content Security Policy (CSP Level 3): scripts beside it, and its own inline ones by their digest, nothing else.

    Only scripts are bound: a browser that reads `file:` otherwise then loses the search, never the sheet.
    """
    digests = {base64.b64encode(hashlib.sha256(script.encode()).digest()).decode() for script in _INLINE_SCRIPT.findall(page)}
    scripts = " ".join(["'self' file:", *(f"'sha256-{digest}'" for digest in sorted(digests))])
    rules = f"script-src {scripts}; connect-src 'self' file:; object-src 'none'; base-uri 'none'; form-action 'none'"
    return f'<meta http-equiv="Content-Security-Policy" content="{rules}">'


def build_site(staged: Path, out: Path) -> None:
    """Build the folder that `stage` wrote into `out`, which is emptied first: files 0644, folders 0755, the same bytes each time.

    Raises SiteError at anything mkdocs fails at or warns of.
    """
    with _ONE_AT_A_TIME, _warnings_gathered() as said:
        try:
            _build(staged, out)
        except (MkDocsException, jinja2.TemplateError, OSError, SystemExit) as fault:
            raise SiteError("\n".join([*said, _told(fault)])) from fault
    if said:
        raise SiteError("\n".join(said))
    _set_modes(out)


def _told(fault: BaseException) -> str:
    if isinstance(fault, jinja2.TemplateSyntaxError):
        return f"{fault.filename}:{fault.lineno}: {fault.message}"
    return str(fault)


def _build(staged: Path, out: Path) -> None:
    config = load_config(config_file=str(staged / "mkdocs.yml"), site_dir=str(out.absolute()))
    facts = config.extra["dossier"]
    config.theme.static_templates.clear()  # 404.html needs a host, sitemap.xml an address
    config.plugins["tenant"] = _Tenant(facts["language"])
    config.plugins.on_startup(command="build", dirty=False)
    plain, fresh = config.theme.get_env, str(config.theme.custom_dir)

    def with_kept_lists() -> jinja2.Environment:
        env: jinja2.Environment = plain()
        env.loader = _Listed([str(folder) for folder in config.theme.dirs], fresh)
        return env

    config.theme.get_env = with_kept_lists
    with _epoch(int(facts["epoch"])):
        try:
            build(config)
        finally:
            config.plugins.on_shutdown()


@contextmanager
def _epoch(seconds: int) -> Iterator[None]:
    before = os.environ.get("SOURCE_DATE_EPOCH")
    os.environ["SOURCE_DATE_EPOCH"] = str(seconds)
    try:
        yield
    finally:
        del os.environ["SOURCE_DATE_EPOCH"]
        if before is not None:
            os.environ["SOURCE_DATE_EPOCH"] = before


class _Gather(logging.Handler):
    def __init__(self, said: list[str]) -> None:
        super().__init__(logging.WARNING)
        self.said = said

    def emit(self, record: logging.LogRecord) -> None:
        self.said.append(record.getMessage())


@contextmanager
def _warnings_gathered() -> Iterator[list[str]]:
    said: list[str] = []
    log, gather = logging.getLogger("mkdocs"), _Gather(said)
    before = log.propagate
    log.addHandler(gather)
    log.propagate = False
    try:
        yield said
    finally:
        log.propagate = before
        log.removeHandler(gather)


def _set_modes(out: Path) -> None:
    out.chmod(0o755)
    for path in out.rglob("*"):
        path.chmod(0o755 if path.is_dir() else 0o644)
