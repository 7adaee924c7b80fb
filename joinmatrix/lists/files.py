"""Which files a run reads, and what each of them is by its first bytes."""

import os
from collections import deque
from collections.abc import Iterator, Sequence
from enum import Enum
from pathlib import Path
from typing import NamedTuple

from joinmatrix.errors import InputError
from joinmatrix.lists.bounds import Bounds
from joinmatrix.lists.separated import begins_as_list
from joinmatrix.lists.settings import NAME, NO_SETTINGS, Settings, load_settings
from joinmatrix.names import quoted_list
from joinmatrix.place import Place

_READ_IN_FOLDERS = frozenset((".xlsx", ".xlsm", ".ods", ".csv", ".tsv", ".tab"))
# In a folder these are lists when they begin as one does, and else somebody's notes.
_READ_WITH_HEADINGS = ".txt"
# In a folder these could be lists, so leaving them out in silence would be wrong.
_REFUSED_IN_FOLDERS = frozenset((".xls", ".xlsb"))
_PASSED_OVER = frozenset((".md", ".toml"))
_MOST_NAMED = 10


class Form(Enum):
    """What a file is."""

    WORKBOOK = "workbook"
    OPEN_DOCUMENT = "open document"
    SEPARATED = "separated"


class Input(NamedTuple):
    """A file to read.

    file      the name to report it by: as given, a folder's files joined to it
    settings  of the joinmatrix.toml beside it, or above it in the folder that was given
    """

    path: Path
    file: str
    form: Form
    settings: Settings = NO_SETTINGS


class Walk(NamedTuple):
    """The files of a run, in reading order, and what was passed over."""

    inputs: tuple[Input, ...]
    notes: tuple[tuple[Place, str], ...]


def walk(paths: Sequence[str | Path], bounds: Bounds) -> Walk:
    """All files under the paths; a folder's in the order of their names.

    raises  InputError for a file that is missing, locked, empty, or of no kind that can be read
    """
    inputs: list[Input] = []
    notes: list[tuple[Place, str]] = []
    seen: dict[str, str] = {}
    settings = _SettingsFiles()
    for given in paths:
        unread: list[str] = []
        for path, file in _files(given, notes):
            said = settings.of(path, file, Path(given))
            if path != Path(given) and not _is_read_in_folders(path, said):
                unread.append(file)
                continue
            real = os.path.realpath(path)
            if real in seen:
                notes.append((Place(file), f"is the same file as {seen[real]}; it was read once"))
                continue
            seen[real] = file
            if len(seen) > bounds.files:
                raise InputError(
                    _shown(given),
                    f"holds more than {bounds.files:,} files",
                    "Name the files that hold the lists, or raise the bound on files",
                )
            form = _form(path, file, bounds)
            inputs.append(Input(path, file, form, said))
        _note_unread(given, unread, notes)
    return Walk(tuple(inputs), tuple(notes))


class _SettingsFiles:
    """Each settings file is read once."""

    def __init__(self) -> None:
        self.by_folder: dict[Path, Settings] = {}

    def of(self, path: Path, file: str, given: Path) -> Settings:
        """The settings that hold for a file: the nearest, up to the folder that was given."""
        folder, shown = path.parent, file
        while True:
            shown = shown.rpartition("/")[0]
            found = self._in(folder, f"{shown}/{NAME}" if shown else NAME)
            if found is not NO_SETTINGS or folder == given or path == given:
                return found
            folder = folder.parent

    def _in(self, folder: Path, file: str) -> Settings:
        if folder not in self.by_folder:
            path = folder / NAME
            found = load_settings(path, file) if path.is_file() else NO_SETTINGS
            self.by_folder[folder] = found
        return self.by_folder[folder]


def _shown(path: str | Path) -> str:
    """A name that can be printed: bytes that are no text become question marks."""
    return os.fsencode(path).decode("utf-8", "replace")


