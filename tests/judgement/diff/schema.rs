//! The JSON of `diff` is what `docs/comparison.schema.json` says (JSON Schema 2020-12, judged by the `jsonschema`
//! crate), and the annotations in it are what `docs/annotation.schema.json` says.

use cornerwise::annotation::Annotation;
use cornerwise::diff::{self, BestSteps, Comparison};
use cornerwise::report::json;
use jsonschema::Validator;
use serde_json::Value;

use super::sides::{File, compare, texts, two_solves};
use crate::support::solver::{Marks, Rng, Solver, Style};

fn validator(schema: &str) -> Validator {
    let schema: Value = serde_json::from_str(schema).expect("the schema is JSON");
    jsonschema::draft202012::new(&schema).expect("the schema is one")
}

fn comparisons() -> Validator {
    validator(&json::schema::<Comparison>())
}

fn best_steps() -> Validator {
    validator(&json::schema::<BestSteps>())
}

fn annotations() -> Validator {
    validator(&json::schema::<Annotation>())
}

#[track_caller]
fn assert_valid(validator: &Validator, value: &Value) {
    let errors: Vec<String> =
        validator.iter_errors(value).map(|error| format!("{}: {error}", error.instance_path())).collect();
    assert!(errors.is_empty(), "{errors:#?}");
}

fn value(facts: &impl serde::Serialize) -> Value {
    let line = json::any(facts);
    assert_eq!(line.matches('\n').count(), 1, "one object a line");
    serde_json::from_str(&line).expect("JSON")
}

#[test]
fn comparisons_of_the_records_kept_here_are_valid() {
    let (comparison, annotation) = (comparisons(), annotations());
    for name in ["fork-after-first-pair", "two-crosses", "meets-again"] {
        let file = File::kept(name);
        let made = value(&file.compared());
        assert_valid(&comparison, &made);
        assert_valid(&annotation, &made["annotations"]["a"]);
        assert_valid(&annotation, &made["annotations"]["b"]);
        assert_valid(&comparison, &value(&compare(file.entry(0), file.entry(0))));
        let names = ["A".to_string(), "B".to_string()];
        assert_valid(&best_steps(), &value(&diff::best_steps(&names, &[&file.facts[0], &file.facts[1]])));
    }
}

#[test]
fn comparisons_of_made_and_of_broken_solves_are_valid() {
    let validator = comparisons();
    let (mut solver, mut rng) = (Solver::new(), Rng::new(71));
    for n in 0..40 {
        let (one, other) = two_solves(&mut solver, &mut rng, n);
        let marks = [Marks::None, Marks::Ends, Marks::Both, Marks::Every][n % 4];
        let style = Style { marks, fps: (n % 5 == 0).then_some(60), ..Style::default() };
        let a = one.yaml("made", &style, &mut rng);
        let b = other.yaml("made", &style, &mut rng);
        assert_valid(&validator, &value(&texts(&a, &b)));
        // Cut off somewhere in the solution.
        let cut = b.len() - 1 - rng.below(120);
        assert_valid(&validator, &value(&texts(&a, &b[..cut])));
        // Another scramble, a slip, another hold.
        let other = two_solves(&mut solver, &mut rng, n).0.yaml("other", &style, &mut rng);
        assert_valid(&validator, &value(&texts(&a, &other)));
        assert_valid(&validator, &value(&texts(&a, &a.replacen("scramble: ", "scramble: y ", 1))));
        assert_valid(&validator, &value(&texts(&a, &a.replacen("scramble: ", "scramble: R2 ", 1))));
    }
}

/// The tests above could not fail if the schema took anything.
#[test]
fn what_is_not_the_format_is_refused() {
    let validator = comparisons();
    let good = value(&File::kept("meets-again").compared());
    assert!(validator.is_valid(&good));
    let (mut removed, mut added) = (0, 0);
    for pointer in [
        "",
        "/start",
        "/hold",
        "/parting",
        "/parting/at/a",
        "/meetings/0",
        "/meetings/0/at/b",
        "/rows/0",
        "/rows/1/a",
        "/rows/1/a/steps/0",
        "/rows/1/difference",
        "/rows/1/difference/split",
        "/rows/0/turns/0",
        "/went/0",
        "/went/0/rows/0",
        "/fork",
        "/names",
    ] {
        let fields: Vec<String> =
            good.pointer(pointer).and_then(Value::as_object).expect(pointer).keys().cloned().collect();
        for field in fields {
            let mut bad = good.clone();
            bad.pointer_mut(pointer).and_then(Value::as_object_mut).expect("an object").remove(&field);
            assert!(!validator.is_valid(&bad), "{pointer} without {field}");
            removed += 1;
        }
        let mut bad = good.clone();
        let object = bad.pointer_mut(pointer).and_then(Value::as_object_mut).expect("an object");
        object.insert("unheard_of".into(), Value::from(1));
        assert!(!validator.is_valid(&bad), "{pointer} with another field");
        added += 1;
    }
    assert!(removed > 70 && added == 17, "{removed} {added}");
}
