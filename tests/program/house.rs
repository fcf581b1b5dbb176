//! The house that `DEVELOPERS.md` draws, held against the sources: which room may know which.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

/// The rooms of the library from the ground up, each with the rooms it may know. Whoever needs more changes this list,
/// and sees what that does to the house: what a room knows must stand above it here, so there is no circle.
const ROOMS: &[(&str, &[&str])] = &[
    ("cube", &[]),
    ("diagnostic", &[]),
    ("findings", &["diagnostic"]),
    ("hands", &["cube"]),
    ("harmless", &[]),
    ("notation", &["cube", "diagnostic", "findings"]),
    ("record", &["cube", "diagnostic", "findings", "hands", "harmless", "notation"]),
    ("replay", &["cube"]),
    ("search", &["cube", "hands"]),
    ("words", &[]),
    ("scramble", &["cube"]),
    ("sight", &["cube"]),
    ("scan", &["cube", "sight"]),
    ("steps", &["cube", "diagnostic", "notation", "replay"]),
    ("clock", &["cube", "diagnostic", "findings", "notation", "steps"]),
    ("paste", &["cube", "diagnostic", "findings", "notation", "record", "replay", "steps"]),
    ("judgement", &["cube", "hands", "replay", "search", "sight", "steps"]),
    ("look_ahead", &["cube", "replay", "sight", "scan", "steps"]),
    ("annotation", &["cube", "diagnostic", "hands", "record", "scan", "steps", "judgement", "look_ahead"]),
    ("survey", &["cube", "harmless", "record", "steps", "annotation"]),
    ("study", &["cube", "diagnostic", "findings", "record", "replay", "steps", "clock", "words"]),
    ("diff", &["cube", "record", "replay", "steps", "clock", "annotation", "study", "words"]),
    (
        "annotate",
        &[
            "cube",
            "diagnostic",
            "hands",
            "notation",
            "record",
            "search",
            "sight",
            "scan",
            "steps",
            "clock",
            "judgement",
            "look_ahead",
            "annotation",
            "study",
        ],
    ),
    (
        "plan",
        &["cube", "hands", "search", "sight", "scan", "steps", "clock", "judgement", "annotation", "study"],
    ),
    (
        "drill",
        &["cube", "hands", "record", "scramble", "search", "sight", "scan", "annotation", "annotate", "plan"],
    ),
    (
        "story",
        &[
            "cube",
            "harmless",
            "record",
            "sight",
            "scan",
            "annotation",
            "survey",
            "plan",
            "drill",
            "diff",
            "words",
        ],
    ),
    ("mend", &["cube", "diagnostic", "findings", "notation", "paste", "record", "replay", "steps", "study"]),
    ("timing", &["cube", "diagnostic", "findings", "notation", "record", "study"]),
    (
        "report",
        &[
            "cube",
            "diagnostic",
            "harmless",
            "paste",
            "record",
            "scan",
            "steps",
            "annotation",
            "story",
            "study",
            "annotate",
            "plan",
            "drill",
            "diff",
            "mend",
            "words",
            "notation",
            "timing",
            "survey",
        ],
    ),
    ("lesson", &["cube", "diagnostic", "harmless", "findings", "annotation", "drill", "story", "report"]),
    ("written", &["cube", "steps"]),
];

/// The most lines of a file.
const MOST_LINES: usize = 600;

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Every source file below a folder, by its path in the project.
fn sources(folder: &str) -> Vec<(String, String)> {
    let mut waiting = vec![root().join(folder)];
    let mut found = Vec::new();
    while let Some(folder) = waiting.pop() {
        let entries = fs::read_dir(&folder).expect("a folder").flatten();
        for path in entries.map(|entry| entry.path()) {
            if path.is_dir() && path.file_name().is_none_or(|name| name != "node_modules") {
                waiting.push(path);
            } else if path.extension().is_some_and(|ending| ending == "rs") {
                let text = fs::read_to_string(&path).expect("a source file");
                let path: PathBuf = path.strip_prefix(root()).expect("in the project").into();
                let parts: Vec<String> =
                    path.iter().map(|part| part.to_string_lossy().into_owned()).collect();
                found.push((parts.join("/"), text));
            }
        }
    }
    found.sort();
    found
}

