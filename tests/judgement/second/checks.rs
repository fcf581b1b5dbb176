//! The second implementation held against published counts and against itself.

use cornerwise::cube::{Colour, Face};

use super::cost::merged;
use super::grammar::Grammar;
use super::lines;
use super::offers::{Played, Settings};
use super::sight::Step;
use super::stickers::{Cube, Pair, corner, edge};
use crate::support::read::moves;

#[test]
fn as_many_hand_lines_as_counted_elsewhere() {
    let slow = crate::support::switch::slow();
    let lines = Grammar::new(if slow { 11 } else { 8 }).lines();
    let to = |most: usize| lines.iter().filter(|line| line.letters.len() <= most).count();
    assert_eq!(to(8), 24_776);
    if slow {
        assert_eq!((to(9), to(10), to(11)), (103_416, 437_612, 1_753_762));
    }
}

/// The solve of `reconstructions/no-corner-up.yaml`, step by step: what a prototype had worked out for it before either
/// of the two implementations was written.
#[test]
fn a_worked_example() {
    let scramble = moves("L2 U L' U' R2 U' D F D F' L U D' B U2 R2 D L B D' x2");
    let steps = [
        "R2 D F L D' F",
        "y L' U2 L R' U2 R",
        "U R U' R' y' R' U' R",
        "F U2 F' D R U' R' D'",
        "F R' F' R2 U R'",
    ];
    let steps = steps.map(moves);
    let (blue, green, orange, red) = (Colour::Blue, Colour::Green, Colour::Orange, Colour::Red);
    let pairs = [[green, orange], [green, red], [blue, orange], [blue, red]].map(sorted);
    let sight = [Face::U, Face::F, Face::R];
    let left = |k: usize, pair: usize| {
        let start = steps[..k].iter().fold(Cube::solved().after(&scramble), |cube, moves| cube.after(moves));
        let moments = start.moments(&steps[k]);
        let step = Step {
            moments: &moments,
            moves: &steps[k],
            cross: Colour::White,
            solved: &start.pairs_in(Colour::White),
            in_hand: if k == 0 { &[] } else { &pairs[k - 1..k] },
            sight: &sight,
        };
        let found =
            step.found(3).into_iter().find(|(other, ..)| *other == pairs[pair]).expect("an open pair");
        let (_, all, plain) = found;
        let way = |piece| [moments[0].place(piece), moments[moments.len() - 1].place(piece)].join(" ");
        let [from, to] = [corner(Colour::White, pairs[pair]), edge(pairs[pair])].map(way);
        let tier = step.tier(pairs[pair], k == 0);
        (tier, format!("{from}, {to}"), all.lead, all.ready, plain.ready, step.is_buried(pairs[pair]))
    };
    let line =
        |tier, way: &str, lead, ready, plain, buried| (tier, way.to_owned(), lead, ready, plain, buried);
    assert_eq!(left(0, 0), line("lifted", "DFR UBR, UL UF", Some(0), false, false, false));
    assert_eq!(left(0, 2), line("top", "UBL UFR, FL FR", Some(3), true, false, false));
    assert_eq!(left(0, 3), line("top", "UFR UBL, UB UB", None, false, false, false));
    assert_eq!(left(0, 1), line("slot", "DFL DBR, DB BL", None, false, false, false));
    assert_eq!(left(1, 1), line("slot", "DBR DFR, BL UL", Some(4), true, false, false));
    assert_eq!(left(1, 2), line("top", "UFR UFR, FR UR", Some(6), true, true, false));
    assert_eq!(left(1, 3), line("top", "UBL DFL, UB FL", Some(6), true, true, true));
    assert_eq!(left(2, 2), line("top", "UFR UBL, UR UB", Some(7), true, true, false));
    assert_eq!(left(2, 3), line("slot", "DFL DFR, FL FR", Some(6), true, true, false));
    assert_eq!(left(3, 3), line("slot", "DFR DFR, FR UB", Some(8), true, true, false));

    let mut book = lines::shared();
    let mut judged = |k: usize| {
        let start = steps[..k].iter().fold(Cube::solved().after(&scramble), |cube, moves| cube.after(moves));
        let later: Vec<_> = (k + 1..5).map(|i| (vec![pairs[i - 1]], steps[i].clone())).collect();
        let played = Played {
            start,
            moves: &steps[k],
            cross: Colour::White,
            in_hand: &pairs[k - 1..k],
            later: &later,
            sight: &sight,
            found_before: &pairs,
        };
        let judged = book.judge(&played, &Settings { within: 9, lead: 3, slack: 2 });
        let cleaner = judged.cleaner.first().map(|offer| {
            assert_eq!(offer.turns, merged(&start, &moves("y L' U' L U L' U L2 U L'")));
            (offer.solves[0], offer.next.iter().copied().collect::<Vec<_>>())
        });
        (judged.verdict, judged.within, judged.cost, judged.own_line, cleaner)
    };
    let first = judged(1);
    assert_eq!((first.0, first.4), (Some("kept"), None));
    // Blue-orange first is 3 units cheaper for two pairs, but then 2.5 dearer for the three that are left.
    let second = judged(2);
    assert_eq!((second.0, second.1, second.4), (Some("kept"), 8, None));
    assert_eq!(judged(3), (Some("kept"), 9, 25, Some(21), Some((pairs[2], vec![pairs[3]]))));
}

fn sorted(mut pair: Pair) -> Pair {
    pair.sort();
    pair
}
