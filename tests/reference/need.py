"""Replacements by a Markov chain of ages and by a transform of counts. Prints need.json; run by hand:
python3 tests/reference/need.py | npx prettier --parser json > tests/reference/need.json
"""
import json
import sys

import numpy as np
import scipy
from scipy.stats import weibull_min

STEP = 3.5 / 30.436875
SHAPE, SCALE = 2.5, 9.0
STEPS = 104
# Months between replacements, age now in steps, how many parts.
PARTS = [(3, 0, 2), (3, 17, 5), (4, 30, 3), (6, 9, 4), (6, 51, 1), (6, 70, 2), (9, 40, 6)]


def hazards(planned):
    good = weibull_min(SHAPE, scale=SCALE).sf(np.arange(planned + 1) * STEP)
    return 1 - good[1:] / good[:-1]


def chain(months, age):
    """Expected planned and early replacements at each step: a part ages, or is new again."""
    planned = int(months * 30.436875 // 3.5)
    wears = hazards(planned)
    ages = np.zeros(planned)
    ages[min(age, planned - 1)] = 1
    overdue = age >= planned
    rows = []
    for _ in range(STEPS):
        if overdue:
            on_plan, early, overdue = 1.0, 0.0, False
            moved = np.zeros(planned)
        else:
            worn = ages * wears
            on_plan, early = ages[-1], worn[:-1].sum()
            moved = np.concatenate([[0], (ages - worn)[:-1]])
        moved[0] += on_plan + early
        ages = moved
        rows.append((on_plan, early))
    return np.array(rows)


def chances(months, age, most):
    """Chances of 0, 1, … most replacements: the chain again, with the count as a second place."""
    planned = int(months * 30.436875 // 3.5)
    wears = hazards(planned)
    state = np.zeros((most + 1, planned))
    state[0, min(age, planned - 1)] = 1
    certain = age >= planned
    for _ in range(STEPS):
        share = np.where(np.arange(planned) == planned - 1, 1.0, wears)
        if certain:
            share, certain = np.ones(planned), False
        ends = (state * share).sum(axis=1)
        moved = np.zeros_like(state)
        moved[:, 1:] = (state * (1 - share))[:, :-1]
        moved[1:, 0] += ends[:-1]
        state = moved
    return state.sum(axis=1)


most = 15
total = sum(count for _, _, count in PARTS) * most + 1
transform = np.ones(total, dtype=complex)
for months, age, count in PARTS:
    transform *= np.fft.fft(chances(months, age, most), total) ** count
fleet = np.fft.ifft(transform).real

json.dump(
    {
        "versions": f"Python {sys.version.split()[0]}, NumPy {np.__version__}, SciPy {scipy.__version__}",
        "shape": SHAPE,
        "scale": SCALE,
        "parts": PARTS,
        "planned": [chain(m, a)[:, 0].sum() for m, a, _ in PARTS],
        "early": [chain(m, a)[:, 1].sum() for m, a, _ in PARTS],
        "fleet": [float(f"{max(p, 0):.15e}") for p in fleet[:160]],
    },
    sys.stdout,
    indent=1,
)
print()
