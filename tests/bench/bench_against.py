"""Benchmark of an archive against what one would use instead: the same sheets written by hand, as one mkdocs-material site and with Hugo.

Run from the root: `python tests/bench/bench_against.py [--in FOLDER] [--without-mkdocs-above N] SIZE …`; a size is a number of builds,
made from the smaller demo build (made_builds.py), each of 16 sheets. All three run in turn, each as a command of its own, cold.

Ours reads the folders, works out every figure, judges, draws, makes the pictures and the pages, on all cores. The other two are handed
everything worked out already: the words, tables and photographs of our sheets as plain Markdown (plain_pages.py), without the plots. So
ours is measured a second time from where they begin: the sheets written, plots and all (written_sheets.py).
mkdocs-material gets them as one site with its navigation in full and its search; it makes no pictures, so it is handed ours. Hugo
(Debian's package) gets a bare template with the navigation of each build, makes the pictures itself, and has no search.
"""

from __future__ import annotations

import argparse
import json
import os
import shutil
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

from bench_growth import COMMAND, Cost, cost_of
from made_builds import DEMO, make_build
from plain_pages import plain
from written_sheets import sheets_of

ROOT = Path(__file__).resolve().parents[2]
_HOOK = """{{ $one := resources.Get (path.Join (path.Dir .Page.File.Path) .Destination) }}{{ with $one.Fit "2400x2400 q84 jpg" -}}
<img src="{{ .RelPermalink }}" width="{{ .Width }}" height="{{ .Height }}" alt="{{ $.Text }}">{{ end }}
"""
_PAGE = """<!DOCTYPE html><html lang="en"><head><meta charset="utf-8"><title>{{ .Title }}</title></head><body>
<nav><ul>{{ range .CurrentSection.Pages }}<li><a href="{{ .RelPermalink }}">{{ .Title }}</a></li>{{ end }}</ul></nav>
<main><h1>{{ .Title }}</h1>{{ .Content }}</main></body></html>
"""
_LIST = """<!DOCTYPE html><html lang="en"><head><meta charset="utf-8"><title>{{ .Title }}</title></head><body>
<ul>{{ range .Pages }}<li><a href="{{ .RelPermalink }}">{{ .Title }}</a></li>{{ end }}</ul></body></html>
"""


def sheets(out: Path) -> Iterator[tuple[str, str, str, str]]:
    """Every sheet of every published dossier: slug of the build, name of the sheet, title, plain Markdown."""
    for entry in sorted(out.glob("*/archive-entry.json")):
        for name, title, body in sheets_of(entry.parent):
            yield entry.parent.name, name, title, plain(body)


def lay_mkdocs(out: Path, work: Path) -> int:
    """One site of all sheets; how many there are."""
    nav: dict[str, list[dict[str, str]]] = {}
    for slug, name, title, text in sheets(out):
        page = work / "docs" / slug / f"{name}.md"
        page.parent.mkdir(parents=True, exist_ok=True)
        page.write_text(f"# {title}\n\n{text}", encoding="utf-8")
        nav.setdefault(slug, []).append({title: f"{slug}/{name}.md"})
    for slug in nav:
        if (out / slug / "photographs").is_dir():
            shutil.copytree(out / slug / "photographs", work / "docs" / slug / "photographs")
    (work / "docs" / "index.md").write_text("# All builds\n", encoding="utf-8")
    settings = {
        "site_name": "All builds", "use_directory_urls": False, "theme": {"name": "material", "font": False}, "plugins": ["search"],
        "nav": [{"All builds": "index.md"}, *({slug: pages} for slug, pages in nav.items())],
    }  # fmt: skip
    (work / "mkdocs.yml").write_text(json.dumps(settings), encoding="utf-8")
    return sum(map(len, nav.values()))


