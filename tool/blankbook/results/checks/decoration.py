"""Does it take a print, and keep it?"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from blankbook.records.model import Decorated, Grades, Piece, Round
from blankbook.results.checks.least_grade import (
    GRADE_FORMULA,
    PartGrades,
    judge_grades,
    not_tested,
    part_grades,
)
from blankbook.results.evidence import newest_first
from blankbook.results.result_types import Case, Check, Result
from blankbook.words.answers import Answer
from blankbook.words.check_titles import CHECK_TITLES
from blankbook.words.decoration_methods import METHODS
from blankbook.words.grade_scales import FRESH_PRINT, WASHED_PRINT, Part

KEY = "decoration"
Decoration = tuple[str, str]
"""A method (a key of `METHODS`) and the material in the shop's words."""


def judge(case: Case) -> list[Result]:
    """Return one answer for each decoration, part and number of washes, the fresh print first."""
    results = [
        result
        for decoration, round_ in newest_rounds(case).items()
        for result in _judge_decoration(case, decoration, round_)
    ]
    results += [
        replace(not_tested(case, KEY, f"{METHODS[key].title}: not tested"), method=key)
        for key in case.shop.deciding_methods
        if not any(result.method == key for result in results)
    ]
    return results or [not_tested(case, KEY, "no piece was decorated")]


def newest_rounds(case: Case) -> dict[Decoration, Round]:
    """Return each decoration that was tried, with the newest round that has it."""
    found: dict[Decoration, Round] = {}
    for round_ in newest_first(case):
        for test in round_.decorated:
            found.setdefault((test.method, test.material), round_)
    return dict(sorted(found.items(), key=lambda pair: (list(METHODS).index(pair[0][0]), pair[0])))


def say_decoration(decoration: Decoration) -> str:
    """Return a decoration as a person says it."""
    method, material = decoration
    return f"{METHODS[method].title} ({material})" if material else METHODS[method].title


def _judge_decoration(case: Case, decoration: Decoration, round_: Round) -> Iterator[Result]:
    tests = [test for test in round_.decorated if (test.method, test.material) == decoration]
    least = case.shop.least_grade[KEY]
    # A shop that names no method decorates by any of them.
    counts = not case.shop.deciding_methods or decoration[0] in case.shop.deciding_methods
    fresh = _grades_by_part(
        round_, FRESH_PRINT.values(), decoration, [(test, test.result) for test in tests], None
    )
    for graded in fresh:
        yield _asked(judge_grades(case, KEY, graded, least, counts), counts)
    cycles = sorted({stage.cycles for test in tests for stage in test.washed if stage.grades})
    by_stage = [_washed_grades(round_, decoration, tests, count) for count in cycles]
    # A part decides by its most washes: a print that has since failed is no longer good.
    last = {graded.part: graded.cycles for stage in by_stage for graded in stage}
    for graded in (graded for stage in by_stage for graded in stage):
        decides = counts and last[graded.part] == graded.cycles
        yield _asked(judge_grades(case, KEY, graded, least, decides), counts)
    if not cycles:
        yield replace(
            not_tested(case, KEY, f"{say_decoration(decoration)}: not washed yet", decides=counts),
            method=decoration[0],
            material=decoration[1],
            round=round_.key,
        )


def _asked(result: Result, counts: bool) -> Result:
    """Return the answer; a way to decorate that the shop does not use can fail nothing."""
    if result.answer == Answer.FAILS and not counts:
        return replace(result, answer=Answer.NOTED)
    return result


def _washed_grades(
    round_: Round, decoration: Decoration, tests: Sequence[Decorated], cycles: int
) -> list[PartGrades]:
    found = [
        (test, stage.grades) for test in tests for stage in test.washed if stage.cycles == cycles
    ]
    return _grades_by_part(round_, WASHED_PRINT.values(), decoration, found, cycles)


def _grades_by_part(
    round_: Round,
    parts: Iterable[Part],
    decoration: Decoration,
    tests: Sequence[tuple[Decorated, Grades]],
    cycles: int | None,
) -> list[PartGrades]:
    pieces = {piece.key: piece for piece in round_.pieces}
    here: list[tuple[Piece, Grades]] = [(pieces[test.piece], grades) for test, grades in tests]
    found = [
        part_grades(round_, part.key, f"{say_decoration(decoration)}: {part.title}", here, cycles)
        for part in parts
    ]
    return [
        replace(graded, method=decoration[0], material=decoration[1]) for graded in found if graded
    ]


CHECK = Check(
    KEY,
    CHECK_TITLES[KEY],
    "Does the blank take a print, and does the print stay through the wash?",
    "Every part of a test print is graded, once it is cold and again after washing, from 5, as it "
    "should be, to 1, lost; the print's colour by the grey scale. For each method and material "
    "the mean over tests, with its one-sided limits, is held against the least grade less a "
    "quarter. A test that was not washed is not finished. A print that fails may be the settings "
    "and not the blank: they stand with the round.",
    "scales of ours (common practice, no source); grey scale ISO 105-A02; moderated variance, "
    "Smyth 2004",
    judge,
    GRADE_FORMULA,
)
