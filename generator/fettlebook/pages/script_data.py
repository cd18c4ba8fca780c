"""Plain data as it may stand in a script: in a file of its own, and inside a page that holds its scripts."""

from __future__ import annotations

import json
from typing import Any


def script_data(content: Any, **how: Any) -> str:
    """CONTENT as JSON that cannot end the script it stands in, nor a line of it.

    `<` is written as its number, so that neither `</script` nor `<!--` can be made of what an author wrote; so are U+2028 and
    U+2029, which end a line in older browsers.
    """
    text = json.dumps(content, **{"ensure_ascii": False, "separators": (",", ":"), **how})
    return text.replace("<", "\\u003c").replace("\u2028", "\\u2028").replace("\u2029", "\\u2029")
