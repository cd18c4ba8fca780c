"""How long 100 handouts take, as a ratio to compiling the bare Typst of the same pages.

The bare run compiles the same templates with the same data ready made, so the ratio is what turning procedures into plain data,
checking glyphs and drawing cost on top. Run: .venv/bin/python benchmarks/handouts.py
"""

import itertools
import json
import time
from pathlib import Path

from fettlebook.book.load import load
from fettlebook.handout import press
from fettlebook.handout.sheet import handout, sheet_data

COUNT = 100


def different_handouts(book):
    """COUNT procedures and readers, each with a title of its own, so that no compile is answered from the last one."""
    every = itertools.cycle((p, reader) for reader in ("bench", "trainee") for p in book.procedures.values())
    return list(itertools.islice(every, COUNT))


def main():
    book, _ = load(Path(__file__).parent.parent)
    work = different_handouts(book)
    handout(book, *work[0])
    ready = [
        json.dumps({**sheet_data(book, p, reader, "a4"), "shop": f"bare {n}"}) for n, (p, reader) in enumerate(work)
    ]
    began = time.process_time()
    for data in ready:
        press._compiler().compile(
            input=str(press.HERE / "sheet.typ"), format="pdf", sys_inputs={"data": data}, pdf_standards=["ua-1"]
        )
    bare = time.process_time() - began
    began = time.process_time()
    for p, reader in work:
        handout(book, p, reader, "a4", "https://book.example.org")
    whole = time.process_time() - began
    print(f"{COUNT} handouts {whole:.2f} s of processor, bare Typst {bare:.2f} s, ratio {whole / bare:.2f}")


if __name__ == "__main__":
    main()
