"""Kill, starve and crowd the saving of a garden, and count what is broken or left.

A process that saves over and over is killed at a random moment; the disk is full; a
file may not grow beyond a size; three programs save at once. After each the garden must
be readable, hold what was saved last or before, and nothing else may lie beside it once
it has been saved again::

    python -m benchmarks.kept_files 2000 --seed 1
"""

from __future__ import annotations

import argparse
import os
import random
import resource
import signal
import sys
import tempfile
import time
from pathlib import Path

import bedcalc as bc
from bedcalc.app.session import Session
from bedcalc.garden.garden import last_good

OURS = {"my_garden.toml", ".my_garden.before.toml"}


def _child(work) -> int:
    """Run ``work`` in a copy of this process; its number."""
    child = os.fork()
    if not child:
        try:
            work()
        except BaseException as error:
            sys.stderr.write(f"{type(error).__name__}: {error}\n"[:200])
            os._exit(1)
        os._exit(0)
    return child


def _saving(path: Path):
    """Save for ever, each time with another number of ties; says when it begins."""
    garden = bc.load(path)
    beds = [garden["B"].change(ties=n) for n in range(9)]
    n = 0
    while True:
        n += 1
        bc.save(garden.with_bed(beds[n % 9]), path)


def _left(folder: Path) -> list[str]:
    return [p.name for p in folder.iterdir() if p.name not in OURS]


def kills(many: int, seed: int, folder: Path) -> dict[str, int]:
    """Kill a saving process at random moments."""
    rng, path = random.Random(seed), folder / "my_garden.toml"
    bc.save(bc.demo_garden(), path)
    found = dict.fromkeys(("killed", "broken", "copy broken", "left at once"), 0)
    found["left after the next save"] = 0
    for _ in range(many):
        child = _child(lambda: _saving(path))
        time.sleep(rng.uniform(0.0, 0.25))
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        found["killed"] += 1
        for which, what in ((path, "broken"), (last_good(path), "copy broken")):
            try:
                if which.exists():
                    found[what] += len(bc.load(which).beds) != 6
            except bc.GardenError:
                found[what] += 1
        found["left at once"] += bool(_left(folder))
        if found["killed"] % 10 == 0 or _left(folder):
            garden = bc.load(path)
            bc.save(garden.change(current=garden.current or "B"), path)
            found["left after the next save"] += bool(_left(folder))
    return found


def _limited(folder: Path, size: int) -> dict[str, int]:
    """Save where a file may have so many bytes only, as on a full disk."""
    path = folder / "my_garden.toml"
    garden = bc.demo_garden()
    bc.save(garden, path)
    before = path.read_bytes()

    def work():
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (size, size))
        session = Session(path)
        session.choose("B")
        session.take(session.bed.change(ties=7))
        # what was changed must still be there, and said not to be saved
        right = not session.saved and "Not saved" in session.trouble
        os._exit(0 if right and session.bed.ties == 7 else 1)

    _, status = os.waitpid(_child(work), 0)
    return {
        "size limits": 1,
        "old file changed": int(path.read_bytes() != before),
        "not said": int(status != 0),
        "left": len(_left(folder)),
    }


def full_disk(folder: Path) -> dict[str, int] | None:
    """Save on a disk of 200,000 bytes that something else has filled."""
    disk = folder / "disk"
    disk.mkdir()
    if os.system(f"mount -t tmpfs -o size=200k tmpfs {disk} 2>/dev/null") != 0:
        return None
    try:
        path = disk / "my_garden.toml"
        garden = bc.demo_garden()
        bc.save(garden, path)
        session = Session(path)
        session.choose("B")
        before = path.read_bytes()
        with (disk / "other").open("wb", buffering=0) as file:
            try:
                while file.write(b"x" * 512):
                    pass
            except OSError:
                pass
        session.take(session.bed.change(ties=7))
        # room of the older copy may be enough; else the old file stays, and it is said
        refused = "Not saved" in session.trouble
        right = path.read_bytes() == before if refused else bc.load(path)["B"].ties == 7
        kept = {
            "full disks": 1,
            "saved all the same": int(not refused),
            "lost": int(not right or session.bed.ties != 7),
            "left": len([n for n in _left(disk) if n != "other"]),
        }
        (disk / "other").unlink()
        session.save()
        kept["not saved once there is room"] = int(bc.load(path)["B"].ties != 7)
        return kept
    finally:
        os.system(f"umount {disk}")


def three(rounds: int, folder: Path) -> dict[str, int]:
    """Three programs change a bed of their own in one garden, all at once."""
    path = folder / "my_garden.toml"
    bc.save(bc.demo_garden(), path)

    def writer(name: str):
        def work():
            session = Session(path)
            session.choose(name)
            for n in range(rounds):
                session._moved_at = 0.0
                session.take(session.bed.change(title=f"{name} {n}"))
                if session.conflicts:
                    raise SystemExit(f"asked about {session.conflicts}")
                if session.trouble:
                    session.save()
            if session.trouble:
                raise SystemExit(session.trouble)

        return work

    children = [_child(writer(name)) for name in "ABC"]
    codes = [os.waitpid(child, 0)[1] for child in children]
    garden = bc.load(path)
    lost = sum(garden[name].title != f"{name} {rounds - 1}" for name in "ABC")
    return {
        "saves by three writers": 3 * rounds,
        "writers that failed": sum(code != 0 for code in codes),
        "changes lost": lost,
        "left": len(_left(folder)),
    }


def main() -> None:
    """Do all of it and print a table."""
    ask = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    ask.add_argument("kills", type=int, nargs="?", default=200)
    ask.add_argument("--seed", type=int, default=1)
    ask.add_argument("--rounds", type=int, default=30)
    asked = ask.parse_args()

    def show(found):
        print(", ".join(f"{n} {what}" for what, n in found.items()), flush=True)

    with tempfile.TemporaryDirectory() as made:
        for name in ("kills", "three", "full", *("1000", "4000", "0")):
            (Path(made) / name).mkdir()
        show(three(asked.rounds, Path(made) / "three"))
        for size in (0, 1000, 4000):
            show(_limited(Path(made) / f"{size}", size))
        show(full_disk(Path(made) / "full") or {"full disks: no right to mount one": 0})
        show(kills(asked.kills, asked.seed, Path(made) / "kills"))


if __name__ == "__main__":
    main()
