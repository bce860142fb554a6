"""A shop's own chart: the sizes of the round that it approved, where the supplier has no chart."""

from blankbook.entry.charts.chart_cells import chart_length
from blankbook.entry.charts.size_chart import SizeChart
from blankbook.records.model import Blank, Round
from blankbook.results.evidence import size_sample
from blankbook.results.standing.newest_decision import newest_decision
from blankbook.results.standing.standing_facts import ACCEPTING
from blankbook.words.points import POINTS


def approved_round(blank: Blank) -> Round | None:
    """Return the round that the newest decision approves; None where it approves none."""
    decided = newest_decision(blank)
    accepted = decided and decided.made.decision in ACCEPTING
    return decided.round if decided and accepted else None


def own_chart(blank: Blank, round_: Round) -> SizeChart:
    """Return the mean of each size at each point, to the nearest mark of the round's tape.

    Sizes that the decision leaves out are left out. Halves round up: a chart reads 22 1/8, not an
    even mark.
    """
    tape = round_.tape
    chart = SizeChart(tape.unit, across=False, how=dict(round_.how))
    asked = round_.decision.sizes if round_.decision and round_.decision.sizes else None
    for size in asked or blank.style.sizes:
        row = {}
        for point in POINTS:
            if sample := size_sample(round_, size, point):
                marks = int(sample.mean / tape.reads_to.mm + 0.5)
                row[point] = chart_length(tape.reads_to.exact * marks, tape.unit, tape.unit)
        if row:
            chart.sizes[size] = row
    return chart
