//! Every edit that could undo one slip of the pen, and how often people slip so.
//!
//! The weights are common practice, no source: what a reader of many hand-written records comes to expect.
//! `docs/mend.md` prints them and says how they are used. They only order what fits; nothing is left out for
//! being rare.

use std::ops::Range;

use crate::cube::{Amount, Axis, Face, Move};
use crate::notation::Element;

use super::groups::{self, Run, Written};
use super::held;

/// How the writer slipped, named by what they did.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Slip {
    /// `R` for `R'`.
    PrimeLost,
    /// `R'` for `R`.
    PrimeGained,
    /// A half turn for a quarter turn, or the other way round.
    HalfForQuarter,
    /// `R` for `L`, `U` for `D`, `F` for `B`; or `R` for `L'`, which looks the same in a mirror.
    Mirrored,
    /// `R` for `Rw`, or the other way round.
    WideForOuter,
    /// Another letter, the suffix right.
    OtherLetter,
    /// Another letter and another suffix.
    OtherToken,
    /// A token left out.
    Dropped,
    /// A rotation left out.
    RotationForgotten,
    /// The last turn of the last layer left out.
    AdjustmentMissing,
    /// A token written twice.
    Doubled,
    /// A token that was never played.
    Added,
    /// Two neighbours in the wrong order.
    Swapped,
    /// A token that could not be read.
    Unreadable,
    /// A `?`.
    Unknown,
    /// A `...`.
    Gap,
    /// A group with the wrong count.
    Count,
}

/// One edit: the tokens of `range` (scramble and solution counted through) replaced by `moves`.
#[derive(Debug, Clone, PartialEq)]
pub struct Edit {
    /// The tokens replaced; empty for an insertion.
    pub range: Range<usize>,
    /// What to write there, as places in [`Move::ALL`]; at most two.
    pub moves: Vec<u8>,
    /// How the writer would have slipped.
    pub slip: Slip,
    /// How unlikely the slip is, as a natural logarithm: one more is about a third as likely.
    pub cost: f64,
    /// Whether it is of the likeliest kinds, of which three are tried together.
    pub likely: bool,
    /// Whether it is in the scramble.
    pub in_scramble: bool,
    /// Where the tokens were made by a group's count: what is rewritten in the text.
    pub written: Option<Written>,
}

/// Of a thousand slips, how many are of a kind. Common practice, no source.
const fn share(slip: Slip) -> f64 {
    match slip {
        Slip::PrimeLost => 170.0,
        Slip::PrimeGained => 110.0,
        Slip::HalfForQuarter => 140.0,
        Slip::Mirrored => 90.0,
        Slip::WideForOuter => 80.0,
        Slip::OtherLetter => 30.0,
        Slip::OtherToken => 10.0,
        Slip::Dropped => 120.0,
        Slip::RotationForgotten => 90.0,
        Slip::Doubled => 60.0,
        Slip::Added => 10.0,
        Slip::Swapped => 60.0,
        // These are not slips among others: see `cost`.
        Slip::AdjustmentMissing | Slip::Unreadable | Slip::Unknown | Slip::Gap => 1000.0,
        Slip::Count => 60.0,
    }
}

/// Edits are listed up to about so many: a record of six hundred tokens.
const MOST_EDITS: usize = 65_535;
/// Groups that come to more tokens than this are left alone.
const MOST_IN_RUN: usize = 600;

/// One token in so many is wrong.
const ONE_IN: f64 = 200.0;
/// One record in so many lacks its last adjustment.
const NO_ADJUSTMENT_IN: f64 = 20.0;
/// Scrambles are mostly copied by machine: slips are so many times rarer.
const SCRAMBLE_RARER: f64 = 3.0;
/// A scramble of outer turns has a rotation, wide turn or slice in it so many times more rarely.
const STRANGE_IN_SCRAMBLE: f64 = 50.0;

impl Edit {
    /// Whether the edit removes something that stands for no move: an unreadable token or a `?`.
    #[must_use]
    pub fn fills(&self) -> bool {
        matches!(self.slip, Slip::Unreadable | Slip::Unknown)
    }
}

/// What the search needs to know of a record: its tokens, scramble first.
#[derive(Debug, Clone, PartialEq)]
pub struct Tokens {
    /// Everything that takes a moment.
    pub elements: Vec<Element>,
    /// How many of them are the scramble's.
    pub n_scramble: usize,
    /// How the unreadable tokens are spelled, by place in `elements`.
    pub spellings: Vec<(usize, String)>,
    /// The groups with a count: their tokens are written once and played several times.
    pub runs: Vec<Run>,
    /// Tokens that stand for something else than their text says: those of a group that is played backwards.
    pub fixed: Vec<bool>,
}

