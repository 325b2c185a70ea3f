"""The session: one garden, its current bed, and the file that keeps them.

Every workbook of one reader works on the same session file. What is changed is saved by
itself a moment later; what another workbook has written in the meantime is merged, and
where both changed the same entry the reader is asked. The demo garden is never written.
"""

from __future__ import annotations

import asyncio
import atexit
import time
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Any

from ..garden.files import FILE, free_path, is_damaged, opened_last, remember, set_aside
from ..garden.garden import (
    Garden,
    GardenError,
    demo_garden,
    from_text,
    last_good,
    load,
    new_bed,
    save,
)
from ..garden.merging import merge
from ..garden.reading import read_text
from ..garden.saving import alone
from ..garden.words import read_garden, write_garden
from ..model.bed import Bed
from ..model.place import Place
from ..text_files import FileError
from ..units import Q_, Units

__all__ = ["Session", "open_session"]

WAIT = 0.8  # seconds of rest before a change is written
TOGETHER = 1.5  # seconds within which several moves are one step to undo
STEPS = 100  # that can be undone
CARRIED = 30  # of them, once another workbook has changed the file


class Session:
    """One garden as a reader works on it. See :func:`open_session`.

    Attributes
    ----------
    garden : Garden
        As it now is; the demo garden until the reader starts one.
    own : bool
        Whether it is the reader's own, which is saved.
    path : Path
        The file that keeps it, or would.
    name : str
        Name of the current bed; empty in a garden without beds.
    trouble : str
        Why the file could not be read or written; empty if all is well.
    saved_at : str
        Time of the last save, such as ``10:42``; empty before the first.
    conflicts : tuple of str
        Entries that were changed here and elsewhere, and wait for an answer.
    """

    def __init__(self, path: Path):
        self.path, self.garden, self.own = path, demo_garden(), False
        self.name, self.trouble, self.saved_at = "", "", ""
        self.conflicts: tuple[str, ...] = ()
        self.changed_elsewhere = False
        self._listeners: list[Callable[[Any], Any]] = []
        self._undo: list[tuple[Garden, str]] = []
        self._moved_at, self._waiting, self._base = 0.0, None, None
        self._dirty, self._stamp = False, None
        if path.exists():
            self._load()
        else:
            self._start_with("B")

    # ---- what is there

    @property
    def bed(self) -> Bed | None:
        """The current bed, or None in a garden without beds."""
        return self.garden[self.name] if self.name in self.garden else None

    @property
    def place(self) -> Place:
        """The place of the garden."""
        return self.garden.place

    @property
    def units(self) -> Units:
        """How the reader writes sizes and money."""
        return self.garden.units

    @property
    def saved(self) -> bool:
        """Whether the file holds everything as it now is."""
        return not self._dirty

    @property
    def can_undo(self) -> bool:
        """Whether there is a step to take back."""
        return bool(self._undo)

    def observe(self, listener: Callable[[Any], Any]) -> None:
        """Call ``listener(origin)`` after every change; ``origin`` is who made it."""
        self._listeners.append(listener)

    def _tell(self, origin: Any = None) -> None:
        for listener in tuple(self._listeners):
            listener(origin)

    # ---- changing

    def update(self, garden: Garden, name: str | None = None, origin: Any = None):
        """Take a changed garden, remember the old one, and save a moment later.

        Parameters
        ----------
        garden : Garden
        name : str or None
            The bed that is current afterwards; as before if None.
        origin : object
            Who made the change, for the listeners.
        """
        name = self.name if name is None else name
        if name not in garden:
            name = garden.beds[0].name if garden.beds else ""
        if garden == self.garden and name == self.name:
            return
        now = time.monotonic()
        if not self._undo or now - self._moved_at > TOGETHER or name != self.name:
            self._undo = [*self._undo[-STEPS + 1 :], (self.garden, self.name)]
        self._moved_at = now
        self.garden, self.name = garden, name
        self._touch()
        self._tell(origin)

    def step(self, garden: Garden, name: str | None = None, origin: Any = None) -> None:
        """Take a changed garden as a step that is undone by itself, see ``update``."""
        self._moved_at = 0.0
        self.update(garden, name, origin)
        self._moved_at = 0.0

    def take(self, bed: Bed, origin: Any = None) -> None:
        """Put a changed bed in place of the current one."""
        self.update(self.garden.with_bed(bed, self.name), bed.name, origin)

    def take_place(self, place: Place, origin: Any = None) -> None:
        """Put a changed place in place of the old one."""
        self.update(self.garden.change(place=place), origin=origin)

    def show_in(self, system: str, origin: Any = None) -> None:
        """Show sizes in ``"metric"`` or ``"us"`` units from now on."""
        if system != self.garden.system:
            self.garden = self.garden.change(system=str(system))
            self._touch()
            self._tell(origin)

    def choose(self, name: str) -> None:
        """Make another bed the current one."""
        if name in self.garden and name != self.name:
            self.name = name
            self._touch()
            self._tell()

    def add(self, bed: Bed | None = None) -> Bed:
        """Add a bed, or a plain one, and make it current."""
        bed = bed or new_bed("Bed 1")
        bed = bed.change(name=self.garden.free_name(bed.name))
        if self.garden.beds and bed.x == bed.y == Q_(0, "m"):
            last = max(b.si.y + b.si.width for b in self.garden)
            bed = bed.change(y=Q_(round(last + 0.9, 2), "m"))
        self.step(self.garden.with_bed(bed), bed.name)
        return bed

    def copy(self) -> Bed | None:
        """Add a copy of the current bed under a new name."""
        if self.bed is None:
            return None
        zero = Q_(0, "m")
        return self.add(self.bed.change(x=zero, y=zero))

    def rename(self, name: str) -> None:
        """Give the current bed another name; a ``GardenError`` if it is taken."""
        name = " ".join(str(name).split())
        if self.bed is None or name == self.name:
            return
        if not name or name in self.garden:
            needed = "some words" if not name else "a name that no other bed has"
            raise GardenError(
                f"name of the bed: needs {needed}; given {name!r}; for example "
                f"{self.garden.free_name(self.name)!r}"
            )
        renamed = self.bed.change(name=name, title="")
        self.step(self.garden.with_bed(renamed, self.name), name)

    def delete(self) -> None:
        """Take the current bed out of the garden; *undo* brings it back."""
        if self.bed is not None:
            self.step(self.garden.without_bed(self.name), "")

    def undo(self) -> None:
        """Take the last step back."""
        if self._undo:
            garden, self.name = self._undo.pop()
            self.garden = garden.change(system=self.garden.system)
            self._moved_at = 0.0
            self._touch()
            self._tell()

    # ---- files

    def start(self, name: str, copy: bool = False, path: Path | None = None) -> None:
        """Start a garden of one's own: empty, or a copy of the demo garden.

        Parameters
        ----------
        name : str
            Of the garden.
        copy : bool
            Whether it begins as a copy of the demo garden, under the new name.
        path : Path or None
            Its file; the session's own if None.
        """
        path = path or self.path
        if path.exists():
            raise GardenError(
                f"{path.name}: there is a file of this name already; open it, or "
                f"choose another name, for example '{path.stem}_2.toml'"
            )
        name = " ".join(str(name).split())
        if not name:
            raise GardenError(
                "name of the garden: needs some words; given nothing; for example "
                "'Our garden'"
            )
        demo, system = demo_garden(), self.garden.system
        if copy:
            garden = demo.change(place=demo.place.change(name=name), system=system)
        else:
            garden = Garden.empty(name).change(system=system)
        self._leave()
        save(garden, path)
        self.open(path)

    def open(self, path: Path) -> None:
        """Open another garden file; a ``GardenError`` if it cannot be read."""
        load(path)
        self._leave()
        self.path = path
        remember(path)
        self._load()
        self._tell()

    def open_demo(self, bed: str = "B") -> None:
        """Show the demo garden; nothing of it is saved."""
        self._leave()
        system = self.garden.system
        self.garden, self.own, self._undo = demo_garden(), False, []
        self.garden = self.garden.change(system=system)
        self._dirty, self.trouble, self.conflicts = False, "", ()
        self._start_with(bed)
        self._tell()

    def _leave(self) -> None:
        """Save before another garden is shown; where that fails, into a file beside."""
        self.flush()
        if self._dirty:
            kept = free_path(self.path.with_name(f"{self.path.stem}_unsaved.toml"))
            save(self.garden.change(current=self.name), kept)
            self._dirty = False

    def reload(self) -> None:
        """Take the file as it is now."""
        self._load()
        self._tell()

    def use_last_good(self) -> None:
        """Put the last good copy in place of a file that cannot be read."""
        good = load(last_good(self.path))
        set_aside(self.path)
        save(good, self.path)
        self.reload()

    def use_mine(self) -> None:
        """Save the garden as it is here in place of a file that cannot be read."""
        set_aside(self.path)
        self.save()
        self._tell()

    @property
    def damaged(self) -> bool:
        """Whether the file is there, but is no garden any more."""
        return is_damaged(self.path)

    def _start_with(self, name: str) -> None:
        names = [bed.name for bed in self.garden]
        self.name = name if name in names else (names[0] if names else "")

    def _load(self) -> None:
        self._dirty, self.changed_elsewhere, self.conflicts = False, False, ()
        try:
            text = read_text(self.path)
            garden = from_text(text, self.path.name)
        except GardenError as error:
            self.garden, self.own, self.trouble = demo_garden(), False, str(error)
            self._stamp, self._base, self._undo = None, None, []
            self._start_with("B")
            return
        self.garden, self.own, self.trouble = garden, True, ""
        self._base, self._stamp, self._undo = write_garden(garden), text, []
        self._start_with(garden.current or self.name)

    def _touch(self) -> None:
        if not self.own:
            return
        self._dirty = True
        if self._waiting is not None:
            self._waiting.cancel()
            self._waiting = None
        try:
            loop = asyncio.get_running_loop()
        except RuntimeError:
            self.save()
            return
        self._waiting = loop.call_later(WAIT, self._save_and_tell)

    def _save_and_tell(self) -> None:
        self.save()
        self._tell(self)

    def flush(self) -> None:
        """Save at once what waits to be saved."""
        if self._waiting is not None:
            self._waiting.cancel()
        if self._dirty and not self.conflicts:
            self.save()

    def save(self) -> bool:
        """Write the garden; what was changed elsewhere is merged in first.

        Returns
        -------
        bool
            False if it was not written: ``trouble`` or ``conflicts`` say why.
        """
        self._waiting = None
        if not self.own:
            return False
        try:
            with alone(self.path):
                if not self._merge_in():
                    return False
                save(self.garden.change(current=self.name), self.path)
                self._stamp = read_text(self.path)
        except (FileError, OSError) as error:
            self.trouble = f"Not saved. {error}"
            return False
        self._base = write_garden(self.garden)
        self._dirty, self.trouble, self.changed_elsewhere = False, "", False
        self.saved_at = datetime.now().strftime("%H:%M")
        return True

    def _merge_in(self) -> bool:
        """Merge what another workbook wrote; False where the reader must be asked."""
        if not self.path.exists() or read_text(self.path) == self._stamp:
            return True
        text = read_text(self.path)
        theirs = write_garden(from_text(text, self.path.name))
        merged, conflicts = merge(self._base or {}, write_garden(self.garden), theirs)
        if conflicts:
            self.conflicts = tuple(conflicts)
            return False
        self.garden = Garden(**read_garden(merged))
        self._carry_over(theirs)
        if self.name not in self.garden:
            self._start_with(self.name)
        return True

    def _carry_over(self, theirs: dict) -> None:
        """Put into the steps to undo what came from elsewhere: undo is of one's own."""
        steps, self._undo = self._undo[-CARRIED:], []
        for old, name in steps:
            words, _ = merge(self._base or {}, write_garden(old), theirs)
            self._undo.append((Garden(**read_garden(words)), name))

    def settle(self, whose: str) -> None:
        """Answer a conflict.

        Parameters
        ----------
        whose : str
            ``"mine"``: as it is here. ``"theirs"``: as it is in the file. ``"both"``:
            the file's garden, with the current bed of this workbook added as a copy.
        """
        mine, theirs = self.garden, load(self.path)
        if whose == "theirs":
            self.reload()
            return
        if whose == "both":
            garden, name, self._undo = theirs, self.name, []
            if name in mine:
                name = theirs.free_name(f"{name[:48]} (mine)")
                garden = theirs.with_bed(mine[self.name].change(name=name))
        else:
            words, _ = merge(self._base or {}, write_garden(mine), write_garden(theirs))
            garden, name = Garden(**read_garden(words)), self.name
            self._carry_over(write_garden(theirs))
        self._base = write_garden(theirs)
        self._stamp, self.conflicts = read_text(self.path), ()
        self.garden, self.name = garden, name
        self.save()
        self._tell()

    def look(self) -> bool:
        """Whether the file was changed elsewhere since it was read or written here."""
        if not self.own or self._dirty or self.conflicts:
            return False
        try:
            changed = read_text(self.path) != self._stamp
        except GardenError:
            changed = False
        if changed != self.changed_elsewhere:
            self.changed_elsewhere = changed
            self._tell(self)
        return changed


_OPEN: dict[Path, Session] = {}


def open_session(file: str | Path | None = None) -> Session:
    """The session of this workbook: the reader's garden file, or the demo garden.

    Parameters
    ----------
    file : str or Path or None
        The garden file; if None the one that was open last in this folder.
    """
    path = Path(file) if file else opened_last(Path(FILE))
    key = (Path.cwd() / path).absolute()
    if key not in _OPEN:
        _OPEN[key] = Session(path)
        atexit.register(_OPEN[key].flush)
    return _OPEN[key]
