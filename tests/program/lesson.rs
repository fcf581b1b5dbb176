//! Lessons: what is not a block stays as it is, what is wrong is told with its line, and the lesson of the documents is
//! what the program makes of it.
//!
//! `CORNERWISE_UPDATE_DOCS=1 cargo test --test program lesson` makes `docs/lesson/made` anew.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use pulldown_cmark::{Event, Options, Parser, Tag, TagEnd};

const LESSON: &str = "docs/lesson/scanning-order.md";

fn run(folder: &Path, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_cornerwise"))
        .args(arguments)
        .current_dir(folder)
        .env_clear()
        .output()
        .expect("the program runs")
}

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// A folder for one test, empty.
fn folder(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("lesson-{name}"));
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).expect("a folder");
    folder
}

fn files(folder: &Path) -> BTreeMap<String, String> {
    let Ok(entries) = fs::read_dir(folder) else { return BTreeMap::new() };
    let read = |entry: fs::DirEntry| {
        (entry.file_name().to_string_lossy().into_owned(), fs::read_to_string(entry.path()).expect("text"))
    };
    entries.flatten().filter(|entry| entry.path().is_file()).map(read).collect()
}

/// Headings, links and paragraphs of a Markdown text, as a reader that is not ours has them; blocks of ours left out.
fn outline(text: &str) -> (Vec<String>, Vec<String>) {
    let (mut words, mut links, mut at) = (Vec::new(), Vec::new(), None);
    for event in Parser::new_ext(text, Options::ENABLE_TABLES) {
        match event {
            Event::Start(Tag::Heading { .. } | Tag::Paragraph | Tag::Item) => at = Some(String::new()),
            Event::End(TagEnd::Heading(_) | TagEnd::Paragraph | TagEnd::Item) => words.extend(at.take()),
            Event::Start(Tag::Link { dest_url, .. }) => links.push(dest_url.to_string()),
            Event::Text(text) | Event::Code(text) => {
                if let Some(at) = &mut at {
                    at.push_str(&text);
                }
            }
            _ => {}
        }
    }
    (words, links)
}

#[test]
fn the_lesson_of_the_documents_is_what_the_program_makes_of_it() {
    let kept = root().join("docs/lesson/made");
    let made = if std::env::var_os("CORNERWISE_UPDATE_DOCS").is_some() {
        let _ = fs::remove_dir_all(&kept);
        kept.clone()
    } else {
        folder("docs")
    };
    let name = made.display().to_string() + "/";
    let run_ = run(root(), &["lesson", LESSON, "--output", &name]);
    assert!(run_.status.success(), "{}", String::from_utf8_lossy(&run_.stderr));
    let (fresh, kept) = (files(&made), files(&kept));
    let names: Vec<_> = fresh.keys().collect();
    assert_eq!(names, kept.keys().collect::<Vec<_>>());
    assert!(names.len() > 6, "{names:?}");
    for (name, text) in &fresh {
        assert!(kept[name] == *text, "docs/lesson/made/{name} is not current: see the top of this file");
    }
    // What is not a block is as it was, in order.
    let (source, links) = outline(&fs::read_to_string(root().join(LESSON)).expect("the lesson"));
    let (words, more_links) = outline(&fresh["scanning-order.md"]);
    let mut rest = words.iter();
    for text in &source {
        assert!(rest.any(|word| word == text), "{text} is missing");
    }
    assert_eq!(links, more_links);
    // The page has the same words, and every picture of the Markdown is one of its files.
    let page = &fresh["scanning-order.html"];
    assert!(page.len() < 600_000, "{} bytes", page.len());
    assert!(page.contains("Content-Security-Policy") && !page.contains("```"));
    for event in Parser::new_ext(&fresh["scanning-order.md"], Options::ENABLE_TABLES) {
        if let Event::Start(Tag::Image { dest_url, .. }) = event {
            assert!(fresh.contains_key(&*dest_url), "{dest_url}");
        }
    }
}

#[test]
fn the_same_lesson_twice_is_the_same_bytes() {
    let once = folder("once");
    let twice = folder("twice");
    for made in [&once, &twice] {
        let name = made.display().to_string();
        assert!(run(root(), &["lesson", LESSON, "--output", &name]).status.success());
    }
    assert_eq!(files(&once), files(&twice));
}

