//! Nothing that cannot be seen gets from a record, a file's name or an argument to whoever reads what is printed.
//!
//! One record holds every harmful character in each place where a person writes words. It goes through every view
//! and every form of message; what comes out is held against the definition of what is harmless, which
//! `src/harmless.rs` holds against Unicode's own properties.

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use cornerwise::harmless::is_harmless;

/// Of each kind one that people have been fooled with, and the ends of the longer ranges.
const HARMFUL: [char; 38] = [
    '\u{1}',
    '\u{7}',
    '\u{8}',
    '\u{b}',
    '\u{1b}',
    '\u{7f}',
    '\u{80}',
    '\u{85}',
    '\u{9b}',
    '\u{9f}',
    '\u{ad}',
    '\u{61c}',
    '\u{180e}',
    '\u{200b}',
    '\u{200c}',
    '\u{200d}',
    '\u{200e}',
    '\u{200f}',
    '\u{2028}',
    '\u{2029}',
    '\u{202a}',
    '\u{202b}',
    '\u{202c}',
    '\u{202d}',
    '\u{202e}',
    '\u{2060}',
    '\u{2066}',
    '\u{2067}',
    '\u{2068}',
    '\u{2069}',
    '\u{3164}',
    '\u{fe0f}',
    '\u{feff}',
    '\u{fff9}',
    '\u{e0001}',
    '\u{e0041}',
    '\u{e007f}',
    '\u{e0100}',
];

/// The words `a…b` with all of them between, as they are and as YAML writes them between double quotes.
fn words() -> (String, String) {
    let raw: String = HARMFUL.iter().map(|c| format!("a{c}b ")).collect();
    let escaped = HARMFUL.iter().map(|&c| format!("a\\U{:08X}b ", u32::from(c))).collect();
    (raw, escaped)
}

/// Help and messages of a record, one a line as well: what is quoted in them is quoted harmless.
#[test]
fn help_and_lines_quote_nothing_unseen() {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("harmless-help");
    std::fs::create_dir_all(&folder).expect("a folder");
    let (mut said, mut n_files) = (0, 0);
    for harmful in ['\u{202e}', '\u{2066}', '\u{61c}', '\u{200f}', '\u{1b}'] {
        let texts = [
            format!("scramble: R\nsolution: R{harmful}' U\n"),
            format!("titel{harmful}: a\nscramble: R\nsolution: R'\n"),
            format!("title: \"a{harmful}\nscramble: R\nsolution: R'\n"),
            format!("time: 1{harmful}\nscramble: R\nsolution: R' // OLL {harmful}\n"),
            format!("sight: U{harmful}\nscramble: R\nsolution: <{harmful}> (R')2{harmful}\n"),
        ];
        for text in texts {
            let path = folder.join(format!("{harmful}.yaml"));
            std::fs::write(&path, text).expect("written");
            for form in ["full", "line"] {
                let before = said;
                check(&["annotate", "--brief", "--messages", form], &[&path], &mut said);
                check(&["mend", "--messages", form], &[&path], &mut said);
                n_files += usize::from(said > before);
            }
        }
    }
    assert_eq!(n_files, 50, "each of them had something to say");
    std::fs::remove_dir_all(folder).expect("taken away");
}

