"""Writes ahead.json: forecasts, fits and errors for tests of smoothing and looking ahead.

Written apart from src/core: arrays of NumPy, the weight of smoothing found by SciPy's bounded search from many
starts with the best start solved by least squares. Births are read from the tables in data/.
    python3 tests/reference/ahead.py > tests/reference/ahead.json
"""

import calendar
import csv
import json
import pathlib
import random

import numpy as np
import scipy
from scipy import optimize, stats

random.seed(20260517)
HERE = pathlib.Path(__file__).parent


def known(series):
    return np.array([value for value in series if value is not None], float)


def fit(series):
    """Weight, squared errors and last level of single smoothing by least squares."""
    values = known(series)

    def at(alpha):
        # One-step errors are values @ lower triangle, minus the share of the start that is left.
        share = (1 - alpha) ** np.arange(len(values) + 1)
        drawn = np.array(
            [sum(alpha * share[t - 1 - j] * values[j] for j in range(t)) for t in range(len(values) + 1)]
        )
        start = np.linalg.lstsq(share[:-1, None], values - drawn[:-1], rcond=None)[0][0]
        errors = values - drawn[:-1] - share[:-1] * start
        return errors @ errors, drawn[-1] + share[-1] * start

    grid = np.linspace(0, 1, 21)
    best = min(grid, key=lambda alpha: at(alpha)[0])
    found = optimize.minimize_scalar(
        lambda alpha: at(alpha)[0],
        bounds=(max(0, best - 0.05), min(1, best + 0.05)),
        method="bounded",
        options={"xatol": 1e-12},
    )
    alpha = min([best, found.x], key=lambda alpha: at(alpha)[0])
    squares, level = at(alpha)
    return {"alpha": float(alpha), "squares": float(squares), "level": float(level)}


def last_year(series, step):
    """Latest value of the same month, and whether it is not last year's."""
    at = len(series) - 12 + step % 12
    gap = at < 0 or series[at] is None
    while at >= 0 and series[at] is None:
        at -= 12
    return (series[at] if at >= 0 else None), gap


def seasonal(series):
    """Index of each month of the year by classical decomposition, shrunken; ones where no season is evident.

    Rows are years of ratios to the centred moving average. One-way analysis of variance says whether the months
    differ; each moves towards 1 by the James-Stein share, 9/11 of the variance of a mean over that between means.
    """
    values = np.array([np.nan if value is None else value for value in series], float)
    flat = np.ones(12)
    if len(values) < 13:
        return flat
    weights = np.r_[0.5, np.ones(11), 0.5] / 12
    trend = np.r_[np.full(6, np.nan), np.convolve(values, weights, "valid"), np.full(6, np.nan)]
    ratio = values / np.where(trend > 0, trend, np.nan)
    table = np.r_[ratio, np.full(-len(ratio) % 12, np.nan)].reshape(-1, 12)
    looks = np.sum(~np.isnan(table), axis=0)
    if looks.min() < 2:
        return flat
    columns = [column[~np.isnan(column)] for column in table.T]
    means = np.array([column.mean() for column in columns])
    pooled = sum(column.var(ddof=0) * len(column) for column in columns) / (looks.sum() - 12)
    noise = pooled * np.mean(1 / looks)
    between = means.var(ddof=1)
    if between == 0 or (noise > 0 and stats.f.sf(between / noise, 11, looks.sum() - 12) >= 0.05):
        return flat
    found = 1 + (1 - 9 / 11 * noise / between) * (means / means.mean() - 1)
    return found if found.min() >= 0.5 and found.max() <= 2 else flat


def combined(series, steps):
    index = seasonal(series)
    plain = [None if value is None else value / index[t % 12] for t, value in enumerate(series)]
    return [float(one * index[(len(series) + h) % 12]) for h, one in enumerate(three_ways(plain, steps))]


def three_ways(series, steps):
    values = known(series)
    if len(values) < 12:
        level = values[:6].mean()
        for value in values:
            level = 0.2 * value + 0.8 * level
        return [float(level)] * steps
    level, year = fit(series)["level"], values[-12:].mean()
    made = []
    for step in range(steps):
        before, gap = last_year(series, step)
        others = (level + year) / 2
        if before is None:
            before = others
        elif gap:
            before = max(before, others)
        made.append(float(np.mean([level, year, before])))
    return made


