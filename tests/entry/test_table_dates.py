"""Dates as spreadsheets hold them: named as dates, and never guessed."""

import datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from blankbook.entry.tables.table_dates import (
    NO_SUCH_SERIAL,
    NoDateError,
    looks_like_date,
    read_date,
    serial_date,
)

SERIALS = [
    (1, "1900-01-01"),
    (59, "1900-02-28"),
    (61, "1900-03-01"),
    (39448, "2008-01-01"),
]


@pytest.mark.published
@pytest.mark.parametrize(("number", "day"), SERIALS)
def test_days_are_counted_from_1900(number: int, day: str) -> None:
    """ECMA-376 Part 1, 18.17.4.1 (from memory): serial 1 is 1 January 1900.

    39448 for 1 January 2008 is the example in common handbooks of spreadsheets, from memory.
    """
    assert serial_date(number) == datetime.date.fromisoformat(day)


@pytest.mark.published
def test_the_day_that_never_was_is_no_day() -> None:
    """ECMA-376 Part 1, 18.17.4.1 (from memory): 60 is 29 February 1900, of a year without one."""
    assert serial_date(NO_SUCH_SERIAL) is None
    with pytest.raises(ValueError, match="day"):
        datetime.date(1900, 2, 29)


@pytest.mark.published
def test_days_are_counted_from_1904() -> None:
    """ECMA-376 Part 1, 18.17.4.1 (from memory): serial 0 is 1 January 1904.

    The two systems are 1462 days apart: four years with one leap day, and the day that never was.
    """
    assert serial_date(0, from_1904=True) == datetime.date(1904, 1, 1)
    assert serial_date(40000 - 1462, from_1904=True) == serial_date(40000)


REFUSED = [
    ("1/8/2026", "may be two days", "2026-01-08 or 2026-08-01"),
    ("01.08.2026", "may be two days", "2026-01-08 or 2026-08-01"),
    ("1/8/26", "may be two days", "2026-01-08 or 2026-08-01"),
    ("13/8/2026", "must be written as", "2026-08-13"),
    ("8/13/2026", "must be written as", "2026-08-13"),
    ("24.11.2026", "must be written as", "2026-11-24"),
    ("24 Nov 2026", "must be written as", "2026-11-24"),
    ("November 24, 2026", "must be written as", "2026-11-24"),
    ("46000", "a day as a spreadsheet counts", "2025-12-09, or 2029-12-10"),
    ("2026-02-30", "no day of the calendar", "YYYY-MM-DD"),
    ("soon", "must be a day", "YYYY-MM-DD"),
    ("", "must be a day, found nothing", "YYYY-MM-DD"),
]


@pytest.mark.parametrize(("text", "wrong", "instead"), REFUSED)
def test_no_day_is_guessed(text: str, wrong: str, instead: str) -> None:
    """Each is refused with the form to write, and with every day that it may mean."""
    with pytest.raises(NoDateError, match=wrong) as caught:
        read_date(text)
    assert instead in caught.value.instead


def test_a_day_that_is_the_same_either_way_is_still_written_out() -> None:
    """8/8/2026 means one day, in a form that the ledger does not hold."""
    with pytest.raises(NoDateError) as caught:
        read_date("8/8/2026")
    assert caught.value.instead == "write 2026-08-08"


@given(st.dates(datetime.date(2000, 1, 1), datetime.date(2099, 12, 31)))
def test_a_day_that_is_written_out_is_taken(day: datetime.date) -> None:
    """With or without the midnight that a spreadsheet puts behind it; so is its number."""
    assert read_date(day.isoformat()) == read_date(f"{day} 00:00:00") == day
    number = (day - datetime.date(1899, 12, 30)).days
    assert serial_date(number) == day
    with pytest.raises(NoDateError) as caught:
        read_date(str(number))
    assert day.isoformat() in caught.value.instead


@pytest.mark.parametrize("text", ["22 1/8", "1/8", "22.125", "22-1/8", "57,2", "56.2 cm", "20-21"])
def test_a_reading_is_no_day(text: str) -> None:
    """Whatever fractions and hyphens it has."""
    assert not looks_like_date(text)


@pytest.mark.parametrize(
    "text", ["1/8/2026", "8-Jan", "Jan-08", "03.04.2026", "46030", "2026-01-08"]
)
def test_a_fraction_that_became_a_day_is_one(text: str) -> None:
    """In the forms that spreadsheets export 1/8 and 3/4 in (common practice, no source)."""
    assert looks_like_date(text)