#[test]
fn a_fault_is_told_with_the_lessons_line_and_the_rest_is_made() {
    let here = folder("faults");
    let record = fs::read_to_string(root().join("reconstructions/all-four-tiers.yaml")).expect("a record");
    fs::write(here.join("quay.yaml"), record).expect("written");
    let lesson = "# [A lesson](https://example.org/quay)\n\n<script>alert(1)</script>\n\n```cornerwise positon of quay.yaml at 3\n```\n\n> ```cornerwise lanes of quay.yaml\n> ```\n\n```cornerwise step of quay.yaml at pair 7\n```\n\n```cornerwise position of missing.yaml at 0\n```\n\n```cornerwise position at 1\nscramble: R U F\nsolution: |\n  F' T' R'\n```\n\n```cornerwise both lines of quay.yaml at pair 4\n```\n\n```cornerwise step\n```\n\nThe end.\n";
    fs::write(here.join("lesson.md"), lesson).expect("written");
    let made = run(&here, &["lesson", "lesson.md", "--output", "made/"]);
    let said = String::from_utf8_lossy(&made.stderr).into_owned();
    assert_eq!(made.status.code(), Some(1), "{said}");
    assert!(said.contains("written all the same, without what the faults are in"), "{said}");
    for (place, words) in [
        ("lesson.md:5:15", "found `positon`"),
        ("lesson.md:11:36", "no step or moment `pair 7`"),
        ("lesson.md:14:4", "missing.yaml"),
        ("lesson.md:20:6", "found `T'`"),
        ("lesson.md:23:4", "no other line is worth showing at pair 4"),
        ("lesson.md:26:4", "expected a record"),
    ] {
        assert!(said.contains(place) && said.contains(words), "{place} {words}:\n{said}");
    }
    let files = files(&here.join("made"));
    let text = &files["lesson.md"];
    assert!(text.starts_with(
        "# [A lesson](https://example.org/quay)\n\n<script>alert(1)</script>\n\n**This block could not be filled in; lesson --check says why.**\n\n```cornerwise positon"
    ));
    // No hole is silent, in a quotation neither.
    assert_eq!(text.matches("could not be filled in").count(), 5, "{text}");
    assert_eq!(files["lesson.html"].matches("could not be filled in").count(), 5);
    assert!(text.ends_with("The end.\n"));
    // A quotation stays one; its picture is written.
    assert!(text.contains("> ![") && files.keys().any(|name| name.ends_with("lanes.svg")), "{text}");
    let page = &files["lesson.html"];
    assert!(
        page.contains("&lt;script&gt;alert(1)&lt;/script&gt;") && page.contains("https://example.org/quay")
    );
    let checked = run(&here, &["lesson", "lesson.md", "--check"]);
    assert_eq!(checked.status.code(), Some(1));
    assert_eq!(String::from_utf8_lossy(&checked.stdout), "lesson.md: 7 blocks, 6 faults\n");
    // Nothing is written over, least of all the lesson.
    assert_eq!(run(&here, &["lesson", "lesson.md", "--output", "made/"]).status.code(), Some(2));
    let over = run(&here, &["lesson", "lesson.md", "--output", "./", "--force"]);
    assert_eq!(over.status.code(), Some(2), "{}", String::from_utf8_lossy(&over.stderr));
    assert_eq!(fs::read_to_string(here.join("lesson.md")).expect("there"), lesson);
}

#[test]
fn a_drill_in_a_lesson_is_the_drill_of_that_seed() {
    let here = folder("drill");
    fs::write(here.join("lesson.md"), "# Find it\n\n```cornerwise drill edge 2 seed 5\n```\n")
        .expect("written");
    assert!(run(&here, &["lesson", "lesson.md", "--output", "made/"]).status.success());
    let files = files(&here.join("made"));
    let drill = run(&here, &["drill", "edge", "--count", "2", "--seed", "5", "--format", "json"]);
    let facts: Vec<serde_json::Value> = String::from_utf8_lossy(&drill.stdout)
        .lines()
        .map(|line| serde_json::from_str(line).expect("JSON"))
        .collect();
    assert_eq!(facts.len(), 2);
    for one in &facts {
        let scramble = one["scramble"].as_str().expect("a scramble");
        assert!(files["lesson.md"].contains(scramble), "{scramble}");
        assert!(
            files["lesson.html"].contains(&scramble.replace('\'', "&#39;"))
                || files["lesson.html"].contains(scramble)
        );
    }
    assert_eq!(files.keys().filter(|name| name.ends_with(".svg")).count(), 2);
    assert_eq!(files["lesson.md"].matches("<details>").count(), 2);
}

