"""A procedure broken in twelve places gives twelve messages with their lines, all in one run, and exit status 1."""

TWELVE = [
    ("group: leaks\nalso", "group: leeks\nalso"),
    ("cautions:\n  - use: isolate", "setting up: none\ncautions:\n  - use: isolate"),
    ("machines: [blue-lathe]", "machines: [blue-lade]"),
    ("every: 12 months", "every: each spring"),
    ("    hazard: Oil straight from work is hot.", "    hazard: Oil straight from work is hot #7"),
    ("first: [find-a-leak]", "first: [find-a-leek]"),
    ("with: {base: 0.500 m}", "with: {bsae: 0.500 m}"),
    ("        check: The thread turns freely.\n", ""),
    ("cautions: [hot-oil]", "cautions: [hot-oil, cold-oil]"),
    ("the slope within {slope}", "the slope within {slop}"),
    ("  - {cite: common-practice}", "  - {cite: zzzz}"),
    ('date: "2026-11-25"', 'date: "2026-11-31"'),
]

MESSAGES = """\
procedures/replace-a-plug-seal.yml:2:8: group "leeks" is not one of arrive, leaks, oil, controls, level, make, heat, teach; did you mean "leaks"? [choice]
    2 | group: leeks
      |        ^^^^^
procedures/replace-a-plug-seal.yml:7:12: there is no machine "blue-lade"; did you mean "blue-lathe"? [no-machine]
    7 | machines: [blue-lade]
      |            ^^^^^^^^^
procedures/replace-a-plug-seal.yml:9:8: every: "each spring" is not a duration; write a figure and s, min, h, days, weeks, months or years, such as 45 min or 1 h 30 min [duration]
    9 | every: each spring
      |        ^^^^^^^^^^^
procedures/replace-a-plug-seal.yml:15:1: "setting up" is not a key of a procedure; did you mean "setting"? [unknown-key]
   15 | setting up: none
      | ^^^^^^^^^^
procedures/replace-a-plug-seal.yml:21:43: "#7" is read as a comment and lost; a # after a space starts one; put quotes around the whole value, or a space after # if a comment is meant [comment]
   21 |     hazard: Oil straight from work is hot #7
      |                                           ^^
procedures/replace-a-plug-seal.yml:29:11: there is no procedure "find-a-leek"; did you mean "find-a-leak"? [no-procedure]
   29 |   first: [find-a-leek]
      |           ^^^^^^^^^^^
procedures/replace-a-plug-seal.yml:34:12: bsae: levels has no such parameter; did you mean "base"? [unknown-parameter]
   34 |     with: {bsae: 0.500 m}
      |            ^^^^
procedures/replace-a-plug-seal.yml:53:13: step 1.2 "Turn the plug out by hand." has no check; nobody can know whether it is right; write check: and what is then seen, heard, felt or measured; or readings: or hold: [no-check]
   53 |         do: Turn the plug out by hand.
      |             ^^^^^^^^^^^^^^^^^^^^^^^^^^
procedures/replace-a-plug-seal.yml:55:29: there is no caution "cold-oil"; did you mean "hot-oil"? [no-caution]
   55 |         cautions: [hot-oil, cold-oil]
      |                             ^^^^^^^^
procedures/replace-a-plug-seal.yml:63:13: there is no figure called {slop}; text takes figures from values: under numbers:; did you mean "slope"? [no-value]
   63 |       - do: Hold the slope within {slop} mm/m, {coarse} mm at most.
      |             ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
procedures/replace-a-plug-seal.yml:72:12: there is no source "zzzz"; for the shop's own practice write text: in place of cite: [no-source]
   72 |   - {cite: zzzz}
      |            ^^^^
procedures/replace-a-plug-seal.yml:74:29: "2026-11-31" is not a day; write year-month-day, such as 2026-11-25 [date]
   74 | revision: {number: 1, date: "2026-11-31", by: R. Okell, checked_by: T. Marsh, changes: First edition}
      |                             ^^^^^^^^^^^^
12 faults in 1 file, 2 procedures. What each rule asks for: docs/rules.md
"""


def test_twelve_faults_give_twelve_messages_in_one_run(demo, spoil, fettlebook):
    for there, put in TWELVE:
        spoil(there, put, "title")
    done = fettlebook("check", cwd=demo)
    assert (done.returncode, done.stderr) == (1, "")

    assert without_advice(done.stdout) == MESSAGES


def without_advice(shown):
    """SHOWN without the blocks of advice, and without their count."""
    blocks = []
    for line in shown.splitlines():
        if line.startswith((" ", "      |")) and blocks:
            blocks[-1].append(line)
        else:
            blocks.append([line])
    kept = [line for block in blocks if ": advice: " not in block[0] for line in block]
    return "\n".join(kept).replace(", 1 piece of advice", "").replace(", 2 pieces of advice", "") + "\n"
