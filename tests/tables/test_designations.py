"""Reading a thread as people write it."""

import pytest

from fettlebook.tables.definition import BadValue
from fettlebook.tables.designations import nearest_threads, read_designation, thread_named
from fettlebook.tables.threads import all_threads, internal_pipe_threads

SPELLINGS = {
    "1/2-13 UNC": ['1/2-13', '1/2" UNC', "1/2-13 UNC", "½-13", "0.5-13", "1/2 - 13 UNC - 2A", "UNC 1/2", "1/2-13 NC", "1/2-13UNC", '1/2"-13'],
    "10-32 UNF": ["#10-32", "10-32", "10-32 UNF", "No. 10-32", "No.10-32 UNF", ".190-32", "№10-32"],
    "10-24 UNC": ["No. 10-24", "#10-24 UNC"],
    "1-8 UNC": ["1-8", '1" UNC', "1 in UNC", "1-8 UNC-2B"],
    "1-64 UNC": ["1-64", "#1-64", "No. 1 UNC"],
    "1 1/8-7 UNC": ["1 1/8-7", "1-1/8-7", "1⅛-7 UNC", '1-1/8" UNC'],
    "2-4.5 UNC": ["2-4.5", "2-4 1/2 UNC"],
    "M10x1.5": ["M10", "m10", "M 10", "M10x1.5", "M10-6H", "M10 LH", "M10x1,5"],
    "M10x1.25": ["M10x1.25", "M10×1.25", "M10*1.25", "M10-1.25", "M 10 X 1.25", "M10x1.25-6g", "MF10x1.25"],
    "G 1/2": ["G½", "G 1/2", "G1/2A", "G1/2", "1/2 BSPP", "G 1/2 B", "PF 1/2", '1/2" G'],
    "R 3/4": ["R 3/4", "R3/4", "3/4 BSPT", "PT 3/4", "R¾"],
    "Rc 1/4": ["Rc 1/4", "Rc1/4", "rc ¼"],
    "Rp 1/8": ["Rp 1/8", "RP1/8"],
    "1/2 NPT": ["1/2 NPT", "NPT 1/2", "½ NPT", '1/2"-14 NPT', "1/2 in NPT"],
    "2BA": ["2BA", "BA 2", "BA2", "2 B.A.", "No. 2 BA", "2ba"],
    "1/2 BSW": ["1/2 BSW", "1/2 Whit", "1/2 Whitworth", "BSW 1/2", '1/2" BSW', "1/2-12 BSW"],
    "3/8 BSF": ["3/8 BSF", "3/8-20 BSF", "3/8-20 bsf"],
    "1/4 BSF": ["1/4-26"],
}  # fmt: skip


@pytest.mark.parametrize(
    "name, spelt", [(name, spelt) for name, all_of_them in SPELLINGS.items() for spelt in all_of_them]
)
def test_every_usual_spelling_is_understood(name, spelt):
    assert thread_named(spelt).designation == name


@pytest.mark.parametrize("thread", (*all_threads(), *internal_pipe_threads()), ids=lambda thread: thread.designation)
def test_every_thread_is_found_by_its_own_designation(thread):
    assert thread_named(thread.designation) == thread


def test_no_two_threads_share_a_designation():
    names = [thread.designation for thread in (*all_threads(), *internal_pipe_threads())]
    assert len(names) == len(set(names))


@pytest.mark.parametrize("text, grade", [
    ("M10x1.5-6g", "6g"), ("M10x1.5-6G", "6G"), ("M10-6H", "6H"), ("M20x2.5 - 5g6g", "5g6g"), ("M8x1-6H/6g", "6H/6g"),
    ("1/2-13 UNC-2a", "2A"), ("1/4-20-3B", "3B"), ("G 1/2 b", "B"), ("G1/2A", "A"), ("1/2 BSW medium", "medium"), ("M8", ""),
])  # fmt: skip
def test_a_class_behind_the_thread_is_read(text, grade):
    assert read_designation(text)[1] == grade


REFUSED = {
    "1/2-12": 'thread: "1/2-12" can mean 1/2-12 UNS or 1/2 BSW; write which one',
    "1/2 BSP": 'thread: "1/2 BSP" can mean G 1/2 or R 1/2; write which one',
    "1/2": 'thread: "1/2" can mean 1/2-13 UNC or 1/2-20 UNF or 1/2 BSW or 1/2 BSF or G 1/2 or 1/2 NPT; write which one',
    "#10": 'thread: "#10" can mean 10-24 UNC or 10-32 UNF; write which one',
    "M10x1.3": 'thread: "M10x1.3" is not a standard thread known here; the nearest are M10x1.25, M10x1.5, M10x1, M10x0.75',
    "M13": 'thread: "M13" is not a standard thread known here; the nearest are M14x2, M12x1.75, M12x1.5, M14x1.5',
    "17BA": 'thread: "17BA" is not a standard thread known here; the nearest are 16BA, 15BA, 14BA, 13BA',
    "G 3/16": 'thread: "G 3/16" is not a standard thread known here; the nearest are G 1/4, G 1/8, G 1/16, G 3/8',
    "1-14 UNF": 'thread: "1-14 UNF" is not a standard thread known here; the nearest are 1-14 UNS, 1-16 UN, 1-12 UNF, 1-18 UNS',
    "": "thread: nothing is written here; for example M10x1.5, 1/2-13 UNC, 1/2 BSW, G 1/2 or 2BA",
}


@pytest.mark.parametrize("text, message", REFUSED.items())
def test_what_is_unknown_or_shared_is_refused_in_one_line(text, message):
    with pytest.raises(BadValue) as fault:
        thread_named(text)
    assert str(fault.value) == message


@pytest.mark.parametrize(
    "text",
    [
        "M",
        "x",
        "1/0-13",
        "1e9",
        "M1e9",
        "-5",
        "M-10",
        "0",
        "M0",
        "½/½",
        "1/2-0",
        "G",
        "BA",
        "ø12",
        "🙂",
        "1/2-13 UNC 9Z",
    ],
)
def test_nonsense_is_refused_with_real_threads_as_hint(text):
    with pytest.raises(BadValue) as fault:
        thread_named(text)
    assert fault.value.hint and "\n" not in str(fault.value)


def test_the_nearest_are_real_threads():
    for text in ("M9.7x1.4", "5/8-12", "7/64 BSW", "Mxyz", "1/2-13 UNJ"):
        for name in nearest_threads(text):
            assert thread_named(name).designation == name


@pytest.mark.parametrize("name", ["Tr 20x4", "Tr20x4", "1/2-10 ACME", "1/2 NPTF", "PG 16", "Rd 20"])
def test_a_thread_of_another_kind_gets_no_neighbour(name):
    with pytest.raises(BadValue, match="threads of that kind are not held here"):
        thread_named(name)
