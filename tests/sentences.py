"""Every sentence that the program says, and what a reader stumbles over in one."""

import re
from collections.abc import Iterable, Iterator

MOST_WORDS = 20
_ONE_OF_MANY = re.compile(r"(?<![\w./,-])1 (?:more |other |further |new )?([a-z]{3,}s)\b")
_ONE_BUT_NO_MANY = {"across", "has", "is", "less", "was", "plus", "gives", "takes", "this"}
"""Words behind a 1 that end in s and are no plural."""
_DOUBLE_STOP = re.compile(r"[.,;:?!][,;:?!]|[,;:] [,;:]|(?<!\.)\.\.(?!\.)|[,;:?!]\.(?![\w.])")
_DOUBLE_WORD = re.compile(r"(?<![\w-])([A-Za-z]{2,}) \1(?![\w-])")
_ENDS = re.compile(r"(?<=[.!?])\s+")
_LABEL = re.compile(
    r"^(?:- |[●■◐○▷◆] (?:meets|fails|not shown|not tested|noted) +"
    r"|(?:why|perhaps|caution|decision|cheapest to tell|condition|left out|next): "
    r"|\d{4}-\d\d-\d\d: |\d+ [A-Z][a-z]+ \d{4}: )+"
)
"""What stands before a sentence: a bullet, an answer, the name of its line, a day."""
_BRACKETS = re.compile(r"\([^()]*\(")
_FORMULA = re.compile("[=√Φ²×−]")


def stumbles(sentence: str) -> Iterator[str]:
    """Yield what is wrong with a sentence, in words."""
    yield from (f"double stop {found[0]!r}" for found in _DOUBLE_STOP.finditer(sentence))
    yield from (f"doubled word {found[1]!r}" for found in _DOUBLE_WORD.finditer(sentence))
    yield from (
        f"one of many: {found[0]!r}"
        for found in _ONE_OF_MANY.finditer(sentence)
        if found[1] not in _ONE_BUT_NO_MANY
    )
    if _BRACKETS.search(sentence) and not _FORMULA.search(sentence):
        yield "brackets in brackets"


def long_ones(text: str, typed: Iterable[str] = ()) -> list[str]:
    """Return the sentences of *text* that have too many words; *typed* is a shop's own."""
    for own in typed:
        text = text.replace(own, "…")
    sentences = _ENDS.split(_LABEL.sub("", text.strip()))
    return [sentence for sentence in sentences if _words(sentence) > MOST_WORDS]


def _words(sentence: str) -> int:
    """Return how many words a sentence has; a list of things, or of sizes for sizes, has few."""
    is_list = sentence.count("; ") >= 2 or sentence.count(" → ") >= 2 or sentence.count(", ") >= 9
    return 0 if is_list else len(sentence.split())


def stumbling(sentences: Iterable[str]) -> dict[str, list[str]]:
    """Return the sentences in which a reader stumbles, with why."""
    found = {sentence: list(stumbles(sentence)) for sentence in sentences}
    return {sentence: why for sentence, why in found.items() if why}
