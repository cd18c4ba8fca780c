"""Every page is HTML without a parse error, as html5lib reads it (an independent parser that follows the WHATWG standard)."""

import html5lib

ONE_OF = {"single", "tables"}
"""Folders whose pages are made alike: some of each will do."""


def test_pages_parse_without_an_error(site):
    paths = sorted(site.rglob("*.html"))
    chosen = [path for n, path in enumerate(paths) if path.parent.name not in ONE_OF or n % 6 == 0]
    assert len(chosen) > 60 and {path.parent.name for path in chosen} >= ONE_OF
    errors = []
    for path in chosen:
        parser = html5lib.HTMLParser()
        parser.parse(path.read_text(encoding="utf-8"))
        errors += [
            f"{path.relative_to(site)}:{place[0]}:{place[1]}: {code} {about}" for place, code, about in parser.errors
        ]
    assert errors == []
