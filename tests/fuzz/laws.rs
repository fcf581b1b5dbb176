//! What holds for any text. A law that is broken panics.

use cornerwise::annotate::{Settings, annotate as annotated};
use cornerwise::annotation::{Annotation, Offer, Step, StepKind, Watch};
use cornerwise::cube::Move;
use cornerwise::diagnostic::{Diagnostic, Source, Span};
use cornerwise::diff::{self as comparing, Entry, Sides};
use cornerwise::harmless::harmless;
use cornerwise::mend::search::work::Work;
use cornerwise::mend::{self as mending, text as mended};
use cornerwise::notation::Time;
use cornerwise::paste;
use cornerwise::record::{self, Reading, Record};
use cornerwise::report::lanes_svg::Width;
use cornerwise::report::look::Look;
use cornerwise::report::markdown::Pictures;
use cornerwise::report::picture::Style;
use cornerwise::report::text::Show;
use cornerwise::report::{captions, diagnostics, diff as diff_view, html, json, lanes_svg, markdown, text};
use cornerwise::search::Kind;
use cornerwise::story::Told;
use cornerwise::study::Study;
use cornerwise::timing::{self, Each, Given, Sheet, Taps, Way};
use serde_json::Value;

/// What a run met, so that it cannot pass by looking at nothing.
#[derive(Debug, Default)]
pub struct Met {
    pub cases: usize,
    pub records: usize,
    pub turns: usize,
    pub faults: usize,
    pub printed: usize,
    pub pair_steps: usize,
    pub recoloured: usize,
    pub broken: usize,
    pub repairs: usize,
    pub written: usize,
    pub compared: usize,
    pub lists: usize,
    pub marked: usize,
}

/// So many records of a text are looked at where looking takes time.
const MOST_RECORDS: usize = 2;

fn source(text: &str) -> Source {
    Source::new("fuzzed", text)
}

fn moves(record: &Record) -> [Vec<Move>; 2] {
    [record.scramble.playable().collect(), record.solution.playable().collect()]
}

/// The same turns, the same times, the same title.
fn assert_same(one: &Record, other: &Record, why: &str) {
    assert_eq!(moves(one), moves(other), "{why}");
    assert_eq!(one.time.map(|(time, _)| time), other.time.map(|(time, _)| time), "{why}");
    assert_eq!(one.title, other.title, "{why}");
    let marks = |record: &Record| record.solution.marks.iter().map(|mark| mark.time).collect::<Vec<_>>();
    assert_eq!(marks(one), marks(other), "{why}");
}

/// Every place that is told lies in the text, and what is told can be drawn.
fn placed(source: &Source, reading: &Reading, met: &mut Met) {
    let whole = |span: Span| assert!(source.text.get(span.range()).is_some(), "{span:?}");
    let said: Vec<Diagnostic> = reading.all_diagnostics().cloned().collect();
    said.iter().flat_map(|one| &one.labels).for_each(|label| whole(label.span));
    let drawn = diagnostics::draw(source, &said, &Look::plain());
    assert!(said.is_empty() || !drawn.is_empty());
    assert_harmless(&drawn);
    for record in &reading.records {
        for turns in [&record.scramble, &record.solution] {
            turns.tokens.iter().for_each(|token| whole(token.span));
            turns.comments.iter().for_each(|comment| whole(comment.span));
            turns.marks.iter().for_each(|mark| whole(mark.span));
            met.turns += turns.tokens.len();
        }
    }
    met.records += reading.records.len();
    met.faults += usize::from(reading.has_fault());
}

/// Nothing that a terminal would obey.
#[track_caller]
fn assert_harmless(text: &str) {
    assert_eq!(harmless(text), text, "something in it is not what it seems");
}

/// Records as we write them.
pub fn reader(text: &str, met: &mut Met) {
    let source = source(text);
    let reading = record::read(&source);
    placed(&source, &reading, met);
    for record in reading.records.iter().filter(|record| !record.has_fault()) {
        for printed in [record::print(record), record::print_as_written(record)] {
            let again = record::read(&self::source(&printed));
            assert!(!again.has_fault(), "printed with a fault:\n{printed}");
            let [again] = again.records.as_slice() else { panic!("printed as several:\n{printed}") };
            assert_same(record, again, "printed and read");
            met.printed += 1;
        }
    }
    // Line ends of another system, and a remark behind it all.
    if !reading.has_fault() && !text.contains('\r') {
        let other = record::read(&self::source(&text.replace('\n', "\r\n")));
        assert_eq!(reading.records.len(), other.records.len());
        for (one, other) in reading.records.iter().zip(&other.records) {
            assert_same(one, other, "with other line ends");
        }
    }
}

