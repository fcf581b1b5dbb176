//! Messages about the fields of a record.

use super::findings;

/// What is said where the text is not YAML and nothing better is known.
const YAML_HELP: &str =
    "put text with a colon in double quotes, and turns below `solution: |`, indented by two blanks";

findings! {
    "Fields";

    /// There are no turns to begin with.
    Fault "scramble-missing" {
        fn scramble_missing() {
            message: "expected a scramble, found none",
            help: "add the line `scramble: R2 U F2 …`",
        }
        example: r"solution: F2 U' R2",
        instead: r"scramble: R2 U F2
solution: F2 U' R2",
    }

    /// There is a scramble, but nothing after it.
    Fault "solution-missing" {
        fn solution_missing() {
            message: "expected a solution, found none",
            help: "add `solution: |` and the turns below it, indented by two blanks",
        }
        /// In a record without fields.
        fn solution_missing_in_text() {
            message: "expected a solution, found none",
            help: "put a blank line behind the scramble and write the solution below it",
        }
        example: r"scramble: R2 U F2",
        instead: r"scramble: R2 U F2
solution: F2 U' R2",
    }

    /// The record has a field that does not exist. If the name is a slip of the keyboard, its value is used all
    /// the same.
    Fault "field-unknown" {
        fn field_unknown(name: &str, near: Option<&str>, fields: &[&str]) {
            message: format!("unknown field `{name}`"),
            help: match near {
                Some(near) => format!("did you mean `{near}`?"),
                None => format!("the fields are {}", fields.join(", ")),
            },
        }
        example: r"scramble: R2 U F2
soluton: F2 U' R2",
        instead: r"scramble: R2 U F2
solution: F2 U' R2",
    }

    /// A field is given twice; the first is used. Several records in one file are separated by a line `---`.
    Fault "field-duplicate" {
        fn field_duplicate(name: &str) {
            message: format!("`{name}` is given twice"),
            label: "not used",
            second: "used",
            help: "keep one of the two; several records go apart with a line `---`",
        }
        example: r"scramble: R2 U F2
solution: F2 U'
solution: F2 U' R2",
        instead: r"scramble: R2 U F2
solution: F2 U' R2",
    }

    /// A field is a list, or has fields of its own, where text is expected. The turns of a list are read all
    /// the same.
    Fault "field-type" {
        fn field_type(name: &str, found: &str) {
            message: format!("expected text in `{name}`, found {found}"),
            help: match name {
                "scramble" | "solution" => {
                    format!("write `{name}: |` and the turns below it, indented by two blanks")
                }
                "sight" => "write the faces in one word: `sight: UFR`".to_string(),
                _ => format!("write `{name}:` and the text behind it"),
            },
        }
        example: r"scramble: R2 U F2
solution: [F2, U', R2]",
        instead: r"scramble: R2 U F2
solution: |
  F2 U' R2",
    }

    /// A field name has capitals.
    Note "field-capital" {
        fn field_capital(name: &str) {
            message: "a field name in capitals",
            help: format!("write `{name}`"),
        }
        example: r"Scramble: R2 U F2
Solution: F2 U' R2",
        instead: r"scramble: R2 U F2
solution: F2 U' R2",
    }

    /// Text in single quotes ends at its first prime, or runs on to the next one: YAML wants `''` for every
    /// prime inside. Turns need no quotes. The turns are read all the same; where they solve the cube this is a note.
    Fault "quoted-prime" {
        fn quoted_prime(name: &str, shown: &str) {
            message: "a prime inside single quotes ends the text",
            help: format!("take the quotes away: `{name}: {shown}`"),
        }
        example: r"scramble: 'R U R''
solution: R U' R",
        instead: r"scramble: R U R'
solution: R U' R'",
    }

    /// The record is not YAML. What its lines show is read all the same; where the turns solve the cube this is a
    /// note. Text with `: ` in it needs double
    /// quotes; turns are best written as a block behind `|`, indented by two blanks; tabs cannot indent.
    Fault "yaml-syntax" {
        /// What the YAML reader says.
        fn yaml_syntax(problem: &str) {
            message: format!("not YAML: {problem}"),
            help: if problem.contains("tab") {
                "indent with blanks, not with tabs"
            } else {
                YAML_HELP
            },
        }
        fn yaml_no_fields() {
            message: "expected fields such as `scramble:`",
            help: YAML_HELP,
        }
        fn yaml_no_name() {
            message: "expected the name of a field",
            help: YAML_HELP,
        }
        fn yaml_no_value() {
            message: "expected a value",
            help: YAML_HELP,
        }
        fn yaml_too_deep(most: usize) {
            message: format!("expected values at most {most} deep"),
            help: YAML_HELP,
        }
        fn yaml_swallowed() {
            message: "a quoted value that runs over other fields",
            help: YAML_HELP,
        }
        fn yaml_label() {
            message: "a label where a field should be",
            help: YAML_HELP,
        }
        example: r"title: Quay practice: third
scramble: R2 U F2
solution: F2 U' R",
        instead: r#"title: "Quay practice: third"
scramble: R2 U F2
solution: F2 U' R2"#,
    }

    /// `Scramble:` stands before a text that is otherwise plain: scramble, blank line or line end, solution.
    /// The lines of the solution may have labels such as `Cross:`.
    Note "label-plain" {
        fn label_plain() {
            message: "read as plain text: scramble, blank line, solution",
            help: "leave the label out, or write `solution: |` before the solution and indent it",
        }
        example: r"Scramble: R2 U F2

F2 U' R2",
        instead: r"R2 U F2

F2 U' R2",
    }

    /// A plain text has no blank line; its first line is taken as the scramble.
    Note "blank-line-missing" {
        fn blank_line_missing() {
            message: "no blank line between scramble and solution; the first line is read as the scramble",
            help: "put a blank line behind the scramble",
        }
        example: r"R2 U F2
F2 U' R2",
        instead: r"R2 U F2

F2 U' R2",
    }

    /// `until` does not say where the record is meant to end.
    Fault "until-invalid" {
        fn until_invalid(found: &str) {
            message: format!("expected where the record is meant to end, found `{found}`"),
            help: "write `until: cross`, `until: pair 2` or `until: two layers`; leave it out for a whole solve",
        }
        example: r"scramble: R2 U F2
solution: F2 U' R2
until: the pairs",
        instead: r"scramble: R2 U F2
solution: F2 U' R2
until: two layers",
    }

    /// `sight` names something that is no face, or nothing.
    Fault "sight-invalid" {
        fn sight_invalid(found: char) {
            message: format!("expected faces out of U D F B R L, found `{found}`"),
            help: "write the faces the solver sees: `sight: UFR`, tilted `sight: UFRL`",
        }
        fn sight_empty() {
            message: "expected at least one face, found none",
            help: "leave `sight` out for the usual three faces `UFR`",
        }
        example: r"scramble: R2 U F2
solution: F2 U' R2
sight: UFQ",
        instead: r"scramble: R2 U F2
solution: F2 U' R2
sight: UFRL",
    }

    /// The faces in `sight` are in small letters, given twice, or with signs between.
    Note "sight-form" {
        fn sight_form(faces: &str) {
            message: "an unusual way to write faces",
            help: format!("write `sight: {faces}`"),
        }
        example: r"scramble: R2 U F2
solution: F2 U' R2
sight: u, f, r",
        instead: r"scramble: R2 U F2
solution: F2 U' R2
sight: UFR",
    }

    /// `hands` is not `two`, `left` or `right`.
    Fault "hands-invalid" {
        fn hands_invalid(found: &str) {
            message: format!("expected `two`, `left` or `right`, found `{found}`"),
            help: "write the hand that turns in a one-handed solve, such as `hands: left`; else leave it out",
        }
        example: r"scramble: R2 U F2
solution: F2 U' R2
hands: one",
        instead: r"scramble: R2 U F2
solution: F2 U' R2
hands: left",
    }

    /// `fps` is not a number above 0 and at most 100,000.
    Fault "fps-invalid" {
        fn fps_invalid(found: &str) {
            message: format!("expected a number above 0 and at most 100000, found `{found}`"),
            help: "write the frames a second of the video, such as `fps: 60` or `fps: 59.94`",
        }
        example: r"scramble: R2 U F2
solution: F2 U' R2
fps: 0",
        instead: r"scramble: R2 U F2
solution: F2 U' R2
fps: 59.94",
    }

    /// `time` is not what a timer shows.
    Fault "time-invalid" {
        fn time_invalid(expected: &str, found: &str) {
            message: format!("{expected}, found `{found}`"),
            help: "write what the timer showed, penalties apart: `time: 9.84` or `time: 1:02.34`",
        }
        example: r"scramble: R2 U F2
solution: F2 U' R2
time: 9.84.2",
        instead: r"scramble: R2 U F2
solution: F2 U' R2
time: 9.84",
    }

    /// `time` has a unit.
    Note "time-form" {
        fn time_form(time: &str) {
            message: "an unusual way to write a time",
            help: format!("write `time: {time}`"),
        }
        example: r"scramble: R2 U F2
solution: F2 U' R2
time: 10.7s",
        instead: r"scramble: R2 U F2
solution: F2 U' R2
time: 10.70",
    }

    /// `time` has a penalty, or says that the solve did not count (DNF). What the timer showed is kept, nothing
    /// for a bare DNF.
    Note "time-penalty" {
        fn time_penalty(time: &str) {
            message: "a time with a penalty: what the timer showed is kept",
            help: format!("read as {time} seconds; write `time: {time}`"),
        }
        fn time_with_plus(time: &str) {
            message: "a `+` behind the time says there was a penalty: kept as written",
            help: format!("write what the timer showed; if the penalty is not in it, `time: {time}`"),
        }
        fn time_not_counted() {
            message: "a solve that did not count: no time is kept",
            help: "leave `time` out, or write what the timer showed",
        }
        example: r"scramble: R2 U F2
solution: F2 U' R2
time: 9.84+2",
        instead: r"scramble: R2 U F2
solution: F2 U' R2
time: 9.84",
    }

    /// `date` is not a day of the calendar written `YYYY-MM-DD`. It is kept as it is.
    Note "date-form" {
        fn date_form() {
            message: "expected a day that there is, as `YYYY-MM-DD`; kept as it is",
            help: "write it like `2026-05-02`",
        }
        example: r"scramble: R2 U F2
solution: F2 U' R2
date: 2026-02-30",
        instead: r"scramble: R2 U F2
solution: F2 U' R2
date: 2026-02-28",
    }
}
