//! `survey` from outside: what it prints of the season, in every format, and what it says where it cannot.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use cornerwise::report;
use cornerwise::survey::Survey;
use cornerwise::survey::circumstance::Which;
use serde_json::Value;

const SEASON: &str = "reconstructions/season";
/// Fifteen solves on three days: enough for single circumstances.
const SPRING: &str = "reconstructions/season/2026-04-[01]*.yaml";

fn run(arguments: &[&str]) -> (i32, String, String) {
    let output = Command::new(env!("CARGO_BIN_EXE_cornerwise"))
        .arg("survey")
        .args(arguments)
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .env_clear()
        .output()
        .expect("the program runs");
    let text = |bytes| String::from_utf8(bytes).expect("text");
    (output.status.code().expect("it ended"), text(output.stdout), text(output.stderr))
}

/// A folder of its own for a test, empty.
fn folder(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("survey").join(name);
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).expect("a folder");
    folder
}

#[test]
fn the_facts_are_what_their_schema_says_whoever_counts_them() {
    let (exit, json, err) = run(&[SEASON, "--format", "json", "--jobs", "1"]);
    assert_eq!((exit, err.as_str()), (0, ""));
    assert_eq!(run(&[SEASON, "--format", "json", "--jobs", "3"]).1, json);
    let value: Value = serde_json::from_str(&json).expect("one object");
    let schema: Value = serde_json::from_str(&report::json::schema::<Survey>()).expect("JSON");
    let validator = jsonschema::draft202012::new(&schema).expect("a schema");
    let errors: Vec<String> =
        validator.iter_errors(&value).map(|error| format!("{}: {error}", error.instance_path())).collect();
    assert!(errors.is_empty(), "{errors:#?}");
    let mut other = value.clone();
    other["findings"][0]["unheard_of"] = 1.into();
    assert!(!validator.is_valid(&other), "the schema takes anything");
    let survey: Survey = serde_json::from_value(value).expect("it reads back");
    assert_eq!(report::json::any(&survey), json);
}

#[test]
fn a_row_a_step_for_a_spreadsheet() {
    let (exit, csv, err) = run(&[SPRING, "--format", "csv"]);
    assert_eq!((exit, err.as_str()), (0, ""));
    let mut lines = csv.lines();
    let columns: Vec<&str> = lines.next().expect("a header").split(',').collect();
    assert_eq!(columns.iter().collect::<BTreeSet<_>>().len(), columns.len(), "each name once");
    let at = |name: &str| columns.iter().position(|column| *column == name).expect("a column");
    let (mut pairs, mut stops) = (0, 0);
    for line in lines {
        // The titles have commas in them, and nothing else has quotes.
        let (quoted, plain): (Vec<_>, Vec<_>) = line.split('"').enumerate().partition(|(n, _)| n % 2 == 1);
        assert!(quoted.len() <= 2);
        let cells = plain.iter().map(|(_, text)| text.matches(',').count()).sum::<usize>() + 1;
        assert_eq!(cells, columns.len(), "{line}");
        assert!(line.starts_with("yes,"), "{line}");
        let shift = quoted.iter().map(|(_, text)| text.matches(',').count()).sum::<usize>();
        let cell = |name: &str| line.split(',').nth(at(name) + shift).expect("a cell");
        if cell("kind") == "pair" {
            pairs += 1;
            stops += usize::from(cell("stop_before").parse::<f64>().expect("a figure") > 0.0);
            assert!(Which::all().all(|which| ["0", "1"].contains(&cell(which.circumstance().name))));
            assert_ne!(cell("edge-up"), cell("edge-down"));
        } else {
            assert!(Which::all().all(|which| cell(which.circumstance().name).is_empty()));
        }
    }
    assert!(pairs >= 50 && stops >= 10, "{pairs} {stops}");
    // Every column is described.
    let page =
        fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("docs/survey.md")).expect("the page");
    for column in columns {
        assert!(page.contains(&format!("`{column}`")), "docs/survey.md does not say what {column} is");
    }
}

