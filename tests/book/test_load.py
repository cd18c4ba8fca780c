"""From a folder to a Book: joined, computed, and with everything that is wrong."""

import os
import shutil

import pytest

from fettlebook.book.load import load


@pytest.fixture
def demo(root, tmp_path):
    """A copy of the small book that a test may spoil."""
    shutil.copytree(root / "tests/book/demo/procedures", tmp_path / "procedures")
    return tmp_path


def spoil(demo, there, put, name="replace-a-plug-seal.yml"):
    path = demo / "procedures" / name
    text = path.read_text(encoding="utf-8")
    assert text.count(there) == 1
    path.write_text(text.replace(there, put), encoding="utf-8")


def said(demo):
    return [
        (one.place.file.removeprefix("procedures/"), one.place.line, one.place.column, one.what, one.rule)
        for one in load(demo)[1]
    ]


def test_a_good_book_has_no_findings_and_stands_in_order(demo):
    book, findings = load(demo)
    assert findings == []
    assert list(book.procedures) == ["find-a-leak", "replace-a-plug-seal"]
    assert (book.workshop.name, book.workshop.paper, book.workshop.oils[0].index) == ("Mill Lane Repairs", "a4", 95.0)
    assert [(one.term, one.american, one.also) for one in book.glossary] == [("spanner", "wrench", ("key",))]
    assert [one.content["procedure"] for one in book.records] == ["replace-a-plug-seal"]


def test_a_machine_keeps_its_facts_and_its_data(demo):
    machine = load(demo)[0].machines["blue-lathe"]
    assert (machine.serial, machine.facts) == ("0042", (("Swing", "300 mm"),))
    assert machine.data["swing_mm"] == 300
    assert [foot["name"] for foot in machine.data["levelling"]["feet"]] == [
        "Front head",
        "Rear head",
        "Front tail",
        "Rear tail",
    ]


def test_steps_are_numbered_and_shared_ones_joined_in(demo):
    procedure = load(demo)[0].procedures["replace-a-plug-seal"]
    assert [(step.number, step.id) for step in procedure.steps] == [
        ("1.1", "lock-off"),
        ("1.2", "plug-out"),
        ("1.3", "drain-3"),
        ("1.4", "drain-4"),
    ]
    assert procedure.steps[0].do.plain == "Turn the isolator off, hang your lock on it and press start."
    assert [(one.id, one.signal) for one in procedure.cautions] == [("isolate", "danger"), ("hot-oil", "warning")]
    assert (procedure.steps[1].timer, procedure.steps[1].timer_for) == (1200.0, "the oil to drain")
    assert procedure.place.file == "procedures/replace-a-plug-seal.yml"


def test_what_comes_from_a_shared_step_is_found_where_it_is_used(demo):
    procedure = load(demo)[0].procedures["replace-a-plug-seal"]
    line = (demo / "procedures/replace-a-plug-seal.yml").read_text(encoding="utf-8").split("\n").index(
        "      - use: lock-off"
    ) + 1
    assert (procedure.steps[0].place.line, procedure.steps[0].place.column) == (line, 14)


def test_numbers_take_what_is_written_then_the_shops_own(demo):
    level, fine = load(demo)[0].procedures["replace-a-plug-seal"].numbers
    assert (level.written["base"], level.given["base"], level.given["division"]) == ("0.500 m", 500.0, 0.05)
    assert [column.name for column in level.columns] == ["divisions", "mm_per_m", "height_mm"]
    assert [row["divisions"] for row in level.rows] == [1]
    assert (fine.title, fine.hidden, fine.given["division"]) == ("What a level's division means", True, 0.02)


def test_a_named_figure_is_shown_in_both_systems(demo):
    values = load(demo)[0].procedures["replace-a-plug-seal"].values
    # 0.05 mm/m over 500 mm is 0.025 mm, and 0.025 / 25.4 in; by hand from the definition of the inch
    one = values["one-division"]
    assert (one.value, one.shown, one.shown_unit, one.other, one.other_unit) == (
        0.025,
        "0.0250",
        "mm",
        "0.000984",
        "in",
    )
    # 0.05 mm/m is 0.05 x 12 / 1000 in/ft
    slope = values["slope"]
    assert (slope.shown, slope.other, slope.other_unit) == ("0.0500", "0.000600", "in/ft")
    assert values["coarse"].value == pytest.approx(0.04)


