//! `plan` and `drill` through the built program: what people and programs read, and what is said of what cannot be.

use std::fs;
use std::path::Path;
use std::process::Command;

use cornerwise::cube::Colour;
use cornerwise::drill::{Drill, Drills, Kind, Wish};
use cornerwise::plan::Plan;
use cornerwise::report::look::Look;
use cornerwise::report::{self, drills, html};
use insta_cmd::assert_cmd_snapshot;
use serde_json::Value;

fn program(arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_cornerwise"));
    command.args(arguments).args(["--width", "80", "--color", "never"]);
    command.env_clear().current_dir(env!("CARGO_MANIFEST_DIR"));
    command
}

fn run(arguments: &[&str]) -> (i32, String, String) {
    let output = program(arguments).output().expect("the program runs");
    let text = |bytes| String::from_utf8(bytes).expect("text");
    (output.status.code().expect("not killed"), text(output.stdout), text(output.stderr))
}

fn text_of(node: roxmltree::Node) -> String {
    node.descendants().filter(|n| n.is_text()).filter_map(|n| n.text()).collect()
}

const FORK: &str = "reconstructions/fork-after-first-pair.yaml#2";

#[test]
fn a_plan_for_people() {
    assert_cmd_snapshot!("plan-fork", program(&["plan", FORK]));
    assert_cmd_snapshot!("plan-all", program(&["plan", "--all", "reconstructions/xcross.yaml"]));
    assert_cmd_snapshot!("plan-markdown", program(&["plan", FORK, "--at", "pair 2", "--format", "markdown"]));
}

#[test]
fn moments_that_cannot_be_planned_from() {
    let no_pair = &["plan", FORK, "--at", "pair 4"];
    assert_cmd_snapshot!("plan-all-in", program(no_pair));
    assert_cmd_snapshot!("plan-inside", program(&["plan", FORK, "--at", "11"]));
    assert_cmd_snapshot!("plan-beyond", program(&["plan", FORK, "--at", "999"]));
    assert_cmd_snapshot!("plan-nonsense", program(&["plan", FORK, "--at", "pair 9"]));
}

/// Facts read back are the facts, and each line is what the schema kept in `docs` describes.
#[test]
fn plans_and_drills_for_programs() {
    let (exit, out, _) = run(&["plan", "reconstructions", "--format", "json", "--all"]);
    assert_eq!(exit, 2, "two of them are broken on purpose");
    let schema = |text: String| {
        let schema: Value = serde_json::from_str(&text).expect("the schema is JSON");
        jsonschema::draft202012::new(&schema).expect("the schema is one")
    };
    let valid = schema(report::json::schema::<Plan>());
    for line in out.lines() {
        let plan: Plan = serde_json::from_str(line).expect("a plan");
        assert_eq!(report::json::any(&plan).trim_end(), line);
        assert!(valid.is_valid(&serde_json::from_str(line).expect("JSON")), "{line}");
        assert!(plan.orders.windows(2).all(|two| two[0].late <= two[1].late));
    }
    assert!(out.lines().count() > 15);

    let valid = schema(report::json::schema::<Drill>());
    for kind in [Kind::Target, Kind::TurnFirst, Kind::Deduce, Kind::Cross, Kind::Whole] {
        for drill in made(kind, 2) {
            let line = report::json::any(&drill);
            assert_eq!(serde_json::from_str::<Drill>(&line).expect("a position"), drill);
            assert!(valid.is_valid(&serde_json::from_str(&line).expect("JSON")), "{line}");
        }
    }
}

/// Positions of a kind, with the seed 7.
fn made(kind: Kind, count: usize) -> Vec<Drill> {
    let drills = Drills::new(Wish::of(kind, Colour::White), 7).expect("it can be met");
    (1..=count).map(|number| drills.one(number).expect("it is met")).collect()
}

