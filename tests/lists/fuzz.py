"""Files with faults that nobody would think of, made from real ones; nothing may break on them.

    python -m tests.lists.fuzz --count 20000 --seed 1

Each file is read, and what was read is checked, in a process of its own with a limit on time and
memory. A fault in the program is a traceback, a check that crashed, a hang, a process that died,
or a row that is in no account. The seed and number of a failing file make it again:
`python -m tests.lists.fuzz --seed 1 --only 4711 --keep failing.xlsx`.
"""

import argparse
import csv
import io
import multiprocessing
import random
import resource
import sys
import tempfile
import time
import traceback
import zipfile
from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path

import openpyxl

from joinmatrix.errors import JoinMatrixError
from joinmatrix.lists.reader import read
from joinmatrix.lists.table import Reading
from joinmatrix.verify import report_on
from tests.lists.making import adds_up
from tests.lists.making_ods import open_document

SAMPLES = Path(__file__).parents[2] / "samples"
SECONDS = 10
MEMORY = 1 << 30

# What people and programs put into cells.
ODD_TEXTS = (
    *("", " ", "\u00a0", "-", "n/a", "x", "L", "RH", "both", "Q", "L/R", "C/L", "1,500", "1e999"),
    *("2031-02-30", "4/3/2031", "31.12.2031 25:00", "46085", "#REF!", "=1+1", "+cmd", "@x", "'x"),
    *("[red]x[/red]", "<b>x</b>", "\x1b[31mx", "x" * 32_767, "\u202ex", "\u0408-1", "e\u0301"),
    "\ufeff",
    *('3/4"', '"', '""', "a\nb", "a\rb", "a;b", "a,b", "a\tb", "Total", "EXAMPLE 1", "Joint: x"),
    *("after after", "between a and", "within 5 of", "before " * 500, "torque 5..1", ">= <=", "½"),
    *("connection", "joint", "side", "type", "stage", "act", "when", "reason", "temporary item"),
)  # fmt: skip
ODD_NUMBERS = (
    b"0",
    b"-1",
    b"1",
    b"2",
    b"16384",
    b"16385",
    b"1048576",
    b"99999999999",
    b"1e308",
    b"NaN",
)
TAGS = (
    b"<row>",
    b"</row>",
    b"<c>",
    b"</c>",
    b"<v>",
    b"<f>",
    b"<f/>",
    b"<is>",
    b"<t/>",
    b"<!--",
    b"]]>",
    b"&x;",
)


# --- faults in bytes and parts -----------------------------------------------------------------


def changed_bytes(rng: random.Random, data: bytes) -> bytes:
    """Some bytes flipped, cut out, doubled or put in."""
    raw = bytearray(data)
    for _ in range(rng.choice((1, 1, 2, 5, 20))):
        at = rng.randrange(len(raw) + 1)
        length = rng.choice((1, 2, 8, 100, 2000))
        what = rng.randrange(5)
        if what == 0 and at < len(raw):
            raw[at] ^= 1 << rng.randrange(8)
        elif what == 1:
            del raw[at : at + length]
        elif what == 2:
            raw[at:at] = raw[at : at + length]
        elif what == 3:
            raw[at:at] = rng.randbytes(min(length, 8))
        elif rng.random() < 0.3:
            del raw[at:]
    return bytes(raw)


def changed_xml(rng: random.Random, data: bytes) -> bytes:
    """Tags, attributes, numbers and texts changed, with the frame of the XML mostly kept."""
    for _ in range(rng.choice((1, 1, 2, 5, 20))):
        what = rng.randrange(6)
        marks = [b"<", b'="', b">", b"<c ", b"<row", b"<v>", b"<t>"]
        at = data.find(rng.choice(marks), rng.randrange(len(data) + 1))
        if at < 0:
            continue
        end = data.find(b">", at) + 1 or len(data)
        if what == 0:
            data = data[:at] + data[end:]
        elif what == 1:
            data = data[:end] + rng.choice(TAGS) + data[end:]
        elif what == 2:
            quote = data.find(b'"', at) + 1
            close = data.find(b'"', quote)
            if 0 < quote < close:
                data = data[:quote] + rng.choice(ODD_NUMBERS) + data[close:]
        elif what == 3:
            close = data.find(b"<", end)
            text = rng.choice(ODD_TEXTS).encode().replace(b"&", b"&amp;").replace(b"<", b"&lt;")
            data = data[:end] + text + data[close:] if close > 0 else data
        elif what == 4:
            kind = rng.choice((b"s", b"e", b"b", b"str", b"inlineStr", b"n", b"d", b"zz"))
            data = data[:end].replace(b't="inlineStr"', b't="' + kind + b'"') + data[end:]
        else:
            data = data[:end] + data[at:end] + data[end:]
    return data


