"""Reads a page as a strict reader would and tells what is wrong with it: tags that do not close, headings out of order, ids that are not
unique, links to nowhere, pictures without title, tables without caption or header, anything from the network, any script."""
import html.parser
import re

VOID = {"meta", "br", "hr", "img", "link", "input"}
SELF_CLOSING = {"path", "rect", "circle", "line", "polygon", "polyline", "use"}
FORBIDDEN = {"script", "iframe", "object", "embed", "link", "img", "base", "form", "input", "button"}


class Reader(html.parser.HTMLParser):
    """feed() a page, then see `findings`, `headings`, `tables` (header and rows of cells), `charts` (title, finding), `text`."""

    def __init__(self):
        super().__init__(convert_charrefs=True)
        self.findings, self.headings, self.tables, self.charts = [], [], [], []
        self.open, self.ids, self.links, self.references, self.text = [], [], [], [], []
        self.language = self.title = None
        self.mains = self.figures = 0
        self.captions = {}  # of each figure, by its number

    def wrong(self, what):
        self.findings.append(f"line {self.getpos()[0]}: {what}")

    def check_attributes(self, tag, attributes):
        names = [name for name, _ in attributes]
        if len(set(names)) != len(names):
            self.wrong(f"<{tag}> says an attribute twice")
        for name, value in attributes:
            if name.startswith("on") or (name == "style" and "svg" not in [tag for tag, _ in self.open]):
                self.wrong(f"<{tag}> has {name}")
            if name == "id":
                self.ids.append(value)
            if name == "href":
                self.links.append(value)
            if name in ("aria-labelledby", "aria-describedby"):
                self.references += value.split()
            if name not in ("xmlns", "aria-label") and value and re.search(r"(?i)(https?:)?//|javascript:|data:", value):
                self.wrong(f"<{tag}> {name} points elsewhere: {value[:60]}")

    def handle_starttag(self, tag, attributes):
        self.check_attributes(tag, attributes)
        named = dict(attributes)
        if tag in FORBIDDEN:
            self.wrong(f"<{tag}> has no place here")
        if tag in VOID:
            return
        parent = self.open[-1][0] if self.open else None
        if tag in ("h1", "h2", "h3", "h4", "p", "table", "figure", "section", "ul") and parent in ("p", "h1", "h2", "h3", "span"):
            self.wrong(f"<{tag}> within <{parent}>")
        if tag == "html":
            self.language = named.get("lang")
        if tag == "main":
            self.mains += 1
        if tag == "svg":
            if named.get("aria-hidden") != "true":
                self.charts.append({"role": named.get("role"), "title": "", "desc": "", "figure": self.figures if parent == "div" else 0})
        if tag == "figure":
            self.figures += 1
        if tag == "table":
            self.tables.append({"caption": "", "rows": [], "scopes": []})
        if tag == "tr":
            self.tables[-1]["rows"].append([])
        if tag in ("td", "th"):
            self.tables[-1]["rows"][-1].append("")
            if tag == "th":
                self.tables[-1]["scopes"].append(named.get("scope"))
        if re.fullmatch("h[1-6]", tag):
            self.headings.append([int(tag[1]), ""])
        if named.get("tabindex") and not (named.get("role") and named.get("aria-label")):
            self.wrong(f"<{tag}> can be reached, but says not what it is")
        self.open.append((tag, self.getpos()[0]))

    def handle_startendtag(self, tag, attributes):
        self.check_attributes(tag, attributes)
        if tag not in SELF_CLOSING:
            self.wrong(f"<{tag}/> is no element that closes itself")

    def handle_endtag(self, tag):
        if not self.open or self.open[-1][0] != tag:
            self.wrong(f"</{tag}> closes {self.open[-1] if self.open else 'nothing'}")
        else:
            self.open.pop()

    def handle_data(self, data):
        tags = [tag for tag, _ in self.open]
        if "style" in tags:
            if re.search(r"(?i)url\(|@import|expression|</", data):
                self.wrong("the style asks for something from elsewhere")
            return
        self.text.append(data)
        if "svg" in tags:
            if tags[-1] in ("title", "desc") and tags[-2] == "svg" and self.charts:
                self.charts[-1][tags[-1]] += data
            return
        if "figcaption" in tags:
            self.captions[self.figures] = self.captions.get(self.figures, "") + data
        if tags and tags[-1] == "title":
            self.title = data
        if "caption" in tags:
            self.tables[-1]["caption"] += data
        elif "td" in tags or "th" in tags:
            self.tables[-1]["rows"][-1][-1] += data
        for tag in tags:
            if re.fullmatch("h[1-6]", tag):
                self.headings[-1][1] += data

    def handle_comment(self, data):
        self.wrong(f"a comment: {data[:40]}")

    def check_headings(self):
        level = 0
        for depth, words in self.headings:
            if depth > level + 1:
                self.wrong(f"h{depth} \"{words[:40]}\" follows h{level}")
            if not words.strip():
                self.wrong(f"an empty h{depth}")
            level = depth
        if [depth for depth, _ in self.headings].count(1) != 1:
            self.wrong("a page has one h1")

    def check_tables(self):
        for table in self.tables:
            widths = {len(row) for row in table["rows"]}
            if not table["caption"].strip():
                self.wrong("a table without caption")
            if len(widths) != 1:
                self.wrong(f"a table with rows of {sorted(widths)} cells")
            if None in table["scopes"] or "col" not in table["scopes"]:
                self.wrong("a table header without scope")

    def finish(self):
        """All that is wrong with the page."""
        self.close()
        for tag, line in self.open:
            self.findings.append(f"line {line}: <{tag}> never closes")
        for one in {x for x in self.ids if self.ids.count(x) > 1}:
            self.wrong(f"id {one} stands twice")
        for link in self.links:
            if not link.startswith("#") or link[1:] not in self.ids:
                self.wrong(f"a link to nowhere: {link[:60]}")
        for name in self.references:
            if name not in self.ids:
                self.wrong(f"a reference to nowhere: {name}")
        self.check_headings()
        self.check_tables()
        for chart in self.charts:
            if chart["role"] != "img" or not chart["title"].strip() or not self.captions.get(chart["figure"], "").strip():
                self.wrong("a chart without role, title or finding")
            if chart["desc"]:
                self.wrong("a chart whose finding is said twice")
        if self.language != "en" or not self.title or self.mains != 1:
            self.wrong("a page has a language, a title and one main part")
        return self.findings


def read(page):
    """The reader of a page (bytes or text) with all its findings."""
    text = page.decode("utf-8") if isinstance(page, bytes) else page
    reader = Reader()
    if not text.startswith("<!DOCTYPE html>\n"):
        reader.wrong("no document type")
    for c in {c for c in text if (ord(c) < 0x20 and c not in "\n") or 0x7F <= ord(c) < 0xA0 or 0x202A <= ord(c) <= 0x202E}:
        reader.wrong(f"a control character U+{ord(c):04X}")
    reader.feed(text)
    reader.finish()
    return reader
