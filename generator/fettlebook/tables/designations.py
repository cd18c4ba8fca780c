"""Reading a thread as people write it: `1/2-13`, `1/2" UNC`, `M10`, `M10×1.25`, `G½`, `G1/2A`, `2BA`, `#10-32`.

A designation that two standards share (1/2-12, 1/2 BSP) is refused with both; nothing is guessed.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from difflib import get_close_matches
from fractions import Fraction
from functools import cache

from fettlebook.tables.definition import BadValue
from fettlebook.tables.threads import MM_PER_INCH, Thread, all_threads, internal_pipe_threads, threads_of

__all__ = ["Thread", "nearest_threads", "read_designation", "thread_named"]

SIZE = r"(?P<number>(?:no|#)?\s*)(?P<size>\d+[ -]\d+/\d+|\d+/\d+|\d*\.\d+|\d+)(?P<inch>\s*\")?"
COUNT = r"(?:\s*[-x]\s*(?P<count>\d+(?:\.\d+)?|\d+ \d+/\d+)(?:\s*tpi)?)?"
CLASS = r"(?:\s*-?\s*(?P<grade>{}))?"
UNIFIED_SERIES = {"unc": "UNC", "unf": "UNF", "unef": "UNEF", "uns": "UNS", "un": "UN", "nc": "UNC", "nf": "UNF",
                  "nef": "UNEF", "ns": "UNS", "unrc": "UNC", "unrf": "UNF", "unr": "UN"}  # fmt: skip
"""How the Unified series are written; NC, NF and NEF are their American National forerunners of the same sizes."""

WHITWORTH_NAMES = {"bsw": "BSW", "whit": "BSW", "whitworth": "BSW", "ww": "BSW", "w": "BSW", "bsf": "BSF"}
PIPE_NAMES = {
    "g": "G",
    "bspp": "G",
    "bspf": "G",
    "pf": "G",
    "r": "R",
    "bspt": "R",
    "pt": "R",
    "rc": "Rc",
    "rp": "Rp",
    "ps": "Rp",
}
"""How pipe threads are written; PF, PT and PS are the old letters of JIS B 0202 and B 0203 (from memory)."""


HELD = ("M", "UN", "BSW", "BSF", "G", "R", "NPT", "BA")
NOT_HELD = re.compile(
    r"(?=.*\d)[\d\s./x\"-]*\b(tr|acme|stub acme|trapezoidal|buttress|cycle|bsc|pg|rd|nptf|npsm|npsf)(?![a-z])"
)
"""Threads with a form of their own, or close kin of a family with other limits: no neighbour is offered for them."""


def thread_named(text: str, parameter: str = "thread") -> Thread:
    """The thread that TEXT names, whatever its usual spelling. A tolerance class written behind it is passed over.

    text       such as M10x1.25, 1/2-13, G½, 2BA, No. 10-24
    parameter  name of the parameter in which it stands, for the message

    Raises BadValue for an unknown thread, with the nearest real ones, and for one that two standards share.

    >>> thread_named('1/2" UNC').designation, thread_named("G½ A").designation, thread_named("m10").designation
    ('1/2-13 UNC', 'G 1/2', 'M10x1.5')
    """
    return read_designation(text, parameter)[0]


def read_designation(text: str, parameter: str = "thread") -> tuple[Thread, str]:
    """The thread that TEXT names, and the tolerance class written behind it ("" where there is none).

    >>> read_designation("M10x1.5-6g")[1], read_designation("1/2-13 UNC-2A")[1], read_designation("G 1/2 B")[1]
    ('6g', '2A', 'B')
    """
    plain = _plain(str(text))
    if not plain:
        raise BadValue(parameter, "nothing is written here", "for example M10x1.5, 1/2-13 UNC, 1/2 BSW, G 1/2 or 2BA")
    for reader in (_metric, _ba, _npt, _pipe, _whitworth, _unified, _shared_pipe, _bare):
        found = reader(plain)
        if found is None:
            continue
        threads, grade = found
        if len(threads) == 1:
            return threads[0], _as_written(grade, str(text)) if threads[0].family == "M" else grade
        if threads:
            names = " or ".join(thread.designation for thread in threads)
            raise BadValue(parameter, f'"{_short(text)}" can mean {names}', "write which one")
        break
    if NOT_HELD.match(plain):
        what = f'"{_short(text)}": threads of that kind are not held here, only the families {", ".join(HELD)}'
        raise BadValue(parameter, what, "take its sizes from its own standard or drawing")
    near = nearest_threads(text)
    raise BadValue(
        parameter, f'"{_short(text)}" is not a standard thread known here', f"the nearest are {', '.join(near)}"
    )


def nearest_threads(text: str, count: int = 4) -> list[str]:
    """Designations that come nearest to TEXT: by diameter and pitch where it can be read so far, else by spelling.

    >>> nearest_threads("M10x1.3", 2)
    ['M10x1.25', 'M10x1.5']
    """
    plain = _plain(str(text))
    near = _nearest_by_size(plain, count)
    if near:
        return near
    known = {_plain(t.designation): t.designation for t in (*all_threads(), *internal_pipe_threads())}
    spelt = get_close_matches(plain, list(known), count, 0.5)
    return [known[name] for name in spelt] or ["M10x1.5", "1/2-13 UNC", "1/2 BSW", "G 1/2"]


def _short(text: str) -> str:
    return " ".join(str(text).split())[:40]


def _plain(text: str) -> str:
    """TEXT in lower case with one spelling for each sign: x, -, #, fractions as n/m, no inch marks."""
    out: list[str] = []
    for sign in text.strip().lower():
        form = unicodedata.normalize("NFKC", sign)
        if "⁄" in form:
            out.append((" " if out and out[-1].isdigit() else "") + form.replace("⁄", "/"))
        else:
            out.append(form)
    plain = "".join(out).lower()
    for old, new in (
        ("⁄", "/"),
        ("×", "x"),
        ("*", "x"),
        ("–", "-"),
        ("—", "-"),
        ("−", "-"),
        ("‑", "-"),
        ("№", "no"),
        ("\u00a0", " "),
    ):
        plain = plain.replace(old, new)
    plain = re.sub(r"(?<=\d),(?=\d)", ".", plain)
    plain = re.sub(r"″|”|“|''|(?<=\d)\s*(?:inches|inch|in)\b\.?", '" ', plain)
    plain = re.sub(r"\b(?:no|nr)\b\.?\s*", "no ", plain)
    plain = re.sub(r"\b([a-z])\.(?=[a-z]\b)", r"\1", plain).replace("b.a.", "ba")
    plain = re.sub(r"\s*-?\s*(?:lh|left[ -]hand)$", "", plain.rstrip(" ."))
    return " ".join(plain.split())


