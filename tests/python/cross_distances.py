"""Hold distances of the cross against SciPy.

Reads on standard input, one a line and separated by a tab: the face of the cross (a letter of UDFBRL), a sequence
of face turns played on a solved cube, and the least number of face turns that solve the cross, as cornerwise
says. Builds the graph of the 190,080 states of four cross edges from geometry alone, asks
scipy.sparse.csgraph for all distances, and compares. Also compares how many states lie at each distance with the
published table (Lars Vandenbergh, "Cross study", "Fixed color cross solving"). Exits with 1 at any difference.
"""

import itertools
import sys

import numpy as np
import scipy
from scipy.sparse import csr_matrix
from scipy.sparse.csgraph import dijkstra

NORMALS = {
    "U": (0, 1, 0), "D": (0, -1, 0), "F": (0, 0, 1), "B": (0, 0, -1), "R": (1, 0, 0), "L": (-1, 0, 0),
}
PUBLISHED = [1, 15, 158, 1394, 9809, 46381, 97254, 34966, 102]


def clockwise(axis, vector):
    """The vector after a quarter turn, clockwise for one who looks at the face from outside."""
    axis, vector = np.array(axis), np.array(vector)
    along = axis * axis.dot(vector)
    return tuple(int(x) for x in along - np.cross(axis, vector))


# An edge is told by the normals of its two stickers, that of the cross colour first: 24 ways.
WAYS = [(a, b) for a in NORMALS.values() for b in NORMALS.values() if np.dot(a, b) == 0]
NUMBER = {way: i for i, way in enumerate(WAYS)}


def turned(face, way):
    normal = NORMALS[face]
    return tuple(clockwise(normal, sticker) for sticker in way) if normal in way else way


QUARTER = {face: np.array([NUMBER[turned(face, way)] for way in WAYS]) for face in NORMALS}


def turn_table(word):
    table = np.arange(24)
    for _ in range({"": 1, "2": 2, "'": 3}[word[1:]]):
        table = QUARTER[word[0]][table]
    return table


TURNS = {face + suffix: turn_table(face + suffix) for face in NORMALS for suffix in ("", "2", "'")}


def home(face):
    sides = [side for side in NORMALS if np.dot(NORMALS[side], NORMALS[face]) == 0]
    return np.array([NUMBER[NORMALS[face], NORMALS[side]] for side in sides])


def key(edges):
    return ((edges[..., 0] * 24 + edges[..., 1]) * 24 + edges[..., 2]) * 24 + edges[..., 3]


def main():
    place = [frozenset(way) for way in WAYS]
    states = np.array(
        [four for four in itertools.product(range(24), repeat=4) if len({place[i] for i in four}) == 4]
    )
    node = np.full(24**4, -1)
    node[key(states)] = np.arange(len(states))
    rows = np.tile(np.arange(len(states)), len(TURNS))
    columns = np.concatenate([node[key(table[states])] for table in TURNS.values()])
    graph = csr_matrix((np.ones(len(rows), dtype=np.int8), (rows, columns)), shape=(len(states),) * 2)
    differences = compared = 0
    distances = {}
    for line in sys.stdin:
        face, sequence, said = line.rstrip("\n").split("\t")
        if face not in distances:
            start = int(node[key(home(face))])
            distances[face] = dijkstra(graph, unweighted=True, indices=start).astype(int)
            row = np.bincount(distances[face]).tolist()
            if row != PUBLISHED:
                differences += 1
                print(f"states at each distance: {row}, published {PUBLISHED}")
        edges = home(face)
        for word in sequence.split():
            edges = TURNS[word][edges]
        distance = int(distances[face][node[key(edges)]])
        compared += 1
        if distance != int(said):
            differences += 1
            print(f"{face} {sequence}: SciPy {distance}, cornerwise {said}")
    print(
        f"compared {compared} distances of {len(distances)} crosses, {len(states)} states,"
        f" with SciPy {scipy.__version__}: {differences} differences"
    )
    return 1 if differences or compared == 0 else 0


if __name__ == "__main__":
    sys.exit(main())
