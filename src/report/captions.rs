//! Captions for the video of a timed solve, in the W3C's WebVTT.
//!
//! They come in beats, as eyes work: the corner of the pair that comes next, with its pair and its place, from when it can
//! first be found; then its edge. A stop is told while the hands stand, a case of the last layer during its step. A reader
//! needs time, and turns are fast: a cue holds at most [`CHARACTERS_A_SECOND`] characters for each second it is shown, line
//! ends counted. Each beat says the most that fits; where not even a place fits, both pieces share one cue, and where that
//! does not fit either there is none.
//!
//! Grammar: *WebVTT: The Web Video Text Tracks Format*, section 4.1 (file structure) and 4.2 (cue text): no empty
//! line inside a cue, `&`, `<` and `>` written as escapes, no `-->` in a comment; style blocks stand before the first cue.

use std::fmt;

use crate::annotation::{Annotation, Offer, Step, StepKind, Watch};
use crate::cube::Colour;
use crate::harmless::one_line;

use super::axis::Axis;
use super::words;

/// What people can read in the time a caption is shown. Common practice in subtitling, no single source; rates
/// given there lie between 12 and 20.
pub const CHARACTERS_A_SECOND: f64 = 17.0;

/// One caption.
#[derive(Debug, Clone, PartialEq)]
pub struct Cue {
    /// The name of the step, and of the piece it is about.
    pub name: String,
    /// When it appears, in seconds of the video.
    pub start: f64,
    /// When it goes.
    pub end: f64,
    /// One line.
    pub text: String,
}

/// What players that know styles show the names of colours in; on the dark ground of captions.
const STYLE: &str = "STYLE\n::cue(.white) { color: #faf8f2 }\n::cue(.yellow) { color: #f8da35 }\n::cue(.green) { color: #37c796 }\n::cue(.blue) { color: #7fa2ff }\n::cue(.red) { color: #ff7a80 }\n::cue(.orange) { color: #ff9d45 }\n::cue(.stop) { font-weight: bold }\n";

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
    let mut out = format!("WEBVTT\n\n{STYLE}\n");
    out.push_str(&format!("NOTE {}\n", comment(&annotation.heading())));
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
            styled(&cue.text)
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
    let axis = Axis::of(annotation);
    Ok(timed.iter().flat_map(|&(step, from, to)| of_step(&axis, step, from, to)).collect())
}

/// The beats of one step, shown from when the step before ended to its own end.
fn of_step(axis: &Axis, step: &Step, from: f64, to: f64) -> Vec<Cue> {
    let mut cues = Vec::new();
    // The axis has its own zero; the step's beginning is on both clocks.
    let at = |moment: usize| from + axis.reached[moment] - axis.reached[step.from];
    let mut begins = from;
    if let Some(stop) = step.stop_before()
        && let Some(cause) = stop.cause
        && !stop.derived
    {
        let until = (from + stop.seconds).min(to);
        let says = [
            format!("Stopped {:.2} s: {}", stop.seconds, cause.word()),
            format!("{:.2} s: {}", stop.seconds, cause.word()),
            cause.word().to_owned(),
        ];
        if let Some(cue) = fitting(format!("{}, stop", step.name), from, until, says) {
            begins = until;
            cues.push(cue);
        }
    }
    let Some(next) = step.taken() else {
        let last_layer = matches!(step.kind, StepKind::Orient | StepKind::Permute | StepKind::LastLayer);
        let case = step.case.filter(|_| last_layer).map(|case| case.to_string());
        cues.extend(fitting(step.name.to_string(), begins, to, case));
        return cues;
    };
    if next.found_at().is_none() {
        // What was not found has no beat: that is what there is to say of it.
        let pair = next.pair;
        let says =
            [format!("next {pair}: not found in time"), format!("{pair}: not found"), pair.to_string()];
        cues.extend(fitting(step.name.to_string(), begins, to, says));
        return cues;
    }
    let found = |watch: &Watch| watch.found().map_or(begins, |moment| at(moment).max(begins));
    let (corner, edge) = (found(&next.corner), found(&next.edge));
    // Corner before edge, whichever showed first: there is less to confuse an edge with once its corner is known.
    let parted = if edge > corner { edge } else { corner + (to - corner) / 2.0 };
    let name = |piece: &str| format!("{}, {piece}", step.name);
    let first =
        fitting(name("corner"), corner, parted, corner_says(next, &next.corner, step, axis, corner - from));
    let second = fitting(name("edge"), parted, to, edge_says(next));
    let names_the_pair = |cue: &Cue| cue.text.contains(&next.pair.to_string());
    if let (Some(first), Some(second)) = (&first, &second)
        && names_the_pair(first)
    {
        cues.extend([first.clone(), second.clone()]);
        return cues;
    }
    // Too fast for two sentences: one that names the pair is worth more than two that do not.
    let both = |says: String| fitting(step.name.to_string(), begins, to, [says]);
    let places = format!("{}, {}", next.corner.from, next.edge.from);
    match (both(format!("{}: {places}", next.pair)), first, second) {
        (Some(one), ..) => cues.push(one),
        (None, first, second) => cues.extend(both(places).or(first).or(second)),
    }
    cues
}

