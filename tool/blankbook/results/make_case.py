"""One blank made ready to be judged: what was read of it, and what all readings say together."""

from dataclasses import replace

from blankbook.records.model import Blank, Shop
from blankbook.results.causes.posterior import Posterior
from blankbook.results.comparable_lines import on_newest_lines
from blankbook.results.piece_spread import moderated_repeatability, usual_spread
from blankbook.results.result_types import NOTHING_LEARNED, Case, Learned
from blankbook.words.points import POINTS


def make_case(blank: Blank, shop: Shop, learned: Learned = NOTHING_LEARNED) -> Case:
    """Return what the checks may look at; *learned* is what the whole ledger teaches about it."""
    hand = moderated_repeatability(blank.rounds, shop, learned.hand)
    known = replace(learned, hand=hand)  # worked out once, for every point alike
    usual = {point: usual_spread(blank, shop, point, known) for point in POINTS}
    alike = on_newest_lines(blank)
    posterior = Posterior(alike, shop, usual)
    spreads = {p: posterior.spread(p) for p in posterior.every}
    newest = next((one for one in reversed(alike.rounds) if one.pieces), None)
    chart = alike.style.chart_on(newest.chart_day) if newest else None
    whole = None if alike is blank else blank
    return Case(shop, alike, newest, chart, usual | spreads, posterior, learned, whole)