def _is_read_in_folders(path: Path, settings: Settings) -> bool:
    """Whether a file that was found in a folder, and may be a list, is one."""
    return path.suffix.lower() != _READ_WITH_HEADINGS or begins_as_list(path, settings)


def _note_unread(given: str | Path, unread: Sequence[str], notes: list[tuple[Place, str]]) -> None:
    """One word for all files of a folder that could be lists, and were not read."""
    told = [file for file in unread if not _is_readme(Path(file))]
    if told:
        start = f"{_shown(given).rstrip('/')}/"
        shown = [file.removeprefix(start) for file in told[:_MOST_NAMED]]
        rest = len(told) - len(shown)
        names = quoted_list(shown, "and") + (f" and {rest} more" if rest else "")
        words = f"not read, because no line has the headings of a list: {names}; "
        notes.append((Place(_shown(given)), words + "save as .csv what is one"))


def _is_readme(path: Path) -> bool:
    return path.stem.upper() == "README"


def _files(given: str | Path, notes: list[tuple[Place, str]]) -> Iterator[tuple[Path, str]]:
    path = Path(given)
    file = _shown(given)
    try:
        if path.is_dir():
            yield from _folder(path, file, notes)
            return
        exists = path.exists()
    except (OSError, ValueError) as error:
        raise InputError(file, f"cannot be read ({error})", "Check the name") from None
    if not exists:
        raise InputError(file, "there is no such file or folder", "Check the name")
    if path.name.startswith("~$"):
        notes.append(_lock_note(file, path))
        return
    yield path, file


def _folder(folder: Path, given: str, notes: list[tuple[Place, str]]) -> Iterator[tuple[Path, str]]:
    """The lists of a folder and of those in it, by name."""
    tree = _Tree(folder, given.rstrip("/"))
    for file, path in sorted(tree.files()):
        suffix = path.suffix.lower()
        if path.name.startswith("~$"):
            notes.append(_lock_note(file, path))
        elif path.name.startswith(".") or suffix in _PASSED_OVER:
            continue
        elif suffix in _READ_IN_FOLDERS | _REFUSED_IN_FOLDERS or suffix == _READ_WITH_HEADINGS:
            yield path, file
        elif not _is_readme(path):
            notes.append((Place(file), "is no spreadsheet; it was not read"))
    notes.extend(tree.notes)


class _Tree:
    """A folder with the folders in it, those that are only linked to included."""

    def __init__(self, folder: Path, given: str) -> None:
        self.folder = folder
        self.given = given
        self.notes: list[tuple[Place, str]] = []
        self._walked: set[str] = set()

    def files(self) -> list[tuple[str, Path]]:
        """The files with the names to report them by; links are followed last, each once."""
        found: list[tuple[str, Path]] = []
        starts = deque([self.folder])
        while starts:
            start = starts.popleft()
            if start != self.folder and not self._is_followed(start):
                continue
            for root, folders, names in os.walk(start, onerror=_raise):
                self._walked.add(os.path.realpath(root))
                inner = [Path(root, each) for each in sorted(folders) if each[0] != "."]
                starts.extend(each for each in inner if each.is_symlink())
                folders[:] = [each.name for each in inner if self._is_new(each)]
                found.extend(
                    (self._file(path), path) for path in (Path(root, each) for each in names)
                )
        return found

    def _file(self, path: Path) -> str:
        return f"{self.given}/{_shown(path.relative_to(self.folder).as_posix())}"

    def _is_new(self, folder: Path) -> bool:
        return not folder.is_symlink() and os.path.realpath(folder) not in self._walked

    def _is_followed(self, link: Path) -> bool:
        """Whether a link to a folder is followed; either way it is told."""
        why_not = self._why_not(link)
        words = why_not or "is a link to a folder, which was looked through like any other"
        self.notes.append((Place(self._file(link)), words))
        return not why_not

    def _why_not(self, link: Path) -> str:
        target, above = Path(os.path.realpath(link)), Path(os.path.realpath(link.parent))
        if target == above or target in above.parents:
            return "is a link to a folder that it lies in; it was not followed"
        if str(target) in self._walked:
            return "is a link to a folder that was looked through already"
        return ""


