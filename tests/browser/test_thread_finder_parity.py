"""The page finds the same threads as the program, in the same order and words, on three thousand measurements."""

import random

from parity import assert_same, in_python, with_defaults

from fettlebook.tables.catalogue import table_named
from fettlebook.tables.thread_finder_figures import known

FINDER = table_named("thread-finder")


def somebodys_measurement(chance):
    side = chance.choice(["external", "external", "internal"])
    if chance.random() < 0.8:  # a real thread, worn and measured badly
        thread = chance.choice(known(side))
        diameter = thread.low + chance.uniform(-0.5, 0.15) * (1 if side == "external" else -1)
        pitch = thread.pitch * chance.uniform(0.97, 1.03)
    else:
        diameter, pitch = chance.uniform(0.6, 200), chance.uniform(0.15, 9)
    given = {"side": side, "diameter": round(min(max(diameter, 0.5), 350), 2)}
    written_as = chance.random()
    if written_as < 0.5:
        given["tpi"] = chance.choice([round(25.4 / pitch), round(25.4 / pitch, 1)])
        given["tpi"] = min(max(given["tpi"], 2), 150)
    elif written_as < 0.9:
        given["pitch"] = min(max(round(pitch, 2), 0.1), 13)
    if chance.random() < 0.05:
        given |= {"pitch": 1.5, "tpi": chance.choice([16.9333, 17, 18])}
    if chance.random() < 0.3:
        given["age"] = "new"
    if chance.random() < 0.4:
        given |= {"error": chance.choice([0.005, 0.02, 0.5]), "pitch-error": chance.choice([0.5, 1.0, 5.0])}
    return given


def test_page_and_program_find_the_same_threads(run_in_browser):
    chance = random.Random(13)
    asked = [with_defaults(FINDER, somebodys_measurement(chance)) for _ in range(3000)]
    answers = [in_python(FINDER, {k: v for k, v in given.items() if v is not None}) for given in asked]
    for given, here, there in zip(asked, answers, run_in_browser("thread-finder", asked), strict=True):
        assert_same(here, there, given)
    verdicts = {row["verdict"] for here in answers for row in here.get("rows", ())}
    assert verdicts == {"fits", "may fit", "look-alike"}
    assert 30 < sum("refused" in here for here in answers) < 300
    assert sum(not here.get("rows") for here in answers) < 400