#[test]
fn a_lesson_without_faults_is_checked_quietly() {
    let checked = run(root(), &["lesson", LESSON, "--check"]);
    assert_eq!((checked.status.code(), checked.stderr.len()), (Some(0), 0));
    let said = String::from_utf8_lossy(&checked.stdout).into_owned();
    assert_eq!(said, format!("{LESSON}: 9 blocks, no faults\n"));
}

#[test]
fn the_page_of_a_broken_record_shows_the_fault_and_the_repair() {
    for format in ["html", "markdown"] {
        let page = run(root(), &["annotate", "reconstructions/mistyped-token.yaml", "--format", format]);
        assert_eq!(page.status.code(), Some(1));
        let text = String::from_utf8_lossy(&page.stdout).into_owned();
        let told = String::from_utf8_lossy(&page.stderr).into_owned();
        // The words are those that `annotate` says.
        let repair = told
            .lines()
            .find_map(|line| line.split_once(": ").filter(|(_, said)| said.starts_with("mend would")));
        let (_, repair) = repair.unwrap_or_else(|| panic!("{told}"));
        let plain = text.replace(['\\', '`'], "").replace("<code>", "").replace("</code>", "");
        assert!(plain.contains(&repair.replace('`', "")), "{repair}");
        assert!(plain.contains("expected a turn or rotation"));
    }
}

#[test]
fn a_worksheet_asks_first_and_answers_at_its_end() {
    let sheet = run(
        root(),
        &["annotate", "reconstructions/all-four-tiers.yaml", "--format", "markdown", "--worksheet"],
    );
    assert!(sheet.status.success());
    let text = String::from_utf8_lossy(&sheet.stdout).into_owned();
    let (asked, answered) = text.split_once("## Answers").expect("answers");
    assert_eq!(asked.matches("## Question").count(), 4);
    assert_eq!(answered.matches("### Question").count(), 4);
    for pair in ["blue-red", "blue-orange", "green-red", "green-orange"] {
        assert!(!asked.contains(pair), "{pair} is told too early");
        assert!(answered.to_lowercase().contains(pair));
    }
    assert!(answered.contains("**right**"));
}

/// A link that would run something, or lead into this machine, is none on the page; its words stay.
#[test]
fn a_page_has_only_links_that_lead_to_pages() {
    let folder = folder("links");
    let text = "# One\u{1b}[5m\n\n[a](javascript:alert(1)) [b](JaVa&#9;ScRiPt&#58;alert(1)) [c][ref] <javascript:alert(2)>\n\n\
                ![d](file:///etc/hosts) [e](data:text/html,x) [f](https://example.org/x?a:b) [g](other.html#a:b) \
                [h](mailto:a@example.org) \u{202e}turned\n\n[ref]: javascript:alert(3)\n\n\
                ```cornerwise lanes\nR U R' U'\n\nU R U' R'\n```\n";
    fs::write(folder.join("links.md"), text).expect("written");
    let out = run(&folder, &["lesson", "links.md", "--output", "out/"]);
    let page = fs::read_to_string(folder.join("out/links.html"))
        .unwrap_or_else(|_| panic!("{}", String::from_utf8_lossy(&out.stderr)));
    let links = page.split(" href=\"").skip(1).filter_map(|rest| rest.split('"').next());
    let own = |link: &&str| !link.starts_with('#') && !link.starts_with("data:,");
    let links: Vec<&str> = links.filter(own).collect();
    assert_eq!(links, ["https://example.org/x?a:b", "other.html#a:b", "mailto:a@example.org"]);
    for kept in [">a ", "b c", "d", "e "] {
        assert!(page.contains(kept), "{kept}");
    }
    assert!(!page.contains("file:///") && !page.contains(['\u{1b}', '\u{202e}']));
}
