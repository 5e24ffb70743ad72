"""The built site: valid, whole, the same bytes each time, asking nobody for anything, and quiet unless something is wrong."""

from __future__ import annotations

import hashlib
import os
import re
import stat
import subprocess
import sys
from dataclasses import replace
from pathlib import Path
from urllib.parse import unquote, urlsplit

import html5lib
import jinja2
import pytest

from dossier.publish.site import SiteError, build_site
from dossier.publish.staging import stage
from tests.publish.sheets import ARCHIVE, FACTS, FILES, SHEETS, built

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="module")
def site(tmp_path_factory) -> Path:
    return built(tmp_path_factory.mktemp("site"))


def digests(site: Path) -> dict[str, str]:
    return {str(path.relative_to(site)): hashlib.sha256(path.read_bytes()).hexdigest() for path in site.rglob("*") if path.is_file()}


def test_the_site_holds_its_pages_its_files_and_nothing_a_disc_has_no_use_for(site):
    names = set(digests(site))
    assert {"index.html", "specification.html", "set-up.html", "img/dot.gif", "dossier.json", "search/search_index.js"} <= names
    assert not [
        name for name in names if name.endswith((".map", ".xml", ".gz")) or "404" in name or "lunr" in name or "stylesheets" in name
    ]
    assert {name.split("/")[0] for name in names if "/" in name} == {"assets", "img", "search"}


def test_every_style_sheet_of_the_template_is_loaded_once_and_the_printed_one_last(site):
    page = html5lib.parse((site / "index.html").read_text(encoding="utf-8"), namespaceHTMLElements=False)
    loaded = [link.get("href") for link in page.iter("link") if link.get("rel") == "stylesheet"]
    assert sorted(loaded) == sorted(f"assets/{sheet.name}" for sheet in (ROOT / "site_template/assets").glob("*.css"))
    assert loaded[0] == "assets/paper.css" and loaded[-1] == "assets/print.css"


def test_fonts_travel_with_their_licences(site):
    fonts = {path.name for path in (site / "assets/fonts").iterdir()}
    families = {name.split("-latin")[0].split("-greek")[0] for name in fonts if name.endswith(".woff2")}
    assert families == {"vollkorn", "archivo-narrow"}
    for family in families:
        assert "SIL Open Font License, Version 1.1" in (site / f"assets/fonts/{family}-OFL.txt").read_text(encoding="utf-8")


@pytest.mark.parametrize("name", ["index.html", "specification.html", "set-up.html"])
def test_every_page_is_valid_to_a_strict_html_reader(site, name):
    html5lib.HTMLParser(strict=True).parse((site / name).read_text(encoding="utf-8"))


def references(site: Path) -> list[tuple[Path, str]]:
    found = []
    for page in site.glob("*.html"):
        for element in html5lib.parse(page.read_text(encoding="utf-8"), namespaceHTMLElements=False).iter():
            found += [(page, value) for key in ("src", "href") if (value := element.get(key))]
    for sheet in site.rglob("*.css"):
        found += [(sheet, address) for address in re.findall(r"url\(([^)]+)\)", sheet.read_text(encoding="utf-8"))]
    return found


def test_everything_a_page_or_style_sheet_refers_to_is_in_the_site(site):
    refers = [(source, address) for source, address in references(site) if not address.startswith("data:")]
    assert len(refers) > 50
    for source, address in refers:
        parts = urlsplit(address)
        assert not parts.scheme and not parts.netloc, f"{source.name} asks {address}"
        target = source.parent / unquote(parts.path) if parts.path else source
        assert target.is_file(), f"{source.name} refers to {address}"
        if parts.fragment:
            assert f'id="{parts.fragment}"' in target.read_text(encoding="utf-8")


def test_files_are_0644_and_folders_0755_whatever_the_mask(tmp_path):
    before = os.umask(0o077)
    try:
        site = built(tmp_path)
    finally:
        os.umask(before)
    modes = {stat.S_IMODE(path.stat().st_mode) for path in site.rglob("*") if path.is_file()}
    assert modes == {0o644}
    assert {stat.S_IMODE(path.stat().st_mode) for path in [site, *site.rglob("*")] if path.is_dir()} == {0o755}


