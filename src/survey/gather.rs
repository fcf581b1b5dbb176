//! From records to solvers: what counts and what does not, each solve once, each solver's solves together.

use std::collections::HashSet;

use super::facts::{LeftOut, Other, Why};
use super::solve::Solve;
use super::stops::LEAST_SOLVES;

/// Which records are wanted.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Wanted {
    /// Only this solver's.
    pub solver: Option<String>,
    /// Only from this day on, `YYYY-MM-DD`.
    pub since: Option<String>,
}

/// Solves as they come, in the order of the records.
#[derive(Debug, Clone, Default)]
pub struct Gathered {
    wanted: Wanted,
    seen: HashSet<u64>,
    solvers: Vec<Solver>,
    /// Who else's solves came, in the order in which they came.
    others: Vec<Option<String>>,
}

/// One solver's.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Solver {
    /// Who; `None` for records that name nobody.
    pub name: Option<String>,
    /// Solves that count, timed or not.
    pub solves: Vec<Solve>,
    /// Records that do not.
    pub left_out: Vec<LeftOut>,
}

impl Solver {
    /// How many solves have times.
    #[must_use]
    pub fn timed(&self) -> usize {
        self.solves.iter().filter(|solve| solve.timed()).count()
    }

    /// Everything of another solver added to this one's.
    fn join(&mut self, other: Solver) {
        self.solves.extend(other.solves);
        self.left_out.extend(other.left_out);
    }
}

impl Gathered {
    /// Nothing yet.
    #[must_use]
    pub fn new(wanted: Wanted) -> Gathered {
        Gathered { wanted, ..Gathered::default() }
    }

    /// Nothing yet, to be put beside what is gathered here: a solve that is here already counts as met twice.
    #[must_use]
    pub fn beside(&self) -> Gathered {
        Gathered { seen: self.seen.clone(), ..Gathered::default() }
    }

    /// Takes a solve. Solves are to come in the order of the records: of two alike the first counts. Says why it counts
    /// for nothing, if so; `None` if it is not of the solver who is wanted.
    pub fn take(&mut self, solve: Solve) -> Option<Option<Why>> {
        if self.wanted.solver.as_ref().is_some_and(|name| solve.solver.as_deref() != Some(name.trim())) {
            if !self.others.contains(&solve.solver) {
                self.others.push(solve.solver);
            }
            return None;
        }
        let since = self.wanted.since.as_deref();
        let too_early = since.and_then(|since| match solve.date.as_deref() {
            None => Some(Why::NoDate),
            Some(date) => (date < since).then_some(Why::Earlier),
        });
        let twice = || (!self.seen.insert(solve.key)).then_some(Why::Twice);
        let why = solve.left_out.or(too_early).or_else(twice);
        let at = self.solvers.iter().position(|solver| solver.name == solve.solver);
        let at = at.unwrap_or_else(|| {
            self.solvers.push(Solver { name: solve.solver.clone(), ..Solver::default() });
            self.solvers.len() - 1
        });
        let untimed = !solve.timed();
        let solver = &mut self.solvers[at];
        let told = why.or(untimed.then_some(Why::NoTimes));
        if let Some(why) = told {
            solver.left_out.push(LeftOut { file: solve.file.clone(), record: solve.record, why });
        }
        if why.is_none() {
            solver.solves.push(solve);
        }
        Some(told)
    }

    /// Whether no record came at all.
    #[must_use]
    pub fn nothing_came(&self) -> bool {
        self.solvers.is_empty() && self.others.is_empty()
    }

    /// Whose solves came instead, where one solver's were wanted and none came.
    #[must_use]
    pub fn others_instead(&self) -> Option<&[Option<String>]> {
        (self.wanted.solver.is_some() && self.solvers.is_empty()).then_some(&self.others)
    }

    /// The solvers whose solves are to be looked at, and those that have too few. One alone is looked at however few
    /// there are; what was left out of nobody's in particular is told with the first.
    #[must_use]
    pub fn solvers(self) -> (Vec<Solver>, Vec<Other>) {
        let (some, none): (Vec<Solver>, Vec<Solver>) =
            self.solvers.into_iter().partition(|solver| !solver.solves.is_empty());
        let alone = some.len() <= 1;
        let (mut enough, few): (Vec<Solver>, Vec<Solver>) =
            some.into_iter().partition(|solver| alone || solver.timed() >= LEAST_SOLVES);
        let others: Vec<Other> =
            few.iter().map(|solver| Other { solver: solver.name.clone(), solves: solver.timed() }).collect();
        if enough.is_empty() && others.is_empty() {
            enough.push(Solver { name: self.wanted.solver, ..Solver::default() });
        }
        if let Some(first) = enough.first_mut() {
            first.left_out.extend(none.into_iter().chain(few).flat_map(|solver| solver.left_out));
        }
        (enough, others)
    }

    /// Everybody's as one, named only if there is one name.
    #[must_use]
    pub fn together(self) -> Solver {
        let mut solvers = self.solvers.into_iter();
        let Some(mut all) = solvers.next() else { return Solver::default() };
        for other in solvers {
            if other.name != all.name {
                all.name = None;
            }
            all.join(other);
        }
        all
    }

    /// Every solver, however few their solves, in the order in which they came.
    #[must_use]
    pub fn each(self) -> Vec<Solver> {
        self.solvers
    }
}
