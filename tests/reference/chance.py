"""Writes chance.json: chances of counts, quantiles and mean shortages for tests/chance.test.ts.

Worked with mpmath at 60 digits, by adding up single chances; SciPy must agree with every one.
    python3 tests/reference/chance.py > tests/reference/chance.json
"""

import json
import random

import mpmath as mp
import scipy
from scipy import stats

mp.mp.dps = 60
random.seed(20260517)


def chances(mean, variance):
    """Single chances from k = 0 on; Poisson where the variance does not exceed the mean."""
    m, v = mp.mpf(mean), mp.mpf(variance)
    size = m**2 / (v - m) if v > m else None
    term = mp.e**-m if size is None else (size / (size + m)) ** size
    k = 0
    while True:
        yield term
        term *= (m if size is None else m / (size + m) * (size + k)) / (k + 1)
        k += 1


def scipy_of(mean, variance):
    if variance <= mean:
        return stats.poisson(mean)
    return stats.nbinom(mean**2 / (variance - mean), mean / variance)


def near(one, other, share):
    if abs(other) > 1e-290:
        assert abs(mp.mpf(one) / mp.mpf(float(other)) - 1) < share, (one, other)


def count(mean, variance, k, chance):
    below = above = short = mp.mpf(0)
    quantile = None
    for n, term in enumerate(chances(mean, variance)):
        if n <= k:
            below += term
        else:
            above += term
            short += (n - k) * term
        if n == k:
            exactly = term
        if quantile is None and below + above >= mp.mpf(chance):
            quantile = n
        done = n > k and n > mean and (n - k) * term < short * mp.mpf(10) ** -30
        if done and quantile is not None:
            break
    other = scipy_of(mean, variance)
    near(other.cdf(k), below, 1e-9)
    near(other.sf(k), above, 1e-7)
    assert abs(other.ppf(chance) - quantile) < 0.5
    return {
        "mean": mean,
        "variance": variance,
        "k": k,
        "exactly": float(exactly),
        "atMost": float(below),
        "above": float(above),
        "short": float(short),
        "chance": chance,
        "quantile": quantile,
    }


def log_uniform(low, high):
    return float(mp.e ** random.uniform(float(mp.log(low)), float(mp.log(high))))


def counts(number):
    rows = []
    for index in range(number):
        mean = log_uniform(1e-3, 1e3)
        variance = mean if index % 2 else mean * (1 + log_uniform(1e-3, 30))
        k = max(0, round(mean + random.uniform(-4, 8) * variance**0.5))
        chance = random.choice([0.5, 0.8, 0.9, 0.95, 0.98, 0.99, 0.999, 0.999999, random.random()])
        rows.append(count(mean, variance, k, chance))
    return rows


def refined(share, guess, derivative, chance):
    """A quantile of SciPy brought to full length by Newton's steps."""
    x = mp.mpf(guess)
    for _ in range(6):
        x -= (share(x) - chance) / derivative(x)
    return float(x)


def quantiles(number):
    rows = {"normal": [], "beta": [], "gamma": []}
    while len(rows["normal"]) < number:
        p = log_uniform(1e-12, 0.5)
        p = p if random.random() < 0.5 else 1 - p
        z = float(mp.sqrt(2) * mp.erfinv(2 * mp.mpf(p) - 1))
        near(stats.norm.ppf(p), z, 1e-9)
        rows["normal"].append({"chance": p, "value": z})
    while len(rows["beta"]) < number:
        p, a, b = random.uniform(0.001, 0.999), log_uniform(0.5, 500), log_uniform(0.5, 500)
        guess = float(stats.beta.ppf(p, a, b))
        if not 1e-6 < guess < 1 - 1e-6:
            continue
        full = mp.beta(a, b)
        x = refined(
            lambda x: mp.betainc(a, b, 0, x, regularized=True),
            guess,
            lambda x: x ** (mp.mpf(a) - 1) * (1 - x) ** (mp.mpf(b) - 1) / full,
            mp.mpf(p),
        )
        near(guess, x, 1e-9)
        rows["beta"].append({"chance": p, "a": a, "b": b, "value": x})
    while len(rows["gamma"]) < number:
        p, shape = random.uniform(0.001, 0.999), log_uniform(0.2, 1000)
        guess = float(stats.gamma.ppf(p, shape))
        if guess < 1e-12:
            continue
        x = refined(
            lambda x: mp.gammainc(shape, 0, x, regularized=True),
            guess,
            lambda x: x ** (mp.mpf(shape) - 1) * mp.e**-x / mp.gamma(shape),
            mp.mpf(p),
        )
        near(guess, x, 1e-9)
        rows["gamma"].append({"chance": p, "shape": shape, "value": x})
    return rows


text = json.dumps(
    {
        "made": f"chance.py, mpmath {mp.__version__}, checked by SciPy {scipy.__version__}",
        "counts": counts(300),
        **quantiles(60),
    },
    indent=2,
)
print(text.replace("e-0", "e-"))
