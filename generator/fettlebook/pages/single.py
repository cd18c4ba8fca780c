"""A procedure as one file that needs nothing beside it, for tablets whose file manager hands over a lone file."""

from __future__ import annotations

import base64
import hashlib
import re
from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache
from html import escape

from fettlebook.pages.page import Page

SCRIPTS = ("assets/units.js", "assets/base.js", "assets/app.js")
LINK = re.compile(r'<a ([^>]*?)href="(?!#|https?:)[^"]*"')
SIZES = re.compile(r' srcset="[^"]*" sizes="[^"]*"')
PICTURE = re.compile(r'src="(?:\.\./)?((?:assets|pictures)/[^"]+)"')
FONT = re.compile(r'url\("(fonts/[^"]+)"\)')
ACTIONS = re.compile(r'<a class="button[^"]*" href="(?!#)[^>]*>.*?</a>')
KINDS = {"svg": "image/svg+xml", "png": "image/png", "jpg": "image/jpeg", "webp": "image/webp", "woff2": "font/woff2"}


def single_files(
    pages: Iterable[Page], site: str, name: str, files: Mapping[str, bytes]
) -> Iterator[tuple[str, bytes]]:
    """(uri, content) of each of PAGES as one self-contained file, under single/."""
    style = single_style(files)
    for page in pages:
        yield f"single/{page.uri.rpartition('/')[2]}", single_page(page, site, name, files, style).encode()


def single_style(files: Mapping[str, bytes]) -> str:
    """The site's styles with the typefaces inside."""
    return FONT.sub(lambda m: f'url("{_data(f"assets/{m[1]}", files)}")', files["assets/fettle.css"].decode())


def single_page(page: Page, site: str, name: str, files: Mapping[str, bytes], style: str = "") -> str:
    """PAGE as a whole document with its styles, type, signs and scripts inside. Links out of it become plain words.

    site   the site's id, under which what is entered is kept on the device
    name   the site's name, shown above
    files  every file of the site by uri
    style  what `single_style` gives for them, worked out here without
    """
    start = files["assets/start.js"].decode()
    scripts = [files[uri].decode() for uri in (*SCRIPTS, *page.scripts)]
    style = style or single_style(files)
    body = PICTURE.sub(
        lambda m: f'src="{_data(m[1], files)}"', LINK.sub(r"<a \1", SIZES.sub("", ACTIONS.sub("", page.html)))
    )
    hashes = " ".join(f"'sha256-{_sha256(text)}'" for text in (start, *scripts))
    policy = f"default-src 'none'; script-src {hashes}; style-src 'sha256-{_sha256(style)}'; img-src data:; font-src data:; base-uri 'none'; form-action 'none'"
    tags = "".join(f"<script>{_closed(text)}</script>" for text in scripts)
    return (
        f'<!doctype html>\n<html lang="en" class="no-js"><head><meta charset="utf-8"><meta http-equiv="Content-Security-Policy" content="{policy}">'
        f'<meta name="viewport" content="width=device-width,initial-scale=1"><title>{escape(page.title)} - {escape(name)}</title>'
        f'<script data-site="{escape(site)}" data-root=".">{start}</script><style>{style}</style></head><body data-lone>'
        '<header class="bar"><div class="bar__row"><span class="bar__home">'
        f'{escape(name)}</span><button class="bar__button needs-script" type="button" data-does="units">mm</button>'
        '<button class="bar__button needs-script" type="button" data-does="light">◐</button></div></header>'
        '<div class="md-container"><main class="md-main"><div class="md-main__inner"><div class="md-content"><article class="md-content__inner md-typeset">'
        f"{body}</article></div></div></main></div>{tags}</body></html>\n"
    )


def _data(uri: str, files: Mapping[str, bytes]) -> str:
    kind = KINDS.get(uri.rpartition(".")[2], "application/octet-stream")
    return f"data:{kind};base64,{base64.b64encode(files.get(uri, b'')).decode()}"


@lru_cache(maxsize=64)
def _sha256(text: str) -> str:
    return base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()


def _closed(text: str) -> str:
    """TEXT as it stands inside a script element; a hash of it must be taken of the same text."""
    assert "</script" not in text.lower(), "a script may not hold its own end"
    return text
