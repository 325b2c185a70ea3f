"""Spoil good files at random and see whether each is read or refused in words.

Gardens of both formats, price lists as text and as a spreadsheet, level readings and
weather are changed by chance: signs flipped, lines cut, doubled and swapped, values
replaced by bad ones, ends cut off, other encodings. Each is read in a process of its
own with a limit of time and memory. Anything but "loaded" or a ``FileError`` counts as
a fault::

    python -m benchmarks.changed_files 10000 --seed 1
"""

from __future__ import annotations

import argparse
import multiprocessing
import random
import re
import resource
import tempfile
import time
import traceback
import warnings
from collections import Counter
from pathlib import Path

import bedcalc as bc
from bedcalc.currency import Currency
from bedcalc.spreadsheets.levels import read_levels, write_levels
from bedcalc.spreadsheets.prices import read_prices, write_prices
from bedcalc.spreadsheets.weather import read_weather
from bedcalc.text_files import FileError

LIMIT = 1.0  # seconds for one file, of the process's own time
MEMORY = 200_000_000  # bytes a file may add
LONGEST = 9000  # characters of a message
BAD = (
    "1 m**9**9**9", "1 10**99999999", "1 " + "m*" * 5000, "9" * 5000, "1e999",
    "-1e999",
    "nan", "inf", "-inf", "[]", "{}", "[[]]", "[" * 2000 + "]" * 2000, "true", "0",
    "-1",
    "3.5", '""', '"x"', '["a"]', "[1]", "{ a = 1 }", '"' + "x" * 100_000 + '"', '"1 #"',
    '"1 m/0"', '"1 m**9**9**9"', '"1 10**99999999"', '"nan m"', '"inf m"', '"-5 m"',
    '"1e400 m"', '"1 kg"', '"8 ft 6"', '"2,7 m"', '"270 CM"', "1979-05-27", "07:32:00",
    "0x" + "f" * 3000, "1_000", '"no"', '"\\u0000"', '"\\u202e"', '"=1+1"', "=1+1",
    '"""', "'", "a." * 20_000 + "a = 1", "a.b = 2", ".", ";;;;", ",,,,", "\0", "\x1b",
    "½", "1 €", "١٢", "{ like = {} }", "{ like = [] }", "[[0, 0], [1]]", "[1, 2, 3]",
    "[[1e308, 1e308, 1e308]]", "[[nan, 1, 1]]", "9" * 400, "1e308", "5e-324", "-0.0",
    '"rest"', '"33 percent"', "[true]", "[[0, 0, 1], [1, 0, 1], [0, 1, 1]]",
    "format = 1",
)  # fmt: skip


# ---- good files


def _garden_texts(folder: Path) -> list[bytes]:
    from tests.gardens.gardens import GARDENS, OLD_FILE
    from tests.gardens.more import MORE, first_demo

    texts = [first_demo(), OLD_FILE]
    for garden in (*GARDENS.values(), *(make() for make in MORE.values())):
        texts.append(bc.save(garden, folder / "g.toml").read_text(encoding="utf-8"))
        (folder / "g.toml").unlink()
    return [text.encode() for text in texts]


def _price_texts(folder: Path) -> list[bytes]:
    path = write_prices(bc.demo_garden().place, folder / "p.csv")
    text = path.read_text(encoding="utf-8-sig")
    german = "\n".join(
        ";".join(re.sub(r"^(\d+)\.(\d+)$", r"\1,\2", cell) for cell in line.split(","))
        for line in text.splitlines()
        if '"' not in line
    )
    return [text.encode(), german.encode("cp1252", "replace"), text.encode("utf-16")]


def _price_books(folder: Path) -> list[bytes]:
    place = bc.demo_garden().place
    few = place.change(prices=place.prices.with_rows(place.prices.rows[:8]))
    return [write_prices(few, folder / "p.xlsx").read_bytes()]


def _level_texts(folder: Path) -> list[bytes]:
    path = write_levels(bc.demo_garden().place.survey, folder / "levels.csv")
    text = path.read_text(encoding="utf-8-sig")
    return [text.encode(), text.replace(",", ";").replace(".", ",").encode("cp1252")]


def _weather_texts(folder: Path) -> list[bytes]:
    rows = [
        (f"2021-{m:02d}-{d:02d}", d % 9 - 2.5, d % 9 + 7.25, (d * m) % 5 * 1.5)
        for m in (1, 2, 3)
        for d in range(1, 29)
    ]
    lines = ["date,tmin (°C),tmax (°C),rain (mm)"]
    lines += [",".join(map(str, row)) for row in rows]
    days = [
        f"ELM00000001,{day.replace('-', '')},{what},{round(value * 10)},,,S,"
        for day, low, high, rain in rows
        for what, value in (("TMIN", low), ("TMAX", high), ("PRCP", rain))
    ]
    first, other = "\n".join(lines), "\n".join(days)
    german = first.replace(".", "|").replace(",", ";").replace("|", ",")
    return [first.encode(), other.encode(), german.encode("cp1252")]


