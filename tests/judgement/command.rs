//! The options of `annotate` about other lines, as a person meets them.

use std::path::Path;
use std::process::{Command, Output};

use cornerwise::annotation::{Annotation, Cause, Choice, Step, Verdict};

fn annotate(arguments: &[&str], threads: &str) -> Output {
    Command::new(env!("CARGO_BIN_EXE_cornerwise"))
        .arg("annotate")
        .args(arguments)
        .current_dir(Path::new(env!("CARGO_MANIFEST_DIR")).join("reconstructions"))
        .env("RAYON_NUM_THREADS", threads)
        .env("NO_COLOR", "1")
        .output()
        .expect("the program runs")
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8_lossy(bytes).split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn wrong_values_are_told_their_range() {
    for (arguments, told) in [
        (&["--within", "0"][..], "expected a whole number from 1 to 12"),
        (&["--within", "40"], "expected a whole number from 1 to 12"),
        (&["--within", "-3"], "expected a whole number from 1 to 12"),
        (&["--within", "11", "--every-line"], "with --every-line expected turns from 1 to 10"),
        (&["--slack", "-1"], "expected units from 0 to 20, in halves"),
        (&["--slack", "0.25"], "expected units from 0 to 20, in halves"),
        (&["--slack", "much"], "expected units from 0 to 20, in halves"),
        (&["--slack", "NaN"], "expected units from 0 to 20, in halves"),
        (&["--lead", "-1"], "expected a whole number from 0 to 20"),
        (&["--lines", "2"], "unexpected argument '--lines' found"),
        (
            &["--weights", "bakc=2"],
            "expected faces (of r l u d f b), half, wide-d, y, y2 or switch before the `=`",
        ),
        (&["--weights", "b"], "expected what it is and its units, as in `b=3`"),
        (&["--weights", "b=0"], "expected units from 0.5 to 100 in steps of 0.5"),
        (&["--weights", "b=1,b=2"], "`b=2`: this is set already, earlier in the list"),
    ] {
        let output = annotate(&[arguments, &["xcross.yaml"]].concat(), "1");
        let message = text(&output.stderr);
        assert_eq!(output.status.code(), Some(2), "{arguments:?}");
        assert!(message.contains(told), "{arguments:?}: {message}");
        assert!(output.stdout.is_empty());
    }
}

/// The annotations as they are written for programs.
fn facts(arguments: &[&str]) -> Vec<Annotation> {
    let output = annotate(&[&["--format", "json"], arguments].concat(), "2");
    let lines = String::from_utf8(output.stdout).expect("text");
    lines.lines().map(|line| serde_json::from_str(line).expect("an annotation")).collect()
}

#[test]
fn what_is_asked_for_is_what_it_is_judged_by() {
    let usual = &facts(&["xcross.yaml"])[0].settings;
    assert_eq!((usual.within, usual.every_line, usual.slack, usual.lead), (9, false, 1.0, 3));
    assert_eq!(usual.weights, "rlu=1,df=2,b=3,half=0.5,wide-d=2,y=1.5,y2=2,switch=0.5");
    let asked = ["--within", "7", "--every-line", "--slack", "2.5", "--lead", "4", "--weights", "y=1, b=4"];
    let asked = &facts(&[&asked[..], &["xcross.yaml"]].concat())[0].settings;
    assert_eq!((asked.within, asked.every_line, asked.slack, asked.lead), (7, true, 2.5, 4));
    assert_eq!(asked.weights, "rlu=1,df=2,b=4,half=0.5,wide-d=2,y=1,y2=2,switch=0.5");
}

/// All lines up to one turn more than the step or the shortest line has are compared, but none longer than the bound
/// that was asked for, unless every line is.
#[test]
fn a_bound_holds_for_every_step_that_has_lines_within_it() {
    let steps = |within: &str| -> Vec<(usize, Choice)> {
        let all =
            facts(&["--within", within, "fork-after-first-pair.yaml", "xcross.yaml", "two-crosses.yaml"]);
        let steps = all.into_iter().flat_map(|facts| facts.steps);
        steps.filter_map(|step| Some((step.obtm, step.choice?))).collect()
    };
    let (least, most) = (steps("1"), steps("12"));
    assert!(least.len() > 15, "{}", least.len());
    let mut cut = 0;
    for within in ["3", "5", "7", "9"] {
        let bound: usize = within.parse().expect("a number");
        for (i, (played, choice)) in steps(within).iter().enumerate() {
            // Asked for one turn, only the shortest lines are left.
            let shortest = least[i].1.within;
            let longest = (*played).max(shortest) + 1;
            assert_eq!(most[i].1.within, longest.min(12));
            assert_eq!(choice.within, longest.min(bound).max(shortest));
            assert!((least[i].1.lines..=most[i].1.lines).contains(&choice.lines) && choice.lines > 0);
            let told = choice.alternatives.iter().chain(&choice.cleaner).chain(&choice.cheapest);
            assert!(told.filter(|told| !told.same_turns).all(|told| told.obtm <= choice.within));
            assert!(choice.own.as_ref().is_none_or(|own| own.obtm <= choice.within));
            cut += usize::from(choice.within < *played);
        }
    }
    assert!(cut > 20, "{cut} steps were longer than the bound");
}

/// Which steps are told of another line and what it was best of, by the facts; and every verdict on a late pair.
#[test]
fn lines_and_verdicts_are_shown_where_they_are() {
    for within in ["9", "7"] {
        let printed = String::from_utf8(annotate(&["--within", within, "."], "2").stdout).expect("text");
        let all = facts(&["--within", within, "."]);
        let steps = || all.iter().flat_map(|facts| &facts.steps);
        let lines_with = |label: &str| printed.lines().filter(|line| line.starts_with(label)).count();
        // Where it is known whether and why the hands stopped, only what the cause names; that goes before a cleaner line.
        let named = |step: &Step| {
            let mut pairs = all.iter().flat_map(|facts| facts.steps.windows(2));
            let after = &pairs.find(|two| std::ptr::eq(&two[0], step))?[1];
            Some(match after.stop_before() {
                Some(stop) => stop.instead.as_ref().is_some_and(|instead| instead.by_another_line),
                None => after.seconds.before.is_none(),
            })
        };
        let instead = |step: &&Step| {
            let cleaner = step.cleaner();
            let stopped = all.iter().flat_map(|facts| facts.steps.windows(2));
            let stopped =
                stopped.filter(|two| std::ptr::eq(&two[0], *step)).any(|two| two[1].stop_before().is_some());
            named(step) == Some(true)
                && step.instead().is_some_and(|line| match cleaner {
                    Some(cleaner) => stopped && cleaner.text != line.text,
                    None => true,
                })
        };
        let others: Vec<&Choice> = steps().filter(instead).filter_map(|step| step.choice.as_ref()).collect();
        // What the next step's line says is told there.
        let told_next = |step: &Step| {
            let mut pairs = all.iter().flat_map(|facts| facts.steps.windows(2));
            let after = pairs.find(|two| std::ptr::eq(&two[0], step)).map(|two| &two[1]);
            let here = step.cleaner().filter(|line| line.same_turns).and_then(|line| line.next.as_ref());
            let there = after.and_then(|after| after.cleaner());
            here.zip(there).is_some_and(|(here, there)| there.pairs.contains(&here.pair))
        };
        let told = steps().filter(|step| step.cleaner().is_some() && !instead(step) && !told_next(step));
        let cleaner: Vec<&Choice> = told.filter_map(|step| step.choice.as_ref()).collect();
        assert_eq!(lines_with("  cleaner "), cleaner.len());
        assert_eq!(lines_with("  instead "), others.len());
        // Why nothing is: how many lines were looked through.
        let stopped = |step: &Step| step.seconds.before.is_none() || step.stop_before().is_some();
        let blamed = |step: &Step| step.stop_before().is_some_and(|stop| stop.cause == Some(Cause::Choice));
        let pairs = all.iter().flat_map(|facts| facts.steps.windows(2));
        let forced: Vec<&Choice> = pairs
            .filter(|two| stopped(&two[1]) && !blamed(&two[1]))
            .filter(|two| !two[0].offers.iter().any(|offer| offer.ready && !offer.taken))
            .filter_map(|two| two[0].choice.as_ref())
            .filter(|choice| choice.verdict == Some(Verdict::Forced))
            .filter(|choice| !cleaner.iter().any(|other| std::ptr::eq(*other, *choice)))
            .collect();
        assert_eq!(lines_with("  forced "), forced.len());
        let flowing = text(printed.as_bytes());
        for choice in forced {
            let of = format!("of {} lines to {} turns none worth playing", choice.lines, choice.within);
            assert!(choice.lines < 2 || flowing.contains(&of), "{of}");
        }
        assert!(!cleaner.is_empty() && !others.is_empty());
        let flowing = text(printed.as_bytes());
        for choice in cleaner.into_iter().chain(others) {
            let of = match choice.lines {
                1 => format!("(the only line to {} turns)", choice.within),
                n => format!("(best of {n} lines to {} turns)", choice.within),
            };
            assert!(flowing.contains(&of), "{of}");
        }
        // A row a late pair, by the step it is left by and the step that solves it.
        let late = all.iter().flat_map(|facts| facts.steps.windows(2)).filter_map(|steps| {
            let stop = steps[1].stop_before();
            let flowed = stop.is_none() && steps[1].seconds.before.is_some();
            let Some(verdict) = steps[0].choice.as_ref().and_then(|choice| choice.verdict) else {
                // After the cross there is no verdict.
                let late = steps[0].taken().is_some_and(|offer| !offer.ready);
                return (late && flowed).then_some("late, no stop");
            };
            match verdict {
                Verdict::Kept => None,
                _ if flowed => Some("late, no stop"),
                // Where the cause names something else, how late it was is told.
                Verdict::Avoidable => {
                    let told = match stop {
                        Some(stop) => stop.cause == Some(Cause::Choice),
                        None => steps[0].instead().is_some(),
                    };
                    told.then_some("late, avoidable")
                }
                Verdict::Forced if steps[0].offers.iter().any(|offer| offer.ready && !offer.taken) => {
                    Some("late, other ready")
                }
                // What eyes in another place would have found was forced by nothing.
                Verdict::Forced => {
                    stop.is_none_or(|stop| stop.cause != Some(Cause::View)).then_some("late, forced")
                }
            }
        });
        let late: Vec<&str> = late.collect();
        for words in ["late, forced", "late, avoidable", "late, no stop", "late, other ready"] {
            let given = late.iter().filter(|&&told| told == words).count();
            assert!(given >= 1, "{words}");
            assert_eq!(printed.matches(words).count(), given, "{words}");
        }
    }
}

/// Each cause of a stop is told at the stop, as often as the facts have it.
#[test]
fn the_records_show_every_cause_that_they_have() {
    let printed = text(&annotate(&["."], "2").stdout);
    let all = facts(&["."]);
    let stops: Vec<_> =
        all.iter().flat_map(|facts| &facts.steps).filter_map(|step| step.stop_before()).collect();
    let mut met = 0;
    for cause in [Cause::Choice, Cause::Attention, Cause::Deduction, Cause::Recognition] {
        let had = stops.iter().filter(|stop| stop.cause == Some(cause)).count();
        assert!(had > 0, "no stop for {cause}");
        let told = printed.split(" stopped ").skip(1).filter(|told| {
            let (first, _) = told.split_once(". ").unwrap_or((told, ""));
            first.contains(" before it") && first.split([',', ':']).any(|word| word.trim() == cause.word())
        });
        assert_eq!(told.count(), had, "{cause}");
        met += had;
    }
    assert!(met >= 15, "{met}");
}

#[test]
fn the_bytes_are_the_same_at_any_number_of_threads() {
    for format in ["text", "json"] {
        let outputs = ["1", "2", "8"].map(|threads| annotate(&["--format", format, "."], threads));
        assert!(!outputs[0].stdout.is_empty());
        for other in &outputs[1..] {
            assert!(outputs[0].stdout == other.stdout, "standard output differs");
            assert!(outputs[0].stderr == other.stderr, "standard error differs");
        }
    }
    let every = ["1", "8"].map(|threads| annotate(&["--every-line", "--within", "7", "."], threads).stdout);
    assert!(every[0] == every[1]);
}