#[test]
fn a_drill_for_people() {
    for kind in [Kind::Find, Kind::Target, Kind::TurnFirst, Kind::Deduce, Kind::Cross] {
        let text = drills::text(&made(kind, 2), true, &Look::plain());
        insta::assert_snapshot!(format!("drill-{kind}"), text);
    }
    let edges = made(Kind::Edge, 3);
    // The program prints the same; without --answers nothing of the answer is there.
    let (_, printed, _) = run(&["drill", "edge", "--seed", "7", "--count", "3"]);
    assert_eq!(printed, drills::text(&edges, false, &Look::plain()));
    let with = drills::text(&edges, true, &Look::plain());
    assert!(with.contains("its line") && !printed.contains("its line"));
    // In Markdown and on pages, which are well-formed, it is behind a button that needs no script.
    assert_eq!(drills::markdown(&edges, false).matches("<details>").count(), 3);
    let page = html::plan::drill(&edges);
    let page = roxmltree::Document::parse(page.trim_start_matches("<!DOCTYPE html>")).expect("well-formed");
    assert_eq!(page.descendants().filter(|node| node.has_tag_name("details")).count(), 3);
    let (_, page, _) = run(&["plan", FORK, "--format", "html"]);
    let page = roxmltree::Document::parse(page.trim_start_matches("<!DOCTYPE html>")).expect("well-formed");
    assert!(page.descendants().filter(|node| node.has_tag_name("table")).count() >= 3);
    // The best order can be played through, from the moment on.
    let studies: Vec<_> =
        page.descendants().filter(|node| node.attribute("class") == Some("study")).collect();
    let [study] = studies.as_slice() else { panic!("one player") };
    let (_, plan, _) = run(&["plan", FORK, "--format", "json"]);
    let plan: Plan = serde_json::from_str(&plan).expect("a plan");
    assert_eq!(study.attribute("data-at"), Some(plan.at.moment.to_string().as_str()));
    let line = plan.orders[0].lines[0].text.to_string();
    let spoken =
        |node: &roxmltree::Node| node.attribute("class").is_some_and(|class| class.contains("turns"));
    let lines = study.descendants().filter(spoken).map(|node| text_of(node));
    assert!(lines.into_iter().any(|text| text == line), "{line}");
}

#[test]
fn wishes_that_cannot_be_met() {
    assert_cmd_snapshot!("drill-one-open", program(&["drill", "target", "--open", "1"]));
    let (exit, out, err) =
        run(&["drill", "find", "--from", "reconstructions/mistyped-token.yaml", "--step", "pair 2"]);
    // The record's own message is told, and what can be read of it serves.
    assert!(err.contains("token-unknown"), "{err}");
    assert_eq!((exit, out.is_empty()), (1, false), "{err}");
    let (exit, out, err) = run(&["drill", "find", "--from", FORK, "--step", "pair 9"]);
    assert_eq!((exit, out.as_str()), (2, ""));
    assert!(err.contains("pair 1"), "{err}");
    let (exit, _, err) = run(&["drill", "find", "--from", "nowhere.yaml", "--step", "pair 2"]);
    assert!(exit == 2 && err.contains("nowhere.yaml: no such file"), "{err}");
}

/// What can be met by no position is refused before one is drawn, and what is named instead can be met.
#[test]
fn what_cannot_be_is_refused_at_once_with_what_can_be() {
    for (asked, why) in [
        ("whole --turns 3", "4 open pairs take"),
        ("choose --turns 9", "4 open pairs take"),
        ("choose --turns 4", "4 open pairs take"),
        ("hidden --open 2 --turns 4", "2 open pairs take"),
        ("hidden --sight UFRLBD", "nothing is hidden"),
        ("deduce --sight UFRLB", "nothing is hidden"),
        ("turn-first --sight UFRBL", "nothing is hidden"),
        ("forced --sight UFRBLD", "nothing is hidden"),
        ("hidden --sight UFRL --shown-by L", "L is in sight already"),
    ] {
        let words = |asked: &str| asked.split(' ').map(str::to_owned).collect::<Vec<_>>();
        let mut arguments = vec!["drill".to_owned()];
        arguments.extend(words(asked));
        let (exit, out, err) = run(&arguments.iter().map(String::as_str).collect::<Vec<_>>());
        assert_eq!((exit, out.as_str()), (2, ""), "{asked}: {err}");
        assert!(err.contains(why) && !err.contains("were drawn"), "{asked}: {err}");
        let instead = err.trim_end().split("the nearest there is: cornerwise ").nth(1);
        let instead = instead.unwrap_or_else(|| panic!("{asked}: {err}")).to_owned() + " --seed 2 --count 1";
        let arguments = words(&instead);
        let (exit, out, err) = run(&arguments.iter().map(String::as_str).collect::<Vec<_>>());
        assert!(exit == 0 && out.contains("\n1  "), "{instead}: {err}");
    }
}

