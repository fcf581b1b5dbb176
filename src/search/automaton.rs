//! Which turn may come next: a deterministic automaton for hand lines, and one for all lines.

use std::collections::HashMap;

use super::phrases::{Phrases, Readings};
use super::turn::Turn;

/// A deterministic automaton over turns. Every sequence of turns leads to at most one node, so an
/// enumeration meets every line once.
#[derive(Debug)]
pub(super) struct Automaton {
    /// For each node and turn, the node after it, or [`Automaton::DEAD`].
    pub next: Vec<[u16; Turn::COUNT]>,
    /// For each node, whether a line may end there.
    pub complete: Vec<bool>,
}

impl Automaton {
    /// The node before the first turn.
    pub const START: u16 = 0;
    /// No node: no line goes on so.
    pub const DEAD: u16 = u16::MAX;

    /// All lines: only the order of turns is regulated.
    pub fn every_line() -> Automaton {
        // Node 0 before the first turn, node 1 + f after a turn of face f.
        let mut next = vec![[Automaton::DEAD; Turn::COUNT]; 7];
        for turn in Turn::ALL {
            let to = 1 + turn.face() as u16;
            next[0][turn.index()] = to;
            for last in Turn::ALL {
                if last.may_precede(turn) {
                    next[1 + last.face() as usize][turn.index()] = to;
                }
            }
        }
        Automaton { complete: vec![true; next.len()], next }
    }

    /// Hand lines: the grammar of [`phrases`](super::phrases), or a part of it, made deterministic by following all
    /// its readings at once.
    pub fn hand_lines(known: Phrases) -> Automaton {
        // What a node is: the readings, the axis of the last turn, and, if that turned the first face of its
        // axis, the readings after each turn of the second.
        type Key = (Readings, Option<u8>, [Readings; 3]);
        let mut ids: HashMap<Key, u16> = HashMap::new();
        let mut nodes: Vec<Key> = vec![(Readings::start(known), None, Default::default())];
        ids.insert(nodes[0].clone(), 0);
        let mut next = Vec::new();
        let mut i = 0;
        while i < nodes.len() {
            let (readings, axis, second) = nodes[i].clone();
            let mut row = [Automaton::DEAD; Turn::COUNT];
            for turn in Turn::ALL {
                let key = if axis == Some(turn.axis()) {
                    if !turn.is_second() {
                        continue;
                    }
                    (second[turn.index() % 3].clone(), axis, Default::default())
                } else {
                    let after = if turn.is_second() {
                        Default::default()
                    } else {
                        [0, 1, 2].map(|k| {
                            let other = Turn::ALL[(turn.index() / 3 + 1) * 3 + k];
                            readings.block(&[turn, other])
                        })
                    };
                    (readings.block(&[turn]), Some(turn.axis()), after)
                };
                if key.0.is_empty() && key.2.iter().all(Readings::is_empty) {
                    continue;
                }
                row[turn.index()] = *ids.entry(key).or_insert_with_key(|key| {
                    nodes.push(key.clone());
                    u16::try_from(nodes.len() - 1).expect("the grammar is small")
                });
            }
            next.push(row);
            i += 1;
        }
        let complete = nodes.iter().map(|(readings, ..)| readings.complete()).collect();
        Automaton { next, complete }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// How many sequences of each length from 1 up to `longest` end where a line may end.
    fn accepted(automaton: &Automaton, longest: usize) -> Vec<u64> {
        let mut at = vec![0; automaton.next.len()];
        at[usize::from(Automaton::START)] = 1;
        (0..longest)
            .map(|_| {
                let mut next = vec![0; at.len()];
                for (row, count) in automaton.next.iter().zip(&at) {
                    for &to in row.iter().filter(|&&to| to != Automaton::DEAD) {
                        next[usize::from(to)] += count;
                    }
                }
                at = next;
                at.iter().zip(&automaton.complete).filter(|(_, complete)| **complete).map(|(n, _)| n).sum()
            })
            .collect()
    }

    #[test]
    fn every_line_is_every_sequence_in_order() {
        // A sequence goes on in 12 ways with another axis, or two of the 18 turns of one axis before were
        // of both its faces: n(k) = 12 n(k-1) + 18 n(k-2). 18 and 243 are also the positions one and two turns
        // from solved (OEIS A080601).
        assert_eq!(accepted(&Automaton::every_line(), 4), [18, 243, 3240, 43254]);
    }

    /// The same numbers are counted with a second reading of the grammar in `tests/cube/search`.
    #[test]
    fn sequences_that_split_into_phrases() {
        assert_eq!(accepted(&Automaton::hand_lines(Phrases::All), 5), [3, 0, 36, 248, 894]);
    }
}
