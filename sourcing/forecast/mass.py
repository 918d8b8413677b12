"""Pieces become a weight: a count on its lattice, spread by what is not known of a piece's mass."""

from __future__ import annotations

import numpy as np

from sourcing.forecast.conjugate import NormalMass
from sourcing.forecast.gamma import Floats

MASSES = 15  # equally likely masses that stand for all
LEAST_PART = 0.05  # of the mean; a piece never weighs nothing


def mass_nodes(mass: NormalMass, *, pieces: float) -> Floats:
    """Equally likely masses of a piece [mg], in the mean of so many pieces.

    The middles of equal slices of Student's t, whose density is summed up on a fine line.
    """
    freedom = 2 * mass.shape
    t = np.linspace(-40.0, 40.0, 16001)
    density = (1 + t * t / freedom) ** (-(freedom + 1) / 2)
    reached = density.cumsum() - density / 2
    middles = (np.arange(MASSES) + 0.5) / MASSES
    found = np.interp(middles, reached / density.sum(), t)
    masses = mass.mean + mass.scale_of_mean(pieces) * found
    return np.asarray(np.maximum(masses, LEAST_PART * mass.mean))


def weighed(chances: Floats, step: float, masses: Floats, onto: float) -> Floats:
    """Chances of an amount, each cell `step` wide, once stretched by masses onto cells `onto` wide.

    Parameters
    ----------
    chances : (days, cells); the chance of nothing at all stays with the first cell
    step, onto : width of a cell before and after, above 0
    masses : equally likely factors, above 0
    """
    cells = chances.shape[1]
    edges = (np.arange(cells) + 0.5) * onto
    reached = np.zeros_like(chances)
    for mass in masses:
        reached += _reached(chances, edges / (mass * step))
    reached /= len(masses)
    return np.asarray(np.diff(reached, axis=1, prepend=0.0))


def _reached(chances: Floats, cell: Floats) -> Floats:
    """Chance of at most so many cells, straight within each cell but for the first."""
    sums = chances.cumsum(axis=1)
    whole = np.minimum(np.floor(cell + 0.5).astype(int), chances.shape[1])
    part = np.minimum(cell + 0.5 - whole, 1.0)
    before = np.concatenate([np.zeros((len(chances), 1)), sums], axis=1)[:, whole]
    inside = np.concatenate([chances, np.zeros((len(chances), 1))], axis=1)[:, whole]
    found = before + part * inside
    return np.asarray(np.where(whole == 0, sums[:, :1], found))
