//! A drill: positions found, scrambles that lead to them, answers.

use std::fmt;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};

use super::facts::{Answer, Drill, Format, Given, Shown, TurnShows};
use super::find::{Finder, Found, Line};
use super::kind::Kind;
use super::random::Random;
use super::wish::{Refused, Wish, turned_over};
use crate::annotate;
use crate::annotation::{Deduced, HoldNames, PricedLine};
use crate::cube::{FaceTurn, Hold, Move, Moves, Pair, Position, State, Stickers};
use crate::plan::{self, Planned, Planner};
use crate::record::Until;
use crate::scan::{tier, tier_to_play};
use crate::scramble::scramble;
use crate::sight::grades::Looked;
use crate::sight::{Moments, Piece};

/// How many turns before its end a scramble must not pass a position from which it would undo a pair.
const GIVEN_AWAY_WITHIN: usize = 12;

/// How many scrambles are made until one gives nothing away.
const SCRAMBLES: usize = 50;

/// Whoever makes the positions of a drill; any number of threads may ask.
#[derive(Debug)]
pub struct Drills {
    wish: Wish,
    seed: u64,
    planner: Planner,
    drawn: AtomicUsize,
    stopped: AtomicBool,
}

/// Why a position was not made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Unmet {
    /// None of those that were drawn is as wished.
    Rare {
        /// The property.
        kind: Kind,
        /// How many positions were drawn.
        drawn: usize,
        /// The turns of the shortest among those to which only the length was wanting.
        shortest: Option<usize>,
    },
    /// It was broken off: [`Drills::stop`].
    BrokenOff,
}

impl Unmet {
    /// Of two reasons the one that helps more: how near it came.
    #[must_use]
    pub fn nearer(self, other: Unmet) -> Unmet {
        let turns = |unmet: &Unmet| match unmet {
            Unmet::Rare { shortest, .. } => shortest.unwrap_or(usize::MAX),
            Unmet::BrokenOff => usize::MAX,
        };
        if turns(&other) < turns(&self) { other } else { self }
    }
}

impl fmt::Display for Unmet {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Unmet::Rare { kind, drawn, shortest } => {
                write!(f, "{drawn} positions were drawn for `{kind}`, and none is as wished; ")?;
                match shortest {
                    Some(turns) => write!(f, "the nearest of them takes {turns} turns: --turns {turns}"),
                    None => f.write_str(
                        "it is rare: another --seed may find one, or a wish that leaves more room",
                    ),
                }
            }
            Unmet::BrokenOff => f.write_str("broken off"),
        }
    }
}

impl std::error::Error for Unmet {}

impl Drills {
    /// For a wish and a seed.
    ///
    /// # Errors
    /// If the wish cannot be met.
    pub fn new(wish: Wish, seed: u64) -> Result<Drills, Refused> {
        wish.checked()?;
        Ok(Drills {
            wish,
            seed,
            planner: Planner::new(plan::Settings::default()),
            drawn: AtomicUsize::new(0),
            stopped: AtomicBool::new(false),
        })
    }

    /// How many positions have been drawn so far, by all threads.
    #[must_use]
    pub fn drawn(&self) -> usize {
        self.drawn.load(Ordering::Relaxed)
    }

    /// Ends the search for positions that are not found yet, in all threads.
    pub fn stop(&self) {
        self.stopped.store(true, Ordering::Relaxed);
    }

    /// Position `number`, from 1.
    ///
    /// # Errors
    /// If the budget of the kind ([`Kind::budget`]) is spent, or it was [stopped](Self::stop).
    pub fn one(&self, number: usize) -> Result<Drill, Unmet> {
        let mut random = Random::new(self.seed, number as u64);
        let finder = Finder::new(&self.wish, &self.planner);
        let budget = self.wish.kind.budget();
        for drawn in 1..=budget {
            if self.stopped.load(Ordering::Relaxed) {
                return Err(Unmet::BrokenOff);
            }
            self.drawn.fetch_add(1, Ordering::Relaxed);
            if let Some(found) = finder.draw(&mut random)
                && let Some(scramble) = self.scramble(&found.at.state, &mut random)
            {
                return Ok(self.drill(number, drawn, found, &scramble));
            }
        }
        Err(Unmet::Rare { kind: self.wish.kind, drawn: budget, shortest: finder.shortest() })
    }

    /// A scramble that gives nothing away.
    fn scramble(&self, state: &State, random: &mut Random) -> Option<Vec<FaceTurn>> {
        (0..SCRAMBLES).find_map(|_| {
            let turns = scramble(state, &mut |below| random.below(below))?;
            (!gives_away(&turns, state, &self.wish)).then_some(turns)
        })
    }