def _same(a: float, b: float, within: float = 5e-4) -> bool:
    return abs(a - b) <= within


def _inches(size: str) -> float | None:
    """A size in inches as written: 1/2, 1 1/8, 1-1/8, 0.5, 2. None where it divides by zero."""
    try:
        return float(sum(Fraction(part) for part in size.replace("-", " ").split()))
    except (ValueError, ZeroDivisionError):
        return None


def _metric(plain: str) -> tuple[list[Thread], str] | None:
    grades = r"\d[a-h](?:\s*\d[a-h])?(?:/\d[a-h](?:\s*\d[a-h])?)?"
    match = re.fullmatch(
        rf"mf?\s*(?P<d>\d+(?:\.\d+)?)(?:\s*[x-]\s*(?P<p>\d+(?:\.\d+)?)(?![a-h])(?:\s*mm)?)?{CLASS.format(grades)}",
        plain,
    )
    if not match:
        return None
    same = [t for t in threads_of("M") if _same(t.major_mm, float(match["d"]))]
    if match["p"]:
        same = [t for t in same if _same(t.pitch_mm, float(match["p"]))]
    else:
        same = [t for t in same if t.series == "coarse"]
    return same, match["grade"] or ""


def _as_written(grade: str, text: str) -> str:
    """A class in the letters in which it was written: a metric 6h and 6H are not the same."""
    letters = r"\s*".join(map(re.escape, grade.replace(" ", "")))
    found = re.findall(letters, text, re.IGNORECASE) if grade else []
    return found[-1].replace(" ", "") if found else ""


def _ba(plain: str) -> tuple[list[Thread], str] | None:
    match = re.fullmatch(r"(?:no )?(\d{1,2})\s*-?\s*ba|ba\s*-?\s*(?:no )?(\d{1,2})", plain)
    if not match:
        return None
    name = f"{int(match[1] or match[2])}BA"
    return [t for t in threads_of("BA") if t.designation == name], ""