/// The page of `docs` is made of the table of circumstances; `CORNERWISE_UPDATE_DOCS=1` writes it anew.
#[test]
fn the_page_has_every_circumstance() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("docs/survey.md");
    let page = fs::read_to_string(&path).expect("the page").replace('\r', "");
    let (head, rest) = page.split_once("<!-- circumstances -->\n").expect("where the table begins");
    let (_, tail) = rest.split_once("<!-- end -->\n").expect("where it ends");
    let mut table = String::from("| name | said | means, exactly | drill |\n|---|---|---|---|\n");
    for which in Which::all() {
        let one = which.circumstance();
        let drill = one.drill.map_or_else(String::new, |drill| format!("`{drill}`"));
        table.push_str(&format!("| `{}` | {} | {} | {drill} |\n", one.name, one.says, one.means));
    }
    let new = format!("{head}<!-- circumstances -->\n{table}<!-- end -->\n{tail}");
    if std::env::var_os("CORNERWISE_UPDATE_DOCS").is_some() {
        fs::write(&path, &new).expect("written");
    } else {
        assert!(new == page, "docs/survey.md is not what the table of circumstances says");
    }
}

/// Whatever is advised can be asked for.
#[test]
fn every_drill_of_the_table_is_one() {
    let drills: BTreeSet<&str> = Which::all().filter_map(|which| which.circumstance().drill).collect();
    assert!(drills.len() >= 8, "{drills:?}");
    for drill in drills {
        let output = Command::new(env!("CARGO_BIN_EXE_cornerwise"))
            .arg("drill")
            .args(drill.split(' '))
            .args(["--count", "1", "--seed", "3"])
            .env_clear()
            .output()
            .expect("the program runs");
        assert!(output.status.success(), "{drill}: {}", String::from_utf8_lossy(&output.stderr));
    }
}

#[test]
fn pages_for_every_solve_and_no_dead_links() {
    let folder = folder("pages");
    let out = format!("{}/", folder.display());
    let arguments = [SPRING, "--format", "html", "--pages", "--output", &out];
    let (exit, printed, err) = run(&arguments);
    assert_eq!((exit, printed.as_str(), err.as_str()), (0, "", ""));
    let index = fs::read_to_string(folder.join("index.html")).expect("the page");
    assert!(index.contains("Stopped time over time") && index.contains("Every solve in small"));
    let links: BTreeSet<&str> =
        index.split("href=\"").skip(1).map(|rest| rest.split('"').next().expect("an end")).collect();
    let pages: Vec<&&str> = links.iter().filter(|link| link.ends_with(".html")).collect();
    assert_eq!(pages.len(), 15, "{links:?}");
    assert!(pages.iter().all(|page| folder.join(page).is_file()));
    // An XML reader takes the page: everything that is opened is closed.
    let body = index.split_once("<main").map(|(_, rest)| format!("<main{rest}")).expect("a body");
    let body = body.split_once("</main>").map(|(main, _)| format!("{main}</main>")).expect("an end");
    roxmltree::Document::parse(&body).expect("well-formed");
    let (exit, _, err) = run(&arguments);
    assert!(exit == 2 && err.contains("exists already"), "{err}");
    let (exit, _, err) = run(&[SPRING, "--pages", "--output", &out]);
    assert!(exit == 2 && err.contains("--format html"), "{err}");
}

