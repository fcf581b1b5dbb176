//! Making the index: the lines of every place, as the search finds them.

use super::entry::{Entry, Parts};
use super::*;
use crate::hands::{Handling, Weights, upright};
use crate::search::frame::MODEL;
use crate::search::lines::{Found, Searcher};
use crate::search::phrases::{self, Phrases};
use crate::search::{Kind, LONGEST_NEXT, order_hold};

/// The model with the pair at a place and all else at home.
fn with_pair_at(place: usize) -> Tracked {
    Tracked::solved().with_pair(SLOT, place)
}

/// The sets of other pairs that may have to be kept.
fn kept_sets() -> impl Iterator<Item = PairSet> {
    (0..8).map(|set| PairSet::ALL.filter(|slot| slot != SLOT && set >> (slot.index() - 1) & 1 == 1))
}

/// What the search finds for a place and pairs to be kept: all lines of up to [`LONGEST`] turns, and of one turn more than
/// the shortest.
fn searched(place: usize, kept: PairSet) -> Vec<Found> {
    let searcher = Searcher::of(Kind::Hand);
    let mut found: Vec<Found> = Vec::new();
    for len in 1..=LONGEST_NEXT {
        let shortest = found.first().map(|found| usize::from(found.len));
        if len > LONGEST && shortest.is_some_and(|shortest| len > shortest + 1) {
            break;
        }
        let sets = [kept, PairSet::only(SLOT)];
        searcher.lines_of(with_pair_at(place), SLOT, sets, len, &mut |line| found.push(line));
    }
    found
}

/// All lines that have to be filed under a place, in order.
fn lines_of(place: usize) -> Vec<Found> {
    if place == Tracked::solved().pair(SLOT) {
        return Vec::new();
    }
    let mut found: Vec<Found> = kept_sets().flat_map(|kept| searched(place, kept)).collect();
    found.sort_unstable();
    found.dedup();
    found
}

/// A line with all that is filed of it.
fn entry(turns: &[Turn]) -> Entry {
    let tables = Turns::get();
    let goal = Goal::get();
    let whole_at = |position: Tracked| goal.cross_solved(position.packed());
    let mut moments = vec![Tracked::solved()];
    for &turn in turns {
        moments.push(tables.turned(moments[moments.len() - 1], turn));
    }
    let (mut whole, mut hidden) = (0, false);
    for i in 1..turns.len() {
        // A turn of the layer above solves nothing.
        let above = turns[i - 1].face() == crate::cube::Face::U;
        if whole_at(moments[i]) && !(above && whole_at(moments[i - 1])) {
            whole |= 1 << (i - 1);
        }
        let swapped = tables.turned(moments[i - 1], turns[i]);
        hidden |= turns[i].axis() == turns[i - 1].axis() && whole_at(swapped);
    }
    let faces: Vec<_> = turns.iter().map(|&turn| Frame::of(MODEL).face_turn(turn)).collect();
    let handling = Handling::new(&faces, MODEL, &Weights::default());
    Entry::pack(&Parts {
        turns,
        keeps: goal.solved_pairs(moments[turns.len()].packed()) - PairSet::only(SLOT),
        plain: phrases::reads(Phrases::Plain, &faces, order_hold(MODEL)),
        whole,
        hidden,
        costs: upright(MODEL).map(|hold| handling.cost(hold).halves() as u32),
    })
}

/// The mirror image of every place: home to home, and what a turn does to what the mirrored turn does.
fn mirrored_places() -> Vec<usize> {
    let home = Tracked::solved().pair(SLOT);
    let mut mirror = vec![usize::MAX; TWO];
    mirror[home] = home;
    let mut waiting = vec![home];
    while let Some(place) = waiting.pop() {
        for turn in Turn::ALL {
            let after = |place, turn| Turns::get().pairs(with_pair_at(place), turn).pair(SLOT);
            let (to, image) = (after(place, turn), after(mirror[place], turn.mirrored()));
            if mirror[to] == usize::MAX {
                mirror[to] = image;
                waiting.push(to);
            }
            assert_eq!(mirror[to], image, "the mirror is well defined");
        }
    }
    mirror
}

/// The whole file.
fn made() -> Vec<u8> {
    let mirror = mirrored_places();
    let mut words = vec![0_u32; TWO];
    let mut lines: Vec<u8> = Vec::new();
    for place in 0..TWO {
        if mirror[place] < place {
            words[place] = words[mirror[place]] | 1 << MIRROR_BIT;
            continue;
        }
        let found = lines_of(place);
        assert!(found.len() < 1 << (MIRROR_BIT - COUNT_FROM));
        words[place] = (lines.len() / Entry::BYTES) as u32 | (found.len() as u32) << COUNT_FROM;
        for line in &found {
            lines.extend(entry(&line.turns[..usize::from(line.len)]).bytes());
        }
    }
    assert!(lines.len() / Entry::BYTES < 1 << COUNT_FROM);
    let mut data: Vec<u8> = words.into_iter().flat_map(u32::to_le_bytes).collect();
    data.extend(lines);
    data
}

const PATH: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/src/search/index/hand-lines.bin");

#[test]
fn what_is_kept_is_what_the_search_finds() {
    if std::env::var_os("CORNERWISE_UPDATE_INDEX").is_some() {
        std::fs::write(PATH, made()).expect("the file can be written");
    } else {
        assert!(made() == DATA, "CORNERWISE_UPDATE_INDEX=1 cargo test --lib search::index writes it anew");
    }
}
