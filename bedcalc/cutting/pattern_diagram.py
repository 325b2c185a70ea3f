"""Decision diagram of all cutting patterns of a board, layer by layer.

Layer i holds the rooms that may be left when the kinds before i have been taken. An
arc takes t pieces of kind i and leads to layer i + 1. Rooms are rounded down to a sum
that the remaining kinds can make, so that boards which differ only in unusable waste
share their nodes. One sweep from the last layer to the first gives the most valuable
pattern of every stock at once (dynamic programming); a sweep the other way lists all
patterns above a value. With whole-number values both are exact.
"""

from __future__ import annotations

import numpy as np

from .problem import Problem

__all__ = ["Diagram"]


class Diagram:
    """The patterns of a :class:`Problem`, ready to be searched.

    Attributes
    ----------
    arcs : int
        Size of the diagram.
    roots : list of (layer, node)
        Where each sort of stock begins.
    """

    def __init__(self, problem: Problem):
        self.problem = problem
        kinds = len(problem.needs)
        sums = _reachable(problem)
        entering: list[list[tuple[int, int]]] = [[] for _ in range(kinds + 1)]
        for j, start in enumerate(problem.starts):
            entering[start].append((j, problem.rooms[j]))
        self.roots: list[tuple[int, int]] = [(0, 0)] * len(problem.rooms)
        self.children: list[np.ndarray] = []
        self.lengths: list[np.ndarray] = []
        rooms = np.zeros(0, dtype=np.int64)
        for i in range(kinds + 1):
            new = np.array([room for _, room in entering[i]], dtype=np.int64)
            rooms = np.unique(_floor(np.concatenate([rooms, new]), sums[i]))
            self.lengths.append(rooms)
            for j, room in entering[i]:
                node = np.searchsorted(rooms, _floor(np.array([room]), sums[i])[0])
                self.roots[j] = (i, int(node))
            if i == kinds:
                break
            need = problem.needs[i]
            most = int(min(problem.counts[i], rooms[-1] // need)) if rooms.size else 0
            after = rooms[None, :] - need * np.arange(most + 1)[:, None]
            good = after >= 0
            after = np.where(good, _floor(np.maximum(after, 0), sums[i + 1]), -1)
            rooms = np.unique(after[good])
            self.children.append((after, good))
        self._link()

    def _link(self):
        """Turn the rooms after each arc into node numbers of the next layer."""
        self.arcs = 0
        for i, (after, good) in enumerate(self.children):
            nodes = np.searchsorted(self.lengths[i + 1], np.maximum(after, 0))
            # an arc that takes more than there is room for leads to a node of
            # hopeless value, one past the end of the layer
            nodes[~good] = self.lengths[i + 1].size
            self.children[i] = nodes.astype(np.intp)
            self.arcs += int(good.sum())

    def values(self, worth: np.ndarray) -> list[np.ndarray]:
        """The best value of the kinds from each layer on, for every room left."""
        hopeless = -(1 << 60) if worth.dtype.kind == "i" else -np.inf
        table = [np.zeros(self.lengths[-1].size + 1, dtype=worth.dtype)]
        table[0][-1] = hopeless
        for i in range(len(self.children) - 1, -1, -1):
            child, after = self.children[i], table[-1]
            best = np.empty(child.shape[1] + 1, dtype=worth.dtype)
            row = best[:-1]
            np.take(after, child[0], out=row)
            for taken in range(1, child.shape[0]):
                np.maximum(row, after[child[taken]] + taken * worth[i], out=row)
            best[-1] = hopeless
            table.append(best)
        table.reverse()
        return table

    def best(self, worth: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """For each sort of stock the value of its best pattern, and that pattern."""
        table = self.values(worth)
        layers, nodes = (np.array(part) for part in zip(*self.roots, strict=True))
        patterns = np.zeros((nodes.size, len(self.children)), dtype=np.int64)
        tops = np.array([table[layer][node] for layer, node in self.roots])
        for i, child in enumerate(self.children):
            active = layers <= i
            steps = child[:, nodes[active]]
            gains = table[i + 1][steps]
            gains += worth[i] * np.arange(child.shape[0])[:, None]
            taken = gains.argmax(axis=0)
            patterns[active, i] = taken
            nodes[active] = steps[taken, np.arange(taken.size)]
        return tops, patterns

    def above(
        self, worth: np.ndarray, least: np.ndarray, most: int, *, full: bool = True
    ):
        """All patterns worth at least ``least``, or None if there are too many.

        Parameters
        ----------
        worth : array
            Of each kind of piece.
        least : array
            For each sort of stock.
        most : int
            Give up when there are more patterns than this.
        full : bool
            Leave out patterns to which a piece could be added, or that fit a cheaper
            stock; others cover all they cover.

        Returns
        -------
        sorts : int array
        patterns : int array, one row per pattern
        """
        table = self.values(worth)
        sorts = np.zeros(0, dtype=np.int64)
        nodes = np.zeros(0, dtype=np.intp)
        values = np.zeros(0, dtype=worth.dtype)
        rows = np.zeros((0, len(self.children)), dtype=np.int16)
        for i in range(len(self.children) + 1):
            new = [j for j, root in enumerate(self.roots) if root[0] == i]
            new = [j for j in new if table[i][self.roots[j][1]] >= least[j]]
            if new:
                sorts = np.concatenate([sorts, new])
                nodes = np.concatenate([nodes, [self.roots[j][1] for j in new]])
                values = np.concatenate([values, np.zeros(len(new), worth.dtype)])
                blank = np.zeros((len(new), rows.shape[1]), dtype=np.int16)
                rows = np.concatenate([rows, blank])
            if i == len(self.children):
                break
            child = self.children[i][:, nodes]
            gains = values + worth[i] * np.arange(child.shape[0])[:, None]
            taken, parent = np.nonzero(gains + table[i + 1][child] >= least[sorts])
            if taken.size > most:
                return None
            nodes, values = child[taken, parent], gains[taken, parent]
            sorts, rows = sorts[parent], rows[parent]
            rows[:, i] = taken
        return self._full(sorts, rows) if full else (sorts, rows)

    def _full(self, sorts, rows):
        """Drop patterns that hold one piece more, or that fit a cheaper stock."""
        needs = np.array(self.problem.needs)
        counts = np.array(self.problem.counts)
        starts = np.array(self.problem.starts)
        filled = rows @ needs
        left = np.array(self.problem.rooms)[sorts] - filled
        may = (rows < counts) & (np.arange(needs.size) >= starts[sorts][:, None])
        keep = np.where(may, needs, np.iinfo(np.int64).max).min(axis=1) > left
        for j, limit in enumerate(self.problem.limits):
            if limit is None:
                cheaper = np.array(self.problem.prices)[sorts] > self.problem.prices[j]
                plain = ~(rows[:, : starts[j]].any(axis=1))
                keep &= ~(cheaper & plain & (filled <= self.problem.rooms[j]))
        return sorts[keep], rows[keep]


def _floor(rooms: np.ndarray, sums: np.ndarray) -> np.ndarray:
    """Each room rounded down to the nearest of the sums (which begin with zero)."""
    return sums[np.searchsorted(sums, rooms, side="right") - 1]


def _reachable(problem: Problem) -> list[np.ndarray]:
    """For each layer the sums that its kinds and those after it can make."""
    limit = max(problem.rooms, default=0)
    mask = (1 << (limit + 1)) - 1
    bits, sums = 1, [np.zeros(1, dtype=np.int64)]
    for need, count in zip(
        reversed(problem.needs), reversed(problem.counts), strict=True
    ):
        copies, block = min(count, limit // need), 1
        while copies:
            block = min(block, copies)
            bits |= (bits << (need * block)) & mask
            copies -= block
            block *= 2
        raw = np.frombuffer(bits.to_bytes(limit // 8 + 1, "little"), dtype=np.uint8)
        sums.append(np.flatnonzero(np.unpackbits(raw, bitorder="little")))
    sums.reverse()
    return sums
