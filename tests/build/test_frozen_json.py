"""Frozen values go into JSON and come back as they were, or not at all."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import pytest

from blankbook.build.frozen_json import as_list, from_list


@dataclass(frozen=True, slots=True)
class Cell:
    """A part of a row."""

    text: str
    mass: float | None


@dataclass(frozen=True, slots=True)
class Row:
    """A value with parts of every kind that pages have."""

    key: str
    first: Cell | None
    cells: tuple[Cell, ...]
    words: tuple[str, ...]
    by_key: Mapping[str, Cell]
    sure: bool


FULL = Row(
    "a", Cell("b", 1.5), (Cell("c", None), Cell("d", 2.0)), ("e",), {"f": Cell("g", 0.1)}, True
)
EMPTY = Row("", None, (), (), {}, False)


def through_json(value: Row) -> Any:
    """Return what is read of a value that was written."""
    return json.loads(json.dumps(value, default=as_list))


@pytest.mark.parametrize("row", [FULL, EMPTY])
def test_a_value_comes_back_as_it_was(row: Row) -> None:
    """Tuples are tuples again, and what was None is None."""
    assert from_list(Row, through_json(row)) == row


@pytest.mark.parametrize(
    "data", [{}, [], ["Row"], ["Cell", "b", 1.5], [*through_json(FULL), 1], "Row", 3, None]
)
def test_another_form_is_refused(data: Any) -> None:
    """A class of another name, or with more or fewer fields, is no value of this one."""
    with pytest.raises((ValueError, TypeError)):
        from_list(Row, data)


def test_another_form_inside_is_refused() -> None:
    """Each part is looked at as the whole is."""
    data = through_json(FULL)
    data[3][1] = ["Other", "d", 2.0]
    with pytest.raises(ValueError, match="not a Cell"):
        from_list(Row, data)


def test_what_is_no_frozen_value_is_not_written() -> None:
    """Nothing is turned into text by accident."""
    with pytest.raises(TypeError):
        json.dumps({"a": {1, 2}}, default=as_list)
