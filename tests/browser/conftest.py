"""Real Chromium for tests: one browser for the run, a fresh page for each test."""

import json
import os
import shutil
import threading
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer

import pytest
from playwright.sync_api import sync_playwright

from fettlebook.pages.scripts import shipped_script
from fettlebook.pages.units_script import units_script
from fettlebook.tables.catalogue import table_named

FLAGS = [
    "--headless", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync", *(["--no-sandbox"] if os.getuid() == 0 else []),
]  # fmt: skip


def chromium_path():
    """Any Chromium on the machine; None lets Playwright use its own."""
    for name in ("chromium", "chromium-browser", "google-chrome"):
        if found := shutil.which(name):
            return found
    return None


@pytest.fixture(scope="session")
def browser():
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium_path(), args=FLAGS)
        yield browser
        browser.close()


@pytest.fixture
def page(browser):
    context = browser.new_context(viewport={"width": 810, "height": 1080})
    page = context.new_page()
    page.set_default_timeout(8000)
    yield page
    context.close()


@pytest.fixture
def run_in_browser(page):
    """Runs a table's script on many inputs: run_in_browser(name, [given, ...]) -> [{"rows": ...} or {"refused": {...}}].

    `given` is by parameter name with values as read; what is missing takes the definition's default.
    """

    def run(name, givens):
        definition = table_named(name)
        figures = definition.browser_data() if definition.browser_data else None
        defaults = {p.name: None if p.required else p.default for p in definition.parameters}
        page.set_content("<!doctype html><title>t</title>")
        page.add_script_tag(content=units_script())
        page.add_script_tag(content=shipped_script("base.js"))
        page.add_script_tag(content=shipped_script(f"tables/{definition.browser}.js"))
        return page.evaluate(
            """([name, givens, figures]) => givens.map(given => {
                try { return fettlebook.tables[name](given, figures); }
                catch (fault) {
                    if (!(fault instanceof fettlebook.Refused)) throw fault;
                    return {refused: {parameter: fault.parameter, what: fault.what, hint: fault.hint}};
                }
            })""",
            json.loads(json.dumps([name, [{**defaults, **given} for given in givens], figures])),
        )

    return run


class Quiet(SimpleHTTPRequestHandler):
    """Serves files without a word and remembers what was asked for, in `server.asked`."""

    def log_message(self, *args):
        pass

    def do_GET(self):
        self.server.asked.append(self.path)
        super().do_GET()


@pytest.fixture(scope="session")
def serve():
    """serve(folder) -> a running server; its `address` ends without a slash. Stopped at the end of the run at the latest."""
    running = []

    def start(folder, port=0):
        server = ThreadingHTTPServer(("127.0.0.1", port), partial(Quiet, directory=str(folder)))
        server.asked = []
        server.address = f"http://localhost:{server.server_address[1]}"
        threading.Thread(target=server.serve_forever, daemon=True).start()
        running.append(server)
        return server

    yield start
    for server in running:
        server.shutdown()
        server.server_close()


@pytest.fixture(params=["folder", "server"])
def at(request, site, serve):
    """at(uri) -> the page's address, once from the folder and once from a server on this machine."""
    if request.param == "folder":
        return lambda uri: (site / uri).as_uri()
    server = request.getfixturevalue("shop_server")
    return lambda uri: f"{server.address}/{uri}"


@pytest.fixture(scope="session")
def shop_server(site, serve):
    return serve(site)


@pytest.fixture
def tablet(page):
    """A page of a tablet's size that notes errors and every request to anywhere else."""
    return watch(page)


def watch(page):
    """PAGE with `errors` and `outside`: what its scripts stumbled over, and what it asked for elsewhere."""
    page.outside, page.errors = [], []
    page.set_default_timeout(8000)
    here = ("file:", "data:", "blob:", "http://localhost:")
    page.on("request", lambda r: page.outside.append(r.url) if not r.url.startswith(here) else None)
    page.on("pageerror", lambda error: page.errors.append(str(error)))
    page.on("console", lambda message: page.errors.append(message.text) if message.type == "error" else None)
    return page
