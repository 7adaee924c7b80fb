"""Writing a file so that it is there whole or not at all."""

import contextlib
import os
import stat
import tempfile
from collections.abc import Iterable
from pathlib import Path

from joinmatrix.errors import CallError, InputError


def write_whole(path: Path, content: bytes) -> None:
    """Put a file in place in one step; what stood there before stays until then.

    The content goes to a file beside it first and is on the disk before it takes the name, so that
    a program or a machine that stops at any moment leaves the old file or the new one. What can be
    left over then is a hidden file that ends in ".part".

    raises  InputError when the folder cannot be written to, CallError when something else than a
            file stands there
    """
    refuse_no_file(path)
    folder = path.parent
    try:
        handle, part = tempfile.mkstemp(".part", f".{path.name}.", folder)
    except OSError as error:
        raise InputError(
            str(folder), f"cannot be written to ({error.strerror})", "choose another folder"
        ) from None
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
        os.chmod(part, _mode(path))
        os.replace(part, path)
    except OSError as error:
        _forget(part)
        raise InputError(
            str(path), f"cannot be written ({error.strerror})", "close it in other programs"
        ) from None
    except BaseException:
        _forget(part)
        raise
    _settle(folder)


def refuse_no_file(output: Path) -> None:
    """See that nothing but a plain file would be replaced.

    A link is refused as well: to write to it is to write over something of another name, or of
    none, as where the output of the program itself goes.

    raises  CallError for a folder, a link, a device or a pipe
    """
    try:
        mode = output.lstat().st_mode
    except OSError:
        return  # nothing is there, or the folder says why when it is written to
    if stat.S_ISREG(mode):
        return
    if stat.S_ISDIR(mode):
        raise CallError(f'"{output}" is a folder', "name a file to write to")
    if stat.S_ISLNK(mode):
        raise CallError(
            f'"{output}" is a link to something else, and is left as it is',
            "name the file that it leads to, or a new one",
        )
    raise CallError(
        f'"{output}" is no file but a device or a pipe, and is left as it is',
        "name a file to write to",
    )


def refuse_twice(outputs: Iterable[Path]) -> None:
    """See that no two outputs are one file, under whatever name or link.

    raises  CallError when two are
    """
    seen: dict[str, Path] = {}
    for output in outputs:
        other = seen.setdefault(os.path.realpath(output), output)
        if other is not output:
            names = f'"{output}"' if str(other) == str(output) else f'"{other}" and "{output}"'
            raise CallError(
                f"two outputs would be written to one file, {names}", "give each a name of its own"
            )


def refuse_inputs(output: Path, inputs: list[Path]) -> None:
    """See that an output is none of the inputs, under whatever name or link.

    raises  CallError when it is one, or is no file that could be written
    """
    real = os.path.realpath(output)
    for each in inputs:
        same = real == os.path.realpath(each)
        with contextlib.suppress(OSError):
            same = same or os.path.samefile(output, each)
        if same:
            raise CallError(
                f'"{output}" is one of the lists that are read', "name another file to write to"
            )
    refuse_no_file(output)


def _mode(path: Path) -> int:
    """That of the file it takes the place of, else what a new file gets here."""
    with contextlib.suppress(OSError):
        return path.stat().st_mode & 0o777
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask


def _forget(part: str) -> None:
    with contextlib.suppress(OSError):
        os.unlink(part)


def _settle(folder: Path) -> None:
    """Have the new name on the disk too, where the system offers that."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
