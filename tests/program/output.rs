//! Files the built program writes: which, where, and when it refuses.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

const FOUR_TIERS: &str = "reconstructions/all-four-tiers.yaml";

/// A folder of its own for a test, empty.
fn folder(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("output").join(name);
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).expect("a folder");
    folder
}

fn run(arguments: &[&str], output: Option<&Path>) -> (i32, String, String) {
    let mut command = Command::new(env!("CARGO_BIN_EXE_cornerwise"));
    command.args(arguments).env_clear().current_dir(env!("CARGO_MANIFEST_DIR"));
    if let Some(path) = output {
        command.arg("--output").arg(path);
    }
    let ran = command.output().expect("the program runs");
    let text = |bytes| String::from_utf8(bytes).expect("text");
    (ran.status.code().expect("it ended"), text(ran.stdout), text(ran.stderr))
}

fn names(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).expect("a folder").flatten();
    let mut names: Vec<String> = entries.map(|e| e.file_name().to_string_lossy().into_owned()).collect();
    names.sort();
    names
}

#[test]
fn a_file_is_what_standard_output_would_have_been() {
    let folder = folder("same");
    for format in ["text", "json", "html", "markdown", "vtt", "svg"] {
        let arguments = ["annotate", FOUR_TIERS, "--format", format, "--pictures", "none", "--width", "80"];
        let (exit, printed, _) = run(&arguments, None);
        let path = folder.join(format);
        assert_eq!(run(&arguments, Some(&path)), (0, String::new(), String::new()), "{format}");
        assert_eq!(exit, 0);
        assert_eq!(fs::read_to_string(&path).expect("written"), printed, "{format}");
    }
    let (_, printed, _) = run(&["replay", FOUR_TIERS, "--format", "svg", "--at", "9"], None);
    assert!(roxmltree::Document::parse(&printed).is_ok());
}

#[test]
fn nothing_is_written_over_without_force() {
    let folder = folder("force");
    let path = folder.join("page.html");
    let arguments = ["annotate", FOUR_TIERS, "--format", "html"];
    assert_eq!(run(&arguments, Some(&path)).0, 0);
    fs::write(&path, "mine").expect("written");
    let (exit, printed, said) = run(&arguments, Some(&path));
    assert_eq!((exit, printed.as_str()), (2, ""));
    assert!(said.contains("page.html: exists already; --force writes over it"), "{said}");
    assert_eq!(fs::read_to_string(&path).expect("there"), "mine");
    assert_eq!(run(&[&arguments[..], &["--force"]].concat(), Some(&path)).0, 0);
    assert!(fs::read_to_string(&path).expect("there").starts_with("<!DOCTYPE html>"));
    assert_eq!(names(&folder), ["page.html"]);
}

#[test]
fn a_record_is_not_written_over_even_with_force() {
    let folder = folder("input");
    let path = folder.join("mine.yaml");
    fs::copy(Path::new(env!("CARGO_MANIFEST_DIR")).join(FOUR_TIERS), &path).expect("copied");
    let before = fs::read(&path).expect("there");
    let mine = path.to_string_lossy();
    let (exit, _, said) = run(&["annotate", &mine, "--format", "html", "--force"], Some(&path));
    assert_eq!(exit, 2);
    assert!(said.contains("is one of the records read; not written over"), "{said}");
    assert_eq!(fs::read(&path).expect("there"), before);
}

#[test]
fn a_folder_gets_a_file_for_each_record() {
    let folder = folder("many");
    let three = "reconstructions/three-of-one-morning.yaml";
    assert_eq!(run(&["annotate", three, "--format", "html"], Some(&folder)).0, 0);
    let pages =
        ["01-quay-practice-one-of-three", "02-quay-practice-two-of-three", "03-quay-practice-three-of-three"];
    let html: Vec<String> =
        pages.iter().map(|name| format!("{name}.html")).chain(["index.html".into()]).collect();
    assert_eq!(names(&folder), html);
    let (exit, _, said) = run(&["annotate", three, "--format", "vtt"], None);
    assert_eq!(exit, 2);
    assert!(said.contains("captions are for one record, and there are 3; --output FOLDER/"), "{said}");
    let pictures = folder.join("new/pictures/");
    assert_eq!(run(&["replay", FOUR_TIERS, "--format", "svg", "--each", "turn"], Some(&pictures)).0, 0);
    assert_eq!(names(&pictures).len(), 57);
    assert!(names(&pictures)[9].ends_with("-009-pair-1.svg"), "{:?}", names(&pictures)[9]);
}

#[test]
fn what_cannot_be_made_is_said_and_no_file_appears() {
    let folder = folder("refused");
    let path = folder.join("out");
    let untimed = "reconstructions/xcross.yaml";
    let cases: [(&[&str], &str); 5] = [
        (&["annotate", untimed, "--format", "vtt"], "captions need timing marks, such as <3.42>"),
        (
            &["annotate", FOUR_TIERS, "--format", "vtt", "--start", "-9"],
            "9.00 seconds before the video begins",
        ),
        (&["replay", FOUR_TIERS, "--format", "svg"], "10 pictures: choose one with --at MOMENT"),
        (&["replay", FOUR_TIERS, "--format", "svg", "--at", "99"], "this record has the moments 0 to 56"),
        (&["annotate", "reconstructions/none.yaml", "--format", "html"], "no such file or folder"),
    ];
    for (arguments, wanted) in cases {
        let (exit, printed, said) = run(arguments, Some(&path));
        assert_eq!((exit, printed.as_str()), (2, ""), "{arguments:?}");
        assert!(said.contains(wanted), "{said}");
    }
    assert_eq!(names(&folder), Vec::<String>::new());
}

