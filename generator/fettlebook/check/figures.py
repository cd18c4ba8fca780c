"""Figures: a drawing that the program has, or a picture that lies beside the procedure, with words for who cannot see it.

Pictures are PNG, JPEG or WebP files of at most 4 MB inside procedures/; a path that leads out of it is refused. `alt` says
what is to be seen, not that there is a picture.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path, PurePosixPath

from fettlebook.book.places import Finding
from fettlebook.book.procedure import Figure, Procedure, Reference
from fettlebook.check.known import Known, nearest

RULES = {
    "no-drawing": "a drawing that is asked for is one that the program makes",
    "picture": "a picture lies beside the procedure, inside procedures/, and is a PNG, JPEG or WebP file",
    "alt": "a figure's alt says what is to be seen",
}
STARTS = {".png": b"\x89PNG\r\n\x1a\n", ".jpg": b"\xff\xd8\xff", ".jpeg": b"\xff\xd8\xff", ".webp": b"RIFF"}
"""How a file of each kind begins (the formats' own specifications)."""
LARGEST_PICTURE = 4_000_000
EMPTY_WORDS = {"image", "picture", "photo", "figure", "drawing", "diagram", "see text"}


def procedure_faults(procedure: Procedure, known: Known) -> Iterator[Finding]:
    """Unknown drawings, pictures that are not there or not allowed, alt texts that say nothing."""
    for reference in procedure.references:
        if reference.kind == "drawing" and reference.target not in known.drawings:
            hint = nearest(
                reference.target, known.drawings, f"there is {', '.join(sorted(known.drawings)) or 'none yet'}"
            )
            yield Finding(reference.place, f'there is no drawing "{reference.target}"', "no-drawing", hint=hint)
        elif reference.kind == "image":
            yield from _picture(reference, known.root)
    for step in procedure.steps:
        if step.figure is not None:
            yield from _alt(step.figure)


def _picture(reference: Reference, root: Path) -> Iterator[Finding]:
    what = _wrong_with(reference.target, root, root / PurePosixPath(reference.place.file).parent)
    if what:
        yield Finding(reference.place, f'picture "{reference.target[:60]}" {what}', "picture",
                      "only pictures inside procedures/ go into the book", "put it beside the procedure and write its name alone")  # fmt: skip


def _wrong_with(name: str, root: Path, folder: Path) -> str:
    """What is wrong with a picture's NAME or file; "" for nothing."""
    if "\\" in name or ":" in name or name.startswith("/") or ".." in PurePosixPath(name).parts or "\0" in name:
        return "leads out of the folder"
    ending = PurePosixPath(name).suffix.lower()
    if ending not in STARTS:
        return "is no PNG, JPEG or WebP file"
    try:
        path = (folder / name).resolve(strict=True)
        if not path.is_relative_to((root / "procedures").resolve()) or not path.is_file():
            return "leads out of the folder"
        if path.stat().st_size > LARGEST_PICTURE:
            return "is larger than 4 MB"
        with path.open("rb") as file:
            return "" if file.read(8).startswith(STARTS[ending]) else f"is not what {ending} says"
    except (OSError, RuntimeError, ValueError):
        return "is not there"


def _alt(figure: Figure) -> Iterator[Finding]:
    words = figure.alt.strip().lower()
    if figure.alt and (words in EMPTY_WORDS or words == figure.image.lower() or (figure.draw and words == figure.draw)):
        yield Finding(figure.place, f'alt "{figure.alt}" says nothing', "alt", "who cannot see the figure has only these words",
                      "write what the figure shows")  # fmt: skip
