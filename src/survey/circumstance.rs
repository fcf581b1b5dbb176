//! The circumstances: yes or no facts of what a pair was when the hands came to it, and of how they came there.
//!
//! Each stands on one row of [`ALL`]: its name, how a person says it, what it means exactly, the drill that makes it to
//! order, and the test itself, a function of an annotation's facts. Everything else (the columns of the CSV, the page of
//! `docs`, the tests of chance) is made of this table; whoever has another circumstance adds a row.
//!
//! "It" is the pair solved next, of two solved at once the one that stands for both; "the step before" is the one during
//! which the eyes had to find it.

use std::fmt;
use std::str::FromStr;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::annotation::{HoldNames, Offer, Step, StepKind, Tier, Verdict, Watch};
use crate::cube::{Face, Move};

/// What there is to know of a pair step before it begins, and of how it begins.
#[derive(Debug, Clone, Copy)]
pub(super) struct Before<'a> {
    /// The step before.
    step: &'a Step,
    /// The pair as that step left it.
    it: &'a Offer,
    /// The step before that, if it left a pair too.
    earlier: Option<&'a Offer>,
    /// The pair's own step.
    own: &'a Step,
    /// How the cube was held when the cross was done.
    first_hold: HoldNames,
    /// The lead that is enough, in turns.
    lead: usize,
}

