#!/usr/bin/env python3
"""Answers questions on the cube with general-purpose libraries, to hold the program against.

One JSON object a line on standard input, one on standard output, in the same order:

    {"play": "R U (R' U')3 x"}              {"image": [...]}      the 54 places, see below
    {"orders": ["R U", ...]}                {"orders": [105, ...]}
    {"size": [image, ...]}                  {"size": "43252003274489856000"}   of the group they generate
    {"members": [image, ...], "of": [...]}  {"members": [true, ...]}           whether the group has them
    {"distances": [table, ...], "start": [...]}   {"counts": [1, 18, ...]}     see `distances`

An image lists, for each place, the place where the sticker that started there ends: U 1-8, L 9-16, F 17-24,
R 25-32, B 33-40, D 41-48, each face row by row as seen from outside without its centre (U with B at the top, D
with F at the top, the sides with U at the top), which is the numbering of the GAP example; then the centres,
U 49, L 50, F 51, R 52, B 53, D 54.

The six face turns are SymPy's own (`sympy.combinatorics.generators`, which has them from "Analyzing Rubik's
Cube with GAP"). The slices are written out here; `check_rotations` holds them to the identities of the notation.
"""

import json
import re
import sys
from collections import Counter

from sympy.combinatorics import Permutation, PermutationGroup
from sympy.combinatorics.generators import rubik_cube_generators

SIZE = 54


def cycles(*places):
    """The permutation with these cycles of places, which count from 1."""
    return Permutation([[place - 1 for place in cycle] for cycle in places], size=SIZE)


def moves():
    """Every move by its letter. SymPy multiplies as people write: the left factor acts first."""
    faces = (Permutation(g.array_form, size=SIZE) for g in rubik_cube_generators())
    move = dict(zip("ULFRBD", faces, strict=True))
    u, l, f, r, b, d = (move[face] for face in "ULFRBD")
    m = cycles((2, 18, 42, 39), (7, 23, 47, 34), (49, 51, 54, 53))  # turns as L does
    e = cycles((12, 20, 28, 36), (13, 21, 29, 37), (50, 51, 52, 53))  # as D
    s = cycles((4, 26, 45, 15), (5, 31, 44, 10), (49, 52, 54, 50))  # as F
    move |= dict(M=m, E=e, S=s, x=r * m**-1 * l**-1, y=u * e**-1 * d**-1, z=f * s * b**-1)
    move |= dict(Rw=r * m**-1, Lw=l * m, Uw=u * e**-1, Dw=d * e, Fw=f * s, Bw=b * s**-1)
    move |= {face.lower(): move[face + "w"] for face in "ULFRBD"}
    return move


MOVE = moves()
POWER = {"": 1, "2": 2, "'": -1, "2'": 2, "3": 3, "3'": -3}


def check_rotations():
    """A rotation carries each face turn to another one (WCA Regulation 12a4) and has order 4."""
    carried = dict(x="UFRBLD->FDRULB", y="UFRBLD->URBLFD", z="UFRBLD->LFUBDR")
    for axis, pairs in carried.items():
        befores, afters = pairs.split("->")
        for before, after in zip(befores, afters, strict=True):
            assert MOVE[axis] * MOVE[before] == MOVE[after] * MOVE[axis], (axis, before, after)
        assert MOVE[axis].order() == 4


def play(text):
    """The permutation of a sequence, which may have groups: `(R U R' U')3`."""
    done = [Permutation(SIZE - 1)]
    for token in re.findall(r"[A-Za-z]w?[23]?'?|\(|\)\d*|\S", text):
        if token == "(":
            done.append(Permutation(SIZE - 1))
        elif token[0] == ")":
            group = done.pop()
            done[-1] = done[-1] * group ** int(token[1:] or 1)
        else:
            letter = re.match(r"[A-Za-z]w?", token)[0]
            done[-1] = done[-1] * MOVE[letter] ** POWER[token[len(letter) :]]
    (whole,) = done
    return whole


def permutation(image):
    return Permutation([place - 1 for place in image])


def distances(tables, start):
    """How many arrangements of some pieces are first reached after 0, 1, 2, … moves.

    `tables[move][i]` says where a piece at `i` goes, `start` where the pieces are. The graph is built in full
    and measured by SciPy.
    """
    import numpy
    from scipy.sparse import csr_matrix
    from scipy.sparse.csgraph import dijkstra

    tables = numpy.array(tables)
    base = tables.shape[1]
    weights = base ** numpy.arange(len(start))
    known = numpy.array([numpy.dot(start, weights)])
    while True:
        pieces = known[:, None] // weights % base
        after = tables[:, pieces]  # move, arrangement, piece
        codes = after @ weights
        grown = numpy.union1d(known, codes)
        if len(grown) == len(known):
            break
        known = grown
    heads = numpy.searchsorted(known, codes)
    tails = numpy.broadcast_to(numpy.arange(len(known)), heads.shape)
    ones = numpy.ones(heads.size, dtype=numpy.int8)
    graph = csr_matrix((ones, (tails.ravel(), heads.ravel())), shape=(len(known), len(known)))
    first = numpy.searchsorted(known, numpy.dot(start, weights))
    counts = Counter(dijkstra(graph, unweighted=True, indices=first).astype(int).tolist())
    return [counts[n] for n in range(max(counts) + 1)]


def answer(question):
    match question:
        case {"play": text}:
            return {"image": [place + 1 for place in play(text).array_form]}
        case {"orders": words}:
            return {"orders": [int(play(word).order()) for word in words]}
        case {"size": generators}:
            return {"size": str(PermutationGroup([permutation(g) for g in generators]).order())}
        case {"members": elements, "of": generators}:
            group = PermutationGroup([permutation(g) for g in generators])
            return {"members": [group.contains(permutation(e)) for e in elements]}
        case {"distances": tables, "start": start}:
            return {"counts": distances(tables, start)}
        case _:
            raise SystemExit(f"not a question: {question}")


if __name__ == "__main__":
    check_rotations()
    for line in sys.stdin:
        print(json.dumps(answer(json.loads(line))))
