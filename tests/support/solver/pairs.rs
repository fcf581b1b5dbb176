//! Pairs, solved the way hands do it: layer turns and short phrases that each bring the cross back.
//!
//! A phrase (`R U R'`, `R' F R F'`, `D' R U R' D`, `R U R U2 R2`, `R L' U L R'`, a `y` before going on) leaves
//! the cross and every slot it does not touch. So only the pair in hand matters: 24 x 24 ways it can lie,
//! times 4 holds. For each pair and each set of open slots a table holds the exact handling cost that
//! remains, and lines within a little of the best are listed with it.

use cornerwise::cube::{
    Amount, Axis, Colour, Corner, CornerAt, Edge, EdgeAt, Face, Hold, Move, Moves, Pair, Position, State,
};

use super::turn_cost;

const CROSS: Colour = Colour::Yellow;
const FAR: u16 = u16::MAX;
const STATES: usize = 4 * CornerAt::COUNT * EdgeAt::COUNT;

/// A few moves that come out with the cross whole, in one of the four holds.
struct Phrase {
    moves: Vec<Move>,
    cost: u16,
    /// The slots it empties or fills, one bit each in the order of [`Pair::all`].
    touches: u8,
    corner: [u8; 24],
    edge: [u8; 24],
    hold: usize,
}

/// A phrase backwards: the hold it was played from, its cost, where corner and edge came from.
type Undone = (usize, u16, [u8; 24], [u8; 24]);

/// The phrases of the four holds, and the tables made of them so far.
pub struct PairTables {
    holds: [Hold; 4],
    phrases: [Vec<Phrase>; 4],
    /// By pair, then by set of open slots.
    tables: Vec<Option<Vec<u16>>>,
}

/// A line for one pair.
pub struct PairLine {
    pub moves: Vec<Move>,
    /// In tenths of a turn.
    pub cost: u16,
}

/// Where each way an edge can lie goes when `state`'s turns are played from it.
pub fn edge_map(state: &State) -> [u8; 24] {
    std::array::from_fn(|i| {
        let at = EdgeAt::from_index(i);
        let home = state.edge(Edge::ALL[at.place().index()]);
        EdgeAt::new(home.place(), (home.twist() + at.twist()) % 2).index() as u8
    })
}

fn corner_map(state: &State) -> [u8; 24] {
    std::array::from_fn(|i| {
        let at = CornerAt::from_index(i);
        let home = state.corner(Corner::ALL[at.place().index()]);
        CornerAt::new(home.place(), (home.twist() + at.twist()) % 3).index() as u8
    })
}

impl PairTables {
    /// Lists the phrases; the tables are made when first asked for.
    pub fn new() -> PairTables {
        let mut holds = [Hold::START; 4];
        for i in 1..4 {
            holds[i] = holds[i - 1].rotated(Axis::Y, Amount::Quarter);
        }
        let phrases = std::array::from_fn(|hold| {
            candidates().into_iter().filter_map(|(moves, extra)| phrase(&holds, hold, moves, extra)).collect()
        });
        PairTables { holds, phrases, tables: vec![None; 4 * 16] }
    }

    /// What is left to do for the pair, in tenths of a turn.
    pub fn cost(&mut self, at: &Position, pair: usize, open: u8) -> u16 {
        let start = self.start(at, pair);
        self.table(pair, open)[start]
    }

    /// Lines for the pair of at most `slack` tenths above the best; at most `most`, cheapest first.
    pub fn lines(&mut self, at: &Position, pair: usize, open: u8, slack: u16, most: usize) -> Vec<PairLine> {
        let start = self.start(at, pair);
        let best = self.table(pair, open)[start];
        let mut lines = Vec::new();
        let table = self.tables[pair * 16 + usize::from(open)].as_deref().expect("made just now");
        // Widen step by step, so that the cheapest are found before the limit is met.
        let mut within = 0;
        loop {
            lines.clear();
            self.extend(table, open, start, best + within, 0, &mut Vec::new(), &mut lines, 20 * most);
            if within >= slack || lines.len() >= most {
                break;
            }
            within = (within + 5).min(slack);
        }
        lines.sort_by_cached_key(|line: &PairLine| (line.cost, Moves::of(&line.moves).to_string()));
        lines.dedup_by(|a, b| a.moves == b.moves);
        lines.truncate(most);
        lines
    }