/// The files of the library with the room each belongs to: `src/cube/hold.rs` to `cube`, `src/replay.rs` to `replay`.
fn library() -> Vec<(String, String, String)> {
    let mut found = Vec::new();
    for (path, text) in sources("src") {
        let room = path["src/".len()..].split('/').next().expect("a part").trim_end_matches(".rs").to_owned();
        if !["lib", "main", "cli"].contains(&room.as_str()) {
            found.push((room, path, text));
        }
    }
    found
}

/// The text without comments. A `//` in a string cuts its line short, which takes no path of a module away.
fn code(text: &str) -> String {
    text.lines().map(|line| line.split("//").next().unwrap_or_default().to_owned() + "\n").collect()
}

/// The first names after `crate::` in a file, with `crate::{a, b::c}` taken apart.
fn known(text: &str) -> Vec<String> {
    let code = code(text);
    let mut names = Vec::new();
    for (at, _) in code.match_indices("crate::") {
        // Not the end of another name, such as `some_crate::`.
        if code[..at].ends_with(|c: char| c.is_alphanumeric() || c == '_') {
            continue;
        }
        let rest = &code[at + "crate::".len()..];
        let Some(list) = rest.strip_prefix('{') else {
            names.push(word(rest));
            continue;
        };
        let mut depth = 1;
        let mut begins = true;
        for (at, c) in list.char_indices() {
            match c {
                '{' => depth += 1,
                '}' => depth -= 1,
                ',' if depth == 1 => begins = true,
                c if begins && c.is_alphabetic() => {
                    names.push(word(&list[at..]));
                    begins = false;
                }
                _ => {}
            }
            if depth == 0 {
                break;
            }
        }
    }
    names
}

fn word(text: &str) -> String {
    text.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect()
}

#[test]
fn paths_are_taken_apart() {
    let text = "use crate::cube::{Face, Move};\nuse crate::{a, b::{c, d}, e};\n// crate::no\nlet x = crate::f::g(other_crate::h);\n";
    assert_eq!(known(text), ["cube", "a", "b", "e", "f"]);
}

#[test]
fn no_room_knows_one_above_it_and_there_is_no_circle() {
    let mut below: Vec<&str> = Vec::new();
    for &(room, knows) in ROOMS {
        for other in knows {
            assert!(below.contains(other), "{room} may know {other}, which does not stand before it");
        }
        assert!(!below.contains(&room), "{room} is there twice");
        below.push(room);
    }
    let allowed: BTreeMap<&str, &[&str]> = ROOMS.iter().copied().collect();
    let mut used: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for (room, path, text) in library() {
        let allowed =
            allowed.get(room.as_str()).unwrap_or_else(|| panic!("{path}: a room that is not listed"));
        let others = used.entry(room.clone()).or_default();
        for name in known(&text) {
            if name != room {
                assert!(allowed.contains(&name.as_str()), "{path}: {room} may not know {name}");
                others.push(name);
            }
        }
        // From the first file of a room `super` is the library itself: the same by another name.
        let first = path == format!("src/{room}.rs") || path == format!("src/{room}/mod.rs");
        assert!(!first || !text.contains("\nuse super::"), "{path}: say `crate::`");
    }
    // The list says what is, not what once was.
    for &(room, knows) in ROOMS {
        let used = used.get(room).unwrap_or_else(|| panic!("there is no room {room}"));
        for other in knows {
            assert!(used.iter().any(|name| name == other), "{room} does not know {other} any more");
        }
    }
}

#[test]
fn every_room_stands_in_the_page_for_developers() {
    let page = fs::read_to_string(root().join("DEVELOPERS.md")).expect("the page");
    for (room, _) in ROOMS {
        assert!(page.contains(&format!("| `{room}` |")), "DEVELOPERS.md has no row for {room}");
    }
}

/// The library prints nothing (clippy sees to that) and reads no arguments.
#[test]
fn the_command_line_is_the_programs_own() {
    for (_, path, text) in library() {
        for name in ["clap::", "std::process", "env::args"] {
            assert!(!code(&text).contains(name), "{path}: {name}");
        }
    }
}

#[test]
fn no_file_is_long_and_each_says_what_it_is() {
    let mut n_files = 0;
    for (path, text) in sources("src").into_iter().chain(sources("tests")) {
        let lines = text.lines().count();
        assert!(lines <= MOST_LINES, "{path} has {lines} lines");
        assert!(text.starts_with("//!"), "{path} does not begin with what it is");
        n_files += 1;
    }
    assert!(n_files > 100, "{n_files} files looked at");
}
