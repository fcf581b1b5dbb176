//! Where turns lead, by number, and how many turns are needed at least.

use std::sync::OnceLock;

use super::coordinates::{EIGHTS, FLIPS, FOURS, MIDDLES, Places, TWISTS};
use crate::cube::{Amount, Colour, FaceTurn};

/// For each number, where each turn leads.
type Moves<const TURNS: usize> = Vec<[u16; TURNS]>;

/// How many turns the second phase has.
pub(super) const SECOND: usize = 10;

/// The turns of the second phase, by their place in [`FaceTurn::ALL`].
pub(super) fn second_phase() -> &'static [usize; SECOND] {
    static TURNS: OnceLock<[usize; SECOND]> = OnceLock::new();
    TURNS.get_or_init(|| {
        let fits = |&i: &usize| {
            let turn = FaceTurn::ALL[i];
            matches!(turn.centre, Colour::White | Colour::Yellow) || turn.amount == Amount::Half
        };
        let turns: Vec<usize> = (0..18).filter(fits).collect();
        turns.try_into().expect("six turns and four half turns")
    })
}

/// Least distances are not told beyond these: what is farther is said to be one farther, which is true and saves most
/// of the time it takes to make the tables.
const FAR_FIRST: u8 = 6;
const FAR_SECOND: u8 = 9;

/// All tables.
#[derive(Debug)]
pub(super) struct Tables {
    pub twists: Moves<18>,
    pub flips: Moves<18>,
    pub middles: Moves<18>,
    pub corners: Moves<SECOND>,
    pub others: Moves<SECOND>,
    pub fours: Moves<SECOND>,
    /// Least turns of the first phase, by twists and middles.
    far_twists: Vec<u8>,
    /// By flips and middles.
    far_flips: Vec<u8>,
    /// Least turns of the second phase, by corners and edges of the middle layer.
    far_corners: Vec<u8>,
    /// By the other edges and those of the middle layer.
    far_others: Vec<u8>,
}

impl Tables {
    /// The tables, made at the first call.
    pub fn get() -> &'static Tables {
        static TABLES: OnceLock<Tables> = OnceLock::new();
        TABLES.get_or_init(Tables::new)
    }

    fn new() -> Tables {
        let all: [usize; 18] = std::array::from_fn(|i| i);
        let few = second_phase();
        let ((twists, flips), middles) = (
            (
                moves(TWISTS, &all, Places::set_twists, Places::twists),
                moves(FLIPS, &all, Places::set_flips, Places::flips),
            ),
            moves(MIDDLES, &all, Places::set_middles, Places::middles),
        );
        let fours = moves(FOURS, few, Places::set_middle_edges, Places::middle_edges);
        let start = Places::SOLVED;
        let first = || {
            let from = |number| [number, start.middles()];
            rayon::join(
                || distances(&twists, &middles, from(start.twists()), FAR_FIRST),
                || distances(&flips, &middles, from(start.flips()), FAR_FIRST),
            )
        };
        let second = || {
            rayon::join(
                || {
                    let corners = moves(EIGHTS, few, Places::set_corners, Places::corners);
                    let far =
                        distances(&corners, &fours, [start.corners(), start.middle_edges()], FAR_SECOND);
                    (corners, far)
                },
                || {
                    let others = moves(EIGHTS, few, Places::set_other_edges, Places::other_edges);
                    let far =
                        distances(&others, &fours, [start.other_edges(), start.middle_edges()], FAR_SECOND);
                    (others, far)
                },
            )
        };
        let ((far_twists, far_flips), ((corners, far_corners), (others, far_others))) =
            rayon::join(first, second);
        Tables {
            twists,
            flips,
            middles,
            corners,
            others,
            fours,
            far_twists,
            far_flips,
            far_corners,
            far_others,
        }
    }

    /// No more than the first phase needs.
    #[inline]
    pub fn first_at_least(&self, twists: u16, flips: u16, middles: u16) -> u8 {
        let by = |table: &[u8], number: u16| table[usize::from(number) * MIDDLES + usize::from(middles)];
        by(&self.far_twists, twists).max(by(&self.far_flips, flips))
    }

    /// No more than the second phase needs.
    #[inline]
    pub fn second_at_least(&self, corners: u16, others: u16, fours: u16) -> u8 {
        let by = |table: &[u8], number: u16| table[usize::from(number) * FOURS + usize::from(fours)];
        by(&self.far_corners, corners).max(by(&self.far_others, others))
    }
}

/// Where each of the turns leads from each number.
fn moves<const TURNS: usize>(
    count: usize,
    turns: &[usize; TURNS],
    set: impl Fn(&mut Places, usize),
    get: impl Fn(&Places) -> usize,
) -> Moves<TURNS> {
    let mut places = Places::SOLVED;
    (0..count)
        .map(|number| {
            set(&mut places, number);
            turns.map(|turn| get(&places.turned(turn)) as u16)
        })
        .collect()
}

/// Least distances from a start over pairs of numbers, told up to `far`; what is farther is said to be one farther.
fn distances<const TURNS: usize>(
    rows: &Moves<TURNS>,
    columns: &Moves<TURNS>,
    start: [usize; 2],
    far: u8,
) -> Vec<u8> {
    let width = columns.len();
    let mut table = vec![far + 1; rows.len() * width];
    let first = start[0] * width + start[1];
    table[first] = 0;
    let mut reached = vec![first as u32];
    for distance in 1..=far {
        let mut next = Vec::new();
        for &from in &reached {
            let (row, column) = (from as usize / width, from as usize % width);
            for (&row, &column) in rows[row].iter().zip(&columns[column]) {
                let to = usize::from(row) * width + usize::from(column);
                if table[to] > distance {
                    table[to] = distance;
                    next.push(to as u32);
                }
            }
        }
        reached = next;
    }
    table
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The tables never say more than is true: along turns they change by one at most.
    #[test]
    fn one_turn_changes_a_distance_by_one_at_most() {
        let tables = Tables::get();
        for number in (0..TWISTS).step_by(7) {
            for middle in (0..MIDDLES).step_by(5) {
                let here = tables.far_twists[number * MIDDLES + middle];
                for turn in 0..18 {
                    let to = usize::from(tables.twists[number][turn]) * MIDDLES
                        + usize::from(tables.middles[middle][turn]);
                    assert!(here.abs_diff(tables.far_twists[to]) <= 1);
                }
            }
        }
        let start = Places::SOLVED;
        let solved = [start.twists(), start.flips(), start.middles()].map(|number| number as u16);
        assert_eq!(tables.first_at_least(solved[0], solved[1], solved[2]), 0);
        let zero = tables.far_corners.iter().filter(|&&distance| distance == 0).count();
        assert_eq!(zero, 1);
    }
}
