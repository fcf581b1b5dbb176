//! The JSON of `mend` is what `docs/mend.schema.json` says, is read back as the same facts, and the schema is made of
//! the types: `CORNERWISE_UPDATE_DOCS=1 cargo test --test program mend_facts` writes it anew.

use std::fs;

use cornerwise::diagnostic::Source;
use cornerwise::mend::facts::Mending;
use cornerwise::mend::{self, Health, Settings};
use cornerwise::record;
use cornerwise::report::json::schema as schema_of;
use cornerwise::report::mend::{Found, json};
use cornerwise::study::Study;

const SCHEMA: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/docs/mend.schema.json");

fn schema() -> serde_json::Value {
    serde_json::from_str(&schema_of::<Mending>()).expect("the schema is JSON")
}

#[test]
fn the_schema_kept_is_that_of_the_types() {
    let made = schema_of::<Mending>();
    if std::env::var_os("CORNERWISE_UPDATE_DOCS").is_some() {
        fs::write(SCHEMA, &made).expect("written");
    }
    let kept = fs::read_to_string(SCHEMA).expect("docs/mend.schema.json");
    assert_eq!(kept, made, "write it anew with CORNERWISE_UPDATE_DOCS=1");
}

#[test]
fn every_line_is_valid_and_is_read_back() {
    let validator = jsonschema::draft202012::new(&schema()).expect("a schema");
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/reconstructions");
    let entries = fs::read_dir(folder).expect("a folder").map(|entry| entry.expect("an entry").path());
    let kept = entries.filter(|path| path.extension().is_some_and(|e| e == "yaml" || e == "txt"));
    let mut texts: Vec<String> = kept.map(|path| fs::read_to_string(path).expect("text")).collect();
    texts.sort();
    let whole = texts.len();
    // A turn lost from each, one that cannot be read, none at all, and no scramble.
    for n in (0..whole).step_by(3) {
        texts.push(texts[n].replacen(" U ", " ", 3));
        texts.push(texts[n].replacen(" R' ", " R4 ", 1));
    }
    texts
        .extend(["scramble: R\n", "solution: R\n", "R U F2 R\n\nR' ... F2 U' ?", "@\n\n@"].map(String::from));
    // One that comes out and has a fault all the same.
    texts.push("scramble: R2 U F2\nsolution: <1.00> F2 U' <0.40> R2 <2.00>\n".into());
    let mut met = std::collections::HashSet::new();
    for text in &texts {
        let source = Source::new("kept.yaml", text.as_str());
        let reading = record::read(&source);
        for (index, record) in reading.records.iter().enumerate() {
            let study = Study::new(&source, index + 1, record);
            let examination = mend::examine(&study, &Settings::default());
            let of = reading.records.len();
            let found = Found { source: &source, index, of, record, examination: &examination };
            let line = json(&found, 3);
            let value: serde_json::Value = serde_json::from_str(&line).expect("JSON");
            let errors: Vec<String> = validator.iter_errors(&value).map(|error| error.to_string()).collect();
            assert!(errors.is_empty(), "{errors:?}\n{line}");
            let facts: Mending = serde_json::from_str(&line).expect("facts");
            assert_eq!(serde_json::to_string(&facts).expect("JSON") + "\n", line);
            met.insert(format!("{:?}", facts.health));
        }
    }
    for health in [Health::Sound, Health::Faulty, Health::Broken, Health::Empty] {
        assert!(met.contains(&format!("{health:?}")), "{health:?} is not among {met:?}");
    }
}