def lay_hugo(out: Path, work: Path) -> None:
    """The same sheets with a bare template; photographs are processed by Hugo."""
    for slug, name, title, text in sheets(out):
        page = work / "content" / slug / f"{'sheet-' if name == 'index' else ''}{name}.md"
        page.parent.mkdir(parents=True, exist_ok=True)
        page.write_text(f"---\ntitle: {json.dumps(title)}\n---\n\n{text}", encoding="utf-8")
    for folder in sorted(out.glob("*/photographs")):
        shutil.copytree(folder, work / "assets" / folder.parent.name / "photographs")
    for name, text in {"_default/single.html": _PAGE, "_default/list.html": _LIST, "_default/_markup/render-image.html": _HOOK}.items():
        (work / "layouts" / name).parent.mkdir(parents=True, exist_ok=True)
        (work / "layouts" / name).write_text(text, encoding="utf-8")
    settings = {"baseURL": "/", "title": "All builds", "disableKinds": ["taxonomy", "term", "RSS", "sitemap"], "relativeURLs": True}
    (work / "config.json").write_text(json.dumps(settings), encoding="utf-8")


def measured(work: Path, size: int, mkdocs: bool) -> tuple[int, Cost, Cost, Cost | None, Cost]:
    """Sheets, and the costs of ours, of ours from written sheets, of mkdocs-material (if asked for) and of Hugo."""
    builds, out = work / "builds", work / "out"
    builds.mkdir(parents=True)
    shutil.copy(DEMO / "workshop.yaml", builds)
    for number in range(1, size + 1):
        make_build(builds, 2 * number)
    ours = cost_of([sys.executable, "-c", COMMAND, "publish", builds, "--for", "public", "--out", out], {"XDG_CACHE_HOME": work / "cache"})
    pages = cost_of([sys.executable, ROOT / "tests" / "bench" / "written_sheets.py", out, work / "again"], {})
    count = lay_mkdocs(out, work / "mkdocs")
    lay_hugo(out, work / "hugo")
    theirs = cost_of([sys.executable, "-m", "mkdocs", "build", "-q", "-f", work / "mkdocs" / "mkdocs.yml"], {}) if mkdocs else None
    hugo = cost_of(["hugo", "--quiet", "-s", work / "hugo"], {"HUGO_CACHEDIR": work / "hugo-cache"})
    made = len(list((work / "hugo" / "public").rglob("*.jpg")))
    assert made == len(list(out.glob("*/photographs/*.jpg"))) > 0, "Hugo made every picture"
    return count, ours, pages, theirs, hugo


def main() -> None:
    """Publish each size three times, print a Markdown table."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("sizes", nargs="+", type=int)
    asked.add_argument("--in", dest="folder", type=Path)
    asked.add_argument("--without-mkdocs-above", type=int, default=10**9)
    given = asked.parse_args()
    if shutil.which("hugo") is None:
        raise SystemExit("hugo is not installed (Debian: hugo)")
    print(f"{len(os.sched_getaffinity(0))} cores")
    print("| builds | sheets | ours, all of it | ours, from written sheets | mkdocs-material | Hugo | mkdocs ÷ ours | ours ÷ Hugo |")
    print("|---|---|---|---|---|---|---|---|")
    for size in given.sizes:
        with tempfile.TemporaryDirectory(dir=given.folder) as temporary:
            count, ours, pages, theirs, hugo = measured(Path(temporary), size, size <= given.without_mkdocs_above)
        ratios = f"{theirs.wall / ours.wall:.2f}; from sheets {theirs.wall / pages.wall:.2f}" if theirs else "–"
        back = f"{ours.wall / hugo.wall:.1f}; from sheets {pages.wall / hugo.wall:.1f}"
        print(f"| {size} | {count} | {_told(ours)} | {_told(pages)} | {_told(theirs)} | {_told(hugo)} | {ratios} | {back} |", flush=True)


def _told(cost: Cost | None) -> str:
    return f"{cost.wall:.1f} s ({cost.cpu:.1f} of CPU)" if cost else "not run"


if __name__ == "__main__":
    main()