def test_another_place_clock_zone_locale_and_hash_seed_give_the_same_bytes(site, tmp_path):
    elsewhere = tmp_path / "größer als sonst"
    elsewhere.mkdir()
    program = "import sys; from pathlib import Path; from tests.publish.sheets import built; built(Path(sys.argv[1]))"
    environment = {
        **os.environ,
        "TZ": "Pacific/Chatham",
        "LC_ALL": "C",
        "PYTHONHASHSEED": "7",
        "SOURCE_DATE_EPOCH": "1",
        "PYTHONPATH": str(ROOT),
    }
    said = subprocess.run([sys.executable, "-c", program, str(elsewhere)], cwd=tmp_path, check=True, env=environment, capture_output=True)
    assert (said.stdout, said.stderr) == (b"", b"")
    assert digests(elsewhere / "site") == digests(site)


def test_building_again_over_an_old_site_leaves_nothing_of_it(tmp_path):
    stage(SHEETS, FACTS, tmp_path / "staged", FILES)
    (tmp_path / "site").mkdir()
    (tmp_path / "site/old.html").write_text("old")
    build_site(tmp_path / "staged", tmp_path / "site")
    assert not (tmp_path / "site/old.html").exists()


def test_a_relative_folder_means_one_below_where_the_program_runs(tmp_path, monkeypatch):
    stage(SHEETS, FACTS, tmp_path / "staged", FILES)
    (tmp_path / "here").mkdir()
    monkeypatch.chdir(tmp_path / "here")
    build_site(Path("../staged"), Path("site"))
    assert (tmp_path / "here/site/index.html").is_file()


def test_building_is_quiet_and_leaves_the_environment_alone(tmp_path, capfd, monkeypatch):
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "5")
    built(tmp_path)
    assert tuple(capfd.readouterr()) == ("", "")
    assert os.environ["SOURCE_DATE_EPOCH"] == "5"
    monkeypatch.delenv("SOURCE_DATE_EPOCH")
    built(tmp_path / "again")
    assert "SOURCE_DATE_EPOCH" not in os.environ


@pytest.mark.parametrize(
    ("file", "old", "new", "said"),
    [
        ("mkdocs.yml", "- set-up.md", "- gone.md", "gone.md"),
        ("mkdocs.yml", "use_directory_urls", "use_directory_url", "use_directory_url"),
        ("mkdocs.yml", "name: material", "name: nosuch", "nosuch"),
        ("theme/main.html", "{% block hero %}", "{% block hero", r"main\.html:\d+: expected"),
        ("theme/main.html", "{{ d.edition | e }}", "{{ d.edition | nosuch }}", "nosuch"),
    ],
)
def test_whatever_mkdocs_warns_of_or_fails_at_is_raised_in_its_words(tmp_path, capfd, caplog, file, old, new, said):
    stage(SHEETS, FACTS, tmp_path / "staged", FILES)
    spoilt = tmp_path / "staged" / file
    text = spoilt.read_text(encoding="utf-8")
    assert old in text
    spoilt.write_text(text.replace(old, new), encoding="utf-8")
    with pytest.raises(SiteError, match=said):
        build_site(tmp_path / "staged", tmp_path / "site")
    assert tuple(capfd.readouterr()) == ("", "")
    assert caplog.records == [], "what is raised is not logged as well"


def test_the_themes_templates_are_compiled_once_for_all_sites_of_a_run(tmp_path, monkeypatch):
    compiled: list[str] = []
    real = jinja2.Environment.compile

    def noted(self, source, name=None, filename=None, **named):
        compiled.append(name)
        return real(self, source, name, filename, **named)

    built(tmp_path / "a")
    monkeypatch.setattr(jinja2.Environment, "compile", noted)
    built(tmp_path / "b")
    assert compiled and not {"main.html", "base.html"} & set(compiled)
    frame = tmp_path / "b/staged/theme/main.html"
    frame.write_text(frame.read_text(encoding="utf-8").replace("Skip to", "Go to"), encoding="utf-8")
    build_site(tmp_path / "b/staged", tmp_path / "b/site")
    assert "main.html" in compiled, "a changed template is compiled anew"
    assert "Go to the sheet" in (tmp_path / "b/site/index.html").read_text(encoding="utf-8")


def test_a_site_in_german_keeps_the_german_stemmer_and_no_other(tmp_path):
    site = built(tmp_path, facts=replace(FACTS, language="de"))
    assert {path.name for path in (site / "assets/javascripts/lunr").rglob("*.js")} == {"lunr.de.min.js", "lunr.stemmer.support.min.js"}


def test_sites_built_one_after_another_share_nothing_of_their_facts(tmp_path):
    first, second = built(tmp_path / "a"), built(tmp_path / "b", SHEETS, ARCHIVE)
    assert "ORW-02" in (first / "set-up.html").read_text(encoding="utf-8")
    assert not [path for path in second.rglob("*.*") if b"ORW-02" in path.read_bytes()]
    assert digests(built(tmp_path / "c")) == digests(first)