/// One circumstance.
#[derive(Debug)]
pub struct Circumstance {
    /// Its name, in columns and on the command line.
    pub name: &'static str,
    /// How a person says it, of a pair: "its edge stands in a back slot".
    pub says: &'static str,
    /// What it means exactly.
    pub means: &'static str,
    /// What is given to `drill` to practise it; none where no position makes it.
    pub drill: Option<&'static str>,
    holds: fn(&Before<'_>) -> bool,
}

/// One of the circumstances, by its place in [`ALL`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize, JsonSchema, Serialize)]
#[serde(into = "String", try_from = "String")]
#[schemars(with = "String")]
pub struct Which(u8);

/// Which of the circumstances hold.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub struct Given(u64);

/// How many units a line is cheaper by when it is clearly cheaper.
const CLEARLY: f64 = 2.0;
/// From how many turns on a step or a line is long.
const LONG: usize = 8;
/// Up to how many turns a step is short.
const SHORT: usize = 4;

/// A row of the table.
const fn row(
    name: &'static str,
    says: &'static str,
    means: &'static str,
    drill: Option<&'static str>,
    holds: fn(&Before<'_>) -> bool,
) -> Circumstance {
    Circumstance { name, says, means, drill, holds }
}

/// All of them.
pub const ALL: &[Circumstance] = &[
    // Where the scan finds it.
    row(
        "top",
        "its corner on top",
        "its corner was up when the step before began (tier `top`)",
        Some("find"),
        |b| b.it.tier == Tier::Top,
    ),
    row(
        "not-top",
        "its corner not on top",
        "its corner was down when the step before began (any other tier)",
        Some("none-up"),
        |b| b.it.tier != Tier::Top,
    ),
    row(
        "target",
        "its corner in the slot being filled",
        "its corner was in the slot that the step before filled (tier `target`)",
        Some("target"),
        |b| b.it.tier == Tier::Target,
    ),
    row(
        "lifted",
        "its corner lifted on the way",
        "its corner was in another open slot and brought out by the step before (tier `lifted`)",
        Some("lifted"),
        |b| b.it.tier == Tier::Lifted,
    ),
    row(
        "slot",
        "its corner still in another slot",
        "its corner was in another open slot and still down after the step before (tier `slot`)",
        Some("find --tier slot"),
        |b| b.it.tier == Tier::Slot,
    ),
    // Where its pieces are when its own step begins.
    row(
        "corner-down",
        "its corner down",
        "its corner is down when its own step begins",
        Some("none-up"),
        |b| !b.it.corner.up,
    ),
    row(
        "buried",
        "its corner put away by the step before",
        "its corner was up when the step before began, and is down when its own begins",
        Some("carried"),
        |b| b.it.buried,
    ),
    row(
        "corner-back",
        "its corner at the back",
        "its corner is at UBR, UBL, DBR or DBL when its own step begins",
        Some("carried"),
        |b| at_back(&b.it.corner),
    ),
    row(
        "corner-back-left",
        "its corner at the back left",
        "its corner is at UBL or DBL when its own step begins",
        Some("carried"),
        |b| at_back(&b.it.corner) && b.it.corner.to.faces().contains(&Face::L),
    ),
    row("edge-up", "its edge on top", "its edge is up when its own step begins", Some("carried"), |b| {
        b.it.edge.up
    }),
    row("edge-down", "its edge in a slot", "its edge is down when its own step begins", Some("edge"), |b| {
        !b.it.edge.up
    }),
    row(
        "edge-back-slot",
        "its edge in a back slot",
        "its edge is at BR or BL when its own step begins",
        Some("edge"),
        |b| at_back(&b.it.edge) && !b.it.edge.up,
    ),
    row(
        "edge-back",
        "its edge at the back",
        "its edge is at UB, BR or BL when its own step begins",
        Some("carried"),
        |b| at_back(&b.it.edge),
    ),
    row(
        "both-down",
        "its corner and edge both down",
        "its corner and its edge are both down when its own step begins",
        Some("none-up"),
        |b| !b.it.corner.up && !b.it.edge.up,
    ),
    // How it is found.
    row(
        "plain",
        "it lay open in time",
        "corner and edge were open to sight with enough turns of the step before to go",
        Some("find"),
        |b| b.it.plain_ready,
    ),
    row(
        "deduced",
        "it has to be deduced",
        "it was to be found in time, but only by working something out",
        Some("deduce"),
        |b| b.it.ready && !b.it.plain_ready,
    ),
    row(
        "corner-deduced",
        "its corner has to be deduced",
        "its corner was to be found in time, but not by plain sight",
        Some("deduce"),
        |b| b.deduced(&b.it.corner),
    ),
    row(
        "edge-deduced",
        "its edge has to be deduced",
        "its edge was to be found in time, but not by plain sight",
        Some("deduce"),
        |b| b.deduced(&b.it.edge),
    ),
    row(
        "late",
        "it is found late",
        "corner and edge were not both to be found with enough turns to go",
        Some("hidden"),
        |b| !b.it.ready,
    ),
    row(
        "not-found",
        "it is not found at all",
        "corner or edge was not to be found at any moment of the step before",
        Some("hidden"),
        |b| b.it.lead.is_none(),
    ),
    row(
        "corner-late",
        "its corner is found late",
        "its corner was not to be found with enough turns to go",
        Some("hidden"),
        |b| !b.in_time(&b.it.corner),
    ),
    row(
        "edge-late",
        "its edge is found late",
        "its edge was not to be found with enough turns to go",
        Some("hidden"),
        |b| !b.in_time(&b.it.edge),
    ),
    row(
        "just-in-time",
        "it is found just in time",
        "it was to be found in time, not at once, and with one turn to spare at most",
        Some("carried"),
        |b| b.it.ready && !b.it.at_once && b.it.told_lead.is_some_and(|lead| lead <= b.lead + 1),
    ),
    row(
        "open-before",
        "it lay open in the step before that",
        "corner and edge both lay open to sight during the step before the step before",
        Some("ahead"),
        |b| b.it.corner.before.is_some() && b.it.edge.before.is_some(),
    ),
    row(
        "left-shows",
        "a tilt would have shown it in time",
        "it was late, and with the left side in sight it would not have been",
        Some("hidden --shown-by L"),
        |b| !b.it.ready && b.it.more.as_ref().is_some_and(|more| more.tilt),
    ),
    row(
        "moved-late",
        "carried on by the very last turn",
        "its corner or its edge was carried to another place by the last token of the step before",
        Some("carried"),
        |b| [&b.it.corner, &b.it.edge].iter().any(|watch| watch.way.iter().any(|way| way.0 == b.step.to)),
    ),
    row(
        "moved-often",
        "carried six times or more",
        "corner and edge together were carried to another place six times or more by the step before",
        Some("carried"),
        |b| b.it.corner.way.len() + b.it.edge.way.len() >= 6,
    ),
    // The turns of the step before.
    row(
        "after-long",
        "after a step of 8 turns or more",
        "the step before had 8 turns (OBTM) or more",
        Some("carried"),
        |b| b.step.obtm >= LONG,
    ),
    row(
        "after-short",
        "after a step of 4 turns or fewer",
        "the step before had 4 turns (OBTM) or fewer",
        Some("ahead"),
        |b| b.step.obtm <= SHORT,
    ),
    row(
        "after-detour",
        "after a line 2 turns over the cheapest",
        "the step before was a pair's, with at least 2 turns more than the cheapest line of that pair",
        Some("choose"),
        |b| {
            let cheapest = b.earlier.and_then(|earlier| earlier.line.as_ref());
            cheapest.is_some_and(|line| b.step.obtm >= line.obtm + 2)
        },
    ),
    row(
        "after-dearer",
        "after a step with a clearly cheaper way",
        "of the step before a clearly cheaper way is told",
        Some("choose"),
        |b| b.step.choice.as_ref().is_some_and(|choice| choice.cleaner.is_some()),
    ),
    row(
        "avoidable",
        "another line left a pair ready",
        "it was late, and something that may be offered in place of the step before left a pair ready",
        Some("choose"),
        |b| b.step.choice.as_ref().is_some_and(|choice| choice.verdict == Some(Verdict::Avoidable)),
    ),
    row(
        "other-cheaper",
        "another open pair clearly cheaper",
        "another open pair's cheapest line costs at least 2 units less",
        Some("choose"),
        |b| {
            let cost = |offer: &Offer| offer.line.as_ref().map(|line| line.cost);
            let others = b.step.offers.iter().filter(|offer| !offer.taken);
            let Some(own) = cost(b.it) else { return false };
            others.filter_map(cost).any(|other| other + CLEARLY <= own)
        },
    ),
    row(
        "other-ready",
        "late, and another pair was ready",
        "it was late, and another open pair was ready",
        Some("choose"),
        |b| !b.it.ready && b.step.offers.iter().any(|offer| !offer.taken && offer.ready),
    ),
    row("after-back-turn", "after a turn at the back", "the step before turned the back layer", None, |b| {
        b.step.text.iter().any(|mv| matches!(mv, Move::Turn(Face::B, _) | Move::Wide(Face::B, _)))
    }),
    row(
        "after-rotation",
        "after a rotation in the step",
        "the step before had a rotation of the cube, or a wide turn that comes to one",
        Some("whole"),
        |b| b.step.text.iter().any(|mv| matches!(mv, Move::Rotation(..) | Move::Wide(..))),
    ),
    row(
        "after-hands-changed",
        "after a step that changes hands twice",
        "in the step before, at least two turns of R or L follow one of the other of the two",
        None,
        |b| changes_of_hand(&b.step.text) >= 2,
    ),
    // How it begins.
    row(
        "rotates",
        "it begins with a rotation",
        "its own step begins with a rotation of the cube, or a wide turn that comes to one",
        Some("whole"),
        |b| matches!(b.own.text.first(), Some(Move::Rotation(..) | Move::Wide(..))),
    ),
    row(
        "turns-first",
        "it begins with a turn of the top",
        "its own step begins with a turn of U",
        Some("turn-first"),
        |b| matches!(b.own.text.first(), Some(Move::Turn(Face::U, _))),
    ),
    row(
        "left-hand",
        "its first side turn is of L",
        "the first turn of R or L in its own step is of L",
        None,
        |b| b.own.text.iter().find_map(hand) == Some(Face::L),
    ),
    row(
        "turned-round",
        "held otherwise than after the cross",
        "when its own step begins the cube is not held as it was when the cross was done",
        None,
        |b| b.own.hold != b.first_hold,
    ),
    row(
        "long-line",
        "its cheapest line has 8 turns or more",
        "the cheapest line for it, when its own step begins, has 8 turns or more",
        Some("choose"),
        |b| b.it.line.as_ref().is_some_and(|line| line.obtm >= LONG),
    ),
    row(
        "after-xcross",
        "after an xcross",
        "the step before was a cross that brought a pair with it",
        Some("cross"),
        |b| b.step.kind == StepKind::Cross && !b.step.pairs.is_empty(),
    ),
];

fn at_back(watch: &Watch) -> bool {
    watch.to.faces().contains(&Face::B)
}

/// R or L, if that is what the move turns.
fn hand(mv: &Move) -> Option<Face> {
    match mv {
        Move::Turn(face @ (Face::R | Face::L), _) | Move::Wide(face @ (Face::R | Face::L), _) => Some(*face),
        _ => None,
    }
}

fn changes_of_hand(moves: &[Move]) -> usize {
    let hands: Vec<Face> = moves.iter().filter_map(hand).collect();
    hands.windows(2).filter(|pair| pair[0] != pair[1]).count()
}

impl<'a> Before<'a> {
    /// What was before pair step `index`; `None` if no step before it says.
    pub(super) fn of(steps: &'a [Step], index: usize, lead: usize) -> Option<Before<'a>> {
        let own = &steps[index];
        let step = &steps[index.checked_sub(1)?];
        let it = step.taken()?;
        let earlier = index.checked_sub(2).and_then(|before| steps[before].taken());
        let first = steps.iter().find(|step| step.kind == StepKind::Pair)?;
        Some(Before { step, it, earlier, own, first_hold: first.hold, lead })
    }

    /// The verdict on the step before, if that was a pair's.
    pub(super) fn verdict(&self) -> Option<Verdict> {
        self.step.choice.as_ref().and_then(|choice| choice.verdict)
    }

    /// The circumstances that hold.
    pub(super) fn given(&self) -> Given {
        Which::all().filter(|which| (which.circumstance().holds)(self)).collect()
    }

    fn in_time(&self, watch: &Watch) -> bool {
        watch.in_time(self.step, self.lead)
    }

    fn deduced(&self, watch: &Watch) -> bool {
        let plainly = |moment: usize| moment == self.step.from || self.step.to_go(moment) >= self.lead;
        self.in_time(watch) && !watch.plain.is_some_and(plainly)
    }
}

impl Which {
    /// All of them, in the order of the table.
    pub fn all() -> impl Iterator<Item = Which> {
        (0..ALL.len()).map(Which::at)
    }

    /// The one at this place of the table.
    ///
    /// # Panics
    ///
    /// If there is none.
    #[must_use]
    pub const fn at(place: usize) -> Which {
        assert!(place < ALL.len(), "a circumstance of the table");
        Which(place as u8)
    }

    /// Its place in the table.
    #[must_use]
    pub const fn place(self) -> usize {
        self.0 as usize
    }

    /// Its row of the table.
    #[must_use]
    pub const fn circumstance(self) -> &'static Circumstance {
        &ALL[self.0 as usize]
    }
}

impl fmt::Display for Which {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.circumstance().name)
    }
}

