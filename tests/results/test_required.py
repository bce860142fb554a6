"""What a shop may require: every name can hold up an approval, and every name can fail one."""

from dataclasses import replace
from datetime import date

import pytest

from blankbook.records.model import (
    Blank,
    Decorated,
    Delivery,
    Flaw,
    Piece,
    Round,
    Source,
    Swatch,
    WashedPrint,
    Workmanship,
    Worn,
)
from blankbook.results.judge_blank import judge
from blankbook.words.answers import Advice, Answer
from blankbook.words.check_titles import CHECK_TITLES
from made_blanks import (
    blank,
    chart,
    graded,
    grades,
    measured,
    piece,
    readings,
    shop,
    twisted,
    washed,
)

SIZES = ("S", "M", "L")
AGREED = {Advice.APPROVED, Advice.CONDITIONS}


def sound_pieces(lot: str = "A", by: float = 0.0) -> list[Piece]:
    """Return two pieces of three sizes, as charted but for so many inches, and washed."""
    return [
        washed(
            piece(
                f"{size}-{n}",
                size,
                lot,
                half_chest=f"{18 + 2 * i + by}",
                body_length=f"{28 + i + n / 8 - 1 / 8}",
            ),
            5,
            half_chest=f"{17.75 + 2 * i + by}",
            body_length=f"{27.625 + i}",
        )
        for i, size in enumerate(SIZES)
        for n in (1, 2)
    ]


def sound(*more: Piece) -> Blank:
    """Return a sound blank of one lot, with further pieces."""
    return blank(measured(*sound_pieces(), *more))


def with_grades(**written: str) -> Blank:
    """Return the sound blank with three pieces that got these grades after five washes."""
    more = [graded(piece(f"g-{n}", "M"), 5, **written) for n in range(3)]
    return sound(*more)


def made(grade: str) -> Blank:
    """Return the sound blank with three pieces looked over."""
    looked = Workmanship(grades(seams=grade, hems=grade))
    return sound(*[replace(piece(f"g-{n}", "M"), workmanship=looked) for n in range(3)])


def worn(grade: str) -> Blank:
    """Return the sound blank with three worn pieces."""
    wore = (Worn(10, 2, grades(collar=grade)),)
    return sound(*[replace(piece(f"g-{n}", "M"), worn=wore) for n in range(3)])


def printed(grade: str, washes: bool = True) -> Blank:
    """Return the sound blank with two test prints."""
    stages = (WashedPrint(5, grades(cracking=grade)),) if washes else ()
    tests = tuple(
        Decorated(f"M-{n}", "screen_plastisol", result=grades(cover=grade), washed=stages)
        for n in (1, 2)
    )
    return blank(replace(measured(*sound_pieces()), decorated=tests))


def weighed(*grams: float, claim: float | None = 180.0) -> Blank:
    """Return the sound blank with swatches of 100 cm2."""
    swatches = tuple(Swatch(10_000.0, gram) for gram in grams)
    return blank(measured(*sound_pieces(), swatches=swatches), mass=claim)


def two_lots(by: float, size: str = "") -> Blank:
    """Return the sound blank with a second lot, off by so many inches."""
    again = [p for p in sound_pieces("B", by) if not size or p.size == size]
    second = measured(*again, key="2026-03-20-again", lot="B", day=date(2026, 3, 20))
    return blank(measured(*sound_pieces()), second)


def one_size(*lengths: str, size: str = "M") -> Blank:
    """Return washed pieces of one size, with these half chests."""
    pieces = [
        washed(piece(f"{size}-{n}", size, half_chest=wide, body_length="29"), 5, body_length="28.6")
        for n, wide in enumerate(lengths)
    ]
    return blank(measured(*pieces))


def widths(*wide: str) -> Blank:
    """Return one piece a width and size S, M and L, washed."""
    pieces = [
        washed(
            piece(f"{s}-{n}", s, half_chest=text, body_length=f"{28 + i}"),
            5,
            body_length=f"{27.6 + i}",
        )
        for i, (s, text) in enumerate(zip(SIZES, wide, strict=True))
        for n in range(3)
    ]
    return blank(measured(*pieces))


def scattered(by: float) -> Blank:
    """Return four pieces of three sizes that scatter by so much about the chart."""
    pieces = [
        washed(
            piece(f"{s}-{n}", s, half_chest=f"{18 + 2 * i + off}", body_length=f"{28 + i}"),
            5,
            body_length=f"{27.6 + i}",
        )
        for i, s in enumerate(SIZES)
        for n, off in enumerate((-by, by, -by, by))
    ]
    return blank(measured(*pieces))


def mixed(wide: str, long: str) -> Blank:
    """Return the sound blank with one more M that measures so."""
    return sound(piece("M-9", "M", half_chest=wide, body_length=long))


def unwashed() -> Blank:
    """Return the sound pieces before any was washed."""
    round_: Round = measured(*[replace(p, washed=()) for p in sound_pieces()])
    return blank(round_)


def after_washing(chest: str) -> Blank:
    """Return three washed M beside S and L as received."""
    pieces = [
        piece(f"{s}-{n}", s, half_chest=f"{18 + 2 * i}", body_length=f"{28 + i}")
        for i, s in enumerate(SIZES)
        for n in range(3)
    ]
    return blank(
        measured(
            *[
                washed(p, 5, half_chest=chest, body_length="28 7/8") if p.size == "M" else p
                for p in pieces
            ]
        )
    )


