//! The JSON of `annotate` is what `docs/annotation.schema.json` says (JSON Schema 2020-12, judged by the
//! `jsonschema` crate): for every record kept here, for made solves, and for whatever broken text leaves.

use std::fs;

use crate::support::random::Random;
use crate::support::solver::{Marks, Options, Rng, Solver, Style};
use cornerwise::annotate::{Settings, annotate};
use cornerwise::annotation::Annotation;
use cornerwise::cube::Colour;
use cornerwise::diagnostic::Source;
use cornerwise::diff::{BestSteps, Comparison};
use cornerwise::drill::Drill;
use cornerwise::plan::Plan;
use cornerwise::study::Study;
use cornerwise::survey::Survey;
use cornerwise::{record, report};
use jsonschema::Validator;
use serde_json::{Value, json};

fn schema() -> Value {
    serde_json::from_str(&report::json::schema::<Annotation>()).expect("the schema is JSON")
}

fn validator() -> Validator {
    jsonschema::draft202012::new(&schema()).expect("the schema is one")
}

/// The JSON of every record in a text.
fn facts(name: &str, text: &str) -> Vec<Value> {
    let source = Source::new(name, text);
    let reading = record::read(&source);
    let one = |(i, record): (usize, &record::Record)| {
        let annotated = annotate(&Study::new(&source, i + 1, record), &Settings::default());
        serde_json::from_str(&report::json::line(&annotated.facts)).expect("a line of JSON")
    };
    reading.records.iter().enumerate().map(one).collect()
}

#[track_caller]
fn assert_valid(validator: &Validator, value: &Value, what: &str) {
    let errors: Vec<String> =
        validator.iter_errors(value).map(|error| format!("{}: {error}", error.instance_path())).collect();
    assert!(errors.is_empty(), "{what}: {errors:#?}");
}

/// The files of `reconstructions/`, by name.
fn kept() -> Vec<(String, String)> {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/reconstructions");
    let mut files: Vec<(String, String)> = fs::read_dir(folder)
        .expect("the folder is there")
        .map(|entry| entry.expect("an entry").path())
        .filter(|path| path.extension().is_some_and(|e| e == "yaml" || e == "txt"))
        .map(|path| (path.display().to_string(), fs::read_to_string(&path).expect("text")))
        .collect();
    files.sort();
    files
}

/// The schemas are made from the types, and what is kept is what is made; `CORNERWISE_UPDATE_DOCS=1` writes them.
#[test]
fn the_schemas_kept_are_those_of_the_types() {
    for (name, schema) in [
        ("annotation", report::json::schema::<Annotation>()),
        ("comparison", report::json::schema::<Comparison>()),
        ("best-steps", report::json::schema::<BestSteps>()),
        ("plan", report::json::schema::<Plan>()),
        ("drill", report::json::schema::<Drill>()),
        ("survey", report::json::schema::<Survey>()),
    ] {
        let path = format!("{}/docs/{name}.schema.json", env!("CARGO_MANIFEST_DIR"));
        if std::env::var_os("CORNERWISE_UPDATE_DOCS").is_some() {
            fs::write(&path, &schema).expect("written");
        }
        let kept = fs::read_to_string(&path).expect("it is kept").replace('\r', "");
        assert!(
            kept == schema,
            "{path} differs from the types; CORNERWISE_UPDATE_DOCS=1 cargo test writes it"
        );
    }
}

#[test]
fn every_record_kept_here_is_valid() {
    let validator = validator();
    let mut n_records = 0;
    for (name, text) in kept() {
        for value in facts(&name, &text) {
            assert_valid(&validator, &value, &name);
            n_records += 1;
        }
    }
    assert!(n_records >= 20, "{n_records}");
}

#[test]
fn made_solves_are_valid() {
    let validator = validator();
    let (mut solver, mut rng) = (Solver::new(), Rng::new(21));
    for n in 0..200 {
        let options = Options {
            cross: (n % 2 == 0).then(|| Colour::ALL[n / 2 % 6]),
            xcross: n % 7 == 0,
            two_pairs: n % 9 == 0,
            wide: n % 3 == 0,
            ..Options::default()
        };
        let style = Style {
            marks: [Marks::None, Marks::Ends, Marks::Both, Marks::Every][n % 4],
            fps: (n % 5 == 0).then_some(60),
            ..Style::default()
        };
        let text = solver.random(&mut rng, &options).yaml("made", &style, &mut rng);
        for value in facts("made", &text) {
            assert_eq!(value["solved"], json!(true), "{text}");
            assert_valid(&validator, &value, &text);
        }
    }
}

/// What is left of a record that somebody broke.
#[test]
fn broken_records_are_valid_too() {
    let validator = validator();
    let mut random = Random::new(22);
    let files = kept();
    let mut faulty = 0;
    let scraps = ["(", ")", "<9.99>", "<1f>", "Q", "\n", ":", "|", "'", "?", "...", "é", "---\n", "99", " "];
    for _ in 0..600 {
        let (name, text) = &files[random.below(files.len())];
        let mut broken: Vec<char> = text.chars().collect();
        for _ in 0..1 + random.below(3) {
            let at = random.below(broken.len());
            match random.below(3) {
                0 => broken.truncate(at.max(1)),
                1 => drop(broken.remove(at)),
                _ => drop(broken.splice(at..at, random.pick(&scraps).chars())),
            }
        }
        let broken: String = broken.into_iter().collect();
        for value in facts(name, &broken) {
            assert_valid(&validator, &value, &broken);
            faulty += usize::from(value["faults"] != json!([]));
        }
    }
    assert!(faulty > 200, "{faulty}");
}

