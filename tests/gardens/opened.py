"""A few of the gardens, opened in a session, to try single views and questions on."""

from __future__ import annotations

from bedcalc.app.session import Session, open_session
from tests.gardens.gardens import GARDENS as FIRST
from tests.gardens.more import MORE, QUARRY

__all__ = ["GARDENS", "QUARRY", "open_garden"]

#: enough kinds to see what a view forgets, few enough to try each of them on every view
GARDENS = (
    "no bed yet", "a new bed", "wall blocks", "wall trough", "fill half_logs",
    "smallest", "extreme sizes", "dollars", "own fill", "layers without a rest",
    "copy of demo",
)  # fmt: skip


def open_garden(name: str, folder) -> Session:
    """A session on one of the gardens, kept in a folder."""
    session = open_session(folder / "my_garden.toml")
    session.start(name)
    session.update(MORE[name]() if name in MORE else FIRST[name])
    return session