    fn drill(&self, number: usize, drawn: usize, found: Found, turns: &[FaceTurn]) -> Drill {
        let Wish { kind, cross, sight, .. } = self.wish;
        let (rotation, _) = turned_over(cross);
        let written = |turn: &FaceTurn| Move::Turn(Hold::START.face(turn.centre), turn.amount);
        let orders = match kind {
            Kind::Hidden | Kind::Choose | Kind::Whole => found.orders.clone(),
            _ if kind.gives_lines() || kind.asks_of_one() || kind == Kind::Cross => Vec::new(),
            _ => self.planner.best(&found.at, cross, sight, None).0.into_iter().collect(),
        };
        let mut orders = orders.iter().map(Planned::of);
        let solved = 4 - found.open.len();
        let line = found.named.filter(|_| kind.asks_of_one()).and_then(|pair| self.line(&found.at, pair));
        let until = if kind.gives_lines() {
            let given: usize = found.given.iter().map(|line| line.solves.len()).sum();
            Until::Pair(solved + given)
        } else if kind == Kind::Cross {
            Until::Cross
        } else if let Some(line) = &line {
            Until::Pair(solved + line.solves.len())
        } else {
            Until::TwoLayers
        };
        Drill {
            format: Format::Drill1,
            kind,
            seed: self.seed,
            number,
            drawn,
            scramble: turns.iter().map(written).collect(),
            rotation: rotation.into_iter().collect(),
            hold: HoldNames::from(found.at.hold),
            stickers: Stickers::of(&found.at),
            cross,
            sight,
            open: found.open.iter().map(|pair| pair.name()).collect(),
            named: found
                .named
                .filter(|_| !matches!(kind, Kind::Hidden | Kind::Choose | Kind::Cross))
                .map(Pair::name),
            given: found.given.iter().map(given).collect(),
            cross_turns: found.cross.as_ref().map(|(moves, _)| moves.len()),
            answer: Answer {
                pairs: self.shown(&found),
                line: line.as_ref().map(|line| given(line).line),
                deduced: if kind == Kind::Deduce { self.deduced(&found) } else { Vec::new() },
                order: orders.next(),
                others: orders.collect(),
                turns: found
                    .turns
                    .iter()
                    .map(|(turn, pairs)| TurnShows {
                        turn: *turn,
                        pairs: pairs.iter().map(|pair| pair.name()).collect(),
                    })
                    .collect(),
                cross: found.cross.as_ref().map(|(moves, _)| moves.as_slice().into()),
            },
            until,
        }
    }

    /// The cheapest line of a pair.
    fn line(&self, at: &Position, pair: Pair) -> Option<Line> {
        Finder::new(&Wish { turns: None, ..self.wish.clone() }, &self.planner).line(at, pair)
    }

    /// How the pieces of the named pair are worked out.
    fn deduced(&self, found: &Found) -> Vec<Deduced> {
        let here = [found.at];
        let looked =
            Looked::new(Moments::new(&here, &[]), self.wish.cross, &found.open, &[], self.wish.sight);
        let pieces = found.named.into_iter().flat_map(Piece::of_pair);
        pieces.filter_map(|piece| looked.reason(piece)).map(|reason| annotate::deduced(0, &reason)).collect()
    }

    /// The pairs that an answer tells: the named one, else all that are open.
    fn shown(&self, found: &Found) -> Vec<Shown> {
        let Wish { cross, sight, .. } = self.wish;
        let here = [found.at];
        let looked = Looked::new(Moments::new(&here, &[]), cross, &found.open, &[], sight);
        let after: Option<Position> =
            found.given.last().map(|line| line.end).or(found.cross.as_ref().map(|&(_, end)| end));
        let of = |pair: Pair| {
            let [corner, edge] = Piece::of_pair(pair);
            Shown {
                pair: pair.name(),
                tier: match found.given.first() {
                    Some(line) => tier(pair.corner, cross, &line.solves, &found.at.state, &line.end.state),
                    None => tier_to_play(pair.corner, cross, &[], &found.at.state),
                },
                corner: corner.place(&found.at),
                edge: edge.place(&found.at),
                corner_grade: looked.grade(corner, 0),
                edge_grade: looked.grade(edge, 0),
                corner_after: after.as_ref().map(|end| corner.place(end)),
                edge_after: after.as_ref().map(|end| edge.place(end)),
                tilt: looked.tilt(pair, self.planner.settings().lead).map(|more| more.faces),
            }
        };
        match found.named.filter(|_| self.wish.kind != Kind::Choose) {
            Some(pair) => vec![of(pair)],
            None => found.open.iter().map(|&pair| of(pair)).collect(),
        }
    }
}

fn given(line: &Line) -> Given {
    Given {
        pairs: line.solves.iter().map(|pair| pair.name()).collect(),
        line: PricedLine {
            obtm: line.moves.iter().map(|mv| mv.obtm()).sum(),
            text: Moves::of(&line.moves),
            cost: line.cost.units(),
            played: false,
        },
    }
}

/// Whether the last turns of a scramble, undone, would go on with the solve: whether shortly before its end the cross was
/// whole, with the pairs that are solved and one more; or, where the cross is asked for, whether it was whole.
#[must_use]
pub(super) fn gives_away(turns: &[FaceTurn], state: &State, wish: &Wish) -> bool {
    let mut before = *state;
    for turn in turns.iter().rev().take(GIVEN_AWAY_WITHIN) {
        before.turn(turn.inverse());
        if before.cross_solved(wish.cross) {
            let pairs = Pair::all(wish.cross);
            let kept = pairs.iter().all(|&pair| !state.pair_solved(pair) || before.pair_solved(pair));
            let more = pairs.iter().any(|&pair| !state.pair_solved(pair) && before.pair_solved(pair));
            if wish.kind == Kind::Cross || (kept && more) {
                return true;
            }
        }
    }
    false
}
