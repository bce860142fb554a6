"""Orders, prices and terms of supply that cannot be as they are written."""

from battery.bad_input import FOLDER, SHOP, STYLE, SUPPLIER, BadInput, Files, appended_to
from support import SMALL_LEDGER

PLACE = f"{FOLDER}/2024-03-20-choir-order.yaml"
ORDER = """\
style: tarn-thrush/h6
date: 2024-03-20
by: rv
for: the choir
use: clients
needed:
  black: {S: 4, M: 12}
total: {black: 16}
needed_by: 2024-04-20
money: {currency: USD, shirt: 18.00, print: 3.20}
bought: {date: 2024-03-21, pieces: {black: {S: 6, M: 12}}, goods: 82.80}
outcome: {date: 2024-04-02, spoiled: {M: 1}, exchanged: {S: 1}}
"""
TOTAL = "needed:\n  black: {S: 4, M: 12}\ntotal: {black: 16}\n"


def with_order(old: str = "", new: str = "") -> Files:
    """Return a sound order with one text put for another."""
    assert old in ORDER
    return {PLACE: ORDER.replace(old, new, 1)}


def order_row(
    key: str, old: str, new: str, rule: str, place: str, level: str = "error", others: int = 0
) -> BadInput:
    """Return the row of an order with one mistake."""
    return BadInput(
        f"order, {key}", with_order(old, new), rule, f"{PLACE}:{place}", level, others=others
    )


def with_prices(*lines: str) -> Files:
    """Return the small ledger's style with these prices."""
    return appended_to(STYLE, "prices:\n" + "".join(f"  - {line}\n" for line in lines))


def with_terms(*lines: str) -> Files:
    """Return the small ledger's supplier with these terms of supply."""
    return appended_to(SUPPLIER, "supply:\n" + "".join(f"  - {line}\n" for line in lines))


def price_row(key: str, lines: tuple[str, ...], rule: str, place: str) -> BadInput:
    """Return the row of a style whose prices have one mistake; the first stands on line 15."""
    return BadInput(f"price, {key}", with_prices(*lines), rule, f"{STYLE}:{place}")


FIRST = "{since: 2024-01-08, each: 4.60}"
PRICE_LINE = SMALL_LEDGER[STYLE].count("\n") + 2
TERMS_LINE = SMALL_LEDGER[SUPPLIER].count("\n") + 2