    fn start(&self, at: &Position, pair: usize) -> usize {
        let pair = Pair::all(CROSS)[pair];
        let hold = self.holds.iter().position(|&hold| hold == at.hold).expect("the cross is down");
        (hold * 24 + at.state.corner(pair.corner).index()) * 24 + at.state.edge(pair.edge).index()
    }

    #[expect(clippy::too_many_arguments, reason = "a recursion that carries its bounds")]
    fn extend(
        &self,
        table: &[u16],
        open: u8,
        at: usize,
        left: u16,
        spent: u16,
        line: &mut Vec<(usize, usize)>,
        lines: &mut Vec<PairLine>,
        most: usize,
    ) {
        if table[at] == 0 {
            let phrases = line.iter().map(|&(hold, i)| self.phrases[hold][i].moves.as_slice());
            if let Some(moves) = joined(phrases) {
                lines.push(PairLine { moves, cost: spent });
            }
            return;
        }
        let (hold, corner, edge) = (at / 576, at / 24 % 24, at % 24);
        for (i, phrase) in self.phrases[hold].iter().enumerate() {
            if lines.len() >= most {
                return;
            }
            if phrase.touches & !open != 0 || phrase.cost > left {
                continue;
            }
            if let Some(&(hold, last)) = line.last() {
                // One turn of the layer at a time; the cube is turned before the layer, not after.
                let light = self.phrases[hold][last].touches == 0;
                if light
                    && phrase.touches == 0
                    && (phrase.moves[0].is_rotation() || !self.phrases[hold][last].moves[0].is_rotation())
                {
                    continue;
                }
            }
            let to =
                (phrase.hold * 24 + usize::from(phrase.corner[corner])) * 24 + usize::from(phrase.edge[edge]);
            if table[to] <= left - phrase.cost {
                line.push((hold, i));
                self.extend(table, open, to, left - phrase.cost, spent + phrase.cost, line, lines, most);
                line.pop();
            }
        }
    }

    fn table(&mut self, pair: usize, open: u8) -> &[u16] {
        let slot = pair * 16 + usize::from(open);
        if self.tables[slot].is_none() {
            self.tables[slot] = Some(self.made(Pair::all(CROSS)[pair], open));
        }
        self.tables[slot].as_deref().expect("made just now")
    }

    /// Cheapest first from the solved pair backwards, with a bucket for every cost.
    fn made(&self, pair: Pair, open: u8) -> Vec<u16> {
        let mut table = vec![FAR; STATES];
        let goal = CornerAt::home(pair.corner).index() * 24 + EdgeAt::home(pair.edge).index();
        let mut buckets: Vec<Vec<usize>> = vec![(0..4).map(|hold| hold * 576 + goal).collect()];
        for &at in &buckets[0] {
            table[at] = 0;
        }
        let mut back: [Vec<Undone>; 4] = Default::default();
        for (from, phrases) in self.phrases.iter().enumerate() {
            for phrase in phrases.iter().filter(|phrase| phrase.touches & !open == 0) {
                back[phrase.hold].push((from, phrase.cost, inverse(&phrase.corner), inverse(&phrase.edge)));
            }
        }
        let mut cost = 0;
        while cost < buckets.len() {
            for at in std::mem::take(&mut buckets[cost]) {
                if usize::from(table[at]) != cost {
                    continue;
                }
                let (hold, corner, edge) = (at / 576, at / 24 % 24, at % 24);
                for (from, by, corners, edges) in &back[hold] {
                    let to = (from * 24 + usize::from(corners[corner])) * 24 + usize::from(edges[edge]);
                    let sum = cost as u16 + by;
                    if sum < table[to] {
                        table[to] = sum;
                        let bucket = usize::from(sum);
                        if buckets.len() <= bucket {
                            buckets.resize(bucket + 1, Vec::new());
                        }
                        buckets[bucket].push(to);
                    }
                }
            }
            cost += 1;
        }
        table
    }
}

