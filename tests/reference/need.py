"""Replacements followed from day to day, and a fleet's by a transform of counts. Prints need.json; run by hand:
python3 tests/reference/need.py | npx prettier --parser json > tests/reference/need.json

Written apart from src: the chances of every part are moved forward day by day by the day it was fitted, with
the number replaced so far as a second place; nothing is solved backwards.
"""
import calendar
import datetime
import json
import math
import sys

import numpy as np
import scipy
from scipy.stats import weibull_min

MONTH = 30.436875
SHAPE, SCALE = 2.5, 9.0
FROM = datetime.date(2026, 3, 16)
END = datetime.date(2027, 3, 16)
LOOKS = {FROM + datetime.timedelta(days=math.floor(3.5 * k)) for k in range(1, 106)}
# Months between replacements, days since it was fitted, how many parts.
PARTS = [(3, 0, 2), (3, 60, 5), (4, 105, 3), (6, 32, 4), (6, 179, 1), (6, 245, 2), (9, 140, 6)]
GOOD = weibull_min(SHAPE, scale=SCALE).sf(np.arange(400) / MONTH)


def later(date, months):
    at = date.year * 12 + date.month - 1 + months
    year, month = divmod(at, 12)
    return datetime.date(year, month + 1, min(date.day, calendar.monthrange(year, month + 1)[1]))


def follow(months, age, most):
    """Expected planned and early replacements of one part, and chances of 0, 1, … most of them."""
    planned = early = 0.0
    fitted = FROM - datetime.timedelta(days=age)
    start = np.zeros(most + 1)
    start[0] = 1
    if later(fitted, months) <= FROM:
        # Overdue: done today.
        planned, fitted, start = 1.0, FROM, np.roll(start, 1)
    # By the day it was fitted: the day it was last known to be good, and the chances of each number.
    alive = {fitted: (max(FROM, fitted), start)}
    day = FROM
    while day < END:
        day += datetime.timedelta(days=1)
        new = np.zeros(most + 1)
        for began, (seen, mass) in list(alive.items()):
            if later(began, months) == day:
                planned += mass.sum()
                new[1:] += mass[:-1]
                del alive[began]
            elif day in LOOKS and began < day:
                worn = 1 - GOOD[(day - began).days] / GOOD[(seen - began).days]
                early += worn * mass.sum()
                new[1:] += worn * mass[:-1]
                alive[began] = (day, mass * (1 - worn))
        if new.any():
            alive[day] = (day, new)
    return planned, early, sum(mass for _, mass in alive.values())


most = 15
found = [follow(months, age, most) for months, age, _ in PARTS]
total = sum(count for _, _, count in PARTS) * most + 1
transform = np.ones(total, dtype=complex)
for (_, _, chances), (_, _, count) in zip(found, PARTS):
    transform *= np.fft.fft(chances, total) ** count
fleet = np.fft.ifft(transform).real

json.dump(
    {
        "versions": f"Python {sys.version.split()[0]}, NumPy {np.__version__}, SciPy {scipy.__version__}",
        "shape": SHAPE,
        "scale": SCALE,
        "parts": PARTS,
        "planned": [planned for planned, _, _ in found],
        "early": [early for _, early, _ in found],
        "fleet": [float(f"{max(p, 0):.15e}") for p in fleet[:160]],
    },
    sys.stdout,
    indent=1,
)
print()
