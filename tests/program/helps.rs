//! Help as a person meets it: the words, a record on one page, two examples at the end of every verb; and what the README
//! promises on its first screen.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use cornerwise::annotation::Cause;
use cornerwise::scan::Tier;
use cornerwise::story::glossary::WORDS;

fn run(arguments: &[&str]) -> (i32, String, String) {
    let output = Command::new(env!("CARGO_BIN_EXE_cornerwise"))
        .args(arguments)
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .env_clear()
        .output()
        .expect("it runs");
    let text = |bytes| String::from_utf8(bytes).expect("text");
    (output.status.code().expect("it ended"), text(output.stdout), text(output.stderr))
}

fn scratch(name: &str, text: &str) -> PathBuf {
    let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    fs::write(&path, text).expect("it can be written");
    path
}

/// The blocks that are indented by four columns.
fn examples(page: &str) -> Vec<String> {
    let mut blocks: Vec<String> = vec![String::new()];
    let mut lines = page.lines().peekable();
    while let Some(line) = lines.next() {
        match line.strip_prefix("    ") {
            Some(text) if !text.starts_with(' ') || !blocks.last().expect("one").is_empty() => {
                blocks.last_mut().expect("one").push_str(&format!("{text}\n"));
            }
            // An empty line belongs to a block that goes on behind it.
            None if line.is_empty() && lines.peek().is_some_and(|next| next.starts_with("    ")) => {
                blocks.last_mut().expect("one").push('\n');
            }
            _ => blocks.push(String::new()),
        }
    }
    let blocks = blocks.into_iter().map(|block| format!("{}\n", block.trim()));
    blocks.filter(|block| block.len() > 1).collect()
}

#[test]
fn every_word_of_ours_is_in_the_glossary_once() {
    let words: Vec<&str> = WORDS.iter().flat_map(|group| group.entries).map(|entry| entry.word).collect();
    let tiers = [Tier::Top, Tier::Target, Tier::Lifted, Tier::Slot].map(Tier::word);
    let causes = [
        Cause::Choice,
        Cause::Attention,
        Cause::Deduction,
        Cause::Inspection,
        Cause::View,
        Cause::Position,
        Cause::Recognition,
    ]
    .map(Cause::word);
    for word in
        tiers.iter().chain(&causes).chain(&["late", "ready", "deduced", "at once", "cleaner", "stop", "gap"])
    {
        assert!(words.contains(word), "{word}");
    }
    let (status, page, _) = run(&["help", "words"]);
    assert_eq!(status, 0);
    for group in WORDS {
        assert!(page.contains(group.title));
        let mut own: Vec<&str> = group.entries.iter().map(|entry| entry.word).collect();
        own.sort_unstable();
        own.dedup();
        assert_eq!(own.len(), group.entries.len(), "{}", group.title);
        for entry in group.entries {
            assert!(page.contains(&format!("  {}  ", entry.word)), "{}", entry.word);
            assert!(entry.meaning.chars().count() < 160, "{}", entry.word);
        }
    }
    assert!(page.lines().all(|line| line.chars().count() <= 80));
}

/// The records on the page are records: nothing is said of them but that they end early.
#[test]
fn the_page_on_records_shows_records() {
    let (status, page, _) = run(&["help", "record"]);
    assert_eq!(status, 0);
    assert!(page.lines().count() <= 50 && page.lines().all(|line| line.chars().count() <= 80));
    // Every field that there is is on it: the message on one that there is not lists them.
    let path = scratch("help-record-fields.yaml", "scramble: R U F\nsolution: F' U' R'\ncolour: red\n");
    let (_, _, err) = run(&["annotate", "--messages", "line", &path.display().to_string()]);
    let fields =
        err.split_once("the fields are ").and_then(|(_, rest)| rest.split_once(')')).expect("them").0;
    assert!(fields.split(", ").count() >= 11, "{fields}");
    for field in fields.split(", ") {
        assert!(page.split(|c: char| !c.is_alphanumeric()).any(|word| word == field), "{field}");
    }
    let shown = examples(&page);
    assert_eq!(shown.len(), 2, "{shown:?}");
    for (n, text) in shown.iter().enumerate() {
        let path = scratch(&format!("help-record-{n}.txt"), text);
        let (_, out, err) = run(&["annotate", "--brief", &path.display().to_string()]);
        assert!(out.contains("cross"), "{out}{err}");
        assert!(!err.contains("[token-") && !err.contains("[field-"), "{err}");
    }
}

#[test]
fn every_verbs_help_ends_with_two_examples_of_that_verb() {
    let (_, all, _) = run(&["help"]);
    let verbs: Vec<&str> = all
        .lines()
        .skip_while(|line| *line != "Commands:")
        .skip(1)
        .take_while(|line| !line.is_empty())
        // What stands further in goes on with the line above.
        .filter_map(|line| {
            line.strip_prefix("  ").filter(|line| !line.starts_with(' '))?.split_whitespace().next()
        })
        .collect();
    assert!(verbs.len() >= 11, "{verbs:?}");
    for verb in verbs {
        let (status, page, _) = run(&["help", verb]);
        assert_eq!(status, 0);
        // Of `help` itself one form is the short one, as it has little to say.
        assert!(verb == "help" || page == run(&[verb, "--help"]).1, "{verb}");
        let (_, end) = page.rsplit_once("\nExamples:\n").unwrap_or_else(|| panic!("{verb}: {page}"));
        // What stands further in says what an example does.
        let examples: Vec<&str> = end.lines().filter(|line| !line.starts_with("   ")).collect();
        assert_eq!(examples.len(), 2, "{verb}: {end}");
        for example in examples {
            assert!(example.starts_with(&format!("  cornerwise {verb} ")), "{example}");
        }
    }
    let (status, _, err) = run(&["help", "everything"]);
    assert!(status == 2 && err.contains("`words`, `record`"), "{err}");
}

