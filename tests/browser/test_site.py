"""The demo site opened from its folder in Chromium: complete, self-contained, and searchable."""

import re
from html.parser import HTMLParser

import pytest

NAMED = [
    "recommission-an-imported-machine",
    "replace-drain-plug-seals",
    "anneal-and-reharden-a-chuck-key",
    "level-a-machine-on-jacks",
]


@pytest.fixture
def watched(page):
    """A page that notes every request that leaves the folder, and every error."""
    page.outside, page.errors = [], []
    page.on(
        "request",
        lambda request: (
            page.outside.append(request.url) if not request.url.startswith(("file:", "data:", "blob:")) else None
        ),
    )
    page.on("pageerror", lambda error: page.errors.append(str(error)))
    page.on("console", lambda message: page.errors.append(message.text) if message.type == "error" else None)
    return page


def open_page(page, site, uri):
    page.goto((site / uri).as_uri())
    page.wait_for_load_state("load")


@pytest.mark.parametrize(
    "uri",
    [
        "index.html",
        "symptoms.html",
        "tables/index.html",
        "tables/thread-limits.html",
        "glossary.html",
        *(f"procedures/{id}.html" for id in NAMED),
    ],
)
def test_a_page_asks_for_nothing_outside_and_has_no_errors(watched, site, uri):
    open_page(watched, site, uri)
    assert watched.outside == []
    assert watched.errors == []


@pytest.mark.parametrize("id", NAMED)
def test_cautions_come_before_anything_to_do(page, site, id):
    open_page(page, site, f"procedures/{id}.html")
    order = page.evaluate("[...document.querySelectorAll('article h2')].map(h => h.id)")
    assert order[0] == "cautions"
    assert page.locator("#cautions ~ .caution .caution__word").count() >= 3
    box = page.locator(".caution").first.bounding_box()
    assert box["y"] < 1080, "the first caution must be in sight when the page opens on a tablet"


@pytest.mark.parametrize("id", NAMED)
def test_a_procedure_is_complete_with_scripts_off(browser, site, id):
    context = browser.new_context(java_script_enabled=False, viewport={"width": 810, "height": 1080})
    page = context.new_page()
    page.goto((site / f"procedures/{id}.html").as_uri())
    for section in ["cautions", "ready", "numbers", "steps", "afterwards", "trouble", "sources", "revision"]:
        assert page.locator(f"#{section}").is_visible(), section
    assert page.locator(".step").count() >= 8
    assert not page.locator("#book-find").is_visible()
    assert page.locator(".si").first.is_visible() and page.locator(".us").first.is_visible()
    context.close()


def test_units_change_at_a_touch_and_are_remembered(page, site):
    open_page(page, site, "tables/levels.html")
    assert "mm/m" in page.inner_text("#view-1 ~ .scroll thead")
    page.click('[data-does="units"]')
    assert page.inner_text('[data-does="units"]') == "inch"
    assert "mm/m" not in page.inner_text("#view-1 ~ .scroll thead")
    open_page(page, site, "index.html")
    assert page.evaluate("document.documentElement.dataset.units") == "inch"


# What somebody at the machine types, and the procedure or table that must come first.
QUESTIONS = [
    ("oil under the headstock", "procedures/replace-drain-plug-seals.html"),
    ("weeping drain plug", "procedures/replace-drain-plug-seals.html"),
    ("chuck key soft", "procedures/anneal-and-reharden-a-chuck-key.html"),
    ("chuk key", "procedures/anneal-and-reharden-a-chuck-key.html"),
    ("level jacks", "procedures/level-a-machine-on-jacks.html"),
    ("1/2-13", "tables/thread-sizes.html"),
    ("M10x1.5", "tables/thread-sizes.html"),
    ("tempering color", "tables/temper-colours.html"),
    ("bubble", "tables/levels.html"),
]


@pytest.mark.parametrize("typed, uri", QUESTIONS)
def test_search_finds_by_symptom_tool_thread_and_other_name(page, site, typed, uri):
    open_page(page, site, "index.html")
    page.fill("#book-find", typed)
    page.wait_for_selector("#book-found a")
    first = [a.get_attribute("href") for a in page.query_selector_all("#book-found a")[:3]]
    assert any(href.endswith(uri) for href in first), first
    assert page.inner_text("#book-found a small").strip(), "a result says why it was found"


def test_search_is_worked_with_the_keyboard(page, site):
    open_page(page, site, "index.html")
    page.keyboard.press("/")
    page.keyboard.type("drain plug")
    page.wait_for_selector("#book-found a")
    page.keyboard.press("ArrowDown")
    target = page.locator("#book-found a[aria-selected=true]").get_attribute("href")
    page.keyboard.press("Enter")
    page.wait_for_url(re.compile(re.escape(target.lstrip("./").split("/")[-1])))


def test_search_says_so_when_nothing_is_found(page, site):
    open_page(page, site, "index.html")
    page.fill("#book-find", "zzzzqqq")
    page.wait_for_selector("#book-found p")
    assert "Nothing found" in page.inner_text("#book-found p")


class Links(HTMLParser):
    def __init__(self):
        super().__init__()
        self.links, self.ids, self.h1, self.lang = [], [], 0, None

    def handle_starttag(self, tag, attributes):
        known = dict(attributes)
        if "id" in known:
            self.ids.append(known["id"])
        if tag == "h1":
            self.h1 += 1
        if tag == "html":
            self.lang = known.get("lang")
        for name in ("href", "src"):
            if known.get(name):
                self.links.append(known[name])


def test_links_fragments_and_files_resolve_and_every_page_has_one_heading_and_a_language(site):
    pages = {}
    for path in site.rglob("*.html"):
        parser = Links()
        parser.feed(path.read_text(encoding="utf-8"))
        pages[path.resolve()] = parser
    assert len(pages) > 20
    broken = []
    for path, parser in pages.items():
        assert parser.h1 == 1, f"{path.name} has {parser.h1} main headings"
        assert parser.lang, path.name
        assert len(parser.ids) == len(set(parser.ids)), (
            f"{path.name}: {sorted({i for i in parser.ids if parser.ids.count(i) > 1})} stand twice"
        )
        for link in parser.links:
            if re.match(r"(?:https?|data):", link):
                continue
            file, _, fragment = link.partition("#")
            target = (path.parent / file).resolve() if file else path
            if path.name == "404.html" and file.startswith("/"):
                target = (site / file.lstrip("/")).resolve()
            if not target.exists() or (fragment and target in pages and fragment not in pages[target].ids):
                broken.append(f"{path.relative_to(site)} -> {link}")
    assert broken == []
