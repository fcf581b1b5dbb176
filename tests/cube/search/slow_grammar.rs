//! A second reading of the grammar of hand lines, on written turns and by trying everything.
//!
//! Shares nothing with `cornerwise::search::phrases`: every way to order commuting neighbours and to read half
//! turns is written out, and every way to cut what is then written into phrases is tried.

use std::collections::HashSet;

use cornerwise::cube::{Face, FaceTurn, Hold};

/// A turn as a letter and its quarter turns.
pub type Letter = (char, u8);

/// Whether the turns are those of a hand line; no two turns of one face may follow each other.
pub fn is_hand_line(turns: &[FaceTurn], hold: Hold) -> bool {
    let letters: Vec<Letter> = turns.iter().map(|turn| letter(*turn, hold)).collect();
    !letters.is_empty() && readings(&letters).iter().any(|reading| splits(reading))
}

pub fn letter(turn: FaceTurn, hold: Hold) -> Letter {
    let face = match hold.face(turn.centre) {
        Face::U => 'U',
        Face::D => 'D',
        Face::F => 'F',
        Face::B => 'B',
        Face::R => 'R',
        Face::L => 'L',
    };
    (face, turn.amount as u8)
}

fn opposite(face: char) -> char {
    match face {
        'U' => 'D',
        'D' => 'U',
        'F' => 'B',
        'B' => 'F',
        'R' => 'L',
        _ => 'R',
    }
}

/// Every way to write the line: half turns whole or as two equal quarter turns, then neighbours of opposite
/// faces swapped as often as one likes.
fn readings(letters: &[Letter]) -> Vec<Vec<Letter>> {
    let mut split: Vec<Vec<Letter>> = vec![Vec::new()];
    for &(face, quarters) in letters {
        let mut ways = vec![vec![(face, quarters)]];
        if quarters == 2 {
            ways.push(vec![(face, 1), (face, 1)]);
            ways.push(vec![(face, 3), (face, 3)]);
        }
        split = split
            .iter()
            .flat_map(|begun| ways.iter().map(|way| [begun.as_slice(), way].concat()).collect::<Vec<_>>())
            .collect();
    }
    let mut seen: HashSet<Vec<Letter>> = split.iter().cloned().collect();
    let mut all = split;
    let mut i = 0;
    while i < all.len() {
        for k in 1..all[i].len() {
            if all[i][k - 1].0 == opposite(all[i][k].0) {
                let mut swapped = all[i].clone();
                swapped.swap(k - 1, k);
                if seen.insert(swapped.clone()) {
                    all.push(swapped);
                }
            }
        }
        i += 1;
    }
    all
}

fn splits(letters: &[Letter]) -> bool {
    letters.is_empty() || (1..=letters.len()).any(|cut| is_phrase(&letters[..cut]) && splits(&letters[cut..]))
}

fn is_phrase(letters: &[Letter]) -> bool {
    matches!(letters, [('U', _)])
        || is_run(letters)
        || is_exchange(letters)
        || is_shifted(letters)
        || is_nested(letters)
}

fn is_side(face: char) -> bool {
    "FBRL".contains(face)
}

fn is_run(letters: &[Letter]) -> bool {
    let Some(&(side, _)) = letters.first() else { return false };
    let sides_and_layers_alternate =
        letters.iter().enumerate().all(|(i, &(face, _))| face == if i % 2 == 0 { side } else { 'U' });
    let mut sum = 0;
    let sums: Vec<u8> = letters
        .iter()
        .step_by(2)
        .map(|&(_, quarters)| {
            sum += quarters;
            sum % 4
        })
        .collect();
    is_side(side)
        && letters.len() % 2 == 1
        && sides_and_layers_alternate
        && sums.iter().position(|&sum| sum == 0) == Some(sums.len() - 1)
}

fn is_exchange(letters: &[Letter]) -> bool {
    let &[(a, i), (b, j), (c, k), (d, l)] = letters else { return false };
    is_side(a)
        && is_side(b)
        && a != b
        && a != opposite(b)
        && (c, d) == (a, b)
        && [i, j].iter().all(|&quarters| quarters != 2)
        && (k, l) == (4 - i, 4 - j)
}

fn is_shifted(letters: &[Letter]) -> bool {
    let [('D', k), inner @ .., ('D', l)] = letters else { return false };
    k + l == 4 && (is_run(inner) || is_exchange(inner))
}

fn is_nested(letters: &[Letter]) -> bool {
    let &[(outer, k), ref inner @ .., (again, l)] = letters else { return false };
    is_side(outer) && again == outer && k + l == 4 && is_runs(inner, opposite(outer))
}

/// A run of `side`, or several with turns of the layer between them.
fn is_runs(letters: &[Letter], side: char) -> bool {
    let is_own_run = |letters: &[Letter]| is_run(letters) && letters[0].0 == side;
    is_own_run(letters)
        || (1..letters.len()).any(|cut| {
            letters[cut].0 == 'U' && is_own_run(&letters[..cut]) && is_runs(&letters[cut + 1..], side)
        })
}