#[test]
fn two_solves_compared_are_written_too() {
    let folder = folder("compared");
    let fork = "reconstructions/fork-after-first-pair.yaml";
    for (format, name) in
        [("html", "fork.html"), ("markdown", "fork.md"), ("text", "fork.txt"), ("json", "fork.json")]
    {
        assert_eq!(run(&["diff", fork, "--format", format], Some(&folder.join(name))).0, 0, "{format}");
    }
    let written = names(&folder);
    assert!(written.iter().filter(|name| name.ends_with(".svg")).count() > 8, "{written:?}");
    let (exit, _, said) = run(&["diff", fork, "--format", "html"], Some(&folder));
    assert_eq!(exit, 2);
    assert!(said.contains("is a folder"), "{said}");
}

#[test]
fn the_ending_of_the_file_says_the_format() {
    let folder = folder("ending");
    let begins = |arguments: &[&str], name: &str| {
        let path = folder.join(name);
        let (exit, out, err) = run(arguments, Some(&path));
        assert_eq!((exit, out.as_str(), err.as_str()), (0, "", ""), "{name}");
        fs::read_to_string(&path).expect("written").chars().take(15).collect::<String>()
    };
    let annotate = ["annotate", FOUR_TIERS];
    assert_eq!(begins(&annotate, "page.html"), "<!DOCTYPE html>");
    assert_eq!(begins(&annotate, "text.md"), "# Quay Practice");
    assert_eq!(begins(&annotate, "facts.json"), "{\"format\":\"corn");
    assert_eq!(begins(&annotate, "video.vtt"), "WEBVTT\n\nSTYLE\n:");
    assert_eq!(begins(&annotate, "lanes.svg").get(..4), Some("<svg"));
    assert_eq!(begins(&annotate, "told.txt"), "Quay Practice, ");
    assert_eq!(begins(&annotate, "told"), "Quay Practice, ");
    let drill = ["drill", "find", "--count", "1", "--seed", "7", "--open", "1"];
    assert_eq!(begins(&drill, "drills.yaml"), "title: drill fi");
    assert_eq!(begins(&drill, "drills.HTML"), "<!DOCTYPE html>");
    // What was asked for comes first.
    assert_eq!(begins(&["annotate", FOUR_TIERS, "--format", "json"], "odd.html"), "{\"format\":\"corn");
    let (exit, _, said) = run(&["plan", FOUR_TIERS], Some(&folder.join("plan.svg")));
    assert_eq!(exit, 2);
    assert!(said.contains("the ending .svg stands for svg, which this verb does not make"), "{said}");
    assert!(!folder.join("plan.svg").exists());
}

#[test]
fn an_option_that_would_do_nothing_is_refused() {
    for (arguments, goes_with) in [
        (&["annotate", FOUR_TIERS, "--worksheet"][..], "--worksheet: goes with --format markdown"),
        (&["annotate", FOUR_TIERS, "--letters"], "--letters: goes with --format markdown or --format html"),
        (&["annotate", FOUR_TIERS, "--start", "2"], "--start: goes with --format vtt"),
        (&["annotate", FOUR_TIERS, "--pictures", "inline"], "--pictures: goes with --format markdown"),
        (&["annotate", FOUR_TIERS, "--format", "svg", "--brief"], "--brief: goes with --format text"),
        (&["replay", FOUR_TIERS, "--letters"], "--letters: goes with --format svg"),
    ] {
        let (exit, printed, said) = run(arguments, None);
        assert_eq!((exit, printed.as_str()), (2, ""), "{arguments:?}");
        assert!(said.contains(goes_with), "{said}");
    }
}

/// A document is held whole, so it has a bound; what goes to the terminal, or a file each, has none.
#[test]
fn one_document_takes_so_many_solves_and_no_more() {
    let folder = folder("many");
    let short = "scramble: R2 U F2\nsolution: F2 U' R2\n---\n";
    let few = folder.join("few.yaml");
    let many = folder.join("many.yaml");
    fs::write(&few, short.repeat(500)).expect("written");
    fs::write(&many, short.repeat(502)).expect("written");
    let [few, many] = [few, many].map(|path| path.display().to_string());
    let (exit, page, _) = run(&["annotate", &few, "--format", "html"], None);
    assert!(exit == 0 && page.ends_with("</html>\n"), "{exit}");
    for arguments in [
        ["annotate", &many, "--format", "html"],
        ["annotate", &many, "--format", "markdown"],
        ["diff", &many, "--format", "html"],
    ] {
        let (exit, printed, said) = run(&arguments, None);
        assert_eq!((exit, printed.as_str()), (2, ""), "{said}");
        assert!(said.contains("one document takes at most 500"), "{said}");
    }
    let (exit, printed, _) = run(&["annotate", &many, "--brief"], None);
    assert_eq!((exit, printed.matches("3 turns, no times").count()), (0, 502));
}
