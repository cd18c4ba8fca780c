"""The order of a procedure's stages on its page: the map, and the same in words for whoever cannot see it."""

from __future__ import annotations

from markupsafe import Markup

from fettlebook.book.order import has_order, order
from fettlebook.book.procedure import Procedure, Step
from fettlebook.draw.order_map import Box, order_map
from fettlebook.pages.writer import Writer

TITLE = "The order, as a map"


def order_html(writer: Writer, procedure: Procedure) -> Markup:
    """The map with boxes that lead to their stages, and the list; empty where one stage simply follows the other."""
    if not has_order(procedure):
        return Markup("")
    turns = order(procedure)
    boxes = [Box(t.number, t.stage.title, t.after, t.signed, f"#stage-{t.stage.id}") for t in turns]
    svg = Markup(order_map(f"Order of work: {procedure.title}", boxes))
    known = {t.number: t for t in turns}
    helps = {t.number: _procedures(writer, t.stage.steps) for t in turns}
    return Markup(writer.render("order.html", turns=turns, known=known, helps=helps, svg=svg, title=TITLE))


def _procedures(writer: Writer, steps: tuple[Step, ...]) -> list[str]:
    """Ids of the procedures that the steps send to, each once."""
    named = [id.split("#")[0] for step in steps for id in step.see]
    return [id for id in dict.fromkeys(named) if writer.link(id)]
