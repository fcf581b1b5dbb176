//! Captions for the video of a timed solve, in the W3C's WebVTT.
//!
//! One cue a step, on the screen from the end of the step before to the end of the step: what to look at now (the
//! corner of the next pair, then its edge), and why (its tier; a long pause before the step with its cause). A
//! reader needs time, and turns are fast: a cue holds at most [`CHARACTERS_A_SECOND`] characters for each second
//! it is shown, line ends counted. Each cue says the most that fits; in very short steps that is only the place of
//! the corner, and where not even that fits there is no cue.
//!
//! Grammar: *WebVTT: The Web Video Text Tracks Format*, section 4.1 (file structure) and 4.2 (cue text): no empty
//! line inside a cue, `&`, `<` and `>` written as escapes, no `-->` in a comment.

use std::fmt;

use crate::annotation::{Annotation, Offer, Step, StepKind};
use crate::harmless::one_line;

use super::words;

/// What people can read in the time a caption is shown. Common practice in subtitling, no single source; rates
/// given there lie between 12 and 20.
pub const CHARACTERS_A_SECOND: f64 = 17.0;

/// One caption.
#[derive(Debug, Clone, PartialEq)]
pub struct Cue {
    /// The name of the step.
    pub name: String,
    /// When it appears, in seconds of the video.
    pub start: f64,
    /// When it goes.
    pub end: f64,
    /// One line or two.
    pub text: String,
}

/// Why there are no captions.
#[derive(Debug, Clone, PartialEq)]
pub enum CaptionsError {
    /// The record has no marks that say when a step was.
    Untimed {
        /// The steps without a beginning or an end on the clock.
        missing: Vec<String>,
    },
    /// The offset would put captions before the video's beginning.
    BeforeTheVideo {
        /// When the first caption would appear, in seconds; negative.
        first: f64,
    },
}

impl fmt::Display for CaptionsError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            CaptionsError::Untimed { missing } if missing.is_empty() => {
                f.write_str("captions need a step to caption, and this record has none")
            }
            CaptionsError::Untimed { missing } => write!(
                f,
                "captions need timing marks, such as <3.42>, at the beginning and the end of steps; there are none for {}",
                words::list(missing)
            ),
            CaptionsError::BeforeTheVideo { first } => {
                write!(f, "the first caption would appear {:.2} seconds before the video begins", -first)
            }
        }
    }
}

impl std::error::Error for CaptionsError {}

/// The captions of a solve as a WebVTT file. `start` is the video's time, in seconds, at which the record's clock
/// shows 0.
///
/// # Errors
///
/// [`CaptionsError`] where the record has no times to go by, or `start` is too far back.
pub fn vtt(annotation: &Annotation, start: f64) -> Result<String, CaptionsError> {
    let cues = cues(annotation, start)?;
    let mut out = String::from("WEBVTT\n\n");
    out.push_str(&format!("NOTE {}\n", comment(&words::title(annotation))));
    for step in annotation.steps.iter().filter(|step| step.obtm > 0 && times(step).is_none()) {
        out.push_str(&format!(
            "No caption for {}: its beginning or end is not marked.\n",
            comment(&step.name.to_string())
        ));
    }
    for cue in &cues {
        out.push_str(&format!(
            "\n{}\n{} --> {}\n{}\n",
            comment(&cue.name),
            timestamp(cue.start),
            timestamp(cue.end),
            escape(&cue.text)
        ));
    }
    Ok(out)
}

/// The captions themselves.
///
/// # Errors
///
/// As for [`vtt`].
pub fn cues(annotation: &Annotation, start: f64) -> Result<Vec<Cue>, CaptionsError> {
    let turned = annotation.steps.iter().filter(|step| step.obtm > 0);
    let timed: Vec<(&Step, f64, f64)> = turned
        .clone()
        .filter_map(|step| times(step).map(|(from, to)| (step, from + start, to + start)))
        .collect();
    match timed.first() {
        None => {
            return Err(CaptionsError::Untimed {
                missing: turned.map(|step| step.name.to_string()).collect(),
            });
        }
        Some(&(_, first, _)) if first < 0.0 => return Err(CaptionsError::BeforeTheVideo { first }),
        Some(_) => {}
    }
    let cue = |&(step, from, to): &(&Step, f64, f64)| {
        let room = ((to - from) * CHARACTERS_A_SECOND).floor() as usize;
        let text = candidates(step).into_iter().find(|text| text.chars().count() <= room)?;
        Some(Cue { name: step.name.to_string(), start: from, end: to, text })
    };
    Ok(timed.iter().filter_map(cue).collect())
}