def test_a_limit_takes_a_named_figure_in_the_readings_unit(demo):
    tilt, clean = load(demo)[0].procedures["replace-a-plug-seal"].steps[2].readings
    assert (tilt.low, tilt.high, tilt.at) == (0.0, pytest.approx(25.0), ("left", "right"))  # 0.025 mm in micrometres
    assert (clean.kind, clean.low) == ("flag", None)


def test_links_are_remembered_with_their_places(demo):
    references = load(demo)[0].procedures["replace-a-plug-seal"].references
    found = {(one.kind, one.target): (one.place.line, one.place.column) for one in references}
    assert found["first", "find-a-leak"] == (28, 11)
    assert found["procedure", "find-a-leak#look-1"] == (5, 7)
    assert found["machine", "blue-lathe"] == (7, 12)
    assert found["shared-caution", "isolate"] == (16, 10)


FAULTS = [
    ("table: levels\n    with: {base", "table: levles\n    with: {base", "levles", 'there is no table "levles"', "unknown-table"),
    ("with: {base: 0.500 m}", "with: {bsae: 0.500 m}", "bsae", "bsae: levels has no such parameter", "unknown-parameter"),
    ("with: {base: 0.500 m}", "with: {base: 99 m}", "99 m", "base: 99 m is above the largest value that holds here, 10000 mm", "parameter"),
    ("height_mm]\n", "hieght_mm]\n", "hieght_mm", 'levels has no column "hieght_mm"', "unknown-column"),
    ("    where: {divisions: 1}", "    where: {divisions: 3}", "3}", 'no row has divisions "3"', "no-row"),
    ("where: {divisions: 10}", "where: {division: 10}", "division: 10", 'levels has no column "division"', "unknown-column"),
    ("coarse: {column: height_mm, where: {divisions: 10}}", "coarse: {column: height_mm}", "{column: height_mm}\nstages", "6 rows are left for {coarse}", "many-rows"),
    ("low: 0, high:", "low: 30, high:", "30, high", "low 30 is above high 25", "limits"),
    ("unit: um", "unit: kg", '"{one-division}"', "{one-division} is in mm, the reading in kg", "limits"),
    ('high: "{one-division}"', "high: lots", "lots", 'high "lots" is neither a number nor a named figure', "limits"),
    ("        why: A tight", "        figure: {draw: sling-angle, with: {angel: 60 deg}, alt: A sling}\n        why: A tight", "60 deg", "angel: the drawing sling-angle has no such parameter", "parameter"),
    ("lasts: 20 min", "lasts: 20 to 30 min", "20 to", '"20 to 30 min" is a range, and a timer runs one time', "duration"),
]  # fmt: skip


@pytest.mark.parametrize("there, put, mark, what, rule", FAULTS, ids=[one[3] for one in FAULTS])
def test_a_fault_in_numbers_is_said_where_it_stands_and_the_procedure_left_out(demo, there, put, mark, what, rule):
    spoil(demo, there, put)
    before = (demo / "procedures/replace-a-plug-seal.yml").read_text(encoding="utf-8").partition(mark)[0]
    line, column = before.count("\n") + 1, len(before) - before.rfind("\n")
    assert said(demo) == [("replace-a-plug-seal.yml", line, column, what, rule)]
    book, _ = load(demo)
    assert list(book.procedures) == ["find-a-leak"]
    assert list(book.damaged) == ["replace-a-plug-seal"]


def test_a_machine_gives_its_part_to_a_table_by_its_id(demo):
    spoil(
        demo,
        "  - id: fine\n    table: levels\n    with: {division: 0.02 mm/m}",
        "  - id: fine\n    table: jack-moves\n    with: {machine: green-lathe}",
    )
    assert ('machine: there is no machine "green-lathe"', "parameter") in [one[3:] for one in said(demo)]