def season(series, steps, a=0.3, b=0.1, g=0.2):
    level, slope = np.mean(series[:12]), (np.mean(series[12:24]) - np.mean(series[:12])) / 12
    pattern = [value - level for value in series[:12]]
    for t in range(12, len(series)):
        before = level
        level = a * (series[t] - pattern[t - 12]) + (1 - a) * (level + slope)
        slope = b * (level - before) + (1 - b) * slope
        pattern.append(g * (series[t] - level) + (1 - g) * pattern[t - 12])
    return [level + (h + 1) * slope + pattern[len(series) - 12 + h % 12] for h in range(steps)]


def damped(series, steps, a=0.3, b=0.1, phi=0.9):
    level, slope = series[0], 0.0
    for value in series:
        before = level
        level = a * value + (1 - a) * (level + phi * slope)
        slope = b * (level - before) + (1 - b) * phi * slope
    return [level + sum(phi**k for k in range(1, h + 2)) * slope for h in range(steps)]


def smoothed(series, steps):
    level = np.mean(series[:6])
    for value in series:
        level += 0.2 * (value - level)
    return [float(level)] * steps


ways = {
    "combined": combined,
    "last month": lambda s, n: [s[-1]] * n,
    "last year": lambda s, n: [last_year(s, h)[0] for h in range(n)],
    "twelve months": lambda s, n: [float(np.mean(s[-12:]))] * n,
    "level": smoothed,
    "best level": lambda s, n: [fit(s)["level"]] * n,
    "trend": damped,
    "season": season,
}


def births(name):
    with open(HERE / "data" / f"{name}.csv", encoding="ascii") as table:
        return [
            (int(row["year"]), int(row["month"]), int(row["births"])) for row in csv.DictReader(table)
        ]


def errors_scaled(series, history, steps):
    """Mean over all origins of the scaled error of each way."""
    out = {}
    for name, way in ways.items():
        scores = []
        for at in range(history, len(series) - steps + 1):
            past, came = series[:at], np.array(series[at : at + steps])
            scale = np.mean(np.abs(np.array(past[12:]) - np.array(past[:-12])))
            scores.append(np.mean(np.abs(came - np.array(way(past, steps)))) / scale)
        out[name] = float(np.mean(scores))
    return out


def limits(series, steps, level):
    """Reach of the limits a step ahead, null below six tries."""
    errors = [[] for _ in range(steps)]
    for at in range(1, len(series)):
        if series[at - 1] is None or len(known(series[:at])) < 3:
            continue
        for h, value in enumerate(combined(series[:at], steps)):
            if at + h < len(series) and series[at + h] is not None:
                errors[h].append(series[at + h] - value)
    z = stats.norm.ppf((1 + level) / 2)
    return [float(z * np.sqrt(np.mean(np.square(e)))) if len(e) >= 6 else None for e in errors]


def some_series():
    for n in [3, 5, 8, 11, 12, 13, 17, 24, 30, 36, 48, 60] * 3:
        level = random.choice([5, 40, 300])
        made = [
            max(0, round(random.gauss(level * (1 + 0.1 * np.sin(t / 2) + 0.005 * t), level**0.5)))
            for t in range(n)
        ]
        gaps = random.choice([0, 0, 0.1, 0.4])
        made = [None if random.random() < gaps else value for value in made]
        made[0], made[-1], made[n // 2] = level, level, level
        yield made
    # Births with a season and chance about them, some years long, with and without a month nobody counted.
    for n in [30, 36, 37, 41, 48, 60, 72]:
        for level, swing in [(20, 0.12), (300, 0.05), (300, 0.12), (300, 0.8)]:
            made = [
                max(0, round(random.gauss(level * (1 + swing * np.sin(2 * np.pi * t / 12) + 0.004 * t), level**0.5)))
                for t in range(n)
            ]
            if n == 60:
                made[5] = None
            yield made


rows = []
for series in some_series():
    rows.append(
        {
            "series": series,
            "fit": fit(series),
            "season": seasonal(series).tolist(),
            "combined": combined(series, 14),
            "reach": limits(series, 3, 0.8),
        }
    )

tables = {}
for name in ["nchs_monthly", "ssa_monthly"]:
    table = births(name)
    raw = [float(count) for _, _, count in table]
    daily = [count / calendar.monthrange(year, month)[1] for year, month, count in table]
    tables[name] = {"a day": errors_scaled(daily, 48, 12), "a month": errors_scaled(raw, 48, 12)}

print(
    json.dumps(
        {
            "made": f"ahead.py, NumPy {np.__version__}, SciPy {scipy.__version__}",
            "rows": rows,
            "births": tables,
        },
        indent=1,
    )
)