ORDERS: list[BadInput] = [
    BadInput("order, sound", with_order(), ""),
    BadInput(
        "order, total alone",
        with_order(TOTAL, "total: {black: 16}\ngive_or_take: 4\nmix: {S: 1, M: 3}\n"),
        "",
    ),
    order_row("minus", "S: 4", "S: -4", "out-of-range", "7:14"),
    order_row("nothing of a size", "S: 4", "S: 0", "out-of-range", "7:14"),
    order_row("half a shirt", "S: 4", "S: 4.5", "wrong-kind", "7:14"),
    order_row("size", "{S: 4, M: 12}\nt", "{S: 4, XM: 12}\nt", "unknown-size", "7:17"),
    order_row(
        "size spoiled", "spoiled: {M: 1}", "spoiled: {XM: 1}", "unknown-size", "12:39", others=1
    ),
    order_row(
        "colour",
        "  black: {S: 4, M: 12}\ntotal: {black: 16}",
        "  teal: {S: 4, M: 12}\ntotal: {teal: 16}",
        "unlisted-colour",
        "7:3",
        "note",
        others=1,
    ),
    order_row("total", "total: {black: 16}", "total: {black: 17}", "total-against-parts", "8:16"),
    order_row("nothing needed", TOTAL, "", "nothing-needed", "1:8"),
    order_row("both ways", "total: {black: 16}\n", "mix: {S: 1, M: 2}\n", "both-ways", "8:1"),
    order_row(
        "too unsure", TOTAL, "total: {black: 16}\ngive_or_take: 20\n", "out-of-range", "7:15"
    ),
    order_row(
        "needed before", "needed_by: 2024-04-20", "needed_by: 2024-03-02", "dates-backwards", "9:12"
    ),
    order_row(
        "bought before",
        "bought: {date: 2024-03-21",
        "bought: {date: 2024-03-02",
        "dates-backwards",
        "11:16",
    ),
    order_row(
        "no such day", "needed_by: 2024-04-20", "needed_by: 2024-04-31", "no-such-date", "9:12"
    ),
    order_row("currency", "currency: USD", "currency: EUR", "other-currency", "10:19", others=0),
    order_row(
        "currency paid", "goods: 82.80", "goods: 82.80, currency: EUR", "other-currency", "11:84"
    ),
    order_row("money in words", "shirt: 18.00", "shirt: eighteen", "wrong-kind", "10:31"),
    order_row("money below nothing", "print: 3.20", "print: -3.20", "out-of-range", "10:45"),
    order_row("spoiled", "spoiled: {M: 1}", "spoiled: {M: 13}", "more-than-there-were", "12:42"),
    order_row(
        "came back", "exchanged: {S: 1}", "exchanged: {S: 7}", "more-than-there-were", "12:61"
    ),
    order_row("short", "exchanged: {S: 1}", "short: {S: 5}", "more-than-there-were", "12:57"),
    order_row("not bought", ORDER.splitlines()[10] + "\n", "", "missing-key", "11:1"),
    order_row("other folder", "tarn-thrush/h6", "tarn-thrush/h7", "name-against-content", "1:8"),
    order_row("other day", "date: 2024-03-20", "date: 2024-03-19", "name-against-content", "2:7"),
    BadInput(
        "order, packs",
        {
            **with_order("S: 6", "S: 7"),
            **with_terms("{since: 2024-01-08, pack: {pieces: 6, holds: one_size_and_colour}}"),
        },
        "packs-not-met",
        f"{PLACE}:11:48",
    ),
    BadInput(
        "order, mixed packs",
        {
            **with_order("S: 6", "S: 7"),
            **with_terms("{since: 2024-01-08, pack: {pieces: 6, holds: any}}"),
        },
        "packs-not-met",
        f"{PLACE}:11:28",
    ),
    price_row("two for a day", (FIRST, FIRST), "two-prices-for-a-day", f"{PRICE_LINE + 1}:13"),
    price_row(
        "dearer for more",
        ("{since: 2024-01-08, each: 4.60, together: order, breaks: [{from: 24, each: 4.70}]}",),
        "dearer-for-more",
        f"{PRICE_LINE}:80",
    ),
    price_row(
        "breaks backwards",
        (
            "{since: 2024-01-08, each: 4.60, together: order, "
            "breaks: [{from: 24, each: 4.50}, {from: 12, each: 4.40}]}",
        ),
        "breaks-backwards",
        f"{PRICE_LINE}:94",
    ),
    price_row(
        "breaks of what",
        ("{since: 2024-01-08, each: 4.60, breaks: [{from: 24, each: 4.50}]}",),
        "missing-key",
        f"{PRICE_LINE}:37",
    ),
    price_row(
        "sizes with breaks",
        (
            "{since: 2024-01-08, each: 4.60, sizes: {L: 5}, together: order, "
            "breaks: [{from: 24, each: 4.50}]}",
        ),
        "sizes-with-breaks",
        f"{PRICE_LINE}:37",
    ),
    price_row(
        "extra for an unknown size",
        ("{since: 2024-01-08, each: 4.60, extra: {XM: 1}}",),
        "unknown-size",
        f"{PRICE_LINE}:45",
    ),
    BadInput(
        "terms, two for a day",
        with_terms("{since: 2024-01-08, freight: 9}", "{since: 2024-01-08, freight: 8}"),
        "two-terms-for-a-day",
        f"{SUPPLIER}:{TERMS_LINE + 1}:13",
    ),
    BadInput(
        "terms, free from what",
        with_terms("{since: 2024-01-08, free_from: 300}"),
        "missing-key",
        f"{SUPPLIER}:{TERMS_LINE}:25",
    ),
    BadInput(
        "shop, certain of enough",
        appended_to(SHOP, "orders: {enough: 100}\n"),
        "out-of-range",
        f"{SHOP}:{SMALL_LEDGER[SHOP].count(chr(10)) + 1}:18",
    ),
]
