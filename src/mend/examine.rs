//! One record looked at: what is wrong, where, and what would put it right.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::diagnostic::{Diagnostic, Source};
use crate::notation::Element;
use crate::record::Record;
use crate::steps::End;
use crate::study::Study;

use super::locate::{Located, locate};
use super::rank::{Ranked, rank};
use super::search::work::Work;
use super::search::{Found, Search, gap};
use super::{CLEARLY_AHEAD, change, odd, tokens};

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
    /// One repair is ahead, but it contradicts a comment, or the record may be right as it stands.
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
    };
    if matches!(health, Health::Sound | Health::Faulty | Health::Empty) {
        return examination;
    }
    examination.located = Some(locate(study));
    let broken_as_it_stands = study.claims.iter().any(|claim| !claim.holds);
    (examination.ranked, examination.searched) = repairs(source, record, settings);
    let repairs = &examination.ranked.repairs;
    examination.near = repairs.first().map_or(0, |first| {
        repairs.iter().take_while(|repair| repair.cost - first.cost < CLEARLY_AHEAD).count()
    });
    examination.standing = standing(&examination, broken_as_it_stands);
    examination
}

/// All repairs, in order.
#[must_use]
pub fn repairs(source: &Source, record: &Record, settings: &Settings) -> (Ranked, Searched) {
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
            three: false,
            cut_short: filled.cut_short || ranked.cut_short,
        };
        return (ranked, searched);
    }
    let mut of = |found: &Found| {
        let candidates = found.repairs.iter().map(|ids| change::of_edits(&tokens, &search, ids)).collect();
        rank(record, candidates, &mut ranking)
    };
    let mut found = search.up_to_two(&mut finding);
    let mut ranked = of(&found);
    // Three edits are worth a look only where fewer do not satisfy the writer's own comments.
    let three = ranked.repairs.iter().all(|repair| repair.judged.broken_claims() > 0);
    if three {
        let more = search.three(&found, &mut finding);
        if !more.repairs.is_empty() {
            found.repairs.extend(more.repairs);
            ranked = of(&found);
        }
        found.tried += more.tried;
        found.cut_short |= more.cut_short;
    }
    let cut_short = found.cut_short || ranked.cut_short;
    (ranked, Searched { tried: found.tried, steps: finding.done() + ranking.done(), three, cut_short })
}

fn standing(examination: &Examination, broken_as_it_stands: bool) -> Standing {
    let repairs = &examination.ranked.repairs;
    let Some(first) = repairs.first() else { return Standing::NotFound };
    // One turn short is a solve with a penalty. Only the writer's own words can say that it was not.
    let may_be_right = examination.health == Health::OneTurnShort && !broken_as_it_stands;
    if examination.near > 1 {
        Standing::Tied
    } else if may_be_right || first.judged.broken_claims() > 0 {
        Standing::Doubtful
    } else {
        Standing::Clear
    }
}
