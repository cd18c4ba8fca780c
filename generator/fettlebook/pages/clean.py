"""What Markdown lets through in the hand-written pages, cut to what a page of words needs."""

from __future__ import annotations

import nh3

TAGS = nh3.ALLOWED_TAGS | {"section", "figure", "figcaption", "picture", "source", "details", "summary"}
ATTRIBUTES = {
    "*": {"id", "class", "title", "lang", "dir"},
    "a": {"href"},
    "img": {"src", "alt", "width", "height"},
    "ol": {"start"},
    "td": {"colspan", "rowspan", "align"},
    "th": {"colspan", "rowspan", "align", "scope"},
}
SCHEMES = {"https", "http", "mailto"}


def clean(html: str) -> str:
    """HTML without scripts, styles, forms, frames, handlers, and addresses that run; words are kept."""
    return nh3.clean(html, tags=TAGS, attributes=ATTRIBUTES, url_schemes=SCHEMES, link_rel=None)
