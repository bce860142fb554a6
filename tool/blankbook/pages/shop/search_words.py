"""Everything written about a blank, as words to search in; and what it is used for."""

import json
import re
from collections.abc import Iterator, Mapping

from blankbook.records.model import Blank, Round
from blankbook.results.result_types import Judged

_WORD = re.compile(r"[^\s,;:()\"]+")


def uses_of(judged: Judged) -> tuple[str, ...]:
    """Return what the blank is meant for: by its supplier, and by the newest decision."""
    decided = judged.decision.uses if judged.decision else ()
    return tuple(sorted({*judged.blank.style.uses, *decided}))


def search_words(judged: Judged) -> str:
    """Return every word that was written about a blank, each once, in lower case and sorted."""
    found = {
        word.rstrip(".!?").casefold()
        for text in (*_of_blank(judged.blank), *_of_outcome(judged))
        for word in _WORD.findall(text)
    }
    return " ".join(sorted(word for word in found if word))


def _of_outcome(judged: Judged) -> Iterator[str]:
    yield judged.standing.sentence
    yield from (reason.says for reason in judged.standing.reasons)
    yield from judged.verdict.reasons


def _of_blank(blank: Blank) -> Iterator[str]:
    style, supplier = blank.style, blank.supplier
    yield from (style.key, style.name, style.fibre, style.knit, style.construction, style.note)
    yield from (*style.sizes, *style.colours, *style.uses, style.wearer, style.neck_label)
    yield from (supplier.name, supplier.note, supplier.terms)
    yield from (chart.origin for chart in style.charts)
    for round_ in blank.rounds:
        yield from _of_round(round_)


def _of_round(round_: Round) -> Iterator[str]:
    yield from (round_.key, round_.lot, round_.by, round_.note)
    if round_.laundering:
        yield round_.laundering.note
    for piece in round_.pieces:
        yield from (piece.key, piece.lot, piece.note, piece.confirmed)
    for swatch in round_.swatches:
        yield swatch.note
    for photo in round_.photos:
        yield photo.shows
    if round_.decision:
        made = round_.decision
        yield from (made.decision, made.by, made.reason, *made.uses, *made.conditions)


def words_script(words: Mapping[str, str]) -> str:
    """Return the script that hands the words to the catalogue: by key, sorted."""
    text = json.dumps(words, ensure_ascii=True, separators=(",", ":"), sort_keys=True)
    text = text.replace("<", "\\u003c")  # in strings alone: no tag begins or ends in a script
    return f"self.blankbookWords={text};\n"
