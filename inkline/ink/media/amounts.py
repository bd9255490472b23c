"""Tables of what a tool's amounts cover, as normal deviates; `law` says what for."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from inkline.geometry.arrays import Floats, Singles

SHARE_STEPS = 2048
"""Amounts are looked up at so many steps from 0 to 1."""
# Deviates go so far.
_FARTHEST = 4.5
# Amounts that build up gradually are told apart up to so many times what would cover all.
_MOST_AMOUNT = 16
# The deviate of all and, below 0, of nothing.
_NEVER = 100.0


@lru_cache(maxsize=16)
def deviates_of_amounts(more: float, build_up: float) -> Singles:
    """The deviates of what even amounts from 0 on cover, and `more`."""
    from scipy.special import ndtri  # noqa: PLC0415 - slow; wanted only for dry marks

    if build_up == 0.0:
        shares = (np.arange(SHARE_STEPS + 1) + 0.5) / (SHARE_STEPS + 1)
    else:
        amounts = (np.arange(_highest_step(build_up) + 1) + 0.5) / SHARE_STEPS
        shares = _covered_shares(amounts, build_up)
    deviates = np.clip(ndtri(shares), -_FARTHEST, _FARTHEST)
    deviates[[0, -1]] = (-_NEVER, _NEVER)
    return np.asarray((deviates + more).astype(np.float32))


def _covered_shares(amounts: Floats, build_up: float) -> Floats:
    """The share of the paper that each amount covers where ink builds up gradually."""
    power = 1.0 / build_up
    return np.asarray(amounts * (1.0 + amounts**power) ** -build_up)


@lru_cache(maxsize=8)
def slopes_of_deviates(build_up: float) -> Singles:
    """How fast deviates change with the amount, in steps of it."""
    deviates = np.clip(deviates_of_amounts(0.0, build_up).astype(np.float64), -_FARTHEST, _FARTHEST)
    slopes = np.sqrt(2.0 * np.pi) * np.exp(0.5 * deviates**2)
    if build_up > 0.0:
        amounts = (np.arange(len(slopes)) + 0.5) / SHARE_STEPS
        slopes *= (1.0 + amounts ** (1.0 / build_up)) ** (-build_up - 1.0)
    return np.asarray((slopes / SHARE_STEPS).astype(np.float32))


def _highest_step(build_up: float) -> int:
    """The step of the amount that leaves nothing bare."""
    return SHARE_STEPS * (_MOST_AMOUNT if build_up > 0.0 else 1)
