//! What a study has to say of its record: claims that the replay contradicts, an end that is not solved, marks and a
//! timer that do not fit. Found here for every verb, so that none says another thing of the same record.

use crate::clock::timer_note;
use crate::diagnostic::{Diagnostic, Span};
use crate::findings;
use crate::record::Until;
use crate::steps::claims::Claim;
use crate::steps::{End, Kind, Step};
use crate::words::and;

use super::Study;

/// Every cross can be solved in eight turns (a fact of the trade, from memory).
const LONGEST_CROSS: usize = 8;
/// A pair that takes more turns than this was not played on purpose. Common practice, no source.
const LONGEST_PAIR: usize = 14;

impl Study<'_> {
    /// Everything that the replay has to say of the record; the reader's own messages are the record's.
    #[must_use]
    pub fn said(&self) -> Vec<Diagnostic> {
        let mut said: Vec<Diagnostic> = self.contradicted().into_iter().collect();
        said.extend(self.other_cases());
        said.extend(self.unsolved());
        said.extend(self.record.time.and_then(|timer| timer_note(&self.clock, timer)));
        said
    }

    /// The first claim that does not hold; what follows a mistake is mostly wrong too, so the others are only
    /// counted.
    fn contradicted(&self) -> Option<Diagnostic> {
        let played = self.replay.moves.len();
        let mut wrong = self.claims.iter().filter(|claim| !claim.holds && claim.to <= played);
        let first = wrong.next()?;
        let found = self.found_between(first.from, first.to);
        let claimed = claimed(&first.claim);
        Some(findings::claim_contradicted(&first.text, &claimed, &found, wrong.count()).at(first.span))
    }

    /// The last-layer cases that the writer names and the replay names otherwise.
    fn other_cases(&self) -> Vec<Diagnostic> {
        let case_of = |kinds: &[Kind]| {
            let index = self.solve.steps.iter().position(|step| kinds.contains(&step.kind))?;
            self.case(index)
        };
        let mut said = Vec::new();
        for claim in self.claims.iter().filter(|claim| claim.holds) {
            let (claimed, found) = match &claim.claim {
                Claim::Orientation(Some(number)) => {
                    (format!("OLL {number}"), case_of(&[Kind::Orient, Kind::LastLayer]))
                }
                Claim::Permutation(Some(letter)) => (format!("PLL {letter}"), case_of(&[Kind::Permute])),
                _ => continue,
            };
            if let Some(found) = found.map(|found| found.to_string()).filter(|found| *found != claimed) {
                said.push(findings::case_contradicted(&claim.text, &found).at(claim.span));
            }
        }
        said
    }

    /// What the replay has between two moments, in words.
    fn found_between(&self, from: usize, to: usize) -> String {
        let reached: Vec<String> = self
            .solve
            .steps
            .iter()
            .enumerate()
            .filter(|(_, step)| step.to > from && step.to <= to)
            .filter(|(_, step)| !matches!(step.kind, Kind::Inspection | Kind::Rest))
            .map(|(index, step)| {
                let name = self.solve.name(index).to_string();
                let pairs: Vec<String> = step.pairs.iter().map(ToString::to_string).collect();
                if pairs.is_empty() { name } else { format!("{name} ({})", and(&pairs)) }
            })
            .collect();
        if reached.is_empty() {
            "the replay finishes no step in its turns".into()
        } else {
            format!("the replay has {} in its turns", and(&reached))
        }
    }

    /// A fault if the record was played to its end and the cube is not solved; a note if it is one turn short.
    fn unsolved(&self) -> Option<Diagnostic> {
        if !self.whole() {
            return None;
        }
        let last = self.record.solution.tokens.last()?.span;
        if let Some((until, _)) = self.record.until {
            let missed = || findings::until_missed(&until.to_string()).at(Span::new(last.end, last.end));
            return (!self.reached(until)).then(missed);
        }
        let finding = match self.solve.end {
            End::Solved => return None,
            End::OneTurnShort(turn) => findings::end_one_turn_short(&self.written_at_end(turn).to_string()),
            End::Unsolved => match self.breaks_off() {
                Some(step) => findings::end_unfinished(&step),
                None => findings::end_unsolved(),
            },
        };
        Some(finding.at(Span::new(last.end, last.end)))
    }
}

impl Study<'_> {
    /// Whether the record ends before the cube is solved and nothing is wrong with that: it was meant to, or it breaks off
    /// where a step is done.
    #[must_use]
    pub fn unfinished(&self) -> bool {
        let meant = || self.record.until.is_some_and(|(until, _)| self.reached(until));
        self.whole() && self.solve.end == End::Unsolved && (meant() || self.breaks_off().is_some())
    }

    /// The step with which a record breaks off: cross, pair or OLL is done by its last turn, and the writer says so there.
    /// Where no words say anything it has to look like a solve: any position may have a cross by accident.
    fn breaks_off(&self) -> Option<String> {
        let index = self.solve.steps.iter().rposition(|step| step.to > step.from)?;
        let n = self.record.solution.tokens.len();
        let is_step = |step: &Step| matches!(step.kind, Kind::Inspection | Kind::Cross | Kind::Pair);
        let turns = |step: &Step| self.moves(step).iter().map(|mv| mv.obtm()).sum::<usize>();
        let step = &self.solve.steps[index];
        let told = match self.claims.last() {
            Some(last) => last.to == n && self.claims.iter().all(|claim| claim.holds),
            None => self.solve.steps[..=index].iter().all(|step| {
                is_step(step)
                    && turns(step) <= if step.kind == Kind::Cross { LONGEST_CROSS } else { LONGEST_PAIR }
            }),
        };
        let done = matches!(step.kind, Kind::Cross | Kind::Pair | Kind::Orient) && step.to == n;
        (told && done && self.solve.cross_first).then(|| self.solve.name(index).to_string())
    }

    /// Whether the record gets as far as this.
    fn reached(&self, until: Until) -> bool {
        let pairs: usize = self.solve.steps.iter().map(|step| step.pairs.len()).sum();
        self.solve.cross.is_some()
            && match until {
                Until::Cross => true,
                Until::Pair(number) => pairs >= number,
                Until::TwoLayers => self.solve.first_two_layers,
            }
    }
}

fn claimed(claim: &Claim) -> String {
    match claim {
        Claim::Cross { pairs: 0 } => "the cross".into(),
        Claim::Cross { pairs } => format!("a cross with {pairs} of its pairs"),
        Claim::Pairs(numbers) => {
            let numbers: Vec<String> = numbers.iter().map(ToString::to_string).collect();
            format!("pair {}", and(&numbers))
        }
        Claim::NamedPair([a, b]) => format!("the {a}-{b} pair"),
        Claim::SomePair => "a pair".into(),
        Claim::Orientation(_) => "the OLL".into(),
        Claim::Permutation(_) => "the PLL".into(),
        Claim::Adjust => "a solved cube".into(),
    }
}