impl FromStr for Which {
    type Err = String;

    fn from_str(text: &str) -> Result<Which, String> {
        let named = Which::all().find(|which| which.circumstance().name == text);
        named.ok_or_else(|| "expected the name of a circumstance, such as `edge-back-slot`".into())
    }
}

impl From<Which> for String {
    fn from(which: Which) -> String {
        which.to_string()
    }
}

impl TryFrom<String> for Which {
    type Error = String;

    fn try_from(text: String) -> Result<Which, String> {
        text.parse()
    }
}

impl Given {
    /// Those whose bits are set, the first circumstance in the lowest.
    #[must_use]
    pub const fn from_bits(bits: u64) -> Given {
        Given(bits)
    }

    /// A bit for each circumstance.
    #[must_use]
    pub const fn bits(self) -> u64 {
        self.0
    }

    /// Whether it holds.
    #[must_use]
    pub const fn has(self, which: Which) -> bool {
        self.0 >> which.0 & 1 == 1
    }

    /// Whether all of these hold.
    #[must_use]
    pub fn has_all(self, all: &[Which]) -> bool {
        all.iter().all(|&which| self.has(which))
    }
}

impl FromIterator<Which> for Given {
    fn from_iter<I: IntoIterator<Item = Which>>(all: I) -> Given {
        Given(all.into_iter().fold(0, |bits, which| bits | 1 << which.0))
    }
}

const _: () = assert!(ALL.len() <= 64, "a bit for each");

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_name_stands_once_and_reads_back() {
        for which in Which::all() {
            let circumstance = which.circumstance();
            assert_eq!(circumstance.name.parse(), Ok(which));
            assert!(circumstance.says.len() <= 40, "{} has room in a table", circumstance.says);
            assert!(circumstance.name.chars().all(|c| c.is_ascii_lowercase() || c == '-'));
        }
        assert!("hopes".parse::<Which>().is_err());
    }

    #[test]
    fn a_set_holds_what_was_put_in() {
        let three: Given = [0, 5, ALL.len() - 1].map(Which::at).into_iter().collect();
        let held: Vec<usize> = Which::all().filter(|&which| three.has(which)).map(Which::place).collect();
        assert_eq!(held, [0, 5, ALL.len() - 1]);
        assert_eq!(Given::from_bits(three.bits()), three);
    }
}
