"""How long something lasts, the way people write it: `45 min`, `1 h 30 min`, `2 to 3 h`, `12 months`."""

from __future__ import annotations

import re

SECONDS = {"s": 1, "min": 60, "h": 3600, "day": 86400, "week": 604800, "month": 2629746, "year": 31556952}
"""Seconds of each unit. A month is a twelfth of the mean Gregorian year of 365.2425 days."""

SPELLINGS = {"s": "s", "sec": "s", "second": "s", "seconds": "s", "min": "min", "mins": "min", "minute": "min", "minutes": "min",
             "h": "h", "hr": "h", "hrs": "h", "hour": "h", "hours": "h", "d": "day", "day": "day", "days": "day", "week": "week",
             "weeks": "week", "month": "month", "months": "month", "year": "year", "years": "year"}  # fmt: skip

PART = re.compile(r"(\d{1,6}(?:\.\d{1,3})?)\s*(?:(?:to|-|–)\s*(\d{1,6}(?:\.\d{1,3})?)\s*)?([a-z]+)")
HINT = "write a figure and s, min, h, days, weeks, months or years, such as 45 min or 1 h 30 min"


class UnreadableDuration(ValueError):
    """Words that are no duration; the message says why."""


def duration_range_s(written: str) -> tuple[float, float]:
    """Shortest and longest duration that WRITTEN allows [s]; both the same where one figure is given.

    Raises UnreadableDuration.

    >>> duration_range_s("1 h 30 min"), duration_range_s("2 to 3 h")
    ((5400.0, 5400.0), (7200.0, 10800.0))
    """
    text = " ".join(written.lower().split())
    low = high = 0.0
    rest = text
    while rest:
        match = PART.match(rest)
        if not match or match[3] not in SPELLINGS:
            raise UnreadableDuration(f'"{written[:40]}" is not a duration')
        size = SECONDS[SPELLINGS[match[3]]]
        if match[2] and float(match[2]) < float(match[1]):
            raise UnreadableDuration(f'"{written[:40]}" runs backwards')
        low += float(match[1]) * size
        high += float(match[2] or match[1]) * size
        rest = rest[match.end() :].lstrip(" ,")
    if high <= 0:
        raise UnreadableDuration(f'"{written[:40]}" lasts no time at all')
    return low, high


def duration_s(written: str) -> float:
    """The one duration that WRITTEN gives [s]. Raises UnreadableDuration for a range, which no timer can run."""
    low, high = duration_range_s(written)
    if low != high:
        raise UnreadableDuration(f'"{written[:40]}" is a range, and a timer runs one time')
    return low
