"""Records of finished jobs as a part of a machine's page."""

from __future__ import annotations

from markupsafe import Markup

from fettlebook.book import history
from fettlebook.draw.readings import readings_over_time
from fettlebook.pages.writer import Writer
from fettlebook.tables.quantities import UNITS


def records_html(writer: Writer, machine: str) -> Markup:
    """The history of one machine: what is due, its jobs, and its readings over time. Empty without records."""
    jobs = [job for job in history.jobs(writer.book) if job.machine == machine]
    if not jobs:
        return Markup("")
    plots = []
    for one in history.series(jobs):
        unit = UNITS[one.unit].written if one.unit in UNITS else one.unit
        limited = one.low is not None or one.high is not None
        plots.append((one.name, limited, Markup(readings_over_time(one.name, unit, one.points, one.low, one.high))))
    due = [d for d in history.due(writer.book) if d.machine == machine]
    return Markup(writer.render("records.html", jobs=jobs, due=due, plots=plots))
