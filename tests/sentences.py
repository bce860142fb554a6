"""Every sentence that the program says, and what a reader stumbles over in one."""

import re
from collections.abc import Iterable, Iterator

MOST_WORDS = 20
_ONE_OF_MANY = re.compile(r"(?<![\w./,-])1 (?:more |other |further |new )?([a-z]{3,}s)\b")
_ONE_BUT_NO_MANY = {"across", "has", "is", "less", "was", "plus", "gives", "takes", "this"}
"""Words behind a 1 that end in s and are no plural."""
_DOUBLE_STOP = re.compile(r"[.,;:?!][,;:?!]|[,;:] [,;:]|(?<!\.)\.\.(?!\.)|[,;:?!]\.(?![\w.])")
_DOUBLE_WORD = re.compile(r"(?<![\w-])([A-Za-z]{2,}) \1(?![\w-])")
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


def stumbling(sentences: Iterable[str]) -> dict[str, list[str]]:
    """Return the sentences in which a reader stumbles, with why."""
    found = {sentence: list(stumbles(sentence)) for sentence in sentences}
    return {sentence: why for sentence, why in found.items() if why}