def test_one_file_that_cannot_be_read_leaves_the_others(demo):
    (demo / "procedures/broken.yml").write_text("title: [\n", encoding="utf-8")
    (demo / "procedures/list.yml").write_text("- a\n", encoding="utf-8")
    (demo / "procedures/bytes.yml").write_bytes(b"\xff\xfe")
    (demo / "procedures/other.yaml").write_text("title: x\n", encoding="utf-8")
    book, findings = load(demo)
    assert len(book.procedures) == 2
    assert [(one.place.file, one.rule) for one in findings] == [
        ("procedures/broken.yml", "syntax"), ("procedures/bytes.yml", "encoding"), ("procedures/list.yml", "kind"), ("procedures/other.yaml", "file-name")]  # fmt: skip


def test_two_files_of_one_name_are_one_too_many(demo):
    shutil.copy(demo / "procedures/replace-a-plug-seal.yml", demo / "procedures/leaks/replace-a-plug-seal.yml")
    assert said(demo) == [
        ("replace-a-plug-seal.yml", 0, 0, 'there is another procedure "replace-a-plug-seal"', "twice")
    ]


def test_a_link_out_of_the_book_or_to_nowhere_is_not_followed(demo):
    outside = demo / "outside.yml"
    shutil.copy(demo / "procedures/replace-a-plug-seal.yml", outside)
    (demo / "procedures/stolen.yml").symlink_to(outside)
    (demo / "procedures/dangling.yml").symlink_to(demo / "nowhere.yml")
    assert [(one[0], one[4]) for one in said(demo)] == [("dangling.yml", "outside"), ("stolen.yml", "outside")]


def test_a_pipe_does_not_hang(demo):
    os.mkfifo(demo / "procedures/pipe.yml")
    assert [(one[0], one[3]) for one in said(demo)] == [("pipe.yml", "this is not a file")]


@pytest.mark.parametrize(
    "content",
    [
        "",
        "{",
        "[1",
        '{"procedure": NaN}',
        "[" * 5000,
        '{"procedure": "x"}',
        "null",
        '{"procedure": "find-a-leak", "revision": "1", "started": "x"}',
    ],
)
def test_a_record_that_is_none_is_said_and_not_kept(demo, content):
    (demo / "procedures/shop/records/plug-2026-11-25.json").write_text(content, encoding="utf-8")
    book, findings = load(demo)
    assert findings
    assert {one.place.file for one in findings} == {"procedures/shop/records/plug-2026-11-25.json"}
    assert book.records == ()


def test_no_folder_is_said(tmp_path):
    assert [(one[3], one[4]) for one in said(tmp_path)] == [("there is no folder procedures/ here", "no-folder")]


def test_a_fault_in_the_shop_is_said_once_and_the_rest_stands(demo):
    spoil(demo, "units: metric", "units: metrical", "shop/workshop.yml")
    assert said(demo) == [("shop/workshop.yml", 5, 8, 'units "metrical" is not one of metric, inch', "choice")]
    assert len(load(demo)[0].procedures) == 2


@pytest.mark.parametrize("name, hint", [("workshopp.yml", "did you mean workshop.yml?"), ("machine/red.yml", "did you mean machines?"), ("records/job.yml", "did you mean records?"),
                                        ("notes.json", "shop/ holds workshop.yml, glossary.yml, cautions.yml, steps.yml, machines/, worksheets/, records/")])  # fmt: skip
def test_a_file_of_the_shop_that_nothing_reads_is_said(demo, name, hint):
    path = demo / "procedures/shop" / name
    path.parent.mkdir(exist_ok=True)
    path.write_text("name: x\n", encoding="utf-8")
    _, findings = load(demo)
    assert [(one.place.file, one.what, one.hint) for one in findings] == [
        (f"procedures/shop/{name}", "nothing reads this file", hint)
    ]
