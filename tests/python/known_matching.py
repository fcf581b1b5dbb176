"""Hold elimination against NetworkX's bipartite matching.

Reads cases on standard input, one JSON object a line:

    pieces    colours of each piece still to be found, clockwise as seen from outside
    places    for each place, clockwise, the colours it shows; null for a side that is out of sight
    possible  for each piece, the numbers of the places in which it may be, as cornerwise says

A piece may be in a place exactly if the two are joined by an edge of some perfect matching: that is, if the
graph without both still has a perfect matching (maximum matching by Hopcroft and Karp, from NetworkX). A piece
is known if there is one such place. Prints how many cases were compared; exits with 1 at any difference.
"""

import json
import sys

import networkx as nx
from networkx.algorithms import bipartite


def fits(piece, place):
    """Whether the piece could show what the place shows, in some orientation."""
    n = len(piece)
    return any(
        all(place[i] is None or place[i] == piece[(i + shift) % n] for i in range(n))
        for shift in range(n)
    )


def matches(graph, pieces):
    """Whether the graph has a matching that covers all these pieces."""
    matching = bipartite.hopcroft_karp_matching(graph, top_nodes=pieces)
    return all(piece in matching for piece in pieces)


def possible_places(case):
    graph = nx.Graph()
    pieces = [("piece", i) for i in range(len(case["pieces"]))]
    places = [("place", i) for i in range(len(case["places"]))]
    graph.add_nodes_from(pieces)
    graph.add_nodes_from(places)
    for i, piece in enumerate(case["pieces"]):
        for j, place in enumerate(case["places"]):
            if fits(piece, place):
                graph.add_edge(pieces[i], places[j])
    possible = [[] for _ in pieces]
    for piece, place in graph.edges(pieces):
        without = graph.copy()
        without.remove_nodes_from([piece, place])
        if matches(without, [other for other in pieces if other != piece]):
            possible[piece[1]].append(place[1])
    return [sorted(places) for places in possible]


def main():
    compared = pieces = known = differences = 0
    for number, line in enumerate(sys.stdin, 1):
        case = json.loads(line)
        expected = possible_places(case)
        found = [sorted(places) for places in case["possible"]]
        compared += 1
        pieces += len(expected)
        known += sum(len(places) == 1 for places in expected)
        if found != expected:
            differences += 1
            print(f"case {number}: NetworkX {expected}, cornerwise {found}\n  {line.strip()}")
    print(
        f"compared {compared} cases, {pieces} pieces of which {known} known,"
        f" with NetworkX {nx.__version__}: {differences} differences"
    )
    return 1 if differences or compared == 0 else 0


if __name__ == "__main__":
    sys.exit(main())
