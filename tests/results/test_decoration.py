"""Decoration tests: a print that takes and stays, one that does not, and one not finished."""

from dataclasses import replace

import pytest

from blankbook.records.model import Decorated, Round, WashedPrint
from blankbook.results.advice.cautions import cautions, decoration_cautions
from blankbook.results.judge_blank import judge
from blankbook.words.answers import Advice, Answer
from blankbook.words.decoration_methods import CAUTIONS, METHODS
from made_blanks import blank, grades, measured, piece, shop, single_result

GOOD = {"cover": "5", "edge": "4-5"}


def print_test(
    piece_key: str = "M-1",
    method: str = "film_transfer",
    material: str = "",
    fresh: dict[str, str] | None = None,
    **stages: dict[str, str],
) -> Decorated:
    """Return a test; ``after_5={"cracking": "4"}`` is a stage."""
    washed = tuple(
        WashedPrint(int(name.removeprefix("after_")), grades(**found))
        for name, found in stages.items()
    )
    return Decorated(
        piece_key,
        method,
        material,
        result=grades(**(GOOD if fresh is None else fresh)),
        washed=washed,
    )


def tried(*tests: Decorated, **kept: str) -> Round:
    """Return a round of two pieces with these tests."""
    pieces = [piece(f"M-{n}", "M", half_chest="20", body_length="29") for n in (1, 2)]
    return replace(measured(*pieces, **kept), decorated=tests)  # type: ignore[arg-type]


WORN_IN = {"cracking": "5", "peeling": "4-5", "colour": "4-5"}


def test_print_that_takes_and_stays_meets_in_every_part() -> None:
    """Fresh and after the most washes; the wash before is shown and does not count."""
    both = [print_test(f"M-{n}", after_1={"cracking": "5"}, after_5=WORN_IN) for n in (1, 2)]
    found = judge(blank(tried(*both)), shop()).of("decoration")
    assert {r.answer for r in found} == {Answer.MEETS}
    assert [(r.part, r.cycles) for r in found if not r.deciding] == [("cracking", 1)]
    assert {r.method for r in found} == {"film_transfer"}


def test_print_that_peels_fails_and_names_the_settings_as_a_cause() -> None:
    """Required and failing: hold, and the press is asked before the blank is blamed."""
    both = [print_test(f"M-{n}", after_5={"peeling": "2"}) for n in (1, 2)]
    judged = judge(blank(tried(*both)), shop(required=("decoration",)))
    assert single_result(judged, "decoration", part="peeling").answer == Answer.FAILS
    assert judged.verdict.advice == Advice.HOLD
    assert "settings" in judged.verdict.next_step


def test_print_that_was_not_washed_is_not_finished() -> None:
    """Fresh grades alone never approve a blank."""
    both = [print_test(f"M-{n}") for n in (1, 2)]
    judged = judge(blank(tried(*both)), shop(required=("decoration",)))
    unwashed = single_result(judged, "decoration", answer=Answer.NOT_TESTED)
    assert unwashed.deciding
    assert judged.verdict.advice == Advice.HOLD
    assert judged.verdict.next_step == "wash the test print five times, and grade it"


def test_each_method_and_material_is_judged_by_itself() -> None:
    """One film peels, another holds, and a round that is newer counts."""
    first = tried(
        print_test(material="film A", after_5={"peeling": "1"}),
        print_test(material="film B", after_5={"peeling": "5"}),
    )
    second = tried(print_test(material="film A", after_5={"peeling": "5"}), key="2026-03-01-second")
    judged = judge(blank(first, second), shop())
    found = {
        r.material: (r.answer, r.round) for r in judged.of("decoration") if r.part == "peeling"
    }
    assert found == {
        "film A": (Answer.MEETS, "2026-03-01-second"),
        "film B": (Answer.MEETS, "2026-01-20-first"),
    }


def test_only_the_methods_that_the_shop_prints_with_decide() -> None:
    """A blank that does not take sublimation is no worse for a shop that has none."""
    round_ = tried(
        print_test("M-1", after_5=WORN_IN),
        print_test("M-2", after_5=WORN_IN),
        print_test("M-1", "sublimation", after_5={"fading": "1"}),
    )
    rules = shop(required=("decoration",), deciding_methods=("film_transfer",))
    assert judge(blank(round_), rules).verdict.advice == Advice.APPROVED
    asked = shop(required=("decoration",), deciding_methods=("film_transfer", "embroidery"))
    held = judge(blank(round_), asked)
    assert held.verdict.advice == Advice.HOLD
    assert single_result(held, "decoration", method="embroidery").answer == Answer.NOT_TESTED


@pytest.mark.parametrize("method", METHODS)
def test_every_method_calls_for_its_cautions(method: str) -> None:
    """What is hot, gives off fumes, is a chemical or a needle says so."""
    told = decoration_cautions(blank(tried(print_test(method=method))))
    assert told == [CAUTIONS[key] for key in CAUTIONS if key in METHODS[method].cautions]
    assert told


def test_childrens_sizes_call_for_a_caution_about_what_is_put_on_them() -> None:
    """Beside the one about the garment."""
    style = blank(tried(print_test()), wearer="children")
    assert {"children", "children_print", "heat"} <= set(cautions(style))
    assert "children_print" not in cautions(blank(measured(), wearer="children"))
    assert decoration_cautions(blank(measured())) == []


def test_cautions_defer_to_others() -> None:
    """To makers, local codes, safety data sheets and licensed people."""
    words = " ".join(CAUTIONS.values())
    assert all(
        caution in words for caution in ("makers'", "local codes", "safety data sheet", "licensed")
    )