#[test]
fn what_cannot_be_told_is_said_why() {
    let one_day = "reconstructions/season/2026-04-04.yaml";
    let (exit, text, err) = run(&[one_day]);
    assert_eq!((exit, err.as_str()), (0, ""));
    assert!(text.contains("from 5 solves: it takes 12") && text.contains("before pair 1"), "{text}");
    let (exit, text, _) = run(&[one_day, "--by", "solver"]);
    assert!(exit == 0 && text.contains("dunlin"), "{text}");
    let (exit, text, _) = run(&[one_day, "--by", "day", "--format", "markdown"]);
    assert!(exit == 0 && text.contains("2026\\-04\\-04") || text.contains("2026-04-04"), "{text}");
    let (exit, _, err) = run(&[one_day, "--list", "3"]);
    assert!(exit == 2 && err.contains("there is no finding"), "{err}");
    let (exit, _, err) = run(&[one_day, "--since", "yesterday"]);
    assert!(exit == 2 && err.contains("YYYY-MM-DD"), "{err}");
    let (exit, text, err) = run(&["reconstructions/mistyped-token.yaml", "reconstructions/xcross.yaml"]);
    assert_eq!(exit, 1, "{err}");
    assert!(
        text.contains("(has a fault)") && text.contains("(too few times)") && err.contains("T'"),
        "{text}{err}"
    );
}

#[test]
fn a_name_that_no_record_has_is_answered_with_those_that_are_there() {
    let (exit, out, err) = run(&[SPRING, "--solver", "foo"]);
    assert_eq!((exit, out.as_str()), (2, ""));
    assert!(err.contains("`--solver foo`: no solve of that name; the records name `dunlin`"), "{err}");
    // A side that is not there is no reason to print the other one alone.
    let (exit, out, err) = run(&[SPRING, "--against", "nowhere"]);
    assert_eq!((exit, out.as_str()), (2, ""));
    assert!(err.contains("`--against`: there is no solve to compare with"), "{err}");
}

#[test]
fn ones_own_solves_are_not_among_the_others() {
    let (exit, out, err) = run(&[SEASON, "--against", "reconstructions"]);
    assert_eq!(exit, 1, "the folder has records with faults: {err}");
    assert!(err.contains("40 solves of that side are on your side too"), "{err}");
    let heading = out.lines().find(|line| line.starts_with("Beside ")).expect("the others");
    // 55 solves with times in all, of which 40 are one's own.
    assert!(heading.starts_with("Beside the others: 15 solves with times"), "{heading}");
    for line in out.lines() {
        assert!(!line.contains("-0.00") && !line.contains("+0.00"), "nothing has no sign: {line}");
    }
    let starred = |line: &&str| line.trim_end().ends_with(" *") && !line.starts_with(['a', 's']);
    assert_eq!(out.contains("* stands out"), out.lines().any(|line| starred(&line)), "{out}");
}

/// A saved survey is printed again in every form, the same bytes as from the records.
#[test]
fn a_saved_survey_is_printed_again() {
    let folder = folder("saved");
    let saved = folder.join("saved.json");
    let saved = saved.to_str().expect("a name");
    let of: [&[&str]; 3] =
        [&[SEASON], &[SPRING], &[SPRING, "--against", "reconstructions/season/2026-05*.yaml"]];
    let views: [&[&str]; 7] = [
        &["--format", "json"],
        &[],
        &["--ascii", "--width", "60"],
        &["--format", "markdown"],
        &["--format", "html"],
        &["--list", "1"],
        &["--by", "day", "--format", "markdown"],
    ];
    let mut compared = 0;
    for of in of {
        let (_, json, err) = run(&[of, &["--format", "json"]].concat());
        fs::write(saved, &json).expect("written");
        for view in views {
            // A part of a survey and another folder do not go together.
            let part = view.contains(&"--list") || view.contains(&"--by");
            let of = if part { &of[..1] } else { of };
            let (before, printed, _) = run(&[of, view].concat());
            let (after, again, said) = run(&[&[saved], view].concat());
            assert!(printed == again, "{of:?} {view:?}: {printed}{again}{err}");
            assert_eq!(before, after, "{of:?} {view:?}: {said}");
            compared += usize::from(!printed.is_empty());
        }
    }
    assert!(compared >= 19, "{compared}");
    // Several solvers are a line each.
    let (_, two, _) = run(&["reconstructions", "--by", "solver", "--format", "json"]);
    assert!(two.lines().count() > 1);
    fs::write(saved, &two).expect("written");
    assert_eq!(run(&[saved, "--format", "json"]).1, two);
    assert_eq!(run(&[saved, "--by", "solver"]).1, run(&["reconstructions", "--by", "solver"]).1);
}