impl Tokens {
    fn number(&self, at: usize) -> Option<u8> {
        match self.elements.get(at)? {
            Element::Move(mv) => Some(held::number(*mv)),
            _ => None,
        }
    }

    /// The run that the token belongs to.
    #[must_use]
    pub fn run_of(&self, at: usize) -> Option<&Run> {
        // In order and apart: the last that begins at the token or before it, if any has it.
        let n = self.runs.partition_point(|run| run.range.start <= at);
        self.runs[..n].last().filter(|run| run.range.contains(&at))
    }

    /// Whether some tokens have no edits: those of very long groups, and of groups that are played backwards.
    #[must_use]
    pub fn has_untouchable(&self) -> bool {
        self.fixed.contains(&true) || self.runs.iter().any(|run| run.range.len() > MOST_IN_RUN)
    }

    /// Whether the token can be rewritten by itself.
    fn is_single(&self, at: usize) -> bool {
        self.run_of(at).is_none() && !self.fixed[at]
    }

    /// Whether both tokens stand in the same part.
    fn same_part(&self, a: usize, b: usize) -> bool {
        (a < self.n_scramble) == (b < self.n_scramble)
    }
}

/// Every edit of a record, by where it begins. For an insertion between scramble and solution there are two:
/// one in each.
#[must_use]
pub fn catalogue(tokens: &Tokens) -> Vec<Vec<Edit>> {
    let n = tokens.elements.len();
    let scramble = &tokens.elements[..tokens.n_scramble];
    let plain_scramble =
        scramble.iter().all(|element| !matches!(element, Element::Move(mv) if is_strange(*mv)));
    let mut catalogue = Vec::with_capacity(n + 1);
    let mut total = 0;
    for at in 0..=n {
        let mut edits = Vec::new();
        if total > MOST_EDITS {
            catalogue.push(edits);
            continue;
        }
        if let Some(run) = tokens.run_of(at)
            && run.range.start == at
            && run.range.len() <= MOST_IN_RUN
            && run.range.clone().all(|i| !tokens.fixed[i])
        {
            edits.extend(groups::edits(tokens, run));
        }
        if at < n && tokens.is_single(at) {
            match tokens.elements[at] {
                Element::Move(mv) => {
                    substitutions(at, mv, &mut edits);
                    let twin = |other: Option<usize>| {
                        other
                            .is_some_and(|i| tokens.same_part(at, i) && tokens.number(i) == tokens.number(at))
                    };
                    let doubled = twin(at.checked_sub(1)) || (at + 1 < n && twin(Some(at + 1)));
                    let slip = if doubled { Slip::Doubled } else { Slip::Added };
                    edits.push(edit(at..at + 1, vec![], slip, 1.0));
                    if let Some(next) = tokens.number(at + 1)
                        && tokens.same_part(at, at + 1)
                        && tokens.is_single(at + 1)
                        && next != held::number(mv)
                    {
                        edits.push(edit(at..at + 2, vec![next, held::number(mv)], Slip::Swapped, 1.0));
                    }
                }
                Element::Unreadable | Element::Unknown => edits.extend(fillings(tokens, at)),
                Element::Gap => {}
            }
        }
        let inside_run = tokens.run_of(at).is_some_and(|run| run.range.start < at);
        let inside_fixed = at > 0 && at < n && tokens.fixed[at - 1] && tokens.fixed[at];
        if !inside_run && !inside_fixed {
            insertions(tokens, at, &mut edits);
        }
        for edit in &mut edits {
            edit.in_scramble = edit.in_scramble || edit.range.start < tokens.n_scramble;
            if edit.in_scramble {
                edit.cost += SCRAMBLE_RARER.ln();
                let strange = |&number: &u8| is_strange(Move::ALL[usize::from(number)]);
                if plain_scramble && edit.moves.iter().any(strange) {
                    edit.cost += STRANGE_IN_SCRAMBLE.ln();
                    edit.likely = false;
                }
            }
        }
        total += edits.len();
        catalogue.push(edits);
    }
    catalogue
}

/// An edit whose slip could have come out in so many ways.
pub(super) fn edit(range: Range<usize>, moves: Vec<u8>, slip: Slip, choices: f64) -> Edit {
    let cost = match slip {
        // The token is there and must be read somehow: only the choice counts.
        Slip::Unreadable | Slip::Unknown | Slip::Gap => choices.ln(),
        Slip::AdjustmentMissing => NO_ADJUSTMENT_IN.ln() + choices.ln(),
        _ => ONE_IN.ln() + (1000.0 / share(slip)).ln() + choices.ln(),
    };
    let likely = !matches!(slip, Slip::Dropped | Slip::OtherLetter | Slip::OtherToken | Slip::Added);
    Edit { range, moves, slip, cost, likely, in_scramble: false, written: None }
}

fn is_strange(mv: Move) -> bool {
    !matches!(mv, Move::Turn(..))
}