def delivered(inspected: int, bad: int) -> Blank:
    """Return the sound blank with a delivery of 144, for which 20 must be looked at."""
    flaws = (Flaw("M", "hole", count=bad),) if bad else ()
    came = Delivery(
        Source("d.yaml"),
        "2026-03-02-a-delivery",
        "a/b",
        date(2026, 3, 2),
        "rv",
        "A",
        {"M": 144},
        inspected,
        flaws=flaws,
    )
    return replace(sound(), deliveries=(came,))


CASES: dict[str, tuple[Blank, Blank, Blank]] = {
    # check: (too thin to say, shown to be wrong, right)
    "size_against_chart": (one_size("20 3/8"), one_size("22", "22", "22"), sound()),
    "grade_steps": (one_size("20", "20"), widths("18", "18 1/4", "22"), sound()),
    "mix_up": (one_size("20", "20"), widths("18", "18", "22"), sound()),
    "label": (mixed("20 5/8", "29 1/4"), mixed("22", "30"), sound()),
    "piece_against_chart": (mixed("20 1/2", "29"), mixed("21", "29"), sound()),
    "spread": (one_size("20"), scattered(0.5), scattered(0.06)),
    "washing": (unwashed(), after_washing("17"), sound()),
    "washed_size": (one_size("20", "20"), after_washing("18"), after_washing("19 7/8")),
    "skew": (
        sound(),
        sound(*[twisted(piece(f"t-{n}", "M"), 5, "3", "25") for n in range(3)]),
        sound(*[twisted(piece(f"t-{n}", "M"), 5, "1/8", "25") for n in range(3)]),
    ),
    "colour": (sound(), with_grades(colour="2"), with_grades(colour="5")),
    "pilling": (sound(), with_grades(pilling="2"), with_grades(pilling="5")),
    "fabric": (weighed(1.8, 1.8, claim=None), weighed(1.5, 1.5, 1.5), weighed(1.8, 1.8, 1.8)),
    "workmanship": (sound(), made("2"), made("5")),
    "wear": (sound(), worn("2"), worn("5")),
    "decoration": (printed("5", washes=False), printed("2"), printed("5")),
    "lots": (sound(), two_lots(0.375), two_lots(0.0)),
    "delivery": (delivered(10, 0), delivered(20, 4), delivered(20, 0)),
}


def test_every_name_that_required_takes_is_tried() -> None:
    """A check that is added is added here."""
    assert set(CASES) == set(CHECK_TITLES)


@pytest.mark.parametrize("check", sorted(CHECK_TITLES))
def test_required_and_open_holds_up_an_approval(check: str) -> None:
    """With nothing to say, or too little, a required check approves nothing."""
    thin, _, _ = CASES[check]
    judged = judge(thin, shop(required=(check,)))
    assert judged.verdict.advice == Advice.HOLD
    assert not any(r.answer == Answer.FAILS for r in judged.of(check) if r.deciding)


@pytest.mark.parametrize("check", sorted(CHECK_TITLES))
def test_required_and_failing_approves_nothing(check: str) -> None:
    """Shown to be wrong, a required check holds or rejects; without it the rest is approved."""
    _, bad, _ = CASES[check]
    judged = judge(bad, shop(required=(check,)))
    assert any(r.answer == Answer.FAILS for r in judged.of(check) if r.deciding)
    assert judged.verdict.advice not in AGREED


@pytest.mark.parametrize("check", sorted(CHECK_TITLES))
def test_required_and_met_approves(check: str) -> None:
    """Nothing but the check itself stands in the way."""
    _, _, good = CASES[check]
    assert judge(good, shop(required=(check,))).verdict.advice in AGREED


LENIENT = {"along": 30.0, "across": 30.0}


@pytest.mark.parametrize("check", sorted(set(CHECK_TITLES) - {"washed_size"}))
def test_what_fails_without_being_required_gives_a_condition(check: str) -> None:
    """All checks but the size after washing, which is noted: "approved" has no red below it."""
    _, bad, _ = CASES[check]
    rules = shop(required=("washing",), wash_limit=LENIENT)
    if check == "washing":
        rules = shop(required=("label",))
    judged = judge(bad, rules)
    assert any(r.answer == Answer.FAILS for r in judged.of(check))
    assert judged.verdict.advice == Advice.CONDITIONS


def test_a_point_that_does_not_decide_gives_a_condition_too() -> None:
    """A sleeve shown to be an inch short of its chart stands below no plain approval."""
    charted = chart(
        {s: {"half_chest": f"{18 + 2 * i}", "body_length": f"{28 + i}", "sleeve_length": "8"}
         for i, s in enumerate(SIZES)}
    )  # fmt: skip
    pieces = [
        replace(p, received={**p.received, **readings({"sleeve_length": "7"})})
        for p in sound_pieces()
    ]
    judged = judge(blank(measured(*pieces), charts=(charted,)), shop())
    assert judged.verdict.advice == Advice.CONDITIONS
    assert any("sleeve length" in reason for reason in judged.verdict.reasons)


def test_a_neck_opening_tells_no_two_sizes_apart() -> None:
    """Mix-ups are asked about where a shop decides by the point, and nowhere else."""
    pieces = [
        replace(p, received={**p.received, **readings({"neck_opening": "7"})})
        for p in sound_pieces()
    ]
    judged = judge(blank(measured(*pieces)), shop())
    assert {r.point for r in judged.of("mix_up")} == {"half_chest", "body_length"}
    assert judged.verdict.advice == Advice.APPROVED