def _raise(error: OSError) -> None:
    raise InputError(_shown(error.filename or ""), f"cannot be read ({error.strerror})", "")


def _lock_note(file: str, path: Path) -> tuple[Place, str]:
    name = path.name[2:]
    return (Place(file), f"is the mark that {name} is open elsewhere; what was last saved is read")


# --- what a file is ----------------------------------------------------------------------------

_ZIP, _EMPTY_ZIP = b"PK\x03\x04", b"PK\x05\x06"
_COMPOUND = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_SAVE_AS_XLSX = "Open it in a spreadsheet program and save it as .xlsx or .csv"
_OTHER_FORMS = (
    (b"%PDF", "is a PDF"),
    (b"\x89PNG", "is a picture"),
    (b"\xff\xd8\xff", "is a picture"),
    (b"GIF8", "is a picture"),
    (b"\x1f\x8b", "is a packed file"),
    (b"Rar!", "is a packed file"),
    (b"7z\xbc\xaf", "is a packed file"),
    (b"\x7fELF", "is a program"),
    (b"MZ\x90", "is a program"),
    (b"{\\rtf", "is a text document"),
    (b"SQLite format 3", "is a database"),
)


def _form(path: Path, file: str, bounds: Bounds) -> Form:
    """What the first bytes say, whatever the name says.

    raises  InputError when that is nothing that can be read
    """
    try:
        if not path.is_file():
            raise InputError(file, "is no file", "Give .xlsx or .csv files, or a folder of them")
        size = path.stat().st_size
        with path.open("rb") as stream:
            head = stream.read(4096)
            rest = stream.read(1 << 20) if head.startswith(_COMPOUND) else b""
    except PermissionError:
        raise locked(file) from None
    except OSError as error:
        raise InputError(file, f"cannot be read ({error.strerror})", "") from None
    if not head:
        raise InputError(file, "is empty: zero bytes", "Copy it again")
    if size > bounds.file_bytes:
        raise InputError(
            file,
            f"is {size / (1 << 20):,.0f} MiB, more than {bounds.file_bytes >> 20:,} MiB",
            "Split it, or raise the bound on the size of a file",
        )
    return _form_of(head, rest, file)


def locked(file: str) -> InputError:
    """The error for a file that another program keeps to itself."""
    return InputError(
        file, "may not be read", "Close it in other programs, or ask for the right to read it"
    )


def _form_of(head: bytes, rest: bytes, file: str) -> Form:
    if head.startswith(_ZIP):
        is_open_document = b"mimetypeapplication/vnd.oasis.opendocument" in head[:200]
        return Form.OPEN_DOCUMENT if is_open_document else Form.WORKBOOK
    if head.startswith(_EMPTY_ZIP):
        raise InputError(file, "is an archive with nothing in it", "Copy it again")
    if head.startswith(_COMPOUND):
        raise _compound(head + rest, file)
    for mark, what in _OTHER_FORMS:
        if head.startswith(mark):
            raise InputError(file, f"{what}, not a spreadsheet", "Give .xlsx or .csv files")
    start = head.lstrip(b"\xef\xbb\xbf \t\r\n")[:200].lower()
    if start.startswith((b"<!doctype html", b"<html", b"<?xml", b"<table")):
        raise InputError(file, "is a web page or XML, whatever its name says", _SAVE_AS_XLSX)
    return Form.SEPARATED


def _compound(head: bytes, file: str) -> InputError:
    """A file in the container of the old formats, which also wraps protected new ones."""
    if "EncryptedPackage".encode("utf-16-le") in head:
        return InputError(
            file, "is protected by a password", "Save a copy without one and give that"
        )
    return InputError(file, "is a workbook in the old format (.xls)", _SAVE_AS_XLSX)
