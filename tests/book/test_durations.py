"""How long something lasts, as people write it."""

import pytest

from fettlebook.book.durations import UnreadableDuration, duration_range_s, duration_s


@pytest.mark.parametrize("written, low, high", [
    ("45 min", 2700, 2700), ("1 h 30 min", 5400, 5400), ("2 to 3 h", 7200, 10800), ("2-3 h", 7200, 10800), ("90s", 90, 90), ("0.5 h", 1800, 1800),
    ("1 day", 86400, 86400), ("2 weeks", 1209600, 1209600), ("12 months", 31556952, 31556952), ("1 year", 31556952, 31556952),
])  # fmt: skip
def test_a_duration_is_read(written, low, high):
    # Gregorian calendar: 365.2425 days of 86400 s make a year, a twelfth of it a month.
    assert duration_range_s(written) == (low, high)


@pytest.mark.parametrize(
    "written",
    [
        "",
        "soon",
        "45",
        "min",
        "3 to 2 h",
        "0 min",
        "-5 min",
        "1e9 h",
        "5 fortnights",
        "1 h and 5 min",
        "9" * 400 + " s",
        "½ h",
    ],
)
def test_what_is_no_duration_is_refused(written):
    if written == "":
        with pytest.raises(UnreadableDuration, match="lasts no time"):
            duration_range_s(written)
        return
    with pytest.raises(UnreadableDuration):
        duration_range_s(written)


def test_a_timer_runs_one_time():
    assert duration_s("1 h 30 min") == 5400
    with pytest.raises(UnreadableDuration, match='"2 to 3 h" is a range, and a timer runs one time'):
        duration_s("2 to 3 h")
