//! Solvers of three levels, made to order: the better the solver, the seldomer there was a cleaner line.
//!
//! The levels differ in one thing, from how many of the cheapest lines of all open pairs each line is drawn. What the
//! generator calls cheap is its own table of costs and phrases, not the library's. The measured table stands in
//! `docs/method.md`; the slow run makes it again and holds the page to it.

use cornerwise::judgement::{Settings, Verdict};
use cornerwise::replay::Replay;

use crate::judged::solves::{Played, SIGHT};
use crate::support::solver::{Options, Rng, Solver};
use crate::support::switch;

/// What a level is called in the table, and from how many of the cheapest lines it draws.
const LEVELS: [(&str, usize); 3] =
    [("the cheapest line always", 1), ("one of the three cheapest", 3), ("any line", usize::MAX)];

/// How many pair steps there were, and of how many something is true.
#[derive(Default)]
struct Count {
    steps: usize,
    followed: usize,
    cleaner: usize,
    own_line: usize,
    avoidable: usize,
    forced: usize,
}

impl Count {
    fn of(solves: usize, among: usize) -> Count {
        let (mut rng, mut solver) = (Rng::new(2), Solver::new());
        let options = Options { among: Some(among), ..Options::default() };
        let mut count = Count::default();
        for _ in 0..solves {
            let solve = solver.random(&mut rng, &options);
            let played = Played::new(Replay::new(solve.scramble.iter().copied(), solve.moves()), SIGHT);
            for (_, judged) in played.pair_steps(&Settings::default()) {
                count.steps += 1;
                count.own_line += usize::from(judged.own_line.is_some());
                let Some(choice) = &judged.choice else { continue };
                count.followed += 1;
                count.cleaner += usize::from(choice.cleaner.is_some());
                count.avoidable += usize::from(choice.verdict == Verdict::Avoidable);
                count.forced += usize::from(choice.verdict == Verdict::Forced);
            }
        }
        count
    }

    /// The level's row of the table.
    fn row(&self, name: &str) -> String {
        let percent = |part: usize, of: usize| format!("{:.0} %", 100.0 * part as f64 / of as f64);
        let followed = |part| percent(part, self.followed);
        let (cleaner, avoidable, forced) =
            (followed(self.cleaner), followed(self.avoidable), followed(self.forced));
        let own = percent(self.own_line, self.steps);
        format!("| {name} | {} | {cleaner} | {own} | {avoidable} | {forced} |", self.followed)
    }
}

#[test]
fn the_better_the_solver_the_seldomer_a_line_was_cleaner() {
    let solves = if switch::slow() { 300 } else { 30 };
    let counts = LEVELS.map(|(_, among)| Count::of(solves, among));
    let rates = counts.each_ref().map(|count| count.cleaner as f64 / count.followed as f64);
    let rows: Vec<String> = counts.iter().zip(LEVELS).map(|(count, (name, _))| count.row(name)).collect();
    let rows = rows.join("\n");
    assert!(1.3 * rates[0] < rates[1] && 1.3 * rates[1] < rates[2], "{rows}");
    if switch::slow() {
        let page = include_str!("../../docs/method.md");
        assert!(page.contains(&rows), "docs/method.md should have\n{rows}");
    }
}