def _by_size(family: Iterable[Thread], size: str, count: str | None) -> list[Thread]:
    """Threads of a family with this size, and with this number of threads per inch if one is written."""
    inches = _inches(size)
    same = [t for t in family if inches is not None and _same(_nominal_in(t), inches)]
    return [t for t in same if count is None or _same(t.tpi, _inches(count) or 0, 0.01)]


def _nominal_in(thread: Thread) -> float:
    """What the size says in inches: a pipe's nominal bore, a thread's major diameter. A number size has none."""
    if thread.family in {"G", "R", "NPT"}:
        return _inches(thread.size) or 0.0
    return -1.0 if thread.size.startswith("No.") else thread.major_mm / MM_PER_INCH


def _npt(plain: str) -> tuple[list[Thread], str] | None:
    match = re.fullmatch(rf"{SIZE}{COUNT}\s*-?\s*npt", plain) or re.fullmatch(rf"npt\s*-?\s*{SIZE}{COUNT}", plain)
    return (_by_size(threads_of("NPT"), match["size"], match["count"]), "") if match else None


def _pipe(plain: str) -> tuple[list[Thread], str] | None:
    names = "|".join(sorted(PIPE_NAMES, key=len, reverse=True))
    grade = CLASS.format("a|b")
    match = re.fullmatch(rf"(?P<name>{names})\s*-?\s*{SIZE}{COUNT}{grade}", plain) or re.fullmatch(
        rf"{SIZE}{COUNT}\s*-?\s*(?P<name>{names}){grade}", plain
    )
    if not match:
        return None
    name = PIPE_NAMES[match["name"]]
    family = [t for t in (*threads_of("G"), *threads_of("R"), *internal_pipe_threads()) if t.series == name]
    found = _by_size(family, match["size"], match["count"])
    return found, (match["grade"] or "").upper()


def _shared_pipe(plain: str) -> tuple[list[Thread], str] | None:
    match = re.fullmatch(rf"{SIZE}{COUNT}\s*-?\s*bsp", plain) or re.fullmatch(rf"bsp\s*-?\s*{SIZE}{COUNT}", plain)
    return (_by_size((*threads_of("G"), *threads_of("R")), match["size"], match["count"]), "") if match else None


def _whitworth(plain: str) -> tuple[list[Thread], str] | None:
    names = "|".join(sorted(WHITWORTH_NAMES, key=len, reverse=True))
    grade = CLASS.format("close|medium|free|normal")
    match = re.fullmatch(rf"{SIZE}{COUNT}\s*-?\s*(?P<name>{names}){grade}", plain) or re.fullmatch(
        rf"(?P<name>{names})\s*-?\s*{SIZE}{COUNT}{grade}", plain
    )
    if not match:
        return None
    return _by_size(threads_of(WHITWORTH_NAMES[match["name"]]), match["size"], match["count"]), match["grade"] or ""


def _unified(plain: str) -> tuple[list[Thread], str] | None:
    names = "|".join(sorted(UNIFIED_SERIES, key=len, reverse=True))
    grade = CLASS.format("[123][ab]")
    match = re.fullmatch(rf"{SIZE}{COUNT}\s*-?\s*(?P<name>{names}){grade}", plain) or re.fullmatch(
        rf"(?P<name>{names})\s*-?\s*{SIZE}{COUNT}{grade}", plain
    )
    if not match:
        return None
    found = [t for t in _unified_sized(match) if t.series == UNIFIED_SERIES[match["name"]]]
    return found, (match["grade"] or "").upper()


def _bare(plain: str) -> tuple[list[Thread], str] | None:
    """A size and a count with no name: a standard Unified series first, then whatever else has that count."""
    match = re.fullmatch(rf"{SIZE}{COUNT}{CLASS.format('[123][ab]')}", plain)
    if not match:
        return None
    unified = _unified_sized(match)
    if match["count"] is None:
        return None if _inches(match["size"]) is None else (_unnamed(match, unified), "")
    standard = [t for t in unified if t.series != "UNS"]
    others = [t for name in ("BSW", "BSF") for t in _by_size(threads_of(name), match["size"], match["count"])]
    return standard or [*(t for t in unified if t.series == "UNS"), *others], (match["grade"] or "").upper()


