//! The writer's words survive mending: on made pastes, each with a slip in it, the words of the text before and after
//! are the same but for the tokens that were repaired.

use std::collections::BTreeMap;

use cornerwise::diagnostic::Source;
use cornerwise::mend::text::{apply, rewrites};
use cornerwise::mend::{Settings, Slip, examine};
use cornerwise::notation::Element;
use cornerwise::paste;
use cornerwise::study::Study;

use crate::support::pastes::{self, Written};
use crate::support::random::Random;
use crate::support::solver::{Rng, Solver};
use crate::support::switch;

/// The words of a text, each with how often it stands there.
fn words(text: &str) -> BTreeMap<String, isize> {
    // A blank that is written out parts words like any other.
    let text = &text.replace("&nbsp;", " ");
    let mut words = BTreeMap::new();
    // A tag may be glued to a token.
    for word in text.replace('<', " <").replace('>', "> ").split_whitespace() {
        *words.entry(word.to_owned()).or_default() += 1;
    }
    words
}

/// The paste with the prime of one token put where none was, or taken away.
fn damaged(text: &str, random: &mut Random) -> Option<String> {
    let source = Source::new("t", text);
    let reading = paste::read(&source);
    let [record] = reading.records.as_slice() else { return None };
    let tokens: Vec<_> = record
        .solution
        .tokens
        .iter()
        .filter(|token| matches!(token.element, Element::Move(_)))
        .map(|token| token.span)
        .filter(|span| text[span.range()].chars().all(|c| c.is_ascii_alphanumeric() || c == '\''))
        .collect();
    let span = *tokens.get(random.below(tokens.len().max(1)))?;
    let token = &text[span.range()];
    let other = match token.strip_suffix('\'') {
        Some(bare) => bare.to_owned(),
        None if token.ends_with('2') => token.trim_end_matches('2').to_owned(),
        None => format!("{token}'"),
    };
    Some(format!("{}{other}{}", &text[..span.start], &text[span.end..]))
}

#[test]
fn words_are_the_same_before_and_after_mending() {
    let n = if switch::slow() { 2000 } else { 100 };
    let mut solver = Solver::new();
    let solves: Vec<Written> = (200..212).map(|n| Written::random(&mut solver, &mut Rng::new(n))).collect();
    let mut random = Random::new(11);
    let (mut n_mended, mut n_tried, mut n_apart) = (0, 0, 0);
    while n_tried < n {
        let (name, text) = pastes::random(&solves[random.below(solves.len())], &mut random);
        let Some(text) = damaged(&text, &mut random) else { continue };
        n_tried += 1;
        let source = Source::new("t", text.clone());
        let reading = paste::read(&source);
        n_apart += usize::from(reading.records.len() > 1);
        let Some(record) = reading.records.first() else { continue };
        let study = Study::new(&source, 1, record);
        let examination = examine(&study, &Settings::default());
        let Some(repair) = examination.ranked.repairs.first() else { continue };
        let Ok(edits) = rewrites(&source, 0, record, repair) else { continue };
        let after = apply(&text, &edits);
        n_mended += 1;
        let (old, new) = (words(&text), words(&after));
        let more = |here: &BTreeMap<String, isize>, there: &BTreeMap<String, isize>| -> usize {
            let more = here.iter().map(|(word, n)| n - there.get(word).unwrap_or(&0));
            more.filter(|&n| n > 0).sum::<isize>() as usize
        };
        let (gone, come) = (more(&old, &new), more(&new, &old));
        // A token replaced goes and comes, and so do its neighbours where it is glued to them. What comes besides are the
        // tokens of a run or a line that was lost.
        let put_back: usize = repair.changes.iter().map(|change| change.moves.len().saturating_sub(1)).sum();
        assert!(
            gone + come <= 2 * edits.len() + put_back && gone <= edits.len(),
            "=== {name}: {gone} words gone, {come} come, {} edits\n{text}\n--- after\n{after}",
            edits.len()
        );
        let lines = |text: &str| text.split_inclusive('\n').count();
        let lost_lines = repair.changes.iter().filter(|change| change.slip == Slip::LineLost).count();
        assert!(lines(&after) == lines(&text) + lost_lines, "=== {name}\n{text}\n--- after\n{after}");
    }
    assert!(n_mended * 10 >= n * 8, "{n_mended} of {n} mended");
    // A slip makes no second solve of a long last step, but where nothing says that a step goes on.
    assert!(n_apart * 50 <= n, "{n_apart} of {n} read as several solves");
}

/// What a paste of the corpus comes to.
fn pasted(name: &str) -> cornerwise::record::Record {
    let path = format!("{}/tests/data/pastes/{name}", env!("CARGO_MANIFEST_DIR"));
    let source = Source::new(name, std::fs::read_to_string(path).expect("a paste of the corpus"));
    let mut reading = paste::read(&source);
    assert_eq!(reading.records.len(), 1, "{name}");
    reading.records.remove(0)
}

/// The invented times of the solve's steps add up to its time; common practice, no source: they are written before or
/// behind the turns, and beside any label or none.
#[test]
fn times_of_steps_are_marks_wherever_they_stand_and_whatever_is_called_what() {
    for name in ["before", "behind", "any-label", "table"] {
        let record = pasted(&format!("hand-form-times-{name}.txt"));
        let seconds: Vec<f64> = record.solution.marks.iter().map(|mark| mark.time.seconds()).collect();
        assert_eq!(
            seconds,
            [1.06, 2.69, 4.24, 5.78, 7.12, 8.64, 10.6, 10.8],
            "{name}: {:?}",
            record.diagnostics
        );
        let moments: Vec<usize> = record.solution.marks.iter().map(|mark| mark.moment).collect();
        assert_eq!(moments, [8, 14, 21, 28, 35, 43, 57, 58], "{name}");
        assert_eq!(record.time.map(|(time, _)| time.seconds()), Some(10.8), "{name}");
        assert!(record.diagnostics.iter().all(|said| said.code != "figures-open"), "{name}");
    }
}

#[test]
fn a_time_of_day_before_every_line_is_no_result() {
    for name in ["brackets", "bare", "day"] {
        let record = pasted(&format!("hand-form-stamps-{name}.txt"));
        let time = record.time.map(|(time, _)| time.seconds());
        assert_eq!(time, (name == "brackets").then_some(9.02), "{name}");
        assert!(
            record.diagnostics.iter().any(|said| said.code == "set-aside"),
            "{name}: what is not used is said"
        );
    }
}

#[test]
fn the_letter_before_perm_is_no_turn() {
    for (name, words) in [("behind-dashes", "T perm"), ("bare", "Z perm")] {
        let record = pasted(&format!("hand-form-perm-{name}.txt"));
        assert!(record.solution.comments.iter().any(|comment| comment.text == words), "{name}");
    }
}