/// How much rarer than a common turn a move is in solves; 1 for the common ones. Common practice, no source.
fn rarity(mv: Move) -> f64 {
    let half = if amount(mv) == Amount::Half { 2.0 } else { 1.0 };
    half * match mv {
        Move::Turn(Face::U | Face::R, _) => 0.5,
        Move::Turn(Face::L | Face::F, _) => 0.8,
        Move::Turn(Face::D, _) => 1.5,
        Move::Turn(Face::B, _) => 4.0,
        Move::Wide(Face::R | Face::F | Face::U, _) => 3.0,
        Move::Wide(..) => 6.0,
        Move::Slice(crate::cube::Slice::M, _) => 3.0,
        Move::Slice(..) => 10.0,
        Move::Rotation(Axis::Y, _) => 1.0,
        Move::Rotation(..) => 3.0,
    }
}

const fn amount(mv: Move) -> Amount {
    match mv {
        Move::Turn(_, amount)
        | Move::Wide(_, amount)
        | Move::Slice(_, amount)
        | Move::Rotation(_, amount) => amount,
    }
}

/// What was written where `to` was meant.
fn substitutions(at: usize, written: Move, edits: &mut Vec<Edit>) {
    for to in Move::ALL {
        if to != written {
            let (slip, choices) = misread(written, to);
            edits.push(edit(at..at + 1, vec![held::number(to)], slip, choices));
        }
    }
}

/// The slip that turns `meant` into `written`, and in how many ways it could have come out.
pub(super) fn misread(written: Move, meant: Move) -> (Slip, f64) {
    let (was, is) = (amount(meant), amount(written));
    let same_letter = with_amount(written, was) == meant;
    if same_letter {
        return match (was, is) {
            (Amount::Back, Amount::Quarter) => (Slip::PrimeLost, 1.0),
            (Amount::Quarter, Amount::Back) => (Slip::PrimeGained, 1.0),
            // A half turn comes out as a bare letter more easily than as a prime.
            (Amount::Half, Amount::Quarter) | (Amount::Quarter, Amount::Half) => (Slip::HalfForQuarter, 1.3),
            _ => (Slip::HalfForQuarter, 4.0),
        };
    }
    match (written, meant) {
        (Move::Turn(a, _), Move::Turn(b, _)) | (Move::Wide(a, _), Move::Wide(b, _)) if a == b.opposite() => {
            // Left for right is the common one.
            let often = if matches!(a, Face::R | Face::L) { 1.0 } else { 2.0 };
            if was == is {
                return (Slip::Mirrored, 1.5 * often);
            }
            if was == is.inverse() {
                return (Slip::Mirrored, 3.0 * often);
            }
        }
        (Move::Turn(a, _), Move::Wide(b, _)) | (Move::Wide(a, _), Move::Turn(b, _))
            if a == b && was == is =>
        {
            return (Slip::WideForOuter, 1.0);
        }
        _ => {}
    }
    if was == is {
        (Slip::OtherLetter, 17.0 * rarity(meant))
    } else {
        (Slip::OtherToken, 34.0 * rarity(meant))
    }
}

const fn with_amount(mv: Move, amount: Amount) -> Move {
    match mv {
        Move::Turn(face, _) => Move::Turn(face, amount),
        Move::Wide(face, _) => Move::Wide(face, amount),
        Move::Slice(slice, _) => Move::Slice(slice, amount),
        Move::Rotation(axis, _) => Move::Rotation(axis, amount),
    }
}

/// The slip of leaving a move out, and in how many ways it could have been another.
pub(super) fn left_out(mv: Move) -> (Slip, f64) {
    match mv {
        Move::Rotation(..) => (Slip::RotationForgotten, 3.0 * rarity(mv)),
        _ => (Slip::Dropped, 30.0 * rarity(mv)),
    }
}

/// Everything that could have been left out before token `at`.
fn insertions(tokens: &Tokens, at: usize, edits: &mut Vec<Edit>) {
    let n = tokens.elements.len();
    let in_solution = at >= tokens.n_scramble;
    let in_scramble = at <= tokens.n_scramble && tokens.n_scramble > 0;
    for mv in Move::ALL {
        let number = held::number(mv);
        let (slip, choices) = left_out(mv);
        if in_solution {
            let ends_solve = at == n && matches!(mv, Move::Turn(..));
            if ends_solve {
                let choices =
                    if matches!(mv, Move::Turn(Face::U, _)) { 3.0 } else { 3.0 * 30.0 * rarity(mv) };
                edits.push(edit(at..at, vec![number], Slip::AdjustmentMissing, choices));
            } else {
                edits.push(edit(at..at, vec![number], slip, choices));
            }
        }
        if in_scramble {
            let mut edit = edit(at..at, vec![number], slip, choices);
            edit.in_scramble = true;
            edits.push(edit);
        }
    }
}

