"""The paper of notes: why each number is as it is, and from where."""

from __future__ import annotations

from collections.abc import Sequence

from ..evaluate import Outcome
from ..questions.basis import basis_of, because, notes, parts_of
from .page import PaperTable, render

__all__ = ["why_page"]

_HEADS = ("bill", "fill", "weight")


def why_page(outcomes: Sequence[Outcome], system: str, *, paper: str = "A4") -> str:
    """Formula in words, the numbers that go in, the sources, for every verdict.

    One bed has its headlines explained as well. Of several beds only the share that
    each uses is said; their own sheets hold the rest.

    Parameters
    ----------
    outcomes : sequence of Outcome
    system : str
        The reader's units.
    paper : str
        ``"A4"`` or ``"Letter"``.
    """
    single = len(outcomes) == 1
    told, heads = [], []
    for outcome in outcomes:
        parts = parts_of(outcome)
        name = "" if single else outcome.bed.name
        for check in outcome.checks:
            basis = because(check, parts, system)
            told.append((name, basis if single else basis.short()))
        if single:
            heads = [basis_of(f"headline.{key}", parts, system) for key in _HEADS]
    rows = notes(told, heads)
    legend = "printed: read in the source. from memory: look it up before you rely on "
    legend += "it. common practice: people of the trade do it so. assumption: our "
    legend += "judgement. computed: worked out here."
    if any("invented: " in row[-1] for row in rows):
        legend += " invented: made up as an example."
    heads = ("what", "how it is worked out", "with these numbers", "from where")
    name = f"Bed {outcomes[0].bed.name}: why" if single else "Why"
    return render(
        "why",
        f"{name}, and from where",
        paper,
        place=outcomes[0].place.name,
        legend=legend,
        reasons=PaperTable(heads, rows, kind="small"),
    )
