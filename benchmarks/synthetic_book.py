"""A book of any size that is valid and made up: procedures of some 115 lines with two tables and twenty steps each.

Same number, same bytes. Words are drawn from a short list, so that texts differ; tables are asked for with a few dozen
different parameters, as a real book would.
"""

from __future__ import annotations

from pathlib import Path
from random import Random

GROUPS = ("arrive", "leaks", "oil", "controls", "level", "make", "heat", "teach")
PARTS = [
    "spindle",
    "nut",
    "gib",
    "key",
    "slide",
    "collar",
    "bush",
    "pinion",
    "rack",
    "apron",
    "clutch",
    "lever",
    "knob",
    "saddle",
    "tailstock",
    "quill",
    "belt",
    "pulley",
    "shim",
    "dial",
]
VERBS = ["Clean", "Measure", "Mark", "Turn", "Loosen", "Tighten", "Seat", "Align", "Wipe", "File"]
SYLLABLES = [
    "ba",
    "do",
    "fel",
    "gar",
    "hin",
    "jop",
    "kes",
    "lum",
    "mar",
    "nid",
    "ost",
    "pel",
    "quor",
    "ras",
    "sut",
    "tam",
    "ulv",
    "wen",
    "yor",
    "zib",
]
"""Three of them make one of 8,000 words that stand for the names a shop gives its things; the first are used most."""
SIGHTS = ["even", "bright", "dry", "free", "square", "flush", "tight", "level", "smooth", "quiet"]


def write_book(root: Path, count: int) -> None:
    """COUNT procedures and a shop in ROOT/procedures."""
    folder = root / "procedures"
    (folder / "shop").mkdir(parents=True, exist_ok=True)
    (folder / "shop" / "workshop.yml").write_text(
        "name: Made-up Works\ndefaults:\n  level_mm_per_m: 0.02\n", encoding="utf-8"
    )
    for n in range(count):
        (folder / f"job-{n}.yml").write_text(procedure(n, count), encoding="utf-8")


def write_whole_book(root: Path, count: int) -> None:
    """The same with the settings and a written page, so that it can be built."""
    write_book(root, count)
    (root / "docs").mkdir()
    (root / "docs" / "about.md").write_text("# About\n\nMade up.\n", encoding="utf-8")
    (root / "mkdocs.yml").write_text(
        "site_name: Made-up Works\ntheme: {name: material, font: false}\nplugins: [fettlebook]\n", encoding="utf-8"
    )


def procedure(n: int, count: int) -> str:
    """The text of procedure number N of COUNT."""
    random = Random(n)
    part = random.choice(PARTS)
    lines = [
        f"title: {random.choice(VERBS)} the {part} of machine {n}", f"group: {GROUPS[n % len(GROUPS)]}", f"also: [{part} job {n}, fit {part}]",
        f"summary: {_sentence(random)}", f"when: {_sentence(random)}", "symptoms:", f"  - The {part} rattles at speed {n}",
        "time: {hands_on: 45 min, waiting: 2 h}", "every: 12 months", "who:", "  may: A fitter, or a trainee beside one.", "  people: 1",
        "cautions:", "  - id: sharp", "    signal: caution", "    sign: W022", "    hazard: Fresh burrs.", "    harm: Cut fingers.",
        "    avoid: Break every edge first.", "ready:", "  protection:", "    - {name: Safety glasses, sign: M004}", "  tools:",
        f"    - {{name: Spanner, count: 1, note: {random.randint(8, 32)} mm}}", "    - Feeler gauge", "numbers:", "  - id: division", "    table: levels",
        f"    with: {{division: 0.02 mm/m, base: {random.randint(1, 30) * 50} mm}}", "    values:",
        "      one-division: {column: height_mm, where: {divisions: 1}}", "  - id: oil", "    table: oil-viscosity",
        f"    with: {{grade: ISO VG {random.choice((22, 32, 46, 68))}}}", "stages:",
    ]  # fmt: skip
    for stage in range(4):
        lines += [f"  - id: part-{PARTS[stage]}", f"    title: Part {stage + 1}, the {PARTS[stage]}", "    steps:"]
        for step in range(5):
            lines += _step(random, stage, step)
    lines += ["trouble:", f"  - seen: It still {random.choice(SIGHTS)}", "    cause: Dirt under the seat.", "    do: Clean it again.",
              f"    see: [job-{(n + 1) % count}]", "sources:", "  - {cite: common-practice}",
              'revision: {number: 1, date: "2026-11-25", by: A. Maker, checked_by: B. Reader, changes: First edition}']  # fmt: skip
    return "\n".join(lines) + "\n"


def _step(random: Random, stage: int, step: int) -> list[str]:
    words = f"{random.choice(VERBS)} the {random.choice(PARTS)} and {_sentence(random).lower()}"
    if (stage, step) == (1, 2):
        words = f'"{words} It moves {{one-division}} mm for *one* division."'
    lines = [
        f"      - do: {words}",
        f"        check: It is {random.choice(SIGHTS)} and {random.choice(SIGHTS)} from end to end.",
    ]
    if step == 1:
        lines.append("        cautions: [sharp]")
    if step == 3:
        lines += [
            "        readings:",
            f"          - {{id: gap-{stage}, name: Gap, unit: mm, decimals: 2, low: 0, high: 0.05, outside: Shim it.}}",
        ]
    return lines


def _sentence(random: Random) -> str:
    return f"The {random.choice(PARTS)} sits {random.choice(SIGHTS)} on the {_name(random)} {random.choice(PARTS)} when the {random.choice(PARTS)} is {random.choice(SIGHTS)}."


def _name(random: Random) -> str:
    return "".join(SYLLABLES[int(random.random() ** 2 * len(SYLLABLES))] for _ in range(3))
