"""Hold drawn frequencies against expected ones: SciPy's chi-square test.

Reads samples on standard input, one JSON object a line:

    name      what was counted
    observed  how often each case was drawn
    expected  how often each should be, up to one factor; a case that never should be is 0

The draws are seeded, so a sample either fits or does not. One that fits has a p-value above one in ten thousand.
Prints how many fit; exits with 1 at any that does not.
"""

import json
import sys

from scipy.stats import chisquare


def main():
    samples = 0
    for line in sys.stdin:
        sample = json.loads(line)
        pairs = list(zip(sample["observed"], sample["expected"]))
        if any(observed and not expected for observed, expected in pairs):
            sys.exit(f"{sample['name']}: drawn what there is not")
        kept = [(observed, expected) for observed, expected in pairs if expected]
        total = sum(observed for observed, _ in kept)
        whole = sum(expected for _, expected in kept)
        p = 1.0
        if len(kept) > 1:
            p = chisquare([o for o, _ in kept], [e * total / whole for _, e in kept]).pvalue
        if p < 1e-4:
            sys.exit(f"{sample['name']}: p = {p}")
        samples += 1
    print(f"{samples} samples fit")


if __name__ == "__main__":
    main()
