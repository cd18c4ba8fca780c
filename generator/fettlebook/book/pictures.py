"""Photographs of the shop's own: made small enough for a tablet, turned upright, and without anything that the camera wrote.

A camera writes where and when a picture was taken into its file. Only the picture itself is taken over.
"""

from __future__ import annotations

import hashlib
import io
from functools import cache
from pathlib import Path, PurePosixPath

from PIL import Image, ImageOps, UnidentifiedImageError

from fettlebook.book.book import Book
from fettlebook.book.procedure import Figure

WIDTHS = (800, 1600)
"""Widths in pixels that a page offers; a smaller picture keeps its own."""
MOST_PIXELS = 60_000_000
QUALITY = 82


def picture_path(book: Book, figure: Figure) -> Path | None:
    """The file of a figure's picture, which lies beside its procedure; None where there is none inside procedures/."""
    folder = book.root / PurePosixPath(figure.place.file).parent
    try:
        path = (folder / figure.image).resolve(strict=True)
        return path if path.is_relative_to((book.root / "procedures").resolve()) and path.is_file() else None
    except (OSError, RuntimeError, ValueError):
        return None


@cache
def clean_copies(path: Path) -> dict[int, tuple[str, bytes]]:
    """Copies of a picture by width in pixels: (file name, content). Empty for a file that is no picture.

    The name holds a digest of the content, so that a changed picture has a new address.
    """
    try:
        with Image.open(path) as opened:
            if opened.width * opened.height > MOST_PIXELS:
                return {}
            upright = ImageOps.exif_transpose(opened)
            bare = Image.new(mode := "RGBA" if "A" in upright.getbands() else "RGB", upright.size)
            bare.paste(upright.convert(mode))
    except (UnidentifiedImageError, OSError, ValueError, Image.DecompressionBombError):
        return {}
    found = {}
    for width in sorted({min(bare.width, width) for width in WIDTHS}):
        content, ending = _encoded(bare, width)
        found[width] = (f"{path.stem.lower()}-{width}-{hashlib.sha256(content).hexdigest()[:8]}.{ending}", content)
    return found


def _encoded(picture: Image.Image, width: int) -> tuple[bytes, str]:
    height = max(1, round(picture.height * width / picture.width))
    sized = picture if width == picture.width else picture.resize((width, height), Image.Resampling.LANCZOS)
    out = io.BytesIO()
    if sized.mode == "RGBA":
        sized.save(out, "PNG", optimize=True)
        return out.getvalue(), "png"
    sized.save(out, "JPEG", quality=QUALITY, optimize=True, progressive=True)
    return out.getvalue(), "jpg"
