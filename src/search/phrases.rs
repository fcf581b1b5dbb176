//! The grammar of hand lines: the phrases of which hands build a line.
//!
//! With the cross down and turns of one face merged, in EBNF (`X` and `Y` stand for side faces, `k` for any
//! of the three amounts):
//!
//! ```text
//! hand line  = phrase , { phrase } ;
//! phrase     = layer turn | run(X) | exchange | shifted | nested ;
//! layer turn = U^k ;
//! run(X)     = X^k , { U^k , X^k } ;      (* until the X turns first add up to nothing *)
//! exchange   = X^q , Y^r , X^-q , Y^-r ;  (* X, Y neighbours; q, r quarter turns *)
//! shifted    = D^k , ( run(X) | exchange ) , D^-k ;
//! nested     = X^k , run(Y) , { U^k , run(Y) } , X^-k ;   (* Y opposite X *)
//! ```
//!
//! and two rules about how the letters of the grammar and the turns of a line answer to each other:
//!
//! * **Commuting neighbours.** Turns of opposite faces next to each other may stand in either order: a line
//!   is written `R' L`, the grammar may read `L R'`.
//! * **A shared half turn.** Where one phrase ends and the next begins with the same quarter turn, hands make
//!   one half turn of them: `R U R2 F R F'` is `R U R'` and `R' F R F'`. A half turn may be read so, and only
//!   so: two turns never merge into a quarter turn or into nothing.
//!
//! `docs/method.md` tells a person the same, with what was decided and why.
//!
//! The layer turn is not in the list of what can be shifted, since `D U D'` is `U`.

use super::turn::Turn;
use crate::cube::{Face, FaceTurn, Hold};

/// How far a reader of the grammar has come.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) enum Reading {
    /// Between phrases: a line may end here.
    Between,
    /// `D^shift` was read, the shifted phrase begins.
    Shifted {
        /// Quarter turns of D.
        shift: u8,
    },
    /// Inside a run or an exchange, after `D^shift` if `shift` is not 0.
    Inside {
        /// Quarter turns of D.
        shift: u8,
        /// How far inside.
        phrase: Phrase,
    },
    /// The shifted phrase is complete: `D^-shift` must follow.
    Unshift {
        /// Quarter turns of D.
        shift: u8,
    },
    /// Inside a nested phrase.
    Nested {
        /// The outer turn.
        outer: Turn,
        /// How far inside.
        inner: Inner,
    },
}

/// How far a reader has come in a run or an exchange.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) enum Phrase {
    /// The side turns so far add up to `sum` quarters, which is not 0. `layer`: a U turn was read last.
    Run { side: Face, sum: u8, layer: bool },
    /// The first turn of an exchange was read.
    One(Turn),
    /// The first two.
    Two(Turn, Turn),
    /// The first three; the second was this.
    Three(Turn),
}

/// How far a reader has come inside the outer turn of a nested phrase.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) enum Inner {
    /// A run must begin.
    Begin,
    /// As in [`Phrase::Run`], on the side opposite the outer turn.
    Run { sum: u8, layer: bool },
    /// A run is complete.
    Complete,
}

impl Reading {
    /// Calls `to` with every reading that reading `turn` can lead to.
    pub fn read(self, turn: Turn, to: &mut impl FnMut(Reading)) {
        let face = turn.face();
        let quarters = turn.quarters();
        match self {
            Reading::Between => match face {
                Face::U => to(Reading::Between),
                Face::D => to(Reading::Shifted { shift: quarters }),
                _ => {
                    begin(turn, &mut |phrase| to(Reading::Inside { shift: 0, phrase }));
                    to(Reading::Nested { outer: turn, inner: Inner::Begin });
                }
            },
            Reading::Shifted { shift } => {
                if is_side(face) {
                    begin(turn, &mut |phrase| to(Reading::Inside { shift, phrase }));
                }
            }
            Reading::Inside { shift, phrase } => match phrase.read(turn) {
                Some(Step::Inside(phrase)) => to(Reading::Inside { shift, phrase }),
                Some(Step::Complete) if shift == 0 => to(Reading::Between),
                Some(Step::Complete) => to(Reading::Unshift { shift }),
                None => {}
            },
            Reading::Unshift { shift } => {
                if face == Face::D && (shift + quarters).is_multiple_of(4) {
                    to(Reading::Between);
                }
            }
            Reading::Nested { outer, inner } => {
                let inside = |inner| Reading::Nested { outer, inner };
                match inner {
                    Inner::Complete if turn == outer.inverse() => to(Reading::Between),
                    Inner::Complete if face == Face::U => to(inside(Inner::Begin)),
                    Inner::Begin if face == outer.face().opposite() => {
                        to(inside(Inner::Run { sum: quarters, layer: false }));
                    }
                    Inner::Run { sum, layer: false } if face == Face::U => {
                        to(inside(Inner::Run { sum, layer: true }));
                    }
                    Inner::Run { sum, layer: true } if face == outer.face().opposite() => {
                        to(inside(match (sum + quarters) % 4 {
                            0 => Inner::Complete,
                            sum => Inner::Run { sum, layer: false },
                        }));
                    }
                    _ => {}
                }
            }
        }
    }
}

/// What reading a turn inside a run or an exchange leads to.
enum Step {
    Inside(Phrase),
    Complete,
}

