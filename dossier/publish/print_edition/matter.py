"""The blocks of a page as nodes for the sheet: headings, lists, particulars, tables, plots, photographs and workings."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from dossier.pages.parts.plots.paper import Inks, paper_drawing
from dossier.publish.print_edition.equation import equation
from dossier.publish.print_edition.marked import WHOLE, Tree, UnsetError, tree_of, words_of
from dossier.publish.print_edition.plates import Plate, plates_of
from dossier.publish.print_edition.tables import UPRIGHT, table
from dossier.publish.print_edition.words import Places, Speller

Node = dict[str, Any]
Nodes = list[Node]

_HALF = 82.0
_SCREEN_ONLY = "on-screen"
"""Class of a paragraph that speaks of how a screen is worked: paper leaves it out, and nothing else."""
_KEPT = frozenset({"statement", "snag", "operation", "agreement", "conflict", "note", "front-top"})


class Matter:
    """Sets the body of one sheet. `plates` are the photographs as made for paper, by the names the page knows them by."""

    def __init__(self, sheet: str, places: Places, plates: Mapping[str, Plate], css: str, inks: Inks) -> None:
        self.sheet, self.places, self.plates, self.css, self.inks = sheet, places, plates, css, inks
        self.speller = Speller(sheet, places)
        self.level = 1
        self.room, self.small = UPRIGHT, False
        self._ways: dict[str, Callable[[Node], Nodes]] = {
            "p": self._paragraph, "dl": self._particulars, "ul": self._list, "ol": self._list, "table": self._table, "svg": self._plot,
            "figure": self._figure, "details": self._working, "div": self._div, "section": self._section, "blockquote": self._quote,
            "pre": self._verbatim, "hr": lambda one: [], "footer": self._paragraph,
        }  # fmt: skip

    def body(self, html: str) -> Nodes:
        """The nodes of a page's body. UnsetError at what cannot be set."""
        return self.blocks(tree_of(html, WHOLE))

    def blocks(self, tree: Tree) -> Nodes:
        """The nodes of some blocks; words that stand between blocks become a paragraph."""
        out: Nodes = []
        loose: Tree = []
        for one in [*tree, None]:
            if one is None or (not isinstance(one, str) and self._way(one["tag"])):
                if words := self.speller.words(loose):
                    out.append({"k": "p", "css": "", "in": words})
                loose = []
                out += self._way(one["tag"])(one) if one is not None else []  # type: ignore[misc]
            else:
                loose.append(one)
        return out

    def _way(self, tag: str) -> Callable[[Node], Nodes] | None:
        if len(tag) == 2 and tag[0] == "h" and tag[1].isdigit():
            return self._heading
        return self._ways.get(tag)

    def _at(self, one: Node) -> str:
        place = f"{self.sheet}#{one['of'].get('id', '')}"
        return place if one["of"].get("id") and place in self.places.known else ""

    def _heading(self, one: Node, numbered: bool = True) -> Nodes:
        self.level = min(int(one["tag"][1]), self.level + 1)
        return [{"k": "h", "level": self.level, "numbered": numbered, "at": self._at(one), "in": self.speller.words(one["inside"])}]

    def _paragraph(self, one: Node) -> Nodes:
        classes = one["of"].get("class", "")
        words = self.speller.words(one["inside"])
        return [{"k": "p", "css": classes, "in": words}] if words and _SCREEN_ONLY not in classes.split() else []

    def _particulars(self, one: Node) -> Nodes:
        rows = [[self.speller.words(part["inside"]) for part in pair["inside"]] for pair in one["inside"]]
        if any(len(row) != 2 for row in rows):
            raise UnsetError("particulars are pairs of a name and a fact")
        return [{"k": "terms", "css": one["of"].get("class", ""), "rows": rows}]

    def _list(self, one: Node) -> Nodes:
        classes = one["of"].get("class", "").split()
        if "contact" in classes:
            return [{"k": "sheet", "of": [self._frame(frame) for frame in one["inside"]]}]
        if "chain" in classes:
            return [
                {"k": "terms", "css": "chain", "rows": [[self.speller.words([part]) for part in item["inside"]] for item in one["inside"]]}
            ]
        items = [self.blocks(item["inside"]) for item in one["inside"]]
        return [{"k": "list", "css": " ".join(classes), "ordered": one["tag"] == "ol", "items": items}]

    def _table(self, one: Node) -> Nodes:
        return [table(one, self.speller, self.places, self.room, self.small)]

    def _plot(self, one: Node) -> Nodes:
        classes = one["of"].get("class", "").split()
        if "only-narrow" in classes:
            return []  # the same plot drawn for a telephone
        if "only-wide" not in classes:
            raise UnsetError("a drawing that is no plot cannot be set by itself")
        parts = {name: one["drawn"].partition(f"<{name} ")[2].partition(">")[2].partition("</")[0] for name in ("title", "desc")}
        alt = ". ".join(words_of(tree_of(text, frozenset())).rstrip(".") for text in parts.values() if text) + "."
        return [{"k": "plot", "of": paper_drawing(one["drawn"], self.css, self.inks), "alt": alt, "caption": []}]

    def _figure(self, one: Node) -> Nodes:
        classes = one["of"].get("class", "").split()
        if "pair" in classes:
            sides = [{**plates_of([side], self.plates)[0], "caption": self.speller.words(side["inside"][1:])} for side in one["inside"]]
            return [{"k": "sheet", "of": sides}]
        captions = [part for part in one["inside"] if part["tag"] == "figcaption"]
        said = self.speller.words([word for part in captions for word in part["inside"]])
        if "plotfig" in classes:
            plots = [node for part in one["inside"] if part["tag"] == "svg" for node in self._plot(part)]
            rest = self.blocks([part for part in one["inside"] if part["tag"] not in ("svg", "figcaption")])
            return [{**node, "caption": said if node is plots[-1] else []} for node in plots] + rest
        [picture] = plates_of(one["inside"], self.plates)
        legend = [self.speller.words(item["inside"]) for part in one["inside"] if part["tag"] == "ol" for item in part["inside"]]
        return [{**picture, "caption": said, "legend": legend, "css": " ".join(classes)}]

    def _frame(self, item: Node) -> Node:
        """A photograph of the contact sheet, with its number: paper is searched by eye."""
        [figure] = self._figure(item["inside"][0])
        id = item["of"].get("id", "")
        return {
            **figure,
            "at": self._at(item),
            "caption": [*figure["caption"], {"k": "quiet", "in": [f" {id}"]}] if id else figure["caption"],
        }

    def _working(self, one: Node) -> Nodes:
        """A worked figure: always open on paper."""
        summary, working = one["inside"]
        [heading] = self._heading(next(part for part in summary["inside"] if part["tag"] == "h3"), numbered=False)
        beside = self.speller.words([part for part in summary["inside"] if part["tag"] != "h3"])
        self.small = True
        try:
            inside = self.blocks(working["inside"])
        finally:
            self.small = False
        return [{"k": "working", "at": self._at(working), "heading": heading, "beside": beside, "in": inside}]

    def _div(self, one: Node) -> Nodes:
        classes = one["of"].get("class", "").split()
        if "two" in classes:
            before, self.room = self.room, _HALF
            try:
                return [{"k": "two", "of": [self.blocks([part]) for part in one["inside"]]}]
            finally:
                self.room = before
        if "plates" in classes:
            return [{"k": "sheet", "of": [node for part in one["inside"] for node in self._figure(part)]}]
        if "workings" in classes:
            return [{"k": "beside", "of": [self.blocks([part]) for part in one["inside"]]}]
        if "formula" in classes:
            return [self._formula(one)]
        return self._kept(one, classes)

    def _formula(self, one: Node) -> Node:
        """A formula, the same with the numbers put in, and what stands between. Its twin in plain text is what a reader who cannot see hears."""
        lines: list[Any] = []
        for part in one["inside"]:
            if part["tag"] == "p" and "plain-formula" not in part["of"].get("class", ""):
                lines.append(self.speller.words(part["inside"]))
            elif part["tag"] == "div":
                some = [equation(two) for two in part["inside"]]
                lines.append({"body": [node for each in some for node in each["body"]], "alt": "".join(each["alt"] for each in some)})
        return {"k": "formula", "of": lines, "long": "long" in one["of"].get("class", "").split()}

    def _section(self, one: Node) -> Nodes:
        return self._kept(one, one["of"].get("class", "").split())

    def _kept(self, one: Node, classes: list[str]) -> Nodes:
        kind = next((name for name in classes if name in _KEPT), "")
        inside = self._unnumbered(one["inside"]) if kind == "snag" else self.blocks(one["inside"])
        return [{"k": "block", "css": kind, "at": self._at(one), "in": inside}] if kind or self._at(one) else inside

    def _unnumbered(self, tree: Tree) -> Nodes:
        return [{**node, "numbered": False} if node["k"] == "h" else node for node in self.blocks(tree)]

    def _quote(self, one: Node) -> Nodes:
        return [{"k": "quote", "in": self.blocks(one["inside"])}]

    def _verbatim(self, one: Node) -> Nodes:
        return [{"k": "verbatim", "of": "".join(part if isinstance(part, str) else words_of(part["inside"]) for part in one["inside"])}]
