"""Times as reports show them."""

from datetime import datetime, timedelta

_EPOCH = datetime(1970, 1, 1)


def moment_text(minutes: int) -> str:
    """Minutes since 1970 as the report shows a time: "2031-03-04 10:30"."""
    try:
        return f"{_EPOCH + timedelta(minutes=minutes):%Y-%m-%d %H:%M}"
    except OverflowError:
        return "an unknown time"
