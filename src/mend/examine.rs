//! One record looked at: what is wrong, where, and what would put it right.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::diagnostic::{Diagnostic, Source};
use crate::notation::Element;
use crate::record::Record;
use crate::steps::End;
use crate::steps::claims::{Checked, Claim};
use crate::study::Study;

use super::change::{Change, Part};
use super::locate::{Located, locate};
use super::rank::{Ranked, Repair, rank};
use super::search::work::Work;
use super::search::{Found, Search, gap};
use super::slip::Slip;
use super::tokens::{self, Tokens};
use super::{CLEARLY_AHEAD, change, odd};

/// What to look for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Settings {
    /// The most turns that `...` may stand for; at most [`gap::MOST_TURNS`].
    pub gap: usize,
}

impl Default for Settings {
    fn default() -> Settings {
        Settings { gap: 8 }
    }
}

/// How a record is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Health {
    /// It can be played and ends solved.
    Sound,
    /// The same, but the reader found faults that no other turns would mend.
    Faulty,
    /// It can be played and ends one turn short of solved: a solve with a penalty, or a turn is missing.
    #[serde(rename = "one turn short")]
    OneTurnShort,
    /// It cannot be played to the end, or does not end solved.
    Broken,
    /// It ends before the cube is solved, where a step is done, and all that is written holds.
    Unfinished,
    /// There is nothing to play: no scramble or no solution.
    Empty,
}

/// How sure the first repair is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Standing {
    /// The turns are right as they are, or there are none.
    #[serde(rename = "nothing to repair")]
    NothingToRepair,
    /// The first repair is clearly ahead, and no comment contradicts it.
    Clear,
    /// Some repairs fit about equally well: each less than ten times likelier than the next.
    Tied,
    /// One repair is ahead, but it contradicts a comment, or has turns for a whole line, or the record may be right as
    /// it stands, or another slip looks the same.
    Doubtful,
    /// No repair within the bounds.
    #[serde(rename = "not found")]
    NotFound,
}

/// What was searched.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
pub struct Searched {
    /// How many sets of edits (or ways to fill gaps) were tried.
    pub tried: u64,
    /// How much work that was, in the steps of [`Work`].
    pub steps: u64,
    /// Whether three likely edits were tried too: done where fewer do not help.
    pub three: bool,
    /// Whether lost tokens and lines were looked for: done unless one likely edit helps.
    #[serde(default)]
    pub lines: bool,
    /// Whether something could not be tried within the bounds.
    pub cut_short: bool,
}

/// Everything there is to say of a record.
#[derive(Debug, Clone, PartialEq)]
pub struct Examination {
    /// What is wrong or looks wrong, in the order of the text.
    pub findings: Vec<Diagnostic>,
    /// How the record is.
    pub health: Health,
    /// Where it goes wrong, if it does.
    pub located: Option<Located>,
    /// What would put it right, the likeliest first.
    pub ranked: Ranked,
    /// What was searched.
    pub searched: Searched,
    /// How sure the first repair is.
    pub standing: Standing,
    /// How many repairs are about as likely as the first, itself included.
    pub near: usize,
    /// Whether the writer's words tell that a line is missing where the first repair, which is no likely slip, puts none.
    pub line_missing: bool,
}