/// The paths (JSON pointers) of everything in a value.
fn paths(value: &Value, at: &str, out: &mut Vec<String>) {
    out.push(at.to_string());
    match value {
        Value::Object(fields) => {
            for (name, field) in fields {
                paths(field, &format!("{at}/{name}"), out);
            }
        }
        Value::Array(items) => {
            for (i, item) in items.iter().enumerate() {
                paths(item, &format!("{at}/{i}"), out);
            }
        }
        _ => {}
    }
}

/// The test above could not fail if the schema took anything. It takes no field more, none less and nothing
/// of another type, anywhere.
#[test]
fn what_is_not_the_format_is_refused() {
    let validator = validator();
    let mut random = Random::new(23);
    let (mut added, mut taken, mut swapped) = (0, 0, 0);
    for (name, text) in kept() {
        for value in facts(&name, &text) {
            let mut all = Vec::new();
            paths(&value, "", &mut all);
            for _ in 0..150 {
                let path = &all[random.below(all.len())];
                let mut other = value.clone();
                let here = other.pointer_mut(path).expect("it is there");
                match here {
                    Value::Object(fields) if random.below(2) == 0 => {
                        fields.insert("unheard_of".into(), json!(1));
                        added += 1;
                    }
                    Value::Object(fields) => {
                        let names: Vec<String> = fields.keys().cloned().collect();
                        fields.remove(&names[random.below(names.len())]);
                        taken += 1;
                    }
                    _ => {
                        // Nothing in the format may be a negative whole number or such an object.
                        *here = if random.below(2) == 0 { json!({ "un": "heard" }) } else { json!([[-1]]) };
                        swapped += 1;
                    }
                }
                assert!(!validator.is_valid(&other), "{name}: taken although {path} was changed");
            }
        }
    }
    assert!(added > 300 && taken > 300 && swapped > 300, "{added} {taken} {swapped}");
}

#[test]
fn what_only_looks_like_the_format_is_refused() {
    let validator = validator();
    let text = include_str!("../../reconstructions/all-four-tiers.yaml");
    let value = facts("all-four-tiers", text).remove(0);
    let step =
        value["steps"].as_array().expect("steps").iter().position(|s| s["kind"] == "pair").expect("one");
    for (path, wrong) in [
        ("/format".to_string(), json!("cornerwise-annotation/3")),
        ("/record".into(), json!(0)),
        ("/cross".into(), json!("purple")),
        ("/sight".into(), json!("RFU")),
        (format!("/steps/{step}/text"), json!("R  U")),
        ("/end/judged".into(), json!("nearly")),
        ("/moments/0/stickers".into(), json!("WYGBRO")),
        (format!("/steps/{step}/pairs/0"), json!("red-green-blue")),
        (format!("/steps/{step}/offers/0/corner/from"), json!("UD")),
        (format!("/steps/{step}/offers/0/edge/to"), json!("RU")),
        (format!("/steps/{step}/offers/0/tier"), json!("bottom")),
        (format!("/steps/{step}/offers/0/ready"), json!("left")),
        (format!("/steps/{step}/seconds/total"), json!(-0.5)),
        (format!("/steps/{step}/choice/verdict"), json!("good")),
        ("/lanes/0/cells/0/corner/sight".into(), json!("guessed")),
    ] {
        let mut other = value.clone();
        *other.pointer_mut(&path).unwrap_or_else(|| panic!("{path}")) = wrong;
        assert!(!validator.is_valid(&other), "{path}");
    }
}

/// Every object is closed, lists all its fields as required, and says in words what each one is.
#[test]
fn the_schema_describes_every_field() {
    let schema = schema();
    let mut all = Vec::new();
    paths(&schema, "", &mut all);
    let mut n_fields = 0;
    for path in all {
        let here = schema.pointer(&path).expect("it is there");
        let Some(properties) = here.get("properties").and_then(Value::as_object) else { continue };
        if path.ends_with("/properties") {
            continue;
        }
        assert_eq!(here["additionalProperties"], json!(false), "{path}");
        let required: Vec<&str> =
            here["required"].as_array().expect("a list").iter().filter_map(Value::as_str).collect();
        assert_eq!(required.len(), properties.len(), "{path}");
        for (name, property) in properties {
            n_fields += 1;
            assert!(required.contains(&name.as_str()), "{path}: {name}");
            // A variant with fields is an object with one property, and is described itself.
            let variant = path.contains("/oneOf/") && properties.len() == 1;
            let said = if variant { &here["description"] } else { &property["description"] };
            let said = said.as_str().unwrap_or_default();
            assert!(said.len() > 8 && said.ends_with('.'), "{path}/{name}: {said:?}");
        }
    }
    assert!(n_fields > 120, "{n_fields}");
}