fn times(step: &Step) -> Option<(f64, f64)> {
    let (start, end) = (step.seconds.start?, step.seconds.end?);
    // Whole milliseconds is what the file can say.
    (end - start >= 0.001).then_some((start, end))
}

/// What a cue may say, the most telling first.
fn candidates(step: &Step) -> Vec<String> {
    let mut sayings = vec![String::new()];
    if let Some(stop) = step.stop_before()
        && let Some(cause) = stop.cause
    {
        let (cause, meaning) = (cause.word(), cause.meaning());
        sayings = vec![
            format!("Stopped {:.2} s, {cause}: {meaning}\n", stop.seconds),
            format!("Stopped {:.2} s: {cause}\n", stop.seconds),
            format!("Stopped: {cause}\n"),
            String::new(),
        ];
    }
    let looks: Vec<String> = match step.taken() {
        Some(next) => looks(next),
        None if matches!(step.kind, StepKind::Orient | StepKind::Permute | StepKind::LastLayer) => {
            step.case.iter().map(ToString::to_string).collect()
        }
        None => vec![String::new()],
    };
    let mut all: Vec<(usize, String)> = Vec::new();
    for (s, said) in sayings.iter().enumerate() {
        for (l, look) in looks.iter().enumerate() {
            // The corner's place is worth more than advice on the pause, the pause more than the finer points.
            let text = format!("{said}{look}");
            all.push((2 * s + 3 * l / 2, text.trim_end().to_owned()));
        }
    }
    all.retain(|(_, text)| !text.is_empty());
    all.sort_by_key(|(rank, text)| (*rank, std::cmp::Reverse(text.chars().count())));
    all.into_iter().map(|(_, text)| text).collect()
}

fn looks(next: &Offer) -> Vec<String> {
    let (corner, edge) = (&next.corner.from, &next.edge.from);
    let (tier, meaning) = (next.tier, words::tier_meaning(next.tier));
    vec![
        format!("Next: {}. Corner at {corner}, {meaning}; edge at {edge}", next.pair),
        format!("Next: {}. Corner {corner} ({tier}), edge {edge}", next.pair),
        format!("Corner {corner} ({tier}), edge {edge}"),
        format!("Corner {corner} ({tier})"),
        format!("Corner {corner}"),
        corner.to_string(),
    ]
}

/// `00:03.420`, with hours in front from the first hour on (section 4.1, "WebVTT timestamp").
fn timestamp(seconds: f64) -> String {
    let milliseconds = (seconds * 1000.0).round() as u64;
    let (hours, minutes) = (milliseconds / 3_600_000, milliseconds / 60_000 % 60);
    let (seconds, milliseconds) = (milliseconds / 1000 % 60, milliseconds % 1000);
    let hours = if hours > 0 { format!("{hours:02}:") } else { String::new() };
    format!("{hours}{minutes:02}:{seconds:02}.{milliseconds:03}")
}

