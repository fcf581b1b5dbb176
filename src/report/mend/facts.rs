//! What `mend` found, for programs: one object a record.

use serde::Serialize;

use crate::cube::Move;
use crate::diagnostic::{Severity, Source};
use crate::mend::{Examination, Health, Repair, Standing, text, words};
use crate::record::Record;

use super::Found;

/// The version of the format; within a version, fields are only added.
pub const FORMAT: &str = "cornerwise-mend/1";

#[derive(Serialize)]
struct Facts<'a> {
    format: &'static str,
    file: &'a str,
    /// From 1.
    record: usize,
    title: Option<&'a str>,
    /// `sound`, `faulty` (it replays to solved but has faults), `one turn short`, `broken` or `empty`.
    health: &'static str,
    /// `nothing to repair`, `clear`, `tied`, `doubtful` or `not found`.
    standing: &'static str,
    /// How many repairs are about as likely as the first, itself included.
    near: usize,
    findings: Vec<Finding<'a>>,
    located: Option<Located<'a>>,
    /// How many different repairs fit.
    fits: usize,
    tried: u64,
    cut_short: bool,
    repairs: Vec<Mended>,
}

#[derive(Serialize)]
struct Finding<'a> {
    severity: Severity,
    code: &'static str,
    message: &'a str,
    help: Option<&'a str>,
    line: Option<usize>,
    column: Option<usize>,
}

#[derive(Serialize)]
struct Located<'a> {
    /// So many tokens of the solution hold.
    holds: usize,
    reached: &'a [String],
    first_broken: Option<&'a str>,
    /// Read backwards, the record holds from this moment on.
    resumes: Option<usize>,
}

#[derive(Serialize)]
struct Mended {
    /// What to do, in words.
    what: String,
    /// The natural logarithm of how unlikely it is.
    cost: f64,
    broken_claims: usize,
    changes: Vec<Changed>,
    /// The bytes of the file to replace; absent if the repair cannot be written in place.
    rewrites: Option<Vec<Rewritten>>,
    scramble: String,
    solution: String,
}

#[derive(Serialize)]
struct Changed {
    part: &'static str,
    /// The tokens replaced, counted from 0; `from` = `to` for an insertion.
    from: usize,
    to: usize,
    moves: Vec<String>,
    why: &'static str,
    line: usize,
    column: usize,
}

#[derive(Serialize)]
struct Rewritten {
    start: usize,
    end: usize,
    with: String,
}

/// One line of JSON, with its line feed, holding at most `shown` repairs.
///
/// # Panics
/// Never: the value holds nothing that JSON cannot.
#[must_use]
pub fn json(found: &Found<'_>, shown: usize) -> String {
    let Found { source, index, record, examination, .. } = *found;
    let facts = Facts {
        format: FORMAT,
        file: &source.name,
        record: index + 1,
        title: record.title.as_deref(),
        health: match examination.health {
            Health::Sound if record.has_fault() => "faulty",
            Health::Sound => "sound",
            Health::OneTurnShort => "one turn short",
            Health::Broken => "broken",
            Health::Empty => "empty",
        },
        standing: match examination.standing {
            Standing::NothingToRepair => "nothing to repair",
            Standing::Clear => "clear",
            Standing::Tied(_) => "tied",
            Standing::Doubtful => "doubtful",
            Standing::NotFound => "not found",
        },
        near: match examination.standing {
            Standing::Tied(n) => n,
            Standing::Clear | Standing::Doubtful => 1,
            Standing::NothingToRepair | Standing::NotFound => 0,
        },
        findings: findings(source, examination),
        located: examination.located.as_ref().map(|located| Located {
            holds: located.holds,
            reached: &located.reached,
            first_broken: located.first_broken.as_deref(),
            resumes: located.resumes,
        }),
        fits: examination.ranked.n_fits,
        tried: examination.searched.tried,
        cut_short: examination.searched.cut_short,
        repairs: examination.ranked.repairs.iter().take(shown).map(|r| mended(found, record, r)).collect(),
    };
    serde_json::to_string(&facts).expect("plain data") + "\n"
}

fn findings<'a>(source: &Source, examination: &'a Examination) -> Vec<Finding<'a>> {
    examination
        .findings
        .iter()
        .map(|finding| {
            let place = finding.span().map(|span| source.position(span.start));
            Finding {
                severity: finding.severity,
                code: finding.code,
                message: &finding.message,
                help: finding.help.as_deref(),
                line: place.map(|(line, _)| line),
                column: place.map(|(_, column)| column),
            }
        })
        .collect()
}

fn mended(found: &Found<'_>, record: &Record, repair: &Repair) -> Mended {
    let rewrites = text::rewrites(found.source, found.index, record, repair).ok();
    let spaced =
        |moves: &mut dyn Iterator<Item = Move>| moves.map(|mv| mv.to_string()).collect::<Vec<_>>().join(" ");
    Mended {
        what: words::repair(found.source, record, repair),
        cost: (repair.cost * 100.0).round() / 100.0,
        broken_claims: repair.judged.broken_claims(),
        changes: repair
            .changes
            .iter()
            .map(|change| {
                let (line, column) = found.source.position(words::place(record, change));
                Changed {
                    part: match change.part {
                        crate::mend::Part::Scramble => "scramble",
                        crate::mend::Part::Solution => "solution",
                    },
                    from: change.range.start,
                    to: change.range.end,
                    moves: change.moves.iter().map(ToString::to_string).collect(),
                    why: change.slip.words(),
                    line,
                    column,
                }
            })
            .collect(),
        rewrites: rewrites.map(|rewrites| {
            rewrites
                .into_iter()
                .map(|r| Rewritten { start: r.range.start, end: r.range.end, with: r.with })
                .collect()
        }),
        scramble: spaced(&mut repair.scramble.playable()),
        solution: spaced(&mut repair.solution.playable()),
    }
}
