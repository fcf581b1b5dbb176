//! What is wished for, and which wishes cannot be met whatever is drawn.

use std::fmt;

use super::kind::Kind;
use crate::cube::{Amount, Axis, Colour, Face, FaceSet, Hold, Move, Pair, Position};
use crate::scan::{Tier, tier_to_play};
use crate::sight::grades::{Grade, Looked};
use crate::sight::{Moments, Piece};

/// What positions are wished for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Wish {
    /// The property.
    pub kind: Kind,
    /// The cross colour.
    pub cross: Colour,
    /// How many pairs are open; without it as many as is usual for the kind.
    pub open: Option<usize>,
    /// The tier of the named pair's corner, or of the one a plan takes first.
    pub tier: Option<Tier>,
    /// The face that, in sight too, shows what is hidden.
    pub shown_by: Option<Face>,
    /// The most turns: of each line that is given, of the cross, of the whole order.
    pub turns: Option<usize>,
    /// The faces in sight.
    pub sight: FaceSet,
    /// Positions like this one: as many open pairs, and one of the same tier and visibility for each of them.
    pub like: Option<Like>,
}

/// What makes a position like another: of every open pair the tier, and what the eyes have of corner and edge; in order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Like(pub(super) Vec<(Tier, Grade, Grade)>);

impl Like {
    /// What a position is like to someone with these faces in sight.
    ///
    /// # Panics
    /// If the cross is not whole.
    #[must_use]
    pub fn of(position: &Position, cross: Colour, sight: FaceSet) -> Like {
        assert!(position.state.cross_solved(cross), "the cross is whole");
        let open: Vec<Pair> =
            Pair::all(cross).into_iter().filter(|&pair| !position.state.pair_solved(pair)).collect();
        let here = [*position];
        let looked = Looked::new(Moments::new(&here, &[]), cross, &open, &[], sight);
        let mut pairs: Vec<(Tier, Grade, Grade)> = open
            .iter()
            .map(|&pair| {
                let tier = tier_to_play(pair.corner, cross, &[], &position.state);
                let [corner, edge] = Piece::of_pair(pair).map(|piece| looked.grade(piece, 0));
                (tier, corner, edge)
            })
            .collect();
        pairs.sort_unstable();
        Like(pairs)
    }

    /// How many pairs are open.
    #[must_use]
    pub const fn open(&self) -> usize {
        self.0.len()
    }
}

/// Why a wish cannot be met, and the nearest one that can.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Refused {
    /// Why.
    pub why: String,
    /// What to ask for instead, as it is typed.
    pub instead: String,
}

impl fmt::Display for Refused {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}; the nearest there is: {}", self.why, self.instead)
    }
}

impl std::error::Error for Refused {}

/// The fewest turns in which so many open pairs can come in, from one pair on, by the lines that a plan plays.
const FEWEST_TURNS: [usize; 4] = [3, 5, 8, 10];

/// The turns of the shortest line: with three a pair positions are found soon.
const TURNS_A_PAIR: usize = 3;

/// The faces on which every place of an open pair has all its stickers but the one below.
const ROUND: [Face; 5] = [Face::U, Face::F, Face::R, Face::B, Face::L];

impl Wish {
    /// Positions of a kind, with everything else as usual.
    #[must_use]
    pub fn of(kind: Kind, cross: Colour) -> Wish {
        Wish {
            kind,
            cross,
            open: None,
            tier: None,
            shown_by: None,
            turns: None,
            sight: crate::record::DEFAULT_SIGHT,
            like: None,
        }
    }

    /// How many pairs are to be open.
    #[must_use]
    pub fn n_open(&self) -> usize {
        let like = self.like.as_ref().map(Like::open);
        like.or(self.open).unwrap_or(self.kind.usually_open())
    }