/// Looks at one record. Without a scramble there is nothing to hold the turns against, and nothing to mend.
#[must_use]
pub fn examine(study: &Study<'_>, settings: &Settings) -> Examination {
    let Study { source, record, .. } = *study;
    let health = match study.solve.end {
        _ if record.solution.tokens.is_empty() || record.scramble.tokens.is_empty() => Health::Empty,
        _ if !study.whole() => Health::Broken,
        End::Solved if record.has_fault() => Health::Faulty,
        End::Solved => Health::Sound,
        End::OneTurnShort(_) => Health::OneTurnShort,
        End::Unsolved if study.unfinished() && !record.has_fault() => Health::Unfinished,
        End::Unsolved => Health::Broken,
    };
    let findings = odd::findings(study);
    let mut examination = Examination {
        findings,
        health,
        located: None,
        ranked: Ranked::default(),
        searched: Searched::default(),
        standing: Standing::NothingToRepair,
        near: 0,
        line_missing: false,
    };
    if matches!(health, Health::Sound | Health::Faulty | Health::Unfinished | Health::Empty) {
        return examination;
    }
    examination.located = Some(locate(study));
    let first_broken = study.claims.iter().find(|claim| !claim.holds);
    let broken_as_it_stands = first_broken.is_some();
    // Where a line was lost, the next claim is the first to be wrong.
    let near = first_broken.map(|claim| claim.from);
    (examination.ranked, examination.searched) = repairs(source, record, near, settings);
    let repairs = &examination.ranked.repairs;
    examination.near = repairs.first().map_or(0, |first| {
        // What several tokens were is worked out from less, and the figures for that are rougher.
        let ahead = if of_several_tokens(first) { 2.0 * CLEARLY_AHEAD } else { CLEARLY_AHEAD };
        repairs.iter().take_while(|repair| repair.cost - first.cost < ahead).count()
    });
    examination.line_missing = repairs.first().is_some_and(|first| {
        !is_likely(first) && !moves_lines(first) && leaves_a_line_missing(record, &study.claims, first)
    });
    examination.standing = standing(&examination, record, broken_as_it_stands);
    examination
}

/// All repairs, in order; `near` is where the words tell that turns are missing, if any were lost.
fn repairs(source: &Source, record: &Record, near: Option<usize>, settings: &Settings) -> (Ranked, Searched) {
    let tokens = tokens::of(source, record);
    let search = Search::new(&tokens);
    // Finding and looking at what was found have so much each.
    let allowed = Work::for_bytes(record.span.range().len());
    let (mut finding, mut ranking) = (allowed, allowed);
    if tokens.elements.contains(&Element::Gap) {
        let filled = gap::fill(&tokens, &search, settings.gap, &mut finding);
        let candidates = filled.ways.iter().map(|way| change::of_way(&tokens, &search, way)).collect();
        let ranked = rank(record, candidates, &mut ranking);
        let searched = Searched {
            tried: filled.tried,
            steps: finding.done() + ranking.done(),
            cut_short: filled.cut_short || ranked.cut_short,
            ..Searched::default()
        };
        return (ranked, searched);
    }
    let mut of = |found: &Found, larger: &[Vec<Change>]| {
        let edits = found.repairs.iter().map(|ids| change::of_edits(&tokens, &search, ids));
        rank(record, edits.chain(larger.iter().cloned()).collect(), &mut ranking)
    };
    let satisfied = |ranked: &Ranked| ranked.repairs.iter().any(|repair| repair.judged.broken_claims() == 0);
    let mut found = search.up_to_two(&mut finding);
    let mut ranked = of(&found, &[]);
    // One edit that satisfies the writer's own comments and is likelier than any larger damage is what happened. Else it may
    // be larger damage that looks like an edit or two. More than two edits are worth a look only where fewer do not satisfy
    // the comments.
    let one_does =
        ranked.repairs.iter().any(|repair| repair.judged.broken_claims() == 0 && is_likely(repair));
    let mut searched = Searched::default();
    let mut larger = Vec::new();
    if !one_does && search.has_all_moves() {
        searched.lines = true;
        let lost_line = !satisfied(&ranked);
        larger = damage(record, &tokens, &search, lost_line.then_some(near), &mut finding);
        if !larger.is_empty() {
            ranked = of(&found, &larger);
        }
    }
    if !satisfied(&ranked) {
        searched.three = true;
        let more = search.three(&found, &mut finding);
        if !more.repairs.is_empty() {
            found.repairs.extend(more.repairs);
            ranked = of(&found, &larger);
        }
        found.tried += more.tried;
        found.cut_short |= more.cut_short;
    }
    searched.tried = found.tried;
    searched.steps = finding.done() + ranking.done();
    searched.cut_short = found.cut_short || ranked.cut_short || finding.is_spent();
    (ranked, searched)
}