/// The first of the sayings that can be read in the time.
fn fitting(name: String, start: f64, end: f64, says: impl IntoIterator<Item = String>) -> Option<Cue> {
    // Whole milliseconds is what the file can say.
    let (start, end) = ((start * 1000.0).round() / 1000.0, (end * 1000.0).round() / 1000.0);
    let room = ((end - start) * CHARACTERS_A_SECOND + 1e-9).floor().max(0.0) as usize;
    let text = says.into_iter().find(|text| text.chars().count() <= room)?;
    Some(Cue { name, start, end, text })
}

/// Where the corner is when its beat begins.
fn corner_says(next: &Offer, watch: &Watch, step: &Step, axis: &Axis, since: f64) -> [String; 3] {
    let moment = (step.from..=step.to)
        .rev()
        .find(|&m| axis.reached[m] - axis.reached[step.from] <= since + 1e-6)
        .unwrap_or(step.from);
    let place = place_at(watch, moment);
    let tier = next.tier;
    [
        format!("Next {}: corner {place}, {tier}", next.pair),
        format!("{}: corner {place}", next.pair),
        format!("corner {place}"),
    ]
}

fn edge_says(next: &Offer) -> [String; 2] {
    let place = next.edge.found().map_or(next.edge.to, |moment| place_at(&next.edge, moment));
    [format!("{}: edge {place}", next.pair), format!("edge {place}")]
}

/// Where a piece is at a moment of its step.
fn place_at(watch: &Watch, moment: usize) -> crate::cube::Place {
    watch.way.iter().rev().find(|(m, _)| *m <= moment).map_or(watch.from, |&(_, place)| place)
}

fn times(step: &Step) -> Option<(f64, f64)> {
    let (start, end) = (step.seconds.start?, step.seconds.end?);
    // Whole milliseconds is what the file can say.
    (end - start >= 0.001).then_some((start, end))
}

/// `00:03.420`, with hours in front from the first hour on (section 4.1, "WebVTT timestamp").
fn timestamp(seconds: f64) -> String {
    let milliseconds = (seconds * 1000.0).round() as u64;
    let (hours, minutes) = (milliseconds / 3_600_000, milliseconds / 60_000 % 60);
    let (seconds, milliseconds) = (milliseconds / 1000 % 60, milliseconds % 1000);
    let hours = if hours > 0 { format!("{hours:02}:") } else { String::new() };
    format!("{hours}{minutes:02}:{seconds:02}.{milliseconds:03}")
}

/// Cue text with the names of colours in class spans (section 4.2.2).
fn styled(text: &str) -> String {
    let mut out = escape(text);
    for colour in Colour::ALL {
        let name = colour.to_string();
        out = out.replace(&name, &format!("<c.{name}>{name}</c>"));
    }
    out
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
            assert!(rate <= CHARACTERS_A_SECOND + 1e-6, "{} in {} s", cue.text, cue.end - cue.start);
            assert!(!cue.text.is_empty());
        }
        assert!(cues.windows(2).all(|pair| pair[0].end <= pair[1].start + 1e-9));
        assert!(cues[0].start >= 12.5);
        assert!(cues.iter().any(|cue| cue.text == "0.86 s: view"), "{cues:?}");
    }

    #[test]
    fn corner_and_edge_have_beats_of_their_own_that_name_the_pair() {
        // Four times as slow: time to read.
        let mut annotation = sample::annotation(true);
        for moment in &mut annotation.moments {
            moment.seconds = moment.seconds.map(|seconds| 4.0 * seconds);
        }
        for step in &mut annotation.steps {
            let seconds = &mut step.seconds;
            for figure in [&mut seconds.start, &mut seconds.end, &mut seconds.before] {
                *figure = figure.map(|figure| 4.0 * figure);
            }
            step.stops.iter_mut().for_each(|stop| stop.seconds *= 4.0);
        }
        let cues = cues(&annotation, 0.0).expect("timed");
        let mut both = 0;
        for step in annotation.steps.iter().filter(|step| step.taken().is_some()) {
            let beat = |piece: &str| cues.iter().find(|cue| cue.name == format!("{}, {piece}", step.name));
            let (Some(corner), Some(edge)) = (beat("corner"), beat("edge")) else {
                // What is found with the last turns leaves no time for two.
                let pair = step.taken().expect("taken").pair.to_string();
                assert!(cues.iter().any(|cue| cue.name == step.name.to_string() && cue.text.contains(&pair)));
                continue;
            };
            both += 1;
            assert!(corner.end <= edge.start, "{corner:?} {edge:?}");
            let next = step.taken().expect("taken");
            let places = |watch: &Watch| -> Vec<String> {
                [watch.from]
                    .into_iter()
                    .chain(watch.way.iter().map(|&(_, place)| place))
                    .map(|p| p.to_string())
                    .collect()
            };
            assert!(places(&next.corner).iter().any(|place| corner.text.contains(place)), "{corner:?}");
            assert!(places(&next.edge).iter().any(|place| edge.text.contains(place)), "{edge:?}");
        }
        assert!(both >= 1, "{both}");
        assert!(cues.iter().any(|cue| cue.text.contains("green-orange: corner UFR")), "{cues:?}");
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
        let style = blocks.next().expect("a style block");
        assert!(style.starts_with("STYLE\n") && !style.contains("-->"), "4.1: a style block has no arrow");
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
            // 4.2.2: class spans with a name of ours, closed.
            let mut bare = text.clone();
            for colour in Colour::ALL {
                bare = bare.replace(&format!("<c.{colour}>{colour}</c>"), &colour.to_string());
            }
            let text = bare;
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
