//! How far the cross is from solved.

use std::sync::OnceLock;

use super::tracked::{TWO, Tracked, Turns};
use super::turn::Turn;

/// The distance of each of the 190,080 states of the cross.
#[derive(Debug)]
pub(super) struct Distances {
    /// By [`Tracked::cross`]; [`Distances::NEVER`] for numbers that put two edges in one place.
    of: Vec<u8>,
}

impl Distances {
    const NEVER: u8 = u8::MAX;

    /// The table in face turns, made at the first call by breadth-first search.
    pub fn get() -> &'static Distances {
        static FACE_TURNS: OnceLock<Distances> = OnceLock::new();
        FACE_TURNS.get_or_init(|| Distances::new(|_| true))
    }

    fn new(allowed: impl Fn(Turn) -> bool) -> Distances {
        let turns = Turns::get();
        let mut of = vec![Distances::NEVER; TWO * TWO];
        let start = Tracked::solved();
        of[start.cross()] = 0;
        let allowed: Vec<Turn> = Turn::ALL.into_iter().filter(|&turn| allowed(turn)).collect();
        let mut ring = vec![start];
        for distance in 1.. {
            let mut next = Vec::new();
            for &from in &ring {
                for &turn in &allowed {
                    let to = turns.cross(from, turn);
                    if of[to.cross()] == Distances::NEVER {
                        of[to.cross()] = distance;
                        next.push(to);
                    }
                }
            }
            if next.is_empty() {
                break;
            }
            ring = next;
        }
        Distances { of }
    }

    /// The distance of a [`Tracked::cross`].
    #[inline]
    pub fn of(&self, cross: usize) -> u8 {
        self.of[cross]
    }

    /// How many states there are at each distance.
    #[cfg(test)]
    fn row(&self) -> Vec<usize> {
        let mut row = Vec::new();
        for &distance in self.of.iter().filter(|&&distance| distance != Distances::NEVER) {
            let distance = usize::from(distance);
            row.resize(row.len().max(distance + 1), 0);
            row[distance] += 1;
        }
        row
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Lars Vandenbergh, "Cross study" (web article), "Fixed color cross solving": the table.
    #[test]
    fn published_distances_of_the_cross() {
        assert_eq!(Distances::get().row(), [1, 15, 158, 1394, 9809, 46381, 97254, 34966, 102]);
        let quarter_turns = Distances::new(|turn| turn.quarters() != 2);
        assert_eq!(quarter_turns.row(), [1, 10, 73, 500, 3078, 15528, 57180, 91654, 21849, 207]);
    }
}
