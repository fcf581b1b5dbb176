//! Records that the model does not fit are judged less, and say so once: one-handed solves, and solves that are not
//! cross first.

use cornerwise::annotate::{Settings, annotate};
use cornerwise::annotation::{Annotation, Cause, StepKind};
use cornerwise::diagnostic::Source;
use cornerwise::record;
use cornerwise::report::look::Look;
use cornerwise::report::text::{self, Show};
use cornerwise::study::Study;

fn annotated(text: &str) -> Annotation {
    let source = Source::new("demo.yaml", text);
    let reading = record::read(&source);
    assert!(reading.diagnostics.is_empty(), "{:?}", reading.diagnostics);
    annotate(&Study::new(&source, 1, &reading.records[0]), &Settings::default()).facts
}

fn told(facts: &Annotation) -> String {
    text::render(facts, Show::default(), &Look::plain())
}

fn with_hands(hands: &str) -> Annotation {
    let record = include_str!("../../reconstructions/all-four-tiers.yaml");
    annotated(&record.replacen("\nscramble:", &format!("\nhands: {hands}\nscramble:"), 1))
}

#[test]
fn one_hand_keeps_the_places_and_loses_the_prices() {
    let (two, left) = (with_hands("two"), with_hands("left"));
    assert!(two.steps.iter().any(|step| step.choice.is_some()));
    assert!(left.steps.iter().all(|step| step.choice.is_none()));
    for (two, left) in two.steps.iter().zip(&left.steps) {
        assert_eq!((two.seconds.clone(), two.offers.len()), (left.seconds.clone(), left.offers.len()));
        for (two, left) in two.offers.iter().zip(&left.offers) {
            assert!(left.line.is_none());
            assert_eq!((&two.corner, &two.edge, two.lead), (&left.corner, &left.edge, left.lead));
        }
        // That nothing better was there, or that something was, cannot be known without prices.
        let causes = left.stops.iter().filter_map(|stop| stop.cause);
        assert!(causes.into_iter().all(|cause| !matches!(cause, Cause::Choice | Cause::Position)));
    }
    let text = told(&left);
    assert!(text.contains("left hand only"), "{text}");
    assert_eq!(text.matches("Not told: one hand turns other lines than two").count(), 1, "{text}");
    for judged in ["cleaner", "instead", "own line", "forced", "avoidable", "costs about"] {
        assert!(!text.contains(judged), "{judged}:\n{text}");
    }
    assert_eq!(serde_json::to_value(&left).expect("JSON")["hands"], "left");
}

/// Invented: the scramble undone, so all four pairs come in with the last edge of the cross.
const UNDONE: &str = "scramble: B' L B U2 D2 B R' D' F U R2 U R2 L2 B' L' F' B L2 B2
time: 12.00
solution: |
  <0.00> B2 L2 B' F L <2.10> <5.00> B L2 R2 U' R2 U' F' D R B' D2 U2 B' L' B <12.00>
";

#[test]
fn what_is_not_cross_first_gets_its_clock_and_stops() {
    let facts = annotated(UNDONE);
    assert!(!facts.cross_first);
    assert!(facts.steps.iter().all(|step| step.kind != StepKind::Pair && step.choice.is_none()));
    let text = told(&facts);
    for said in
        ["Not told: the record is not cross first", "first two layers", "stopped 2.90 s", "2.90 s  inside"]
    {
        assert!(text.contains(said), "{said}:\n{text}");
    }
    for said in ["xcross", "pair", "tier", "corner", "skip"] {
        let elsewhere = text
            .lines()
            .filter(|line| !line.starts_with("Not told") && !line.starts_with("in at one moment"));
        assert!(!elsewhere.collect::<String>().contains(said), "{said}:\n{text}");
    }
}
