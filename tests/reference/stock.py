"""Writes stock.json: reorder points, shortages and budgets for the tests of these words.

Reorder points by SciPy's distributions; budgets by adding up every combination of counts in a table
of costs.
    python3 tests/reference/stock.py > tests/reference/stock.json
"""

import json
import random

import numpy as np
import scipy
from scipy import stats

random.seed(20260517)


def count(mean, variance):
    if variance <= mean:
        return stats.poisson(mean)
    return stats.nbinom(mean**2 / (variance - mean), mean / variance)


def reorder_points(number):
    rows = []
    while len(rows) < number:
        per_month = round(random.uniform(0, 1) ** 3 * 20, 3)
        lead = round(random.uniform(0.1, 6), 2)
        spread = random.choice([0, 0, round(per_month * random.uniform(0.5, 8), 3)])
        lead_sd = random.choice([0, 0, round(lead * random.uniform(0.05, 0.8), 2)])
        service = random.choice([0.8, 0.9, 0.95, 0.98, 0.99, 0.999])
        mean = per_month * lead
        variance = max(per_month, spread) * lead + (per_month * lead_sd) ** 2
        one = count(mean, variance)
        quantile = int(max(one.ppf(service), stats.poisson(mean).ppf(service))) if mean else 0
        # A chance within rounding of the level tells nothing.
        if mean and min(abs(one.cdf(k) - service) for k in (quantile - 1, quantile)) < 1e-9:
            continue
        stock = random.randint(0, quantile + 3)
        short = sum(float(one.sf(k)) for k in range(stock, stock + 3000)) if mean else 0.0
        rows.append(
            {
                "perMonth": per_month,
                "leadMonths": lead,
                "variancePerMonth": spread,
                "leadSd": lead_sd,
                "service": service,
                "quantile": quantile,
                "onHand": stock,
                "odds": float(one.cdf(stock)) if mean else 1.0,
                "short": short,
            }
        )
    return rows


def budgets(number):
    rows = []
    for _ in range(number):
        lines = []
        costs = np.ones(1)
        for _ in range(random.randint(1, 4)):
            expected = round(random.uniform(0, 1) ** 2 * 20, 2)
            price = random.randint(1, 60)
            variance = random.choice([0, round(expected * random.uniform(1.1, 5), 2)])
            lines.append({"expected": expected, "price": price, "variance": variance})
            if expected == 0:
                continue
            one = count(expected, variance)
            units = np.arange(int(one.isf(1e-15)) + 2)
            line = np.zeros(units[-1] * price + 1)
            line[units * price] = one.pmf(units)
            costs = np.convolve(costs, line)
        level = random.choice([0.5, 0.8, 0.9, 0.95, 0.99])
        sums = np.cumsum(costs)
        cost = int(np.searchsorted(sums, level))
        if abs(sums - level).min() < 1e-9:
            continue
        rows.append({"lines": lines, "level": level, "cost": cost})
    return rows


print(
    json.dumps(
        {
            "made": f"stock.py, SciPy {scipy.__version__}, NumPy {np.__version__}",
            "points": reorder_points(150),
            "budgets": budgets(60),
        },
        indent=2,
    ).replace("e-0", "e-")
)
