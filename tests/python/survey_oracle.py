"""Answers for surveys, by SciPy: shares of shuffles, the false discovery rate, bootstrap percentiles.

Reads one JSON object from standard input:

    steps     for each solve its four pair steps: number, stop in seconds, and 0 or 1 for each circumstance
    columns   the numbers of the circumstances that are asked for
    found     the number of the one that was found
    p         p-values to adjust
    resamples how many shuffles and draws

Takes out solves and pair numbers by least squares, with a column for each, and prints one JSON object.
"""

import json
import sys

import numpy
from scipy import stats

asked = json.load(sys.stdin)
rng = numpy.random.default_rng(2026)
n = asked["resamples"]

steps = numpy.array(asked["steps"])  # solve, step, (number, stop, circumstances…)
solves, per_solve, _ = steps.shape
rows = steps.reshape(solves * per_solve, -1)
stops = numpy.minimum(rows[:, 1], 2.0)
held = rows[:, 2:]

solve_of = numpy.repeat(numpy.arange(solves), per_solve)
taken_out = numpy.column_stack(
    [solve_of == solve for solve in range(solves)] + [rows[:, 0] == number for number in (2, 3, 4)]
).astype(float)


def left(column):
    """What is left of a column when solves and pair numbers are taken out."""
    fitted, *_ = numpy.linalg.lstsq(taken_out, column, rcond=None)
    return column - taken_out @ fitted


scores = left(stops**0.25).reshape(solves, per_solve)


def share(column):
    figures = left(held[:, column]).reshape(solves, per_solve)

    def statistic(*samples, axis=-1):
        return sum(numpy.sum(sample * own, axis=axis) for sample, own in zip(samples, figures))

    # "pairings" shuffles every sample, here a solve, in itself.
    test = stats.permutation_test(
        tuple(scores),
        statistic,
        permutation_type="pairings",
        vectorized=True,
        n_resamples=n,
        alternative="greater",
        rng=rng,
    )
    return float(test.pvalue)


def won(a, b, k, axis=-1):
    return numpy.sum(a, axis=axis) / numpy.sum(b, axis=axis) * numpy.mean(k, axis=axis)


own, seconds = left(held[:, asked["found"]]), left(stops)
by_solve = [column.reshape(solves, per_solve).sum(axis=1) for column in (own * seconds, own * own, held[:, asked["found"]])]
drawn = stats.bootstrap(
    by_solve, won, paired=True, vectorized=True, n_resamples=n, method="percentile", confidence_level=0.8, rng=rng
)

json.dump(
    {
        "p": [share(column) for column in asked["columns"]],
        "adjusted": [float(p) for p in stats.false_discovery_control(asked["p"], method="bh")],
        "won": float(won(*by_solve)),
        "interval": [float(drawn.confidence_interval.low), float(drawn.confidence_interval.high)],
        "at_least": float(numpy.percentile(drawn.bootstrap_distribution, 20)),
        "error": float(drawn.standard_error),
    },
    sys.stdout,
)