/// Records as people paste them.
pub fn general_reader(text: &str, met: &mut Met) {
    let source = source(text);
    let account = paste::read_with(&source, &paste::Options { account: true, ..paste::Options::default() });
    placed(&source, &account.reading, met);
    for taken in &account.taken {
        assert!(source.text.get(taken.span.range()).is_some(), "{taken:?}");
    }
    assert!(account.work <= 400_000 + 1000 * text.len(), "{} bytes put together", account.work);
    for record in &account.reading.records {
        let _ = record::read(&self::source(&record::print_as_written(record)));
    }
}

/// A cube that is turned before it is scrambled has other colours at every place, and nothing else is another.
fn recoloured(record: &Record, met: &mut Met) {
    let printed = record::print(record);
    let turned = printed.replacen("scramble: ", "scramble: x y ", 1);
    let [one, other] = [&printed, &turned].map(|text| {
        let source = source(text);
        let reading = record::read(&source);
        let [record] = reading.records.as_slice() else { return None };
        let whole = record.scramble.unread.is_empty() && record.scramble.tokens.len() > 2;
        whole.then(|| annotated(&Study::new(&source, 1, record), &Settings::default()).facts)
    });
    let Some((one, other)) = one.zip(other).filter(|(one, _)| one.cross_first && turned != printed) else {
        return;
    };
    let shape = |facts: &Annotation| {
        let watch = |watch: &Watch| (watch.from, watch.to, watch.found());
        let offer =
            |offer: &Offer| (offer.tier, offer.lead, offer.ready, watch(&offer.corner), watch(&offer.edge));
        let step = |step: &Step| (step.kind, step.from, step.to, step.obtm, step.taken().map(offer));
        facts.steps.iter().map(step).collect::<Vec<_>>()
    };
    assert_eq!(shape(&one), shape(&other), "recoloured:\n{printed}");
    met.recoloured += 1;
}

/// Facts and every view of them.
pub fn annotate(text: &str, met: &mut Met) {
    let source = source(text);
    let reading = paste::read(&source);
    placed(&source, &reading, met);
    let settings = [
        Settings::default(),
        Settings {
            choice: cornerwise::judgement::Settings {
                kind: Kind::Every,
                within: 6,
                ..Settings::default().choice
            },
            ..Settings::default()
        },
    ];
    for (n, record) in reading.records.iter().enumerate().take(MOST_RECORDS) {
        let study = Study::new(&source, n + 1, record);
        for settings in &settings {
            let facts = annotated(&study, settings).facts;
            met.pair_steps += facts.steps.iter().filter(|step| step.kind == StepKind::Pair).count();
            views(&facts);
        }
        recoloured(record, met);
    }
}

fn views(facts: &Annotation) {
    let line = json::line(facts);
    let _: Value = serde_json::from_str(&line).expect("JSON");
    let back = json::read_line(line.trim_end()).expect("read back");
    assert_eq!(json::line(&back), line);
    for (told, legend, setup) in [(Told::Whole, true, true), (Told::Brief, false, false)] {
        assert_harmless(&text::render(facts, Show { told, legend, setup }, &Look::plain()));
    }
    for pictures in [Pictures::None, Pictures::Beside("it".into())] {
        let made = markdown::render(facts, &pictures, Style::default());
        assert!(!made.text.is_empty());
    }
    let _ = markdown::worksheet(facts, &Pictures::None, Style::default());
    let page = html::page(std::slice::from_ref(facts), Style::default());
    assert!(page.ends_with("</html>\n"));
    let _ = lanes_svg::svg(facts, Width::Wide);
    let _ = captions::vtt(facts, 1.5);
}