fn inverse(map: &[u8; 24]) -> [u8; 24] {
    let mut back = [0; 24];
    for (from, &to) in map.iter().enumerate() {
        back[usize::from(to)] = from as u8;
    }
    back
}

/// The phrases one after another, with turns of one face merged; `None` if two cancel.
fn joined<'a>(phrases: impl Iterator<Item = &'a [Move]>) -> Option<Vec<Move>> {
    let mut moves: Vec<Move> = Vec::new();
    for &mv in phrases.flatten() {
        match (moves.last(), mv) {
            (Some(&Move::Turn(last, before)), Move::Turn(face, amount)) if last == face => {
                moves.pop();
                moves.push(Move::Turn(face, Amount::from_quarters(before as u32 + amount as u32)?));
            }
            _ => moves.push(mv),
        }
    }
    Some(moves)
}

fn phrase(holds: &[Hold; 4], hold: usize, moves: Vec<Move>, extra: u16) -> Option<Phrase> {
    let start = Position { state: State::SOLVED, hold: holds[hold] };
    let end = start.after(moves.iter().copied());
    if !end.state.cross_solved(CROSS) {
        return None;
    }
    let mut touches = 0;
    for (i, pair) in Pair::all(CROSS).into_iter().enumerate() {
        touches |= u8::from(!end.state.pair_solved(pair)) << i;
    }
    let cost = moves.iter().map(|&mv| turn_cost(mv) as u16).sum::<u16>() + extra;
    let hold = holds.iter().position(|&hold| hold == end.hold)?;
    Some(Phrase { moves, cost, touches, corner: corner_map(&end.state), edge: edge_map(&end.state), hold })
}

/// Everything a hand might do between two looks, with what it costs beyond its turns, in tenths of a turn.
/// Those that break the cross are dropped later.
fn candidates() -> Vec<(Vec<Move>, u16)> {
    use Amount::{Back, Half, Quarter};
    let turn = Move::Turn;
    let mut all = Vec::new();
    for amount in Amount::ALL {
        all.push((vec![turn(Face::U, amount)], 0));
        all.push((vec![Move::Rotation(Axis::Y, amount)], 2));
    }
    let mut triggers = Vec::new();
    for face in [Face::R, Face::L, Face::F, Face::B] {
        for out in Amount::ALL {
            for layer in Amount::ALL {
                triggers.push((vec![turn(face, out), turn(Face::U, layer), turn(face, out.inverse())], face));
            }
        }
    }
    for (trigger, face) in &triggers {
        let awkward = matches!(face, Face::F | Face::B);
        all.push((trigger.clone(), if awkward { 3 } else { 0 }));
        if !awkward {
            for shift in Amount::ALL {
                let mut moves = vec![turn(Face::D, shift)];
                moves.extend(trigger);
                moves.push(turn(Face::D, shift.inverse()));
                all.push((moves, 4));
            }
        }
    }
    for (a, b) in [(Face::R, Face::F), (Face::F, Face::L), (Face::L, Face::F), (Face::F, Face::R)] {
        for first in [Quarter, Back] {
            for second in [Quarter, Back] {
                let moves = [turn(a, first), turn(b, second)];
                all.push((vec![moves[0], moves[1], moves[0].inverse(), moves[1].inverse()], 0));
            }
        }
    }
    for face in [Face::R, Face::L] {
        for (a, b) in
            [(Quarter, Half), (Back, Half), (Quarter, Quarter), (Back, Back), (Half, Quarter), (Half, Back)]
        {
            let Some(c) = Amount::from_quarters(8 - a as u32 - b as u32) else { continue };
            for k in Amount::ALL {
                for m in Amount::ALL {
                    let u = |amount| turn(Face::U, amount);
                    all.push((vec![turn(face, a), u(k), turn(face, b), u(m), turn(face, c)], 6));
                }
            }
        }
        for out in [Quarter, Back] {
            for inner in [Quarter, Back] {
                for layer in Amount::ALL {
                    let outer = turn(face, out);
                    let other = turn(face.opposite(), inner);
                    all.push((vec![outer, other, turn(Face::U, layer), other.inverse(), outer.inverse()], 6));
                }
            }
        }
    }
    all
}
