//! A moment of a solve, named: `--at cross`, `--at "pair 2"`, `--at 14`. The one reader of such names, for every verb that
//! takes one.

use std::fmt;
use std::str::FromStr;

use cornerwise::annotation::{Annotation, Step, StepKind};
use cornerwise::steps::Skip;
use cornerwise::words::and;

use super::meant;

/// A moment as a person names it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::cli) enum At {
    /// So many tokens after the scrambled cube, 0.
    Token(usize),
    /// The end of the cross.
    Cross,
    /// The end of the step with which so many pairs are in.
    Pair(usize),
    /// The end of the orientation of the last layer.
    Oll,
    /// The end of its permutation.
    Pll,
    /// The end of its adjustment.
    Auf,
    /// The end of the record.
    End,
}

/// What is asked for where a name is none.
const EXPECTED: &str =
    "expected a number of tokens, `start`, `cross`, `pair 1` to `pair 4`, `OLL`, `PLL`, `AUF` or `end`";

/// The names among them.
const NAMES: [&str; 9] = ["start", "cross", "pair 1", "pair 2", "pair 3", "pair 4", "OLL", "PLL", "end"];

impl FromStr for At {
    type Err = String;

    fn from_str(text: &str) -> Result<At, String> {
        let words = text.trim().to_ascii_lowercase();
        let number = |text: &str| text.trim().parse::<usize>().ok();
        match words.as_str() {
            "start" | "scramble" => return Ok(At::Token(0)),
            "cross" | "xcross" => return Ok(At::Cross),
            "oll" => return Ok(At::Oll),
            "pll" => return Ok(At::Pll),
            "auf" => return Ok(At::Auf),
            "end" => return Ok(At::End),
            _ => {}
        }
        let pair = words.strip_prefix("pair").and_then(number).filter(|pair| (1..=4).contains(pair));
        pair.map(At::Pair).or_else(|| number(&words).map(At::Token)).ok_or_else(|| {
            let near = meant(&words, NAMES);
            near.map_or_else(|| EXPECTED.into(), |near| format!("did you mean `{near}`? {EXPECTED}"))
        })
    }
}

impl fmt::Display for At {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            At::Token(token) => write!(f, "{token}"),
            At::Cross => f.write_str("cross"),
            At::Pair(pair) => write!(f, "pair {pair}"),
            At::Oll => f.write_str("OLL"),
            At::Pll => f.write_str("PLL"),
            At::Auf => f.write_str("AUF"),
            At::End => f.write_str("end"),
        }
    }
}

impl At {
    /// The moment of this solve.
    ///
    /// # Errors
    ///
    /// A sentence: the record does not come to it.
    pub(in crate::cli) fn moment(self, facts: &Annotation) -> Result<usize, String> {
        let last = facts.moments.len() - 1;
        let ends =
            |test: &dyn Fn(&Step) -> bool| facts.steps.iter().find(|step| test(step)).map(|step| step.to);
        let skips = |step: &Step, skip: Skip| step.skips.contains(&skip);
        let found = match self {
            At::Token(token) => Some(token).filter(|token| *token <= last),
            At::Cross => ends(&|step| step.kind == StepKind::Cross),
            At::Pair(pair) => {
                let mut pairs = 0;
                facts.steps.iter().find_map(|step| {
                    pairs += step.pairs.len();
                    (pairs >= pair && !step.pairs.is_empty()).then_some(step.to)
                })
            }
            At::Oll => ends(&|step| {
                matches!(step.kind, StepKind::Orient | StepKind::LastLayer) || skips(step, Skip::Oll)
            }),
            At::Pll => ends(&|step| {
                matches!(step.kind, StepKind::Permute | StepKind::LastLayer) || skips(step, Skip::Pll)
            }),
            At::Auf => ends(&|step| step.kind == StepKind::Adjust),
            At::End => Some(last),
        };
        found.ok_or_else(|| {
            let steps: Vec<String> = facts
                .steps
                .iter()
                .filter(|step| !matches!(step.kind, StepKind::Inspection | StepKind::Rest))
                .map(|step| step.name.to_string())
                .collect();
            let steps =
                if steps.is_empty() { String::new() } else { format!(" and the steps {}", and(&steps)) };
            format!("--at {self}: this record has the moments 0 to {last}{steps}")
        })
    }
}
