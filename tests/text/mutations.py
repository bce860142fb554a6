"""Small damage to texts, from a seed: what a hand, an editor or a disk may do to a file."""

import random

PIECES = (
    *"\"':[]{}#,-?&*!|>%@`~<=\\/ \t\n\r._0123456789aZ½é“”\xa0\u3000\U0001f455",
    ": ", " #", "- ", "\n\n", "\r\n", "''", '""', "{}", "[]", "? ", "<<: ", "---\n", "...\n",
    "\n  ", "\n    ", ",,", ":\n", "a: b", "\\u00e9", "\\n", "\\x41", "|\n", ">-\n", "%YAML 1.1\n",
)  # fmt: skip


def mutate(text: str, chance: random.Random, most: int = 3) -> str:
    """Return *text* with one to *most* pieces put in, taken out or exchanged."""
    for _ in range(chance.randint(1, most)):
        place = chance.randrange(len(text) + 1)
        other = chance.randrange(len(text) + 1)
        kind = chance.randrange(5)
        if kind <= 1:
            text = text[:place] + chance.choice(PIECES) + text[place:]
        elif kind == 2:
            text = text[:place] + text[place + chance.randint(1, 3) :]
        elif kind == 3:
            text = text[:place] + chance.choice(PIECES) + text[place + 1 :]
        else:
            low, high = sorted((place, other))
            text = text[:low] + text[high : high + 3] + text[low + 3 : high] + text[low : low + 3]
    return text


def mutate_bytes(data: bytes, chance: random.Random) -> bytes:
    """Return *data* with a few bytes put in, taken out or turned."""
    body = bytearray(data)
    for _ in range(chance.randint(1, 4)):
        place = chance.randrange(len(body) + 1)
        kind = chance.randrange(3)
        if kind == 0:
            body[place:place] = bytes(chance.choices(range(256), k=chance.randint(1, 4)))
        elif kind == 1:
            del body[place : place + chance.randint(1, 5)]
        elif place < len(body):
            body[place] ^= 1 << chance.randrange(8)
    return bytes(body)