#[test]
fn of_a_saved_survey_nothing_is_counted_anew() {
    let folder = folder("saved-refused");
    let saved = folder.join("saved.json");
    let (_, json, _) = run(&[SPRING, "--format", "json"]);
    fs::write(&saved, &json).expect("written");
    let saved = saved.to_str().expect("a name");
    for (more, told) in [
        (&["--since", "2026-04-05"][..], "`--since`: a saved survey is printed as it is"),
        (&["--solver", "dunlin"], "`--solver`: a saved survey"),
        (&["--against", SPRING], "`--against`: a saved survey"),
        (&["--lead", "7"], "with other settings it is to be made anew"),
        (&["--format", "csv"], "a saved survey has no rows"),
        (&[SPRING], "other solves cannot be added to it"),
    ] {
        let (exit, out, err) = run(&[&[saved], more].concat());
        assert_eq!((exit, out.as_str()), (2, ""), "{more:?}: {err}");
        assert!(err.contains(told), "{more:?}: {err}");
    }
    let (exit, out, err) = run(&[SPRING, "--against", saved]);
    assert!(exit == 2 && out.is_empty() && err.contains("but no saved survey"), "{out}{err}");
    // What no survey says is refused, wherever it would have come to.
    for (from, to, told) in [
        ("survey/1", "survey/9", "not a saved survey"),
        ("\"2026-04-04\"", "\"\\u001b[31m\"", "is no day"),
        ("\"page\":null", "\"page\":\"javascript:alert(1)\"", "is no page of a survey"),
        ("\"steps\":", "\"unsteps\":", "not a saved survey"),
    ] {
        let other = json.replacen(from, to, 1);
        assert_ne!(other, json, "{from}");
        fs::write(saved, other).expect("written");
        let (exit, out, err) = run(&[saved]);
        assert!(exit == 2 && out.is_empty() && err.contains(told), "{from}: {out}{err}");
        assert!(!err.contains('\u{1b}'), "{err}");
    }
}

#[test]
fn an_option_that_would_say_nothing_is_refused() {
    for (arguments, told) in [
        (
            &["--format", "csv", "--by", "day"][..],
            "`--by day` goes with text and Markdown, not with `--format csv`",
        ),
        (&["--format", "csv", "--by", "solver"], "`--by solver` goes with text"),
        (&["--format", "csv", "--list", "1"], "`--list 1` goes with text"),
        (&["--format", "csv", "--against", SPRING], "`--against` has no place in it"),
        (
            &["--format", "json", "--list", "3"],
            "`--list 3` goes with text and Markdown, not with `--format json`",
        ),
        (&["--format", "json", "--by", "day"], "in `by_day` and `findings`"),
        (&["--format", "html", "--list", "1"], "not with `--format html`"),
        (&["--by", "solver", "--against", SPRING], "leave one out"),
        (&["--list", "1", "--against", SPRING], "leave one out"),
        (&["--list", "x"], "expected a whole number, such as 1"),
    ] {
        let (exit, out, err) = run(&[&[SPRING], arguments].concat());
        assert_eq!((exit, out.as_str()), (2, ""), "{arguments:?}: {err}");
        assert!(err.contains(told), "{arguments:?}: {err}");
    }
}

#[test]
fn where_there_is_no_solve_nothing_is_printed() {
    let folder = folder("empty");
    let empty = folder.to_str().expect("a name");
    let file = folder.join("empty.rec");
    fs::write(&file, "").expect("written");
    for format in ["text", "json", "csv", "html", "markdown"] {
        for (what, told) in [
            (empty, "no record in this folder"),
            ("nowhere", "no such file"),
            (file.to_str().expect("a name"), "found nothing"),
        ] {
            let (exit, out, err) = run(&[what, "--format", format]);
            assert_eq!((exit, out.as_str()), (2, ""), "{what} {format}: {err}");
            assert!(err.contains(told) && err.contains("there is no solve to look at"), "{err}");
        }
    }
}