    /// Whether it can be met at all.
    ///
    /// # Errors
    /// Why it cannot, whatever is drawn, and the nearest wish that can.
    pub fn checked(&self) -> Result<(), Refused> {
        let kind = self.kind;
        let refuse = |why: String, instead: String| Err(Refused { why, instead });
        let (open, may) = (self.n_open(), kind.open());
        // What was asked besides is asked again, if it is not what was refused.
        let ask = |options: &str| {
            let open = self.open.filter(|open| may.contains(open) && !options.contains("--open"));
            let open = open.map_or_else(String::new, |open| format!(" --open {open}"));
            format!("cornerwise drill {kind}{open}{options}")
        };
        if kind == Kind::Cross {
            if self.like.is_some() {
                return refuse(
                    "`cross` begins before the cross, so it has no pairs to be like others".into(),
                    ask(""),
                );
            }
            if self.open.is_some_and(|open| open != 4) {
                return refuse("`cross` begins before the cross, when all pairs are open".into(), ask(""));
            }
        } else if open < *may.start() {
            return refuse(
                format!("{} is too few open pairs for `{kind}`: {}", open, kind.why_no_fewer()),
                ask(&format!(" --open {}", may.start())),
            );
        }
        if matches!(kind, Kind::Target | Kind::Lifted)
            && self.like.as_ref().is_some_and(|like| like.0.iter().all(|&(tier, ..)| tier != Tier::Slot))
        {
            return refuse(
                format!(
                    "no open corner of a position like that is in a slot, so none can come out of one; `{kind}` begins \
                     before the turns that bring it out, a step earlier"
                ),
                ask(""),
            );
        }
        if let Some(tier) = self.tier {
            let fixed = match kind {
                Kind::Target => Some(Tier::Target),
                Kind::Lifted => Some(Tier::Lifted),
                Kind::Edge => Some(Tier::Top),
                Kind::NoneUp => Some(Tier::Slot),
                _ => None,
            };
            if let Some(fixed) = fixed.filter(|&fixed| fixed != tier) {
                return refuse(format!("in `{kind}` the corner's tier is always {}", fixed.word()), ask(""));
            }
            if matches!(kind, Kind::Cross | Kind::Forced | Kind::TurnFirst) {
                return refuse(
                    format!("`{kind}` asks of no one pair, so there is no tier to choose"),
                    ask(""),
                );
            }
            if matches!(tier, Tier::Target | Tier::Lifted) && !kind.gives_lines() {
                let word = tier.word();
                return refuse(
                    format!(
                        "which corner is {word} depends on the line that is played, and `{kind}` gives none"
                    ),
                    format!("cornerwise drill {word}"),
                );
            }
        }
        let all_in_sight = ROUND.into_iter().all(|face| self.sight.contains(face));
        if all_in_sight && kind.needs_hidden() {
            return refuse(
                "with these faces in sight every piece of an open pair is seen as it stands, so nothing has to be worked \
                 out and nothing is hidden"
                    .into(),
                ask(" --sight UFRL"),
            );
        }
        if let Some(face) = self.shown_by {
            if kind != Kind::Hidden {
                return refuse(
                    "--shown-by goes with `hidden`".into(),
                    format!("cornerwise drill hidden --shown-by {face}"),
                );
            }
            if self.sight.contains(face) {
                let other =
                    ROUND.into_iter().rev().find(|&face| !self.sight.contains(face)).unwrap_or(Face::L);
                return refuse(format!("{face} is in sight already"), ask(&format!(" --shown-by {other}")));
            }
        }
        if let Some(turns) = self.turns {
            if !kind.has_length() {
                return refuse(
                    format!("`{kind}` gives no line and asks for none, so --turns says nothing of it"),
                    ask(""),
                );
            }
            // Every pair takes three turns at least, but two may come in at once.
            let least = if kind == Kind::Cross { 1 } else { 3 };
            if turns < least {
                let what = if kind == Kind::Cross {
                    "a cross to solve takes 1 turn"
                } else {
                    "a pair takes 3 turns"
                };
                return refuse(format!("{what} at least"), ask(&format!(" --turns {least}")));
            }
            let fewest = FEWEST_TURNS[open.clamp(1, 4) - 1];
            if kind.solves_all() && turns < fewest {
                // Fewer open pairs, if that helps; else more turns.
                let fewer = (turns / TURNS_A_PAIR).max(*may.start());
                let enough = turns.max(TURNS_A_PAIR * fewer);
                let instead = format!("cornerwise drill {kind} --open {fewer} --turns {enough}");
                return refuse(format!("{open} open pairs take {fewest} turns at least"), instead);
            }
        }
        Ok(())
    }
}

/// The rotation that brings a cross down from the hold of a scramble, and the hold it leads to.
#[must_use]
pub fn turned_over(cross: Colour) -> (Option<Move>, Hold) {
    let half = Move::Rotation(Axis::Z, Amount::Half);
    let quarter = |axis| [Amount::Quarter, Amount::Back].map(|amount| Move::Rotation(axis, amount));
    let ways = [half].into_iter().chain(quarter(Axis::X)).chain(quarter(Axis::Z));
    let ways = std::iter::once(None).chain(ways.map(Some));
    ways.map(|way| (way, way.map_or(Hold::START, |mv| mv.resolve(Hold::START).hold)))
        .find(|(_, hold)| hold.colour(Face::D) == cross)
        .expect("a rotation brings every colour down")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cube::{PairSet, State};
    use crate::drill::{Random, draw};
    use crate::search::{NextPair, Seat, is_plain_line};

    /// The fewest turns, from the lines that a plan plays: how many pairs the lines of each length can bring in at most, and
    /// the shortest sum of lengths with which that comes to so many.
    #[test]
    fn no_order_is_shorter_than_is_said() {
        let cross = Colour::Yellow;
        let all: PairSet = crate::cube::Slot::ALL.into_iter().collect();
        let mut random = Random::new(5, 0);
        let mut seen = vec![false; Seat::COUNT];
        // By the length of the line, none to nine turns; longer ones may bring in all.
        let mut most = [0; 10];
        // Every place of the corner with every place of the edge but the pair at home.
        let mut left = 24 * 16 - 1;
        while left > 0 {
            let state = draw::with_open(&mut random, cross, all);
            for pair in Pair::all(cross) {
                let next = NextPair::new(&state, cross, pair);
                if std::mem::replace(&mut seen[next.seat().index()], true) {
                    continue;
                }
                left -= 1;
                for line in next.lines_of_seat_to(9) {
                    if is_plain_line(line.turns(), cross) {
                        let undone = line.turns().iter().rev();
                        let before = undone.fold(State::SOLVED, |state, turn| state.turned(turn.inverse()));
                        assert!(before.cross_solved(cross));
                        let open = Pair::all(cross).iter().filter(|&&pair| !before.pair_solved(pair)).count();
                        most[line.turns().len()] = open.max(most[line.turns().len()]);
                    }
                }
            }
        }
        let mut fewest = [usize::MAX; 5];
        fewest[0] = 0;
        for open in 1..=4_usize {
            let with = |(turns, &brings): (usize, &usize)| {
                (brings > 0).then(|| turns + fewest[open.saturating_sub(brings)])
            };
            fewest[open] = most.iter().enumerate().filter_map(with).chain([10]).min().unwrap_or(0);
        }
        assert_eq!(fewest[1..], FEWEST_TURNS, "{most:?}");
    }
}
