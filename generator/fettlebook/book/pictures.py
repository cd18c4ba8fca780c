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
PAPER_WIDTH_MM, PAPER_HEIGHT_MM = 150.0, 105.0
"""The largest that a picture is printed on a sheet: the width between the margins, and two on a page of A4."""
DOTS_PER_MM = 200 / 25.4
"""Pixels to a printed millimetre: 200 dots an inch, about what a shop's printer can show of a photograph. Common practice."""
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


def state(path: Path) -> tuple[Path, int, int]:
    """A picture's file with its size and time, which change with its content; zeros where it cannot be looked at."""
    try:
        found = path.stat()
        return path, found.st_size, found.st_mtime_ns
    except OSError:
        return path, 0, 0


def clean_copies(path: Path) -> dict[int, tuple[str, bytes]]:
    """Copies of a picture by width in pixels: (file name, content). Empty for a file that is no picture.

    The name holds a digest of the content, so that a changed picture has a new address.
    """
    return _clean_copies(*state(path))


@cache
def _clean_copies(path: Path, size: int, changed: int) -> dict[int, tuple[str, bytes]]:
    bare = _bare(path)
    found: dict[int, tuple[str, bytes]] = {}
    if bare is None:
        return found
    for width in sorted({min(bare.width, width) for width in WIDTHS}):
        content, ending = _encoded(bare, width)
        found[width] = (f"{path.stem.lower()}-{width}-{hashlib.sha256(content).hexdigest()[:8]}.{ending}", content)
    return found


def paper_copy(path: Path) -> tuple[bytes, str, float, float] | None:
    """A picture for a printed sheet: (content, "png" or "jpg", width [mm], height [mm]); None for a file that is no picture.

    As large as the sheet allows, but never with fewer than DOTS_PER_MM: a small picture is printed small, not coarse.
    """
    return _paper_copy(*state(path))


@cache
def _paper_copy(path: Path, size: int, changed: int) -> tuple[bytes, str, float, float] | None:
    bare = _bare(path)
    if bare is None:
        return None
    dots = max(DOTS_PER_MM, bare.width / PAPER_WIDTH_MM, bare.height / PAPER_HEIGHT_MM)
    content, ending = _encoded(bare, max(1, round(bare.width * DOTS_PER_MM / dots)))
    return content, ending, bare.width / dots, bare.height / dots


def _bare(path: Path) -> Image.Image | None:
    """The picture itself, upright, without anything else that its file holds; None for a file that is no picture."""
    try:
        with Image.open(path) as opened:
            if opened.width * opened.height > MOST_PIXELS:
                return None
            upright = ImageOps.exif_transpose(opened)
            bare = Image.new(mode := "RGBA" if "A" in upright.getbands() else "RGB", upright.size)
            bare.paste(upright.convert(mode))
    except (UnidentifiedImageError, OSError, ValueError, Image.DecompressionBombError):
        return None
    return bare


def _encoded(picture: Image.Image, width: int) -> tuple[bytes, str]:
    height = max(1, round(picture.height * width / picture.width))
    sized = picture if width == picture.width else picture.resize((width, height), Image.Resampling.LANCZOS)
    out = io.BytesIO()
    if sized.mode == "RGBA":
        sized.save(out, "PNG", optimize=True)
        return out.getvalue(), "png"
    sized.save(out, "JPEG", quality=QUALITY, optimize=True, progressive=True)
    return out.getvalue(), "jpg"
