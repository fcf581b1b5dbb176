//! What people call steps and last-layer cases, and how these names are read.

use std::fmt;
use std::str::FromStr;

use super::cases::{OrientationCase, PermutationCase};
use super::{Kind, Solve};

/// What a person calls a step.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Name {
    /// `inspection`
    Inspection,
    /// `cross`; with an `x` before it for each pair that came with it: `xcross`, `xxcross`. With all four it is no cross
    /// any more, but the `first two layers`.
    Cross {
        /// How many.
        pairs: usize,
    },
    /// `pair 2`, `pairs 3 and 4`: numbered in order of solving, those of an xcross included.
    Pairs {
        /// The number of the first, from 1.
        first: usize,
        /// How many: at least 1.
        count: usize,
    },
    /// `OLL`: orientation of the last layer.
    Oll,
    /// `PLL`: permutation of the last layer.
    Pll,
    /// `last layer`: both at once.
    LastLayer,
    /// `AUF`: the final adjustment.
    Auf,
    /// `rest`: what follows the last milestone that was reached.
    Rest,
}

/// A last-layer case that has a name.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Case {
    /// `OLL 27`: an orientation, by the trade's number.
    Oll(OrientationCase),
    /// `PLL Ua`: a permutation, by the trade's letter.
    Pll(PermutationCase),
}

impl Solve {
    /// What a person calls step `index`.
    #[must_use]
    pub fn name(&self, index: usize) -> Name {
        let step = &self.steps[index];
        match step.kind {
            Kind::Inspection => Name::Inspection,
            Kind::Cross => Name::Cross { pairs: step.pairs.len() },
            Kind::Pair => Name::Pairs { first: self.solved_before(index).len() + 1, count: step.pairs.len() },
            Kind::Orient => Name::Oll,
            Kind::Permute => Name::Pll,
            Kind::LastLayer => Name::LastLayer,
            Kind::Adjust => Name::Auf,
            Kind::Rest => Name::Rest,
        }
    }
}

/// `1`, `1 and 2`, `1, 2 and 3`.
fn numbers(first: usize, count: usize) -> String {
    let numbers: Vec<String> = (first..first + count).map(|number| number.to_string()).collect();
    match numbers.as_slice() {
        [] => String::new(),
        [one] => one.clone(),
        [front @ .., last] => format!("{} and {last}", front.join(", ")),
    }
}

impl fmt::Display for Name {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            Name::Cross { pairs: 4 } => f.pad("first two layers"),
            Name::Cross { pairs } => f.pad(&format!("{}cross", "x".repeat(pairs))),
            Name::Pairs { first, count: 1 } => f.pad(&format!("pair {first}")),
            Name::Pairs { first, count } => f.pad(&format!("pairs {}", numbers(first, count))),
            Name::Inspection => f.pad("inspection"),
            Name::Oll => f.pad("OLL"),
            Name::Pll => f.pad("PLL"),
            Name::LastLayer => f.pad("last layer"),
            Name::Auf => f.pad("AUF"),
            Name::Rest => f.pad("rest"),
        }
    }
}

/// Reads what [`Display`](fmt::Display) writes.
impl FromStr for Name {
    type Err = String;

    fn from_str(text: &str) -> Result<Name, String> {
        let plain = [Name::Inspection, Name::Oll, Name::Pll, Name::LastLayer, Name::Auf, Name::Rest];
        let crosses = (0..=4).map(|pairs| Name::Cross { pairs });
        let pairs = (1..=4).flat_map(|first| (1..=5 - first).map(move |count| Name::Pairs { first, count }));
        plain
            .into_iter()
            .chain(crosses)
            .chain(pairs)
            .find(|name| name.to_string() == text)
            .ok_or_else(|| format!("expected the name of a step, such as `cross` or `pair 2`, not `{text}`"))
    }
}

impl Case {
    /// The number or letter alone: `27`, `Ua`; empty for what is solved.
    #[must_use]
    pub fn which(self) -> String {
        match self {
            Case::Oll(case) => case.number().map_or_else(String::new, |number| number.to_string()),
            Case::Pll(case) => case.letter().unwrap_or_default().into(),
        }
    }
}

impl fmt::Display for Case {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let kind = match self {
            Case::Oll(_) => "OLL",
            Case::Pll(_) => "PLL",
        };
        f.pad(&format!("{kind} {}", self.which()))
    }
}

/// Reads what [`Display`](fmt::Display) writes.
impl FromStr for Case {
    type Err = String;

    fn from_str(text: &str) -> Result<Case, String> {
        let orientations = OrientationCase::all().filter(|case| case.number().is_some()).map(Case::Oll);
        let permutations = PermutationCase::all().filter(|case| case.letter().is_some()).map(Case::Pll);
        orientations
            .chain(permutations)
            .find(|case| case.to_string() == text)
            .ok_or_else(|| format!("expected the name of a last-layer case, not `{text}`"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_read_back() {
        for (name, text) in [
            (Name::Cross { pairs: 0 }, "cross"),
            (Name::Cross { pairs: 2 }, "xxcross"),
            (Name::Pairs { first: 2, count: 1 }, "pair 2"),
            (Name::Pairs { first: 2, count: 3 }, "pairs 2, 3 and 4"),
            (Name::LastLayer, "last layer"),
        ] {
            assert_eq!(name.to_string(), text);
            assert_eq!(text.parse(), Ok(name));
        }
        assert!("pair 5".parse::<Name>().is_err() && "pairs 4 and 5".parse::<Name>().is_err());
        let cases: Vec<Case> = OrientationCase::all()
            .filter(|case| case.number().is_some())
            .map(Case::Oll)
            .chain(PermutationCase::all().filter(|case| case.letter().is_some()).map(Case::Pll))
            .collect();
        // 57 and 21 (trade numbering, from memory).
        assert_eq!(cases.len(), 78);
        assert!(cases.iter().all(|case| case.to_string().parse() == Ok(*case)));
    }
}