#[test]
fn the_readme_leads_with_the_answer_and_its_sample_works_when_copied() {
    let readme =
        fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("README.md")).expect("it is there");
    let first: Vec<&str> = readme.lines().take(39).collect();
    assert!(first.iter().any(|line| line.contains("`cargo install --path .`")));
    let main_job = "$ cargo run --release -- annotate --brief ";
    let answer = first.iter().position(|line| line.starts_with(main_job)).expect("the answer");
    assert!(
        first[answer..].contains(&"What cost most") && first[answer..].contains(&"```"),
        "it ends on that screen"
    );
    let (_, own) = readme.split_once("## Your own solves").expect("the section");
    let (_, sample) = own.split_once("```yaml\n").expect("a sample");
    let (sample, _) = sample.split_once("```").expect("its end");
    let path = scratch("readme-sample.yaml", sample);
    let (status, out, err) = run(&["annotate", "--brief", &path.display().to_string()]);
    assert_eq!((status, err.as_str()), (0, ""), "{out}");
    assert!(out.contains("What cost most") && out.contains("solved"), "{out}");
}

/// The verbs, as the program itself lists them.
fn verbs() -> Vec<String> {
    let (_, page, _) = run(&["help"]);
    let listed = page.split("Commands:\n").nth(1).expect("a list").lines();
    let rows = listed.take_while(|row| row.starts_with(' '));
    let verbs: Vec<String> = rows
        .filter_map(|row| {
            row.strip_prefix("  ").filter(|row| !row.starts_with(' '))?.split_whitespace().next()
        })
        .map(str::to_owned)
        .collect();
    assert!(verbs.len() > 8 && verbs.contains(&"annotate".to_owned()), "{verbs:?}");
    verbs
}

#[test]
fn every_shell_gets_its_completions() {
    for shell in ["bash", "elvish", "fish", "powershell", "zsh"] {
        let (exit, script, said) = run(&["help", "completions", shell]);
        assert_eq!((exit, said.as_str()), (0, ""));
        for word in verbs().iter().map(String::as_str).chain(["within", "sight"]) {
            assert!(script.contains(word), "{shell}: {word}");
        }
    }
    for wrong in [&["help", "completions"][..], &["help", "completions", "tea"]] {
        let (exit, printed, said) = run(wrong);
        assert_eq!((exit, printed.as_str()), (2, ""));
        assert!(said.contains("bash") && said.contains("zsh"), "{said}");
    }
    assert_eq!(run(&["help", "words", "bash"]).0, 2);
}

/// The script in the shell that it is for.
#[test]
fn bash_completes_a_verb_and_an_option() {
    let (_, script, _) = run(&["help", "completions", "bash"]);
    let script = scratch("completions.bash", &script);
    let completed = |words: &[&str]| {
        let last = words.len() - 1;
        let asks = format!(
            "source {}; COMP_WORDS=({}); COMP_CWORD={last}; _cornerwise cornerwise '{}' '{}'; echo \"${{COMPREPLY[@]}}\"",
            script.display(),
            words.join(" "),
            words[last],
            words[last - 1],
        );
        let ran = Command::new("bash").args(["-c", &asks]).output().ok()?;
        Some(String::from_utf8_lossy(&ran.stdout).trim().to_owned())
    };
    // Without that shell there is nothing to hold it against.
    let Some(verb) = completed(&["cornerwise", "anno"]) else { return };
    assert_eq!(verb, "annotate");
    assert_eq!(completed(&["cornerwise", "annotate", "--every-l"]).as_deref(), Some("--every-line"));
}

#[test]
fn there_is_a_manual_page_of_the_program_and_of_each_verb() {
    let (exit, page, _) = run(&["help", "man"]);
    assert_eq!(exit, 0);
    assert!(page.contains(".TH cornerwise 1"), "{page}");
    for verb in verbs() {
        assert!(page.contains(&format!("cornerwise\\-{verb}(1)")), "{verb}");
        let (exit, of_verb, _) = run(&["help", "man", &verb]);
        assert_eq!(exit, 0);
        assert!(of_verb.contains(&format!(".TH cornerwise-{verb} 1")), "{of_verb}");
        assert!(of_verb.contains(".SH SYNOPSIS") && of_verb.contains(".SH OPTIONS"), "{of_verb}");
    }
    let (exit, _, said) = run(&["help", "man", "tea"]);
    assert_eq!(exit, 2);
    assert!(said.contains("no manual page of 'tea'"), "{said}");
}