/// What a token without a move could be: for `?` any move; for an unreadable one anything, the nearer in
/// spelling the likelier, or nothing at all.
pub(super) fn fillings(tokens: &Tokens, at: usize) -> Vec<Edit> {
    if tokens.elements[at] == Element::Unknown {
        let any = |mv: Move| edit(at..at + 1, vec![held::number(mv)], Slip::Unknown, 60.0 * rarity(mv));
        return Move::ALL.into_iter().map(any).collect();
    }
    // In order of place.
    let found = tokens.spellings.binary_search_by_key(&at, |(place, _)| *place);
    let spelling = found.map_or("", |found| tokens.spellings[found].1.as_str());
    let near = |mv: Move| {
        // Each letter that differs makes it about twelve times as unlikely.
        let choices = 4.0 * rarity(mv) * 12f64.powf(spelling_distance(spelling, &mv.to_string()));
        edit(at..at + 1, vec![held::number(mv)], Slip::Unreadable, choices)
    };
    let nothing = 60.0 * 3f64.powi(spelling.chars().count().min(50) as i32);
    let nothing = edit(at..at + 1, vec![], Slip::Unreadable, nothing);
    Move::ALL.into_iter().map(near).chain([nothing]).collect()
}

/// How many characters must be changed, dropped or added; half for another case of a letter.
fn spelling_distance(written: &str, meant: &str) -> f64 {
    let written: Vec<char> =
        written.chars().map(|c| if matches!(c, '’' | '`' | '´' | '′') { '\'' } else { c }).collect();
    let meant: Vec<char> = meant.chars().collect();
    let mut row: Vec<f64> = (0..=meant.len()).map(|i| i as f64).collect();
    for (i, &a) in written.iter().enumerate() {
        let mut before = row[0];
        row[0] = i as f64 + 1.0;
        for (j, &b) in meant.iter().enumerate() {
            let differs = if a == b {
                0.0
            } else if a.eq_ignore_ascii_case(&b) {
                0.5
            } else {
                1.0
            };
            let cell = (before + differs).min(row[j] + 1.0).min(row[j + 1] + 1.0);
            before = row[j + 1];
            row[j + 1] = cell;
        }
    }
    row[meant.len()]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cube::Slice;

    fn tokens(moves: &[Move], n_scramble: usize) -> Tokens {
        Tokens {
            elements: moves.iter().map(|&mv| Element::Move(mv)).collect(),
            n_scramble,
            spellings: vec![],
            runs: vec![],
            fixed: vec![false; moves.len()],
        }
    }

    #[test]
    fn every_edit_of_a_token_is_there_once() {
        let (r, u) = (Move::Turn(Face::R, Amount::Quarter), Move::Turn(Face::U, Amount::Back));
        let catalogue = catalogue(&tokens(&[r, u, u], 0));
        let count = |at: usize, slip: Slip| catalogue[at].iter().filter(|edit| edit.slip == slip).count();
        // 53 other moves, itself left out, and exchanged with its neighbour; before each, any of 54.
        assert_eq!(
            catalogue.iter().map(Vec::len).collect::<Vec<_>>(),
            [53 + 1 + 1 + 54, 53 + 1 + 54, 53 + 1 + 54, 54]
        );
        assert_eq!(count(0, Slip::Swapped), 1);
        assert_eq!(count(1, Slip::Swapped), 0, "two equal neighbours stay as they are");
        assert_eq!((count(0, Slip::Added), count(1, Slip::Doubled), count(2, Slip::Doubled)), (1, 1, 1));
        assert_eq!(count(3, Slip::AdjustmentMissing), 18);
    }

    #[test]
    fn likelier_slips_cost_less() {
        let cost = |written, meant| {
            let (slip, choices) = misread(written, meant);
            edit(0..1, vec![], slip, choices).cost
        };
        let turn = Move::Turn;
        let prime = cost(turn(Face::R, Amount::Quarter), turn(Face::R, Amount::Back));
        let half = cost(turn(Face::R, Amount::Quarter), turn(Face::R, Amount::Half));
        let left = cost(turn(Face::R, Amount::Quarter), turn(Face::L, Amount::Quarter));
        let slice = cost(turn(Face::R, Amount::Quarter), Move::Slice(Slice::S, Amount::Half));
        assert!(prime < half && half < left && left < slice);
    }

    #[test]
    fn spelling_counts_characters_and_half_for_case() {
        assert_eq!(spelling_distance("R'", "R'"), 0.0);
        assert_eq!(spelling_distance("R’", "R'"), 0.0);
        assert_eq!(spelling_distance("RR'", "R'"), 1.0);
        assert_eq!(spelling_distance("m2", "M2"), 0.5);
        assert_eq!(spelling_distance("", "Rw2"), 3.0);
    }
}