/// What is merely rare is looked for; then it is said how near it came.
#[test]
fn what_is_too_short_to_be_found_names_the_length_that_is() {
    let asked = ["drill", "whole", "--turns", "10", "--seed", "3", "--count", "1"];
    let (exit, _, err) = run(&asked);
    assert!(exit == 2 && err.contains("positions were drawn"), "{err}");
    let turns = err.trim_end().rsplit("--turns ").next().expect("a number");
    assert!(turns.parse::<usize>().is_ok_and(|turns| (11..20).contains(&turns)), "{err}");
    let (exit, out, err) = run(&["drill", "whole", "--turns", turns, "--seed", "3", "--count", "1"]);
    assert!(exit == 0 && out.contains(&format!("{turns} turns will do")), "{err}");
}

#[test]
fn one_record_of_several_is_asked_for_by_name() {
    for from in ["reconstructions/season", "reconstructions/season/2026-04-04.yaml"] {
        let (exit, out, err) = run(&["drill", "--from", from, "--step", "pair 2"]);
        assert_eq!((exit, out.as_str()), (2, ""), "{err}");
        assert!(err.contains("such as `--from reconstructions/season/2026-04-04.yaml#1`"), "{err}");
        assert!(err.contains("  reconstructions/season/2026-04-04.yaml#5  "), "{err}");
    }
}

#[test]
fn numbers_that_are_none_are_told_what_is_expected() {
    for (option, expected) in [
        ("--seed", "expected a whole number, such as 7"),
        ("--count", "expected a whole number from 1 to 1000, such as 10"),
        ("--turns", "expected a whole number from 1 to 60, such as 10"),
        ("--open", "expected a whole number from 1 to 4, such as 4"),
    ] {
        for nonsense in ["abc", "1.5", "99999999999999999999"] {
            let (exit, _, err) = run(&["drill", "find", option, nonsense]);
            assert!(exit == 2 && err.contains(expected), "{option} {nonsense}: {err}");
        }
    }
}

/// Positions like one of a record have its open pairs, tiers and visibility.
#[test]
fn positions_like_one_of_a_record() {
    let like = [
        "drill", "find", "--from", FORK, "--step", "pair 3", "--seed", "1", "--count", "2", "--format",
        "json",
    ];
    let (exit, out, err) = run(&like);
    assert_eq!((exit, err.as_str()), (0, ""));
    let (_, plan, _) = run(&["plan", FORK, "--at", "pair 2", "--format", "json"]);
    let plan: Plan = serde_json::from_str(&plan).expect("a plan");
    let mut there: Vec<_> =
        plan.offers.iter().map(|offer| (offer.tier, offer.corner_grade, offer.edge_grade)).collect();
    there.sort_unstable();
    assert_eq!(out.lines().count(), 2);
    for line in out.lines() {
        let drill: Drill = serde_json::from_str(line).expect("a position");
        assert_eq!(drill.open.len(), there.len());
        let named = &drill.answer.pairs[0];
        assert!(there.contains(&(named.tier, named.corner_grade, named.edge_grade)), "{line}");
    }
}

/// What a drill leaves to do is not blamed on whoever practises it.
#[test]
fn a_drill_as_a_record_is_annotated_as_what_it_is() {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("drill-records");
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).expect("a folder");
    for (open, until) in [("1", "pair 4"), ("4", "pair 1")] {
        let arguments =
            ["drill", "find", "--count", "1", "--seed", "7", "--open", open, "--format", "records"];
        let (_, record, _) = run(&arguments);
        let path = folder.join(format!("{open}.yaml"));
        fs::write(&path, record).expect("written");
        let (exit, out, err) = run(&["annotate", path.to_str().expect("text")]);
        assert_eq!((exit, err.as_str()), (0, ""));
        assert!(out.contains(&format!("white cross, to the end of {until}, as meant\n")), "{out}");
        for unfit in ["not solved", "Not told", "What cost most", "xxxcross"] {
            assert!(!out.contains(unfit), "{unfit}: {out}");
        }
        // A lane for each pair that is open, none for those that are in.
        let lanes = out.lines().filter(|line| line.trim_start().starts_with("edge   ")).count();
        assert_eq!(lanes.to_string(), open, "{out}");
        assert!(out.contains("\ngiven"), "{out}");
    }
}