def _unnamed(match: re.Match[str], unified: list[Thread]) -> list[Thread]:
    """What a size alone may mean: the usual bolts and pipe threads of that size."""
    usual = [t for t in unified if t.series in {"UNC", "UNF"}]
    if match["number"].strip():
        return usual
    families = (threads_of("BSW"), threads_of("BSF"), threads_of("G"), threads_of("NPT"))
    found = usual + [t for family in families for t in _by_size(family, match["size"], None)]
    return found if len(found) > 1 else []


def _unified_sized(match: re.Match[str]) -> list[Thread]:
    """Unified threads of the size and count in MATCH; a whole number is a number size or inches, as the count allows."""
    size, count = match["size"], match["count"]
    by_number = [t for t in threads_of("UN") if t.size == f"No. {size.lstrip('0') or '0'}"]
    by_decimal = (
        [] if "/" in size else [t for t in threads_of("UN") if _same(t.major_mm / MM_PER_INCH, _inches(size) or -1)]
    )
    inches = _by_size(threads_of("UN"), size, None)
    if match["number"].strip():
        found = by_number
    else:
        found = list(dict.fromkeys((*(() if match["inch"] else by_number), *inches, *by_decimal)))
    return [t for t in found if count is None or _same(t.tpi, _inches(count) or 0, 0.01)]


@cache
def _families_by_word() -> tuple[tuple[str, tuple[Thread, ...]], ...]:
    unified = [
        (word, tuple(t for t in threads_of("UN") if t.series == series)) for word, series in UNIFIED_SERIES.items()
    ]
    pipes = [(word, threads_of("R" if name in {"Rc", "Rp"} else name)) for word, name in PIPE_NAMES.items()]
    others = [(word, threads_of(name)) for word, name in WHITWORTH_NAMES.items()]
    named = [*unified, *pipes, *others, ("npt", threads_of("NPT")), ("nptf", threads_of("NPT")), ("bsp", threads_of("G")),
             ("ba", threads_of("BA"))]  # fmt: skip
    return tuple(sorted(named, key=lambda pair: -len(pair[0])))


def _nearest_by_size(plain: str, count: int) -> list[str]:
    """The threads nearest in diameter, then in pitch, among the families that the writing points at."""
    metric = re.match(r"mf?\s*(\d+(?:\.\d+)?)(?:\s*[x-]\s*(\d+(?:\.\d+)?))?", plain)
    if metric:
        return _sorted_near(threads_of("M"), float(metric[1]), float(metric[2]) if metric[2] else None, count)
    words = set(re.findall(r"[a-z]+", plain))
    ba = re.search(r"\d+", plain)
    if "ba" in words and ba:
        order = sorted(threads_of("BA"), key=lambda t: abs(int(t.designation[:-2]) - int(ba[0])))
        return [t.designation for t in order[:count]]
    match = re.search(rf"{SIZE}{COUNT}", plain)
    if not match or _inches(match["size"]) is None:
        return []
    named = [threads for word, threads in _families_by_word() if word in words]
    pool = named[0] if named else (*threads_of("UN"), *threads_of("BSW"), *threads_of("BSF"))
    threads_per_inch = _inches(match["count"]) if match["count"] else None
    pitch = MM_PER_INCH / threads_per_inch if threads_per_inch else None
    if pool and pool[0].family == "UN":
        pool = threads_of("UN")
    return _nearest_in_inches(pool, match, pitch, count)


def _nearest_in_inches(pool: tuple[Thread, ...], match: re.Match[str], pitch: float | None, count: int) -> list[str]:
    inches = _inches(match["size"]) or 0.0

    def off(thread: Thread) -> tuple[float, float, float]:
        same_number = thread.size == f"No. {match['size']}"
        return (
            0.0 if same_number else abs(_nominal_in(thread) - inches),
            abs(thread.pitch_mm - pitch) if pitch else 0.0,
            -thread.pitch_mm,
        )

    return [thread.designation for thread in sorted(pool, key=off)[:count]]


def _sorted_near(pool: tuple[Thread, ...], major_mm: float, pitch_mm: float | None, count: int) -> list[str]:
    order = sorted(
        pool, key=lambda t: (abs(t.major_mm - major_mm), abs(t.pitch_mm - pitch_mm) if pitch_mm else -t.pitch_mm)
    )
    return [t.designation for t in order[:count]]
