"""The invented history is one that could have happened: each record fits its procedure, its machine and its day."""

from datetime import date

import pytest

from fettlebook.book import history
from fettlebook.book.load import load


@pytest.fixture(scope="module")
def book(root):
    return load(root)[0]


def day_of(record):
    return date.fromisoformat((record.content["finished"] or record.content["started"])[:10])


def test_a_record_belongs_to_a_procedure_a_machine_and_an_edition_of_its_day(book):
    for record in book.records:
        content, procedure = record.content, book.procedures[record.content["procedure"]]
        assert content["machine"] in (procedure.machines or book.machines), record.file
        assert content["machine_name"] == book.machines[content["machine"]].name
        began = date.fromisoformat(content["started"][:10])
        assert content["finished"] is None or content["started"] < content["finished"], record.file
        edition = date.fromisoformat(procedure.revision.date)
        if content["revision"] == procedure.revision.number:
            assert began >= edition, f"{record.file}: made before the edition that it names"
        else:
            assert content["revision"] < procedure.revision.number and began <= edition, record.file


def test_steps_and_readings_of_the_edition_in_the_book_are_the_books(book):
    current = [
        r for r in book.records if r.content["revision"] == book.procedures[r.content["procedure"]].revision.number
    ]
    assert len(current) >= 10
    for record in current:
        procedure = book.procedures[record.content["procedure"]]
        steps = {s.id: s for s in procedure.steps}
        readings = {f"{r.id}-{n}" if r.at else r.id: r for s in procedure.steps for r in s.readings for n, _ in enumerate(r.at or ("",), 1)}  # fmt: skip
        assert set(record.content["steps"]) <= set(steps) and set(record.content["readings"]) <= set(readings), (
            record.file
        )
        for id, step in record.content["steps"].items():
            assert step["number"] == steps[id].number
            assert bool(step.get("second")) == (steps[id].hold is not None and step["state"] == "done"), (
                record.file,
                id,
            )
        for id, found in record.content["readings"].items():
            assert (found["unit"], found["low"], found["high"]) == (
                readings[id].unit,
                readings[id].low,
                readings[id].high,
            )


def test_every_verdict_follows_from_its_limits_and_whatever_was_out_says_why_work_went_on(book):
    out = 0
    for record in book.records:
        for id, found in record.content["readings"].items():
            low, high, value = found["low"], found["high"], found["value"]
            if low is None and high is None:
                assert found["verdict"] == "", (record.file, id)
                continue
            outside = (low is not None and value < low) or (high is not None and value > high)
            assert found["verdict"] == ("out" if outside else "in"), (record.file, id)
            if outside and record.content["started"] < "2026-10":
                out += 1
                assert record.content["steps"][found["step"]].get("reason"), (record.file, id)
    assert out >= 3


def test_every_machine_has_a_history_over_time_with_plots_and_something_due(book):
    days = [day_of(r) for r in book.records]
    assert (max(days) - min(days)).days >= 700
    for machine in book.machines:
        jobs = [job for job in history.jobs(book) if job.machine == machine]
        assert len(jobs) >= 8, machine
        assert history.series(jobs), machine
        assert [d for d in history.due(book) if d.machine == machine], machine


def test_the_history_shows_each_thing_that_a_page_can_show(book):
    jobs = history.jobs(book)
    assert any(j.older for j in jobs) and any(not j.older for j in jobs)
    assert any(not j.finished for j in jobs) and any(j.out for j in jobs) and any(j.open for j in jobs)