/// A record with itself damaged, or with another of the same text.
pub fn diff(text: &str, met: &mut Met) {
    let source = source(text);
    let reading = paste::read(&source);
    let whole = |record: &&Record| record.scramble.playable().count() == record.scramble.tokens.len();
    let records: Vec<(usize, &Record)> =
        reading.records.iter().enumerate().filter(|(_, record)| whole(record)).take(MOST_RECORDS).collect();
    let [(first, a), .., (last, b)] = (match records.as_slice() {
        [one] => vec![*one, *one],
        several => several.to_vec(),
    })
    .as_slice()[..] else {
        return;
    };
    let (one, other) = (Study::new(&source, first + 1, a), Study::new(&source, last + 1, b));
    let (of_one, of_other) = (annotated(&one, &Settings::default()), annotated(&other, &Settings::default()));
    let sides = Sides {
        a: Entry { study: one, facts: &of_one.facts },
        b: Entry { study: other, facts: &of_other.facts },
    };
    let comparison = comparing::compare(sides, &comparing::Settings::default());
    assert!(first != last || !comparison.different, "a record differs from itself");
    let _: Value = serde_json::from_str(&json::any(&comparison)).expect("JSON");
    for told in [Told::Whole, Told::Brief] {
        assert_harmless(&diff_view::render(&comparison, told, &Look::plain()));
    }
    let _ = markdown::diff::render(&comparison, &Pictures::None);
    assert!(html::diff::page(std::slice::from_ref(&comparison)).ends_with("</html>\n"));
    met.compared += 1;
}

/// What is wrong, every repair, and the texts with the likeliest of them.
pub fn mend(text: &str, met: &mut Met) {
    let source = source(text);
    let reading = paste::read(&source);
    placed(&source, &reading, met);
    let of = reading.records.len();
    for (index, record) in reading.records.iter().enumerate().take(MOST_RECORDS) {
        let study = Study::new(&source, index + 1, record);
        let settings = mending::Settings { gap: 1 + text.len() % 6 };
        let examination = mending::examine(&study, &settings);
        let bound = 2 * Work::most(record.span.range().len());
        assert!(examination.searched.steps <= bound, "{:?}, {bound} allowed", examination.searched);
        met.broken += usize::from(examination.health == mending::Health::Broken);
        let repairs = &examination.ranked.repairs;
        met.repairs += repairs.len();
        assert!(repairs.iter().all(|repair| repair.judged.solved()));
        let found =
            cornerwise::report::mend::Found { source: &source, index, of, record, examination: &examination };
        let _: Value = serde_json::from_str(&cornerwise::report::mend::json(&found, 100)).expect("JSON");
        assert_harmless(&cornerwise::report::mend::render(&found, 5, &Look::plain()));
        let _ = cornerwise::report::mend::brief(&found);
        for repair in repairs.iter().take(3) {
            let Ok(after) = mended::mended(&source, index, record, repair) else { continue };
            met.written += 1;
            let after = Source::new("mended", after);
            let again = paste::read(&after);
            assert_eq!(again.records.len(), of, "records after mending:\n{}", after.text);
            let again = &again.records[index];
            let health =
                mending::examine(&Study::new(&after, index + 1, again), &mending::Settings { gap: 1 }).health;
            assert!(
                matches!(health, mending::Health::Sound | mending::Health::Faulty),
                "{health:?} after mending:\n{}",
                after.text
            );
        }
    }
}

/// Lists of times, and marks written into the text.
pub fn clock(text: &str, met: &mut Met) {
    // The text as a list, and the numbers in it.
    let numbers: String = text.chars().filter(|c| c.is_ascii_digit() || " .,;:\n".contains(*c)).collect();
    let lists = [timing::read_list(text), timing::read_list(&numbers)];
    let source = source(text);
    let reading = paste::read(&source);
    met.records += reading.records.len();
    for (index, record) in reading.records.iter().enumerate().take(MOST_RECORDS) {
        let study = Study::new(&source, index + 1, record);
        for list in lists.iter().flatten() {
            met.lists += 1;
            for what in [Given::Times, Given::Splits] {
                if let Err(refused) = timing::given(&study, list, what, None, None) {
                    assert!(!refused.to_string().is_empty());
                }
            }
        }
        for (taps, each) in [(Taps::Ends, Each::Step), (Taps::Both, Each::Step), (Taps::Both, Each::Turn)] {
            let sheet = Sheet::new(&study, Way { taps, each });
            let times: Vec<Time> = (0..sheet.cues.len() as u64).map(|n| Time(n * 310_000)).collect();
            let marks = sheet.marks(&times);
            let read = |source: &Source| paste::read(source);
            let Ok(after) = timing::marked(&source, index, record, &marks, &read) else { continue };
            met.marked += 1;
            let after = Source::new("marked", after);
            let again = paste::read(&after);
            assert_eq!(again.records.len(), reading.records.len(), "records after marking:\n{}", after.text);
            assert_eq!(moves(&again.records[index]), moves(record), "turns after marking:\n{}", after.text);
        }
    }
}
