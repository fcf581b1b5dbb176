//! Solves to judge, and what their judgements have in common with those of the same solve seen otherwise.

use cornerwise::cube::{Face, FaceSet, Pair, Position};
use cornerwise::diagnostic::Source;
use cornerwise::hands::HalfUnits;
use cornerwise::judgement::{self, Judged, Offer, Open, Settings, Step};
use cornerwise::record;
use cornerwise::replay::Replay;
use cornerwise::steps::{Solve, split};

use crate::support::solver::{Options, Rng, Solver};
use crate::support::switch;

pub const SIGHT: FaceSet = FaceSet::of(&[Face::U, Face::F, Face::R]);

/// A solve played and cut into steps.
pub struct Played {
    pub replay: Replay,
    pub solve: Solve,
    pub sight: FaceSet,
}

impl Played {
    pub fn new(replay: Replay, sight: FaceSet) -> Played {
        Played { solve: split(&replay), replay, sight }
    }

    /// Record `number` (from 1) of a file of the folder of records.
    pub fn of_record(file: &str, number: usize) -> Played {
        let path = format!("{}/reconstructions/{file}", env!("CARGO_MANIFEST_DIR"));
        let text = std::fs::read(path).expect("a record of the folder");
        let source = Source::from_bytes(file, text).expect("text");
        let record = record::read(&source).records.remove(number - 1);
        Played::new(Replay::new(record.scramble.playable(), record.solution.playable()), record.sight)
    }

    pub fn judged(&self, settings: &Settings) -> Vec<Option<Step>> {
        judgement::solve(&self.replay, &self.solve, self.sight, settings)
    }

    /// The pair steps, each with its number among the steps.
    pub fn pair_steps(&self, settings: &Settings) -> Vec<(usize, Judged)> {
        let steps = self.judged(settings).into_iter().enumerate();
        let pair = |(index, step)| match step {
            Some(Step::Pair(judged)) => Some((index, *judged)),
            _ => None,
        };
        steps.filter_map(pair).collect()
    }

    /// The position at which a step begins.
    pub fn start(&self, step: usize) -> Position {
        self.replay.moments[self.solve.steps[step].from]
    }
}

/// Made solves of ordinary and odd kinds in turn.
pub fn made(seed: u64) -> Vec<Played> {
    let (mut rng, mut solver) = (Rng::new(seed), Solver::new());
    let kinds = [
        Options { looks_ahead: false, ..Options::default() },
        Options { two_pairs: true, ..Options::default() },
        Options { wide: true, temper: 5.0, ..Options::default() },
        Options { xcross: true, temper: 8.0, ..Options::default() },
    ];
    let n = if switch::slow() { 120 } else { 12 };
    (0..n)
        .map(|i| {
            let solve = solver.random(&mut rng, &kinds[i % kinds.len()]);
            let sight = if i % 5 == 4 { SIGHT.with(Face::L) } else { SIGHT };
            Played::new(Replay::new(solve.scramble.iter().copied(), solve.moves()), sight)
        })
        .collect()
}

/// What a judgement says apart from the names of colours and faces, and apart from which of several equals it shows.
pub fn nameless(steps: &[Option<Step>], rename: &dyn Fn(Pair) -> Pair) -> Vec<String> {
    let pairs = |pairs: &[Pair]| {
        let mut names: Vec<String> = pairs.iter().map(|&pair| rename(pair).to_string()).collect();
        names.sort();
        names
    };
    let open = |open: &[Open]| {
        let mut open: Vec<String> = open
            .iter()
            .map(|open| {
                let then = open.then.as_ref().map(|then| then.cost);
                format!("{} {} {:?} {then:?}", rename(open.left.pair), open.left.ready, open.left.lead)
            })
            .collect();
        open.sort();
        open
    };
    let price = |offer: &Offer| (offer.price, offer.same_turns);
    let told = |step: &Option<Step>| match step {
        None => String::new(),
        Some(Step::Cross(cross)) => {
            let extra: Vec<HalfUnits> = cross.others.iter().map(|other| other.extra).collect();
            format!("{:?} {:?} {extra:?}", open(&cross.open), cross.next.map(|left| left.ready))
        }
        Some(Step::Pair(judged)) => {
            let choice = judged.choice.as_ref().map(|choice| {
                let alternatives: Vec<_> = choice.alternatives.iter().map(price).collect();
                let cleaner = choice.cleaner.as_ref();
                // Not what it comes to with the rest of the pairs: of several of one price any may be shown.
                let cleaner = cleaner.map(|cleaner| (cleaner.saves, cleaner.played_to_the_end));
                (
                    (choice.next.ready, choice.next.lead, choice.price, choice.verdict),
                    (alternatives, choice.cheapest.as_ref().map(price), cleaner),
                    pairs(&choice.offered),
                )
            });
            format!(
                "{:?} {choice:?} {:?}",
                (judged.cost, judged.played_turns, judged.is_hand_line, judged.within, judged.lines),
                (open(&judged.open), judged.cheapest_own, judged.own_line.as_ref().map(|own| own.saves)),
            )
        }
    };
    steps.iter().map(told).collect()
}