def _read_garden(path: Path):
    return bc.load(path)


def _read_prices(path: Path):
    return read_prices(path, Currency.of("EUR"))


KINDS = {
    "garden": (_garden_texts, _read_garden, ".toml"),
    "prices": (_price_texts, _read_prices, ".csv"),
    "prices xlsx": (_price_books, _read_prices, ".xlsx"),
    "readings": (_level_texts, read_levels, ".csv"),
    "weather": (_weather_texts, read_weather, ".csv"),
}


# ---- changes


def _flip(raw: bytes, rng: random.Random) -> bytes:
    found = bytearray(raw)
    for _ in range(rng.randint(1, 6)):
        if found:
            found[rng.randrange(len(found))] = rng.randrange(256)
    return bytes(found)


def _cut(raw: bytes, rng: random.Random) -> bytes:
    return raw[: rng.randrange(len(raw) + 1)]


def _lines(raw: bytes, rng: random.Random) -> bytes:
    lines = raw.split(b"\n")
    for _ in range(rng.randint(1, 4)):
        at, other = rng.randrange(len(lines)), rng.randrange(len(lines))
        what = rng.randrange(4)
        if what == 0 and len(lines) > 1:
            del lines[at]
        elif what == 1:
            lines.insert(at, lines[at])
        elif what == 2:
            lines[at], lines[other] = lines[other], lines[at]
        else:
            lines.insert(at, lines[other])
    return b"\n".join(lines)


def _values(raw: bytes, rng: random.Random) -> bytes:
    """Put a bad value in place of what follows ``=``, or of a cell."""
    for _ in range(rng.choice((1, 1, 1, 2, 3))):
        places = [m.span(1) for m in re.finditer(rb"=[ ]*([^\n]+)", raw)]
        places += [m.span(1) for m in re.finditer(rb"=[ ]*(\"[^\"\n]*\"|[\d.]+)", raw)]
        if len(places) < 5:
            places = [m.span(1) for m in re.finditer(rb"([^,;\n]+)", raw)]
        if not places:
            break
        start, end = rng.choice(places)
        raw = raw[:start] + rng.choice(BAD).encode() + raw[end:]
    return raw


def _words(raw: bytes, rng: random.Random) -> bytes:
    """Put a bad value in place of any word."""
    places = [m.span() for m in re.finditer(rb"[\w.\-]+", raw)]
    if not places:
        return raw
    start, end = rng.choice(places)
    return raw[:start] + rng.choice(BAD).encode() + raw[end:]


def _inserted(raw: bytes, rng: random.Random) -> bytes:
    at = rng.choice([m.start() for m in re.finditer(rb"\n|\Z", raw)])
    line = rng.choice(BAD).encode()
    if rng.random() < 0.5:
        line = (
            rng.choice((b"users", b"fill", b"beds", b"place", b"own", b"x"))
            + b" = "
            + line
        )
    return raw[:at] + b"\n" + line + raw[at:]


def _coded(raw: bytes, rng: random.Random) -> bytes:
    text = raw.decode("utf-8", "replace")
    what = rng.choice(("utf-16", "utf-16-le", "utf-8-sig", "cp1252", "utf-7", "utf-32"))
    if rng.random() < 0.5:
        text = text.replace("\n", rng.choice(("\r\n", "\r")))
    return text.encode(what, "replace")


CHANGES = (_flip, _cut, _lines, _values, _values, _words, _inserted, _coded)


def changed(raw: bytes, rng: random.Random) -> bytes:
    """A good file with one to three things done to it."""
    for _ in range(rng.choice((1, 1, 1, 2, 3))):
        raw = rng.choice(CHANGES)(raw, rng)
    return raw


def _changed_book(raw: bytes, rng: random.Random, folder: Path) -> bytes:
    """A spreadsheet with cells spoiled, or the file itself."""
    if rng.random() < 0.4:
        return rng.choice((_flip, _cut, _lines))(raw, rng)
    from openpyxl import load_workbook

    book = load_workbook(_put(folder / "good.xlsx", raw))
    sheet = book.worksheets[0]
    for _ in range(rng.randint(1, 4)):
        cell = sheet.cell(rng.randint(1, 12), rng.randint(1, sheet.max_column))
        bad = rng.choice((*BAD, 1e300, -5, True, None, 3.7, "=A1", "=1/0"))
        try:
            cell.value = bad[:30_000] if isinstance(bad, str) else bad
        except Exception:  # a control character: no spreadsheet takes it
            cell.value = "x"
    if rng.random() < 0.1:
        sheet.title = "Other"
    if rng.random() < 0.1:
        sheet.insert_cols(1, rng.randint(1, 3))
    if rng.random() < 0.1:
        sheet.delete_rows(1, rng.randint(1, 12))
    book.save(folder / "bad.xlsx")
    return (folder / "bad.xlsx").read_bytes()


