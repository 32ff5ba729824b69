"""Makes spectral-estimation-scipy.json: what SciPy's spectral estimators say of short series of whole numbers.

Run: python3 spectral-estimation-scipy.py > spectral-estimation-scipy.json, then format the file as all others.
Series are integers, so that they are exact in any language. Every case gives the arguments in SciPy's own words.
"""
import json
import platform

import numpy as np
import scipy
from scipy import signal, stats

rng = np.random.default_rng(20250301)
RATE = 25.0


def integers(values):
    return [int(v) for v in np.round(values)]


n = 300
t = np.arange(n) / RATE
shared = np.convolve(rng.normal(size=n + 8), [1, 2, 3, 4, 4, 3, 2, 1], mode="valid")[:n]
series = {
    # A tone of 3.1 Hz in noise with an offset and a drift.
    "tone": integers(400 * np.sin(2 * np.pi * 3.1 * t + 0.4) + 120 * rng.normal(size=n) + 35 + 4 * t),
    # Two that have a low-passed part in common, the second four samples later.
    "first": integers(60 * shared + 90 * rng.normal(size=n)),
    "later": integers(60 * np.roll(shared, 4) + 90 * rng.normal(size=n)),
    "odd": integers(200 * rng.normal(size=75) + 50),
}


def listed(a):
    return [float(v) for v in a]


def welch(x, **arguments):
    f, p = signal.welch(np.array(series[x], float), RATE, **arguments)
    return {"x": x, "arguments": arguments, "freqHz": listed(f), "psd": listed(p)}


def periodogram(x, **arguments):
    f, p = signal.periodogram(np.array(series[x], float), RATE, **arguments)
    return {"x": x, "arguments": arguments, "freqHz": listed(f), "psd": listed(p)}


def cross(x, y, **arguments):
    pair = np.array(series[x], float), np.array(series[y], float)
    f, p = signal.csd(*pair, RATE, **arguments)
    _, c = signal.coherence(*pair, RATE, **arguments)
    return {
        "x": x,
        "y": y,
        "arguments": arguments,
        "freqHz": listed(f),
        "re": listed(p.real),
        "im": listed(p.imag),
        "coherence": listed(c),
    }


def spectrogram(x, nperseg):
    """Rows side by side, the transform twice as long as the window."""
    f, at, p = signal.spectrogram(
        np.array(series[x], float), RATE, window="hann", nperseg=nperseg, noverlap=0, nfft=2 * nperseg, detrend="constant"
    )
    return {"x": x, "nperseg": nperseg, "freqHz": listed(f), "timeS": listed(at), "rows": [listed(r) for r in p.T]}


def factors(dof):
    return {"dof": dof, "lo": float(dof / stats.chi2.ppf(0.975, dof)), "hi": float(dof / stats.chi2.ppf(0.025, dof))}


document = {
    "madeBy": {
        "script": "spectral-estimation-scipy.py",
        "python": platform.python_version(),
        "scipy": scipy.__version__,
        "numpy": np.__version__,
    },
    "rateHz": RATE,
    "series": series,
    "welch": [
        welch("tone", nperseg=64),
        welch("tone", nperseg=63),
        welch("tone", nperseg=100, window="boxcar"),
        welch("tone", nperseg=80, window="hamming"),
        welch("tone", nperseg=80, window="blackman"),
        welch("tone", nperseg=80, window="blackmanharris"),
        welch("tone", nperseg=80, window="flattop"),
        welch("odd", nperseg=32, detrend=False),
    ],
    "periodogram": [
        periodogram("tone", window="hann"),
        periodogram("odd"),
        periodogram("odd", window="hann", detrend=False),
    ],
    "cross": [
        cross("first", "later", nperseg=60),
        cross("later", "first", nperseg=47),
        cross("first", "tone", nperseg=64, window="hamming", detrend=False),
    ],
    "spectrogram": spectrogram("tone", 50),
    "chiSquare": [factors(d) for d in [2, 3.6, 6, 7.68, 15.25828, 22, 120]],
}
print(json.dumps(document))