def changed_archive(rng: random.Random, data: bytes) -> bytes:
    """A workbook with one part changed, dropped, doubled, renamed or swapped."""
    parts = _parts(data)
    names = list(parts)
    for _ in range(rng.choice((1, 1, 2))):
        name = rng.choice(names)
        what = rng.randrange(8)
        if what == 0:
            parts.pop(name, None)
        elif what == 1:
            parts[rng.choice(names)] = parts.get(name, b"")
        elif what == 2:
            parts[rng.choice(("../x.xml", "XL/WORKBOOK.XML", name.upper(), "a" * 300))] = b"<x/>"
        elif what == 3:
            parts[name] = changed_bytes(rng, parts.get(name, b""))
        else:
            sheet = rng.choice([each for each in names if each.endswith(".xml")])
            parts[sheet] = changed_xml(rng, parts.get(sheet, b"<x/>"))
    return _packed(parts)


def _packed(parts: dict[str, bytes]) -> bytes:
    """The parts as an archive; the same bytes every time, so without the hour."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        for name, part in parts.items():
            archive.writestr(zipfile.ZipInfo(name), part, zipfile.ZIP_DEFLATED)
    return out.getvalue()


def _parts(data: bytes) -> dict[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


# --- faults in cells, headings and rows --------------------------------------------------------

Rows = list[list[str]]


@lru_cache(maxsize=64)
def rows_of(path: Path) -> tuple[tuple[tuple[str, ...], ...], ...]:
    """The sheets of a sample as rows of text."""
    if path.suffix == ".csv":
        text = path.read_text(encoding="utf-8-sig")
        separator = ";" if text.count(";") > text.count(",") else ","
        return (tuple(map(tuple, csv.reader(io.StringIO(text), delimiter=separator))),)
    book = openpyxl.load_workbook(path, data_only=True)
    return tuple(
        tuple(
            tuple("" if value is None else str(value) for value in row)
            for row in sheet.iter_rows(values_only=True)
        )
        for sheet in book.worksheets
    )


def changed_rows(rng: random.Random, rows: Rows) -> Rows:
    """Cells, headings, rows and columns changed, moved, doubled or lost."""
    for _ in range(rng.choice((1, 2, 5, 20))):
        if not rows:
            break
        row = rng.choice(rows)
        at = rng.randrange(len(row)) if row else 0
        what = rng.randrange(9)
        if what <= 2 and row:
            row[at] = rng.choice(ODD_TEXTS)
        elif what == 3:
            rows.insert(rng.randrange(len(rows) + 1), list(rng.choice(rows)))
        elif what == 4:
            rows.insert(rng.randrange(len(rows) + 1), [rng.choice(ODD_TEXTS)])
        elif what == 5:
            rows.remove(row)
        elif what == 6:
            rng.shuffle(row)
        elif what == 7:
            for each in rows:
                if at < len(each):
                    del each[at]
        else:
            for each in rows:
                each.insert(at, rng.choice(ODD_TEXTS) if rng.random() < 0.2 else "")
    return rows


def separated(rng: random.Random, rows: Rows) -> bytes:
    """The rows as a .csv of some dialect and encoding."""
    out = io.StringIO()
    writer = csv.writer(
        out,
        delimiter=rng.choice(",,,;\t|"),
        lineterminator=rng.choice(("\n", "\r\n", "\r")),
        quoting=rng.choice((csv.QUOTE_MINIMAL, csv.QUOTE_ALL)),
    )
    writer.writerows(rows)
    encoding = rng.choice(("utf-8", "utf-8", "utf-8-sig", "utf-16", "utf-16-le", "cp1252"))
    return out.getvalue().encode(encoding, "replace")


def workbook(rows: Rows) -> bytes:
    """The rows as an .xlsx."""
    book = openpyxl.Workbook(write_only=True)
    sheet = book.create_sheet("S")
    for row in rows:
        sheet.append([_legal(cell) or None for cell in row])
    out = io.BytesIO()
    book.save(out)
    parts = _parts(out.getvalue())
    parts["docProps/core.xml"] = b"<x/>"  # it has the hour
    return _packed(parts)


def _legal(cell: str) -> str:
    """Without the control characters that the writer refuses."""
    return "".join(each for each in cell if each >= " " or each in "\t\n\r")


# --- one file ----------------------------------------------------------------------------------


@lru_cache(maxsize=1)
def sources() -> tuple[Path, ...]:
    """The sample files."""
    found = [path for path in SAMPLES.rglob("*") if path.suffix in (".xlsx", ".csv")]
    return tuple(sorted(found))


@lru_cache(maxsize=64)
def _bytes_of(path: Path) -> bytes:
    return path.read_bytes()


def mutant(seed: int, number: int) -> tuple[str, bytes]:
    """Suffix and content of one file; the same for the same seed and number."""
    rng = random.Random(f"{seed}/{number}")
    path = rng.choice(sources())
    data = _bytes_of(path)
    what = rng.random()
    if what < 0.15:
        return path.suffix, changed_bytes(rng, data)
    if what < 0.5 and path.suffix == ".xlsx":
        return path.suffix, changed_archive(rng, data)
    sheets = rows_of(path)
    rows = [list(row) for row in rng.choice(sheets)]
    if rng.random() < 0.2:
        rows += [[], *(list(row) for row in rng.choice(sheets))]
    rows = changed_rows(rng, rows)
    form = rng.random()
    if form < 0.15:
        data = open_document(rows)
        return ".ods", changed_archive(rng, data) if form < 0.1 else data
    if form < 0.45:
        return ".xlsx", workbook(rows)
    return ".csv", separated(rng, rows)


def fault_of(path: Path) -> str:
    """What goes wrong with a file, "" when nothing does."""
    try:
        reading = read([path])
        report = report_on(reading)
    except JoinMatrixError as error:
        return "" if str(error) else "an error without words"
    except Exception:
        return traceback.format_exc()
    if report.crashed:
        return f"crashed: {report.crashed}"
    if not adds_up(reading):
        return f"does not add up: {reading.accounts}"
    return lost_rows(path, reading)


def lost_rows(path: Path, reading: Reading) -> str:
    """Filled rows below the first headings that no account and no word mentions."""
    if (
        path.suffix != ".csv"
        or not reading.tables
        or any(each.missing for each in reading.understood)
    ):
        return ""
    told = {row for table in reading.tables for row in table.rows}
    told |= {row for account in reading.accounts for row, _ in account.aside}
    heads = [each.row for each in reading.understood]
    told |= {row - 1 for row in heads} | set(heads)
    noted = any("beside the lists" in words for _, words in reading.notes)
    from joinmatrix.lists.separated import read_separated

    grid = read_separated(path, path.name)
    filled = [row for row in grid.rows if row > min(heads) and row not in told]
    lost = [
        row
        for row in filled
        if any(str(value).strip(" \u00a0\ufeff\t\r\n") for value in grid.row(grid.rows.index(row)))
    ]
    return "" if noted or not lost else f"rows {lost} are in no account"


# --- many files --------------------------------------------------------------------------------


def run_one(seed: int, number: int, folder: Path) -> str:
    """The fault of one file, with the time it took when that is too long."""
    suffix, data = mutant(seed, number)
    path = folder / f"mutant{suffix}"
    path.write_bytes(data)
    started = time.perf_counter()
    fault = fault_of(path)
    took = time.perf_counter() - started
    return fault or (f"took {took:.0f} s" if took > SECONDS else "")


def _work(
    seed: int, numbers: "multiprocessing.Queue[int]", results: "multiprocessing.Queue[object]"
) -> None:
    resource.setrlimit(resource.RLIMIT_AS, (4 * MEMORY, 4 * MEMORY))
    with tempfile.TemporaryDirectory() as folder:
        while (number := numbers.get()) >= 0:
            results.put((number, "started"))
            fault = run_one(seed, number, Path(folder))
            peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024
            if not fault and peak > MEMORY:
                fault = f"took {peak >> 20} MiB"
            results.put((number, fault))


def faults(seed: int, count: int, first: int = 0) -> Iterator[tuple[int, str]]:
    """Numbers of failing files and their faults, each found in a process that may die of it."""
    pending = iter(range(first, first + count))
    done = 0
    while done < count:
        numbers: multiprocessing.Queue[int] = multiprocessing.Queue()
        results: multiprocessing.Queue[object] = multiprocessing.Queue()
        worker = multiprocessing.Process(target=_work, args=(seed, numbers, results), daemon=True)
        worker.start()
        current = -1
        for number in pending:
            numbers.put(number)
            current = number
            fault = _answer(worker, results)
            done += 1
            if done % 500 == 0:
                print(f"{done:,} files", file=sys.stderr, flush=True)
            if fault:
                yield current, fault
            if not worker.is_alive() or fault.startswith("took"):
                break
        if worker.is_alive():
            numbers.put(-1)
            worker.join(5)
            worker.terminate()


def _answer(worker: multiprocessing.Process, results: "multiprocessing.Queue[object]") -> str:
    deadline = time.monotonic() + 6 * SECONDS
    while time.monotonic() < deadline:
        try:
            _, said = results.get(timeout=1)  # type: ignore[misc]
        except Exception:
            if not worker.is_alive():
                return f"the process died ({worker.exitcode})"
            continue
        if said != "started":
            return str(said)
    worker.kill()
    worker.join()
    return "took for ever"


def main() -> int:
    """Run as many files as asked for; 1 when one of them fails."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    parser.add_argument("--count", type=int, default=2000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--only", type=int, help="the number of one file")
    parser.add_argument("--keep", type=Path, help="where to write that file")
    asked = parser.parse_args()
    if asked.only is not None:
        suffix, data = mutant(asked.seed, asked.only)
        path = asked.keep or Path(tempfile.mkdtemp()) / f"mutant{suffix}"
        path.write_bytes(data)
        fault = fault_of(path)
        print(path, fault or "nothing wrong")
        return int(bool(fault))
    failing = 0
    for number, fault in faults(asked.seed, asked.count, asked.first):
        failing += 1
        print(f"--- seed {asked.seed}, file {number}\n{fault}", flush=True)
    print(f"{asked.count:,} files, {failing:,} failing")
    return int(bool(failing))


if __name__ == "__main__":
    raise SystemExit(main())