def _put(path: Path, raw: bytes) -> Path:
    path.write_bytes(raw)
    return path


# ---- running


def _work(kind: str, seed: int, start: int, end: int, pipe) -> None:
    """Read files number ``start`` to ``end``; say before each which one it is."""
    warnings.simplefilter("error")
    warnings.filterwarnings("ignore", module="openpyxl")
    make, read, ending = KINDS[kind]
    with tempfile.TemporaryDirectory() as made:
        folder = Path(made)
        good = make(folder)
        for n, raw in enumerate(good):  # a good one first, so that all is loaded
            read(_put(folder / f"good{n}{ending}", raw))
        used = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024
        size = int(Path("/proc/self/statm").read_text().split()[0]) * 4096
        resource.setrlimit(resource.RLIMIT_AS, (size + 3 * MEMORY, -1))
        for number in range(start, end):
            rng = random.Random(f"{kind} {seed} {number}")
            raw = rng.choice(good)
            raw = (
                _changed_book(raw, rng, folder)
                if ending == ".xlsx"
                else changed(raw, rng)
            )
            path = _put(folder / f"file{ending}", raw)
            pipe.send((number, "began", ""))
            begun = time.process_time()
            result, said = "loaded", ""
            try:
                read(path)
            except FileError as error:
                result, said = "refused", str(error)
                if path.name not in said:
                    result = "without the name of the file"
                elif len(said) > LONGEST:
                    result = "a message too long"
            except Exception as error:
                last = traceback.extract_tb(error.__traceback__)[-1]
                ours = [f for f in traceback.extract_tb(error.__traceback__)
                        if "bedcalc" in f.filename]  # fmt: skip
                last = ours[-1] if ours else last
                result = "other exception"
                said = f"{type(error).__name__} at {Path(last.filename).name}:"
                said += f"{last.lineno}: {str(error)[:120]}"
            spent = time.process_time() - begun
            if spent > LIMIT:
                result, said = "slow", f"{spent:.1f} s, {result}: {said[:80]}"
            pipe.send((number, result, said))
        grown = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024 - used
        pipe.send((end, "done", str(grown)))


def run(kind: str, many: int, seed: int, keep: Path | None = None):
    """Read many changed files of a kind.

    Returns
    -------
    Counter, dict, float, float
        Results; first example of each fault; longest time; memory added in bytes.
    """
    found, first = Counter(), {}
    number, slowest, grown, stamp = 0, 0.0, 0, time.perf_counter()
    context = multiprocessing.get_context("fork")
    while number < many:
        end = min(number + 2500, many)
        here, there = context.Pipe(duplex=False)
        child = context.Process(target=_work, args=(kind, seed, number, end, there))
        child.start()
        there.close()
        patience, going, ready = 60.0, True, False
        while going:
            result = "hang"
            try:
                if here.poll(patience):
                    number, result, said = here.recv()
            except EOFError:
                result = "process ended"
            if result == "process ended" and not ready:
                raise SystemExit(f"{kind}: a good file could not be read")
            if result == "began":
                stamp, patience, ready = time.perf_counter(), 20.0, True
                continue
            if result == "done":
                grown, going = max(grown, int(said)), False
                continue
            if result in ("hang", "process ended"):
                said, going = "", False
                child.kill()
            slowest = max(slowest, time.perf_counter() - stamp)
            found[result] += 1
            if result not in ("loaded", "refused"):
                first.setdefault(f"{result}: {said[:160]}", number)
            number += 1
        child.join()
    return found, first, slowest, grown


def main() -> None:
    """Change and read files of each kind, print what came of them."""
    ask = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    ask.add_argument("files", type=int, nargs="?", default=1000)
    ask.add_argument("--seed", type=int, default=1)
    ask.add_argument("--kind", choices=list(KINDS), action="append")
    asked = ask.parse_args()
    for kind in asked.kind or KINDS:
        begun = time.perf_counter()
        found, first, slowest, grown = run(kind, asked.files, asked.seed)
        counts = ", ".join(f"{many} {what}" for what, many in sorted(found.items()))
        print(
            f"{kind}: {counts}; longest {slowest:.2f} s, memory {grown / 1e6:.0f} MB "
            f"more; {time.perf_counter() - begun:.0f} s",
            flush=True,
        )
        for fault, number in list(first.items())[:40]:
            print(f"    {number}: {fault}")


if __name__ == "__main__":
    main()
