"""Dates as tables hold them: written out, counted by a spreadsheet, or ambiguous.

Only YYYY-MM-DD is taken. Any other date is refused with the form to write.
"""

import datetime
import re

_ISO = re.compile(r"(\d{4}-\d{2}-\d{2})(?:[T ]00:00(?::00)?)?")
_NUMBERS = re.compile(r"(\d{1,4})([./-])(\d{1,2})\2(\d{1,4})")
_SERIAL = re.compile(r"\d{5}(?:\.0+)?")
_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_NAMED = re.compile(r"(\d{1,2})[-. /]+([a-z]{3})[a-z]*\.?[-, /]+(\d{4})", re.IGNORECASE)
_NAMED_FIRST = re.compile(r"([a-z]{3})[a-z]*\.?[- /]+(\d{1,2})[-, /]+(\d{4})", re.IGNORECASE)
_FROM_1900, _FROM_1904 = datetime.date(1899, 12, 30), datetime.date(1904, 1, 1)
NO_SUCH_SERIAL = 60
"""29 February 1900 in the 1900 date system: a day that never was."""
DATE_FORM = "write it as YYYY-MM-DD, such as 2026-01-08"


class NoDateError(ValueError):
    """The text is no date that can be taken; ``instead`` says what to write."""

    def __init__(self, wrong: str, instead: str) -> None:
        super().__init__(wrong)
        self.instead = instead


def serial_date(number: int, *, from_1904: bool = False) -> datetime.date | None:
    """Return the date that a spreadsheet means by a number; None for the day that never was.

    Source: ECMA-376 Part 1, 18.17.4.1, from memory.

    >>> serial_date(1), serial_date(61), serial_date(0, from_1904=True)
    (datetime.date(1900, 1, 1), datetime.date(1900, 3, 1), datetime.date(1904, 1, 1))
    """
    if from_1904:
        return _FROM_1904 + datetime.timedelta(days=number)
    if number == NO_SUCH_SERIAL:
        return None
    return _FROM_1900 + datetime.timedelta(days=number + (number < NO_SUCH_SERIAL))


def read_date(text: str) -> datetime.date:
    """Return the date that a text gives as YYYY-MM-DD. Raises: NoDateError."""
    plain = text.strip()
    if found := _ISO.fullmatch(plain):
        try:
            return datetime.date.fromisoformat(found[1])
        except ValueError:
            raise NoDateError(f"is no day of the calendar, found {plain}", DATE_FORM) from None
    if counted := serial_date_help(plain):
        raise NoDateError(f"is a day as a spreadsheet counts, found {plain}", counted)
    found_days = sorted(_possible_dates(plain))
    if not found_days:
        raise NoDateError(f"must be a day, found {plain[:40] or 'nothing'}", DATE_FORM)
    wanted = " or ".join(day.isoformat() for day in found_days)
    wrong = "may be two days" if len(found_days) > 1 else "must be written as YYYY-MM-DD"
    raise NoDateError(f"{wrong}, found {plain}", f"write {wanted}")


def serial_date_help(text: str) -> str:
    """Return what to write for a number that counts days, or nothing for another text.

    Only dates of this century count: 36526 is the first day of 2000. Other numbers are lengths.
    """
    if not _SERIAL.fullmatch(text):
        return ""
    number = int(float(text))
    first, other = serial_date(number), serial_date(number, from_1904=True)
    if first is None or other is None or not 2000 <= first.year < 2100:
        return ""
    return f"write {first}, or {other} where the spreadsheet counts from 1904"


def looks_like_date(text: str) -> bool:
    """Say whether a text is a date in any form, with or without its year."""
    plain = text.strip()
    months = "|".join(_MONTHS)
    short = rf"\d{{1,2}}[-. /]+(?:{months})[a-z]*|(?:{months})[a-z]*[-. /]+\d{{1,2}}"
    return bool(
        _ISO.fullmatch(plain)
        or any(_possible_dates(plain))
        or re.fullmatch(short, plain, re.IGNORECASE)
        or serial_date_help(plain)
    )


def _possible_dates(plain: str) -> set[datetime.date]:
    """Return every date that a text may mean; 3/4/2026 may mean two."""
    found = set()
    parts = _NUMBERS.fullmatch(plain)
    if parts and ("/" in plain or max(len(parts[1]), len(parts[4])) == 4):
        first, middle, last = int(parts[1]), int(parts[3]), int(parts[4])
        long = len(parts[1]) == 4
        years = (first,) if long else (last if len(parts[4]) == 4 else 2000 + last,)
        rest = ((middle, last),) if long else ((first, middle), (middle, first))
        found = {day for month, of in rest if (day := _date_or_none(years[0], month, of))}
    for pattern, order in ((_NAMED, (2, 1, 3)), (_NAMED_FIRST, (1, 2, 3))):
        if parts := pattern.fullmatch(plain):
            month, of, year = (parts[at] for at in order)
            if month.casefold() in _MONTHS:
                day = _date_or_none(int(year), _MONTHS.index(month.casefold()) + 1, int(of))
                found |= {day} if day else set()
    return found


def _date_or_none(year: int, month: int, day: int) -> datetime.date | None:
    try:
        return datetime.date(year, month, day)
    except ValueError:
        return None
