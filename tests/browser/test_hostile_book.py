"""A book written to do harm: whatever stands in a text is refused by the check or shown as the text that it is.

What counts as harm follows the cross-site scripting and template injection classes of OWASP's testing guide (WSTG-INPV-01,
-02, -18): markup, attributes, addresses that run and template syntax of Jinja and Typst.
"""

import base64
import hashlib
import json
import re
import shutil
from copy import deepcopy
from html.parser import HTMLParser
from pathlib import Path

import pypdf
import pytest

from fettlebook.book.load import load
from fettlebook.book.strict_yaml import read_text
from fettlebook.check.rules import check_book

BOOK = Path(__file__).parent.parent / "book" / "demo"
PAYLOAD = "\"'></title><script>hacked=1</script><img src=x onerror=hacked=1>{{7*191}}{%raw%}#read(1)$x$`"
CONFIG = "site_name: A book\ntheme: {name: material, font: false}\nplugins: [fettlebook]\n"


def leaves(node, path=()):
    """The path of every text in a tree."""
    if isinstance(node, dict | list):
        for key, value in node.items() if isinstance(node, dict) else enumerate(node):
            yield from leaves(value, (*path, key))
    elif isinstance(node, str):
        yield path


def with_payload(tree, paths, payload):
    spoilt = deepcopy(tree)
    for *inside, last in paths:
        node = spoilt
        for key in inside:
            node = node[key]
        node[last] = f"{node[last]} {payload}"
    return spoilt


def is_clean(book):
    loaded, found = load(book)
    return not found and not [one for one in check_book(loaded) if not one.mild]


def spoil(book, payload):
    """Put PAYLOAD into every text of BOOK that takes it; how many took it and how many refused it."""
    took = refused = 0
    for file in sorted([*book.rglob("*.yml"), *book.rglob("*.json")]):
        written = file.read_text(encoding="utf-8")
        tree = json.loads(json.dumps(read_text(written, file.name)[0]))
        open_to_it = []
        for path in leaves(tree):
            file.write_text(json.dumps(with_payload(tree, [path], payload)), encoding="utf-8")
            open_to_it += [path] if is_clean(book) else []
            refused += 0 if open_to_it[-1:] == [path] else 1
        took += len(open_to_it)
        file.write_text(json.dumps(with_payload(tree, open_to_it, payload)), encoding="utf-8")
    return took, refused


@pytest.fixture(scope="module")
def hostile(tmp_path_factory, fettlebook):
    """The site of a book with a payload in each text."""
    book = tmp_path_factory.mktemp("hostile") / "book"
    shutil.copytree(BOOK, book)
    took, refused = spoil(book, PAYLOAD)
    assert took > 80 and refused > 40, f"{took} texts took the words, {refused} names and figures did not"
    assert is_clean(book)
    (book / "docs").mkdir()
    (book / "docs" / "notes.md").write_text(f"# Notes {PAYLOAD}\n\nWords {PAYLOAD}\n", encoding="utf-8")
    (book / "mkdocs.yml").write_text(CONFIG, encoding="utf-8")
    done = fettlebook("build", cwd=book)
    assert done.returncode == 0, done.stderr
    return book / "site"


def test_nothing_runs_and_nothing_is_asked_for_on_any_page(page, hostile):
    site = hostile
    troubles = []
    page.on(
        "request", lambda r: None if r.url.startswith((site.as_uri(), "data:", "blob:")) else troubles.append(r.url)
    )
    page.on("requestfailed", lambda r: troubles.append(f"missing: {r.url}"))
    page.on("console", lambda m: troubles.append(m.text) if m.type == "error" else None)
    page.on("pageerror", lambda e: troubles.append(str(e)))
    page.on("dialog", lambda d: (troubles.append(d.message), d.dismiss()))
    seen = 0
    for path in sorted(site.rglob("*.html")):
        if path.parent.name in {"tables", "worksheets"} or path.name == "404.html":  # a server shows that one
            continue
        page.goto(path.as_uri())
        assert page.evaluate("typeof hacked") == "undefined", path
        assert page.locator("[onerror], [onload], img[src=x], a[href^=javascript]").count() == 0, path
        assert "1337" not in page.locator("body").inner_text(), "a template was worked out"
        seen += 1
    assert seen > 12
    assert troubles == []


def test_words_are_shown_as_they_stand_also_in_a_job_and_in_search(page, hostile):
    site = hostile
    page.goto((site / "procedures/replace-a-plug-seal.html").as_uri())
    assert PAYLOAD.rstrip("`") in " ".join(page.locator("h1").first.inner_text().split())
    page.get_by_role("link", name=re.compile("Do this at the machine")).or_(
        page.get_by_role("button", name=re.compile("Do this at the machine"))
    ).first.click()
    page.wait_for_timeout(300)
    assert page.evaluate("typeof hacked") == "undefined"
    page.goto((site / "index.html").as_uri())
    page.locator("input[type=search]").first.fill("hacked")
    page.wait_for_timeout(300)
    assert page.evaluate("typeof hacked") == "undefined"


def test_sheets_show_the_words_and_read_nothing(hostile):
    site = hostile
    sheets = sorted((site / "sheets").glob("replace-a-plug-seal*.pdf"))
    assert sheets
    words = "".join(page.extract_text() for page in pypdf.PdfReader(sheets[0]).pages)
    assert "hacked" in words and "root:" not in words and "1337" not in words


class Scripts(HTMLParser):
    """The policy, the scripts within the page and the attributes that would run or style, of one page."""

    def __init__(self):
        super().__init__(convert_charrefs=True)
        self.policy, self.before_policy, self.inside, self.words, self.bad = "", 0, False, [], []

    def handle_starttag(self, tag, attributes):
        known = dict(attributes)
        if tag == "meta" and (known.get("http-equiv") or "").lower() == "content-security-policy":
            self.policy = self.policy or known["content"]
        if tag == "script":
            self.before_policy += not self.policy
            self.inside = "src" not in known and known.get("type") != "application/json"
            self.words += [""] if self.inside else []
        self.bad += [(tag, name) for name in known if name.startswith("on") or (name == "style" and not self.policy)]
        self.bad += [
            (tag, name) for name, value in attributes if (value or "").strip().lower().startswith("javascript:")
        ]

    def handle_data(self, data):
        if self.inside:
            self.words[-1] += data

    def handle_endtag(self, tag):
        self.inside = self.inside and tag != "script"


def test_every_page_has_a_strict_policy_and_no_script_outside_it(site):
    pages = sorted(site.rglob("*.html"))
    assert len(pages) > 100
    for path in pages:
        parser = Scripts()
        parser.feed(path.read_text(encoding="utf-8"))
        name = path.relative_to(site)
        assert "default-src 'none'" in parser.policy and "unsafe" not in parser.policy, name
        assert "http:" not in parser.policy and "https:" not in parser.policy and "*" not in parser.policy, name
        assert parser.before_policy == 0 and parser.bad == [], name
        for words in parser.words:
            digest = base64.b64encode(hashlib.sha256(words.encode()).digest()).decode()
            assert f"'sha256-{digest}'" in parser.policy, f"{name}: a script without its hash"