/// A folder of this test's own with files whose names and contents wish us ill; gives the files.
fn files() -> (PathBuf, Vec<PathBuf>) {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("harmless");
    drop(std::fs::remove_dir_all(&folder));
    std::fs::create_dir_all(&folder).expect("a folder");
    let kept = concat!(env!("CARGO_MANIFEST_DIR"), "/reconstructions/mark-on-every-turn.yaml");
    let sound = std::fs::read_to_string(kept).expect("a record");
    let (raw, escaped) = words();
    let raw = raw.replace(['\u{85}', '\u{2028}', '\u{2029}'], "");
    let turns = sound.split("scramble:").nth(1).expect("turns");
    let hostile = |name: &str, turns: &str| {
        format!(
            "# {raw}\ntitle: \"{escaped}\"\nsolver: \"{escaped}\"\ndate: \"{escaped}\"\nnotes: \"{escaped}\"\n{name}\nscramble:{turns}"
        )
    };
    let remarked: String = turns
        .split('\n')
        .map(|line| if line.contains("//") { format!("{line} {raw}\n") } else { format!("{line}\n") })
        .collect();
    // Sound turns with remarks; a turn too many at the end; words, tokens, marks and fields that cannot be read.
    let broken: String = remarked.replacen("//", &format!("{raw} <{raw}> R{raw} ({raw} //"), 1);
    let texts = [
        hostile("", &remarked),
        hostile("", &remarked.replacen("//", "R //", 1)),
        hostile(&format!("\"{escaped}\": x"), &broken),
        format!("{raw}\n\n{raw} R U // {raw}\n"),
        format!("title: '{raw}' x\nscramble: R{raw}\nsolution: R'\n"),
    ];
    let write = |(n, text): (usize, &String)| {
        let path = folder.join(format!("{n}-\u{1b}[31m\u{202e}\u{61c}\u{200b}.yaml"));
        std::fs::write(&path, text).expect("written");
        path
    };
    let paths = texts.iter().enumerate().map(write).collect();
    (folder, paths)
}

fn run(arguments: &[&str], files: &[&Path]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_cornerwise"))
        .args(arguments)
        .args(files)
        .env_clear()
        .env("NO_COLOR", "1")
        .output()
        .expect("the program runs")
}

/// What is printed, both streams; `unseen` are the characters that must not be in it.
fn check(arguments: &[&str], files: &[&Path], said: &mut usize) {
    let output = run(arguments, files);
    for (stream, bytes) in [("output", &output.stdout), ("error", &output.stderr)] {
        let text = String::from_utf8(bytes.clone()).expect("UTF-8");
        *said += text.len();
        // Kept only beside what they belong to; there is no such place in these words.
        let unseen = text.chars().position(|c| !is_harmless(c));
        let around: String = text.chars().skip(unseen.unwrap_or(0).saturating_sub(40)).take(80).collect();
        assert_eq!(unseen, None, "{arguments:?} standard {stream}: {around:?}");
    }
}

#[test]
fn no_view_and_no_message_lets_anything_unseen_through() {
    let (folder, files) = files();
    let mut said = 0;
    let messages = [&[][..], &["--messages", "line"], &["--strict"]];
    for file in &files {
        let files = [file.as_path()];
        for more in messages {
            for format in ["text", "markdown", "html", "vtt", "svg"] {
                check(&[&["annotate", "--format", format], more].concat(), &files, &mut said);
            }
            check(&[&["annotate", "--brief"], more].concat(), &files, &mut said);
            check(&[&["annotate", "--ascii"], more].concat(), &files, &mut said);
            check(&[&["replay"], more].concat(), &files, &mut said);
            check(&[&["mend"], more].concat(), &files, &mut said);
        }
        check(&["mend", "--full", "--show", "20"], &files, &mut said);
        check(&["clock", "--times", "1"], &files, &mut said);
        // What it says of the file it writes, and of its copy.
        check(&["mend", "--write", "--choose", "1"], &files, &mut said);
    }
    let all: Vec<&Path> = files.iter().map(PathBuf::as_path).collect();
    check(&["mend"], &all, &mut said);
    for format in ["text", "markdown", "html"] {
        check(&["diff", "--anyway", "--format", format], &all[..2], &mut said);
    }
    assert!(said > 200_000, "{said}");
    std::fs::remove_dir_all(folder).expect("taken away");
}

#[test]
fn arguments_that_wish_us_ill_are_shown_harmless() {
    let mut said = 0;
    let name = "no\u{1b}[31m\u{202e}\u{61c}\u{200b}.yaml";
    for verb in ["annotate", "clock", "diff", "mend", "replay"] {
        check(&[verb, name, name], &[], &mut said);
        check(&[verb, "[\u{202e}"], &[], &mut said);
        check(&[verb, "--help"], &[], &mut said);
    }
    for option in ["--format", "--sight", "--\u{202e}\u{61c}"] {
        check(&["annotate", option, "\u{1b}]0;x\u{7}\u{61c}\u{200b}", "x"], &[], &mut said);
    }
    assert!(said > 3_000, "{said}");
}
