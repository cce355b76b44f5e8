"""Facility, corrected item-total correlation and Cronbach's alpha of classes by numpy, with missing tasks.

Usage: item_statistics.py [--check]. Writes or checks item_statistics.csv: class, kind (scores, worth, result), values.
"""
import numpy as np

from stored import keep


def classes():
    generator = np.random.default_rng(20261128)
    for name, students, tasks, missing in (("plain", 30, 8, 0.0), ("small", 5, 4, 0.0), ("editions", 28, 10, 0.25), ("flat", 6, 3, 0.0)):
        worth = generator.integers(1, 5, tasks).astype(float)
        able = generator.normal(0, 1, students)[:, None]
        hard = generator.normal(0, 1, tasks)[None, :]
        share = 1 / (1 + np.exp(-(able - hard) - generator.normal(0, 0.7, (students, tasks))))
        scores = np.round(share * worth)
        if name == "flat":
            scores[:] = worth
        if missing:
            # An edition lacks whole tasks: two kinds of students.
            lacks = generator.random((2, tasks)) < missing
            lacks[:, :3] = False
            kind = generator.integers(0, 2, students)
            scores[lacks[kind]] = np.nan
        yield name, worth, scores


def results(worth, scores):
    have = ~np.isnan(scores)
    for task in range(len(worth)):
        rows = have[:, task]
        own = scores[rows, task]
        others = np.delete(scores[rows], task, axis=1)
        of = np.where(np.isnan(others), 0, np.delete(worth, task))
        rest = np.nansum(others, axis=1) / of.sum(axis=1)
        spread = own.std() > 0 and rest.std() > 1e-12
        yield own.mean() / worth[task], np.corrcoef(own, rest)[0, 1] if spread else float("nan")


def alpha(scores):
    shared = scores[:, ~np.isnan(scores).any(axis=0)]
    whole = shared.sum(axis=1).var(ddof=1)
    count = shared.shape[1]
    if whole == 0:
        return float("nan")
    return count / (count - 1) * (1 - shared.var(axis=0, ddof=1).sum() / whole)


def cells(values):
    """A missing score or an undefined result is an empty cell."""
    return [float(value) if np.isfinite(value) else "" for value in values]


def rows():
    for name, worth, scores in classes():
        found = list(results(worth, scores))
        yield [name, "worth", *cells(worth)]
        for line in scores:
            yield [name, "scores", *cells(line)]
        yield [name, "facility", *cells(one[0] for one in found)]
        yield [name, "discrimination", *cells(one[1] for one in found)]
        yield [name, "alpha", *cells([alpha(scores)])]


keep("item_statistics.csv", ["class", "kind", "values"], list(rows()), 1e-12)