/// Cue text: escapes, and lines that are not empty (section 4.2.2, "WebVTT cue text span").
fn escape(text: &str) -> String {
    let lines = text.lines().map(one_line).filter(|line| !line.is_empty());
    let lines: Vec<String> =
        lines.map(|line| line.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;")).collect();
    lines.join("\n")
}

/// For comments and cue names, which know no escapes and may not hold `-->`.
fn comment(text: &str) -> String {
    one_line(text).replace("-->", "--›")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::sample;

    #[test]
    fn no_cue_is_too_long_to_read_and_none_overlaps() {
        let annotation = sample::annotation(true);
        let cues = cues(&annotation, 12.5).expect("timed");
        assert!(cues.len() >= 4);
        for cue in &cues {
            let rate = cue.text.chars().count() as f64 / (cue.end - cue.start);
            assert!(rate <= CHARACTERS_A_SECOND, "{} in {} s", cue.text, cue.end - cue.start);
            assert!(!cue.text.is_empty());
        }
        assert!(cues.windows(2).all(|pair| pair[0].end <= pair[1].start + 1e-9));
        assert!((cues[0].start - 12.5).abs() < 1e-9);
        assert!(cues.iter().any(|cue| cue.text.contains("Stopped")), "{cues:?}");
    }

    #[test]
    fn untimed_records_say_what_is_missing() {
        let error = vtt(&sample::annotation(false), 0.0).expect_err("untimed").to_string();
        assert!(error.contains("<3.42>") && error.contains("cross"), "{error}");
        let error = vtt(&sample::annotation(true), -3.0).expect_err("too early").to_string();
        assert_eq!(error, "the first caption would appear 3.00 seconds before the video begins");
    }

    #[test]
    fn timestamps_are_the_standards() {
        let shown = [0.0, 3.42, 59.9999, 61.001, 3600.0, 360_000.5].map(timestamp);
        assert_eq!(
            shown,
            ["00:00.000", "00:03.420", "01:00.000", "01:01.001", "01:00:00.000", "100:00:00.500"]
        );
    }

    /// A reader written from the grammar of the standard's section 4.1 alone, for files without settings or styles.
    fn read(file: &str) -> Vec<(String, String, String)> {
        let mut blocks = file.strip_suffix('\n').expect("ends with a line").split("\n\n");
        assert_eq!(blocks.next(), Some("WEBVTT"), "4.1: the signature, then an empty line");
        let mut cues = Vec::new();
        for block in blocks {
            let block = block.trim_start_matches('\n');
            if block.starts_with("NOTE ") {
                assert!(!block.contains("-->"), "4.1: a comment block has no arrow");
                continue;
            }
            let mut lines = block.lines();
            let name = lines.next().expect("a name");
            assert!(!name.contains("-->"), "4.1: an identifier has no arrow");
            let times: Vec<&str> = lines.next().expect("times").split(" --> ").collect();
            let [from, to] = times[..] else { panic!("4.1: two timestamps in {block}") };
            for time in [from, to] {
                let digits =
                    |text: &str, n: usize| text.len() == n && text.bytes().all(|b| b.is_ascii_digit());
                let (rest, milliseconds) = time.rsplit_once('.').expect("milliseconds");
                let parts: Vec<&str> = rest.split(':').collect();
                let tail = &parts[parts.len() - 2..];
                assert!(digits(milliseconds, 3) && tail.iter().all(|part| digits(part, 2)), "{time}");
                assert!(parts.len() == 2 || parts.len() == 3 && parts[0].len() >= 2, "{time}");
            }
            assert!(from < to || from.len() < to.len(), "4.1: the end is after the start");
            let text = lines.collect::<Vec<_>>().join("\n");
            assert!(!text.is_empty() && !text.contains(['<', '>']), "4.2.2: {text}");
            assert!(
                text.split('&')
                    .skip(1)
                    .all(|rest| ["amp;", "lt;", "gt;"].iter().any(|e| rest.starts_with(e)))
            );
            cues.push((from.to_owned(), to.to_owned(), text));
        }
        cues
    }

    #[test]
    fn the_file_keeps_to_the_grammar_with_hostile_words_in_it() {
        let mut annotation = sample::annotation(true);
        annotation.title = Some("<script> --> \n\nWEBVTT & \u{202e}\u{0}".into());
        for step in &mut annotation.steps {
            step.comments.push("--> <b>".into());
            step.case = None;
            step.seconds.end = step.seconds.end.map(|end| end + 100.0 * step.to as f64);
            step.seconds.start = step.seconds.start.map(|start| start + 100.0 * step.from as f64);
        }
        let file = vtt(&annotation, 0.0).expect("timed");
        let cues = read(&file);
        assert_eq!(cues.len(), super::cues(&annotation, 0.0).expect("timed").len());
        assert!(cues.iter().all(|(_, _, text)| !text.contains('<')), "{cues:?}");
        assert_eq!(escape("<i>&amp;\n\n--> look"), "&lt;i&gt;&amp;amp;\n--&gt; look");
    }
}
