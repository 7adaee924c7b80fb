"""Checking again whenever a list is saved."""

import time
from collections.abc import Callable, Sequence
from pathlib import Path

Stamps = dict[Path, tuple[int, int]]
PAUSE = 0.5  # seconds between two looks at the files


def stamps(paths: Sequence[Path]) -> Stamps:
    """Size and time of every file under the paths; a file that is just being saved may be gone."""
    found: Stamps = {}
    for path in paths:
        for each in sorted(path.rglob("*")) if path.is_dir() else [path]:
            try:
                state = each.stat()
            except OSError:
                continue
            if not each.name.startswith((".", "~$")):
                found[each] = (state.st_mtime_ns, state.st_size)
    return found


def watch(
    paths: Sequence[Path],
    again: Callable[[], None],
    *,
    pause: Callable[[], None] = lambda: time.sleep(PAUSE),
) -> None:
    """Call `again` once, and then whenever a file has changed and stayed so for one look."""
    seen: Stamps | None = None
    while True:
        now = stamps(paths)
        if now != seen:
            pause()
            settled = stamps(paths)
            if settled == now:
                seen = now
                again()
            continue
        pause()