/// What mends damage larger than slips: tokens lost in one place, lines that stand twice or in each other's place, and,
/// where nothing of that is so and it is asked for, a line that was lost, perhaps at a known place.
fn damage(
    record: &Record,
    tokens: &Tokens,
    search: &Search,
    lost_line: Option<Option<usize>>,
    work: &mut Work,
) -> Vec<Vec<Change>> {
    let solution = &record.solution;
    let mut found: Vec<Vec<Change>> =
        search.lost_runs(tokens, work).iter().map(|run| change::of_run(tokens, run)).collect();
    let moved = search.moved_lines(solution, tokens, work);
    found.extend(moved.iter().map(|block| change::of_block(solution, block)));
    if let Some(near) = lost_line.filter(|_| found.is_empty()) {
        // What is left after half of the work is for three edits.
        let mut part = work.half();
        let lost = search.lost_line(solution, tokens, near, &mut part);
        work.spend(part.done());
        found.extend(lost.iter().map(|block| change::of_block(solution, block)));
    }
    found
}

/// Whether it is one edit that is likelier than any larger damage.
fn is_likely(repair: &Repair) -> bool {
    matches!(repair.changes.as_slice(), [one] if one.cost < Slip::LineDoubled.cost(1.0))
}

/// Whether it only puts lines that are there where they belong.
fn moves_lines(repair: &Repair) -> bool {
    repair.changes.iter().all(|change| matches!(change.slip, Slip::LineDoubled | Slip::LinesSwapped))
}

/// Whether it says of several tokens what they were.
fn of_several_tokens(repair: &Repair) -> bool {
    !moves_lines(repair)
        && repair.changes.iter().map(|change| change.moves.len().max(change.range.len())).sum::<usize>() > 1
}

/// Whether the writer's words tell that a line is missing, and the repair puts none there: a step is told on a line without
/// turns, or the first of the pairs that are told is a later one than comes next.
fn leaves_a_line_missing(record: &Record, claims: &[Checked], repair: &Repair) -> bool {
    let solution = &record.solution;
    let is_filled = |moment: usize| {
        let at = moment..moment;
        repair.changes.iter().any(|change| change.part == Part::Solution && change.range == at)
    };
    let waits = |claim: &Checked| {
        let waiting = change::waiting(solution, claim.to).map(|comment| &solution.comments[comment]);
        waiting.is_some_and(|comment| comment.span == claim.span && !is_filled(claim.to))
    };
    let mut pairs = 0;
    let mut skips = |claim: &Checked| match &claim.claim {
        Claim::Cross { pairs: with } => {
            pairs = *with;
            false
        }
        Claim::Pairs(numbers) => {
            let skipped = numbers.iter().min().is_some_and(|first| *first > pairs + 1);
            pairs = numbers.iter().copied().max().unwrap_or(pairs);
            skipped
        }
        Claim::NamedPair(_) | Claim::SomePair => {
            pairs += 1;
            false
        }
        Claim::Orientation(_) | Claim::Permutation(_) | Claim::Adjust => false,
    };
    // A lost line stood where the turns of the next claim begin.
    claims.iter().any(|claim| waits(claim) || (skips(claim) && !is_filled(claim.from)))
}

fn standing(examination: &Examination, record: &Record, broken_as_it_stands: bool) -> Standing {
    let repairs = &examination.ranked.repairs;
    let Some(first) = repairs.first() else { return Standing::NotFound };
    let has = |repair: &Repair, slip: Slip| repair.changes.iter().any(|change| change.slip == slip);
    // One turn short is a solve with a penalty. Only the writer's own words can say that it was not.
    let may_be_right = examination.health == Health::OneTurnShort && !broken_as_it_stands;
    // A slip in the first turn of the scramble looks like a last adjustment left out, unless the words wait for one.
    let may_be_scramble = has(first, Slip::AdjustmentMissing)
        && change::waiting(&record.solution, record.solution.tokens.len()).is_none()
        && repairs.iter().skip(1).any(|repair| {
            repair.judged.broken_claims() == 0
                && repair.changes.iter().all(|change| change.part == Part::Scramble)
        });
    if examination.near > 1 {
        Standing::Tied
    } else if may_be_right
        || may_be_scramble
        || first.judged.broken_claims() > 0
        // Turns for a whole line are worked out, not read.
        || has(first, Slip::LineLost)
        || examination.line_missing
    {
        Standing::Doubtful
    } else {
        Standing::Clear
    }
}