impl Phrase {
    fn read(self, turn: Turn) -> Option<Step> {
        let face = turn.face();
        match self {
            Phrase::Run { side, sum, layer: false } => {
                (face == Face::U).then_some(Step::Inside(Phrase::Run { side, sum, layer: true }))
            }
            Phrase::Run { side, sum, layer: true } => {
                (face == side).then_some(match (sum + turn.quarters()) % 4 {
                    0 => Step::Complete,
                    sum => Step::Inside(Phrase::Run { side, sum, layer: false }),
                })
            }
            Phrase::One(a) => {
                let neighbour = is_side(face) && turn.axis() != a.axis();
                (neighbour && turn.quarters() != 2).then_some(Step::Inside(Phrase::Two(a, turn)))
            }
            Phrase::Two(a, b) => (turn == a.inverse()).then_some(Step::Inside(Phrase::Three(b))),
            Phrase::Three(b) => (turn == b.inverse()).then_some(Step::Complete),
        }
    }
}

/// The phrases a side turn can begin: a run, and an exchange if it is a quarter turn.
fn begin(turn: Turn, to: &mut impl FnMut(Phrase)) {
    to(Phrase::Run { side: turn.face(), sum: turn.quarters(), layer: false });
    if turn.quarters() != 2 {
        to(Phrase::One(turn));
    }
}

const fn is_side(face: Face) -> bool {
    !matches!(face, Face::U | Face::D)
}

/// Which phrases a reader knows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub(super) enum Phrases {
    /// All of them.
    #[default]
    All,
    /// Those that are neither shifted nor nested.
    Plain,
}

impl Reading {
    /// Whether it is inside a shifted or a nested phrase.
    const fn is_shifted_or_nested(self) -> bool {
        match self {
            Reading::Between | Reading::Inside { shift: 0, .. } => false,
            Reading::Inside { .. }
            | Reading::Shifted { .. }
            | Reading::Unshift { .. }
            | Reading::Nested { .. } => true,
        }
    }
}

/// All the readings that what was read so far allows, each once, in order.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub(super) struct Readings {
    all: Vec<Reading>,
    known: Phrases,
}

impl Readings {
    /// Before the first turn.
    pub fn start(known: Phrases) -> Readings {
        Readings { all: vec![Reading::Between], known }
    }

    /// Whether nothing that begins so is a hand line.
    pub fn is_empty(&self) -> bool {
        self.all.is_empty()
    }

    /// Whether a hand line may end here.
    pub fn complete(&self) -> bool {
        self.all.contains(&Reading::Between)
    }

    /// After reading turns of one axis that stand next to each other (none, one, or two that commute), in
    /// every order and with each half turn whole or shared by two phrases.
    pub fn block(&self, turns: &[Turn]) -> Readings {
        let mut to = Vec::new();
        let mut letters = [[None; 2]; 2];
        for (letters, turn) in letters.iter_mut().zip(turns) {
            letters[0] = Some(*turn);
        }
        self.orders(letters, &mut to);
        to.sort_unstable();
        to.dedup();
        Readings { all: to, known: self.known }
    }

    fn orders(&self, letters: [[Option<Turn>; 2]; 2], to: &mut Vec<Reading>) {
        if letters == [[None; 2]; 2] {
            to.extend(&self.all);
            return;
        }
        for i in 0..2 {
            let [Some(turn), second] = letters[i] else { continue };
            let mut next = |turn: Turn, rest: Option<Turn>| {
                let mut left = letters;
                left[i] = [rest, None];
                let after = self.after(turn);
                if !after.is_empty() {
                    after.orders(left, to);
                }
            };
            next(turn, second);
            if turn.quarters() == 2 {
                for quarter in [Turn::ALL[turn.index() - 1], Turn::ALL[turn.index() + 1]] {
                    next(quarter, Some(quarter));
                }
            }
        }
    }

    fn after(&self, turn: Turn) -> Readings {
        let mut to = Vec::new();
        for reading in &self.all {
            reading.read(turn, &mut |reading| {
                if self.known == Phrases::All || !reading.is_shifted_or_nested() {
                    to.push(reading);
                }
            });
        }
        Readings { all: to, known: self.known }
    }
}

/// Whether the turns split into these phrases, the cross being down in `hold`.
///
/// Turns of one face are merged first, also across a turn of the opposite face; turns that undo each other
/// vanish, and if nothing is left there is no line. This reads a line turn by turn and shares nothing with the enumeration but the grammar.
pub(super) fn reads(known: Phrases, turns: &[FaceTurn], hold: Hold) -> bool {
    let mut blocks: Vec<(u8, [u8; 2])> = Vec::new();
    for turn in turns {
        let turn = Turn::new(hold.face(turn.centre), turn.amount);
        if blocks.last().is_none_or(|&(axis, _)| axis != turn.axis()) {
            blocks.push((turn.axis(), [0; 2]));
        }
        let (_, quarters) = blocks.last_mut().expect("one was pushed");
        let quarters_of_face = &mut quarters[usize::from(turn.is_second())];
        *quarters_of_face = (*quarters_of_face + turn.quarters()) % 4;
        if *quarters == [0; 2] {
            blocks.pop();
        }
    }
    if blocks.is_empty() {
        return false;
    }
    let mut readings = Readings::start(known);
    for (axis, quarters) in blocks {
        let letters: Vec<Turn> = (0..2)
            .filter(|&i| quarters[i] != 0)
            .map(|i| Turn::ALL[usize::from(axis) * 6 + i * 3 + usize::from(quarters[i]) - 1])
            .collect();
        readings = readings.block(&letters);
    }
    readings.complete()
}
