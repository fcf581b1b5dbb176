//! `clock`: put the times in, beside the video or from a list.

mod screen;
mod terminal;

use std::io::{self, IsTerminal, Read};

use clap::{Args, ValueEnum};
use cornerwise::annotate::{Settings, annotate};
use cornerwise::annotation::Annotation;
use cornerwise::clock::Disagreement;
use cornerwise::diagnostic::{Diagnostic, Source};
use cornerwise::findings;
use cornerwise::harmless::one_line;
use cornerwise::notation::{Mark, Time};
use cornerwise::paste;
use cornerwise::record::Record;
use cornerwise::report::text::{self, Show};
use cornerwise::story::Told;
use cornerwise::study::Study;
use cornerwise::timing::{self, Each, Frames, Given, Marked, Sheet, Taps, Way};

use super::exit::{Exit, Failure};
use super::options::{Judging, Messages, Output, Screen, between, default, whole};
use super::records::{Chosen, File, Inputs, listed};
use super::session::Session;
use super::{outlet, safe_write};
use screen::Left;

/// Put the times of a solve in: play its video in any player and press the space bar at the first turn and at the end of
/// each step; or give a list of times. Then see what they say, and write them into the record as timing marks.
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  cornerwise clock solves.yaml#2 --speed 0.25
      Beside the video, played at a quarter of its speed: tap along, then `w` writes.
  cornerwise clock solves.yaml#2 --splits 1.52,1.61,1.48,1.55,1.37,1.02,1.29,0.21 --write
      Seconds of each step: the cross, four pairs, OLL, PLL, AUF.")]
pub(super) struct Options {
    /// The record: a file with one, or one of a file by its number or a part of its title, such as `solves.yaml#2`.
    #[arg(value_name = "FILE")]
    file: String,
    /// The speed at which the video is played, from 0.01 to 16: 0.25 is a quarter of what was filmed.
    #[arg(long, allow_negative_numbers = true, value_name = "FACTOR", default_value_t = default::SPEED, value_parser = speed)]
    speed: f64,
    /// Taps a step: 2 for its first turn and its end, 1 for its end only [default: 2; of a list, what fits its length].
    #[arg(long, value_name = "N", value_parser = whole::<u8>(1, 2))]
    taps: Option<u8>,
    /// A tap for each step or for the end of every turn [default: step; of a list, what fits its length].
    #[arg(long, value_name = "EACH")]
    every: Option<EachOption>,
    /// Frames a second of the video, by which the arrow keys nudge [default: the record's `fps`, else 60].
    #[arg(long, allow_negative_numbers = true, value_name = "FPS", value_parser = fps)]
    fps: Option<f64>,
    /// The times, with commas between, instead of taps: what the clock showed.
    #[arg(long, value_name = "LIST", conflicts_with = "splits")]
    times: Option<String>,
    /// The same as seconds from each moment to the next.
    #[arg(long, value_name = "LIST")]
    splits: Option<String>,
    /// Stretch the times so that the last is the record's `time`.
    #[arg(long)]
    fit: bool,
    /// Write the marks into the record; beside the video `w` does. The old text is kept beside it as FILE.bak.
    #[arg(long)]
    write: bool,
    /// Keep no copy of the old text.
    #[arg(long)]
    no_backup: bool,
    #[command(flatten)]
    judging: Judging,
    #[command(flatten)]
    messages: Messages,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum EachOption {
    /// First turns and ends of steps.
    Step,
    /// Every turn.
    Turn,
}

fn speed(text: &str) -> Result<f64, String> {
    between(text, 0.01, 16.0, "a factor")
}

fn fps(text: &str) -> Result<f64, String> {
    between(text, 1.0, 1000.0, "frames a second")
}

impl Options {
    fn taps(&self) -> Option<Taps> {
        self.taps.map(|taps| if taps == 1 { Taps::Ends } else { Taps::Both })
    }

    fn each(&self) -> Option<Each> {
        self.every.map(|each| if each == EachOption::Turn { Each::Turn } else { Each::Step })
    }
}

pub(super) fn run(options: &Options, screen: Screen) -> Result<Exit, Failure> {
    let settings = options.judging.resolve(&options.messages)?;
    let output = Output::default();
    let mut session = Session::new(screen, &options.messages, &output);
    let Some((file, chosen)) = one_record(options, &mut session) else {
        return Ok(session.finish(Ok(None), &[])?);
    };
    let study = chosen.study();
    // The marks that are there give way, so what is wrong with them does not matter.
    let told: Vec<Diagnostic> = annotate(&study, &settings)
        .diagnostics
        .into_iter()
        .filter(|said| said.code != findings::time_differs::CODE && !said.code.starts_with("mark-"))
        .collect();
    session.tell(chosen.source(), &file.text.reading.diagnostics);
    session.tell(chosen.source(), &told);
    let sheet = Sheet::new(&study, Way::default());
    if !study.whole() || sheet.rows.is_empty() {
        session.note(Exit::Fault);
        let name = chosen.name();
        session.remark(format!(
            "{name}: cannot be played to its end, so no times can be put in; see `cornerwise mend`"
        ));
        return Ok(session.finish(Ok(None), &[])?);
    }
    let job = Job { options, settings: &settings, file: &file, chosen: &chosen, study: &study };
    let list = match (&options.times, &options.splits) {
        (Some(list), _) => Some((Given::Times, list.clone())),
        (_, Some(list)) => Some((Given::Splits, list.clone())),
        _ if io::stdin().is_terminal() && io::stdout().is_terminal() => None,
        _ => match job.piped() {
            Ok(list) => Some((Given::Times, list)),
            Err(why) => {
                session.refuse(why);
                return Ok(session.finish(Ok(None), &[])?);
            }
        },
    };
    match list {
        Some((what, list)) => job.by_list(what, &list, &mut session)?,
        None => job.beside_the_video(&mut session)?,
    }
    Ok(session.finish(Ok(None), &[])?)
}

/// The record that is meant, if it is one; else what is said of it.
fn one_record(options: &Options, session: &mut Session<'_>) -> Option<(File, Chosen)> {
    let mut inputs = Inputs::of(std::slice::from_ref(&options.file), &options.messages);
    if options.write {
        inputs = inputs.files_only();
    }
    let files: Vec<File> = inputs
        .list
        .iter()
        .filter_map(|asked| inputs.read(asked).map_err(|unread| session.refuse(unread.message)).ok())
        .collect();
    let mut records: Vec<(&File, Chosen)> =
        files.iter().flat_map(|file| file.records().map(move |chosen| (file, chosen))).collect();
    match records.len() {
        1 => records.pop().map(|(file, chosen)| (file.clone(), chosen)),
        0 => {
            for file in &files {
                session.tell(&file.text.source, &file.text.reading.diagnostics);
            }
            None
        }
        n => {
            let names: Vec<_> = records.iter().map(|(_, chosen)| chosen.entry()).collect();
            session
                .refuse(format!("`clock` is for one record, and here are {n}:{}", listed(names.into_iter())));
            None
        }
    }
}

/// A solve to put times in.
struct Job<'a> {
    options: &'a Options,
    settings: &'a Settings,
    file: &'a File,
    chosen: &'a Chosen,
    study: &'a Study<'a>,
}

/// Times with what they come to.
struct Timed {
    times: Vec<Time>,
    facts: Annotation,
    /// Where the timer's result is another.
    disagreement: Option<Disagreement>,
}

impl Job<'_> {
    fn timer(&self) -> Option<Time> {
        self.study.record.time.map(|(time, _)| time)
    }

    /// Times from standard input, one a line.
    fn piped(&self) -> Result<String, String> {
        /// More than a mark for each of the most tokens that a solve may have.
        const MOST: u64 = 1 << 20;
        if self.file.place.path().is_none() {
            return Err(
                "the record came from standard input; give its times with `--times` or `--splits`".into()
            );
        }
        if io::stdin().is_terminal() {
            outlet::err("cornerwise: times, one a line; end with Ctrl-D\n");
        }
        let mut text = String::new();
        let read = io::stdin().lock().take(MOST).read_to_string(&mut text);
        read.map_err(|error| format!("standard input: {error}"))?;
        for (n, line) in text.lines().enumerate() {
            timing::read_list(line).map_err(|wrong| format!("standard input, line {}: {wrong}", n + 1))?;
        }
        if text.trim().is_empty() {
            return Err(
                "no times: a line each on standard input, or `--times 1.12,1.40,…`, or run it in a terminal"
                    .into(),
            );
        }
        Ok(text)
    }

    fn by_list(&self, what: Given, list: &str, session: &mut Session<'_>) -> io::Result<()> {
        let options = self.options;
        let given = timing::read_list(list)
            .and_then(|list| timing::given(self.study, &list, what, options.taps(), options.each()));
        let (sheet, times) = match given {
            Ok(given) => given,
            Err(wrong) => {
                session.refuse(wrong);
                return Ok(());
            }
        };
        let times = if options.fit { self.fitted(times, session) } else { times };
        let timed = self.timed(&sheet, times);
        self.tell_of_marks(session);
        if options.write {
            self.write(&sheet, &timed.times, session);
        }
        self.told(&timed, session)?;
        if !options.write && self.file.place.path().is_some() {
            session.remark("nothing is written; `--write` puts the marks into the record");
        }
        Ok(())
    }

    fn fitted(&self, times: Vec<Time>, session: &Session<'_>) -> Vec<Time> {
        let fitted = self.timer().and_then(|timer| timing::fitted(&times, timer));
        if fitted.is_none() {
            session.remark("`--fit` has nothing to fit the times to: the record has no `time`");
        }
        fitted.unwrap_or(times)
    }

    fn beside_the_video(&self, session: &mut Session<'_>) -> io::Result<()> {
        let options = self.options;
        let way = Way { taps: options.taps().unwrap_or_default(), each: options.each().unwrap_or_default() };
        let sheet = Sheet::new(self.study, way);
        let frames = Frames::new(options.fps.or(self.study.record.fps).unwrap_or(default::FPS));
        let facts = annotate(self.study, self.settings).facts;
        let heading = match &facts.solver {
            Some(solver) => format!("{}{}{solver}", facts.heading(), session.look.dot()),
            None => facts.heading(),
        };
        let table = screen::Table {
            heading: &heading,
            sheet: &sheet,
            way,
            timer: self.timer(),
            frames,
            speed: options.speed,
            marks: self.study.record.solution.marks.len(),
            fit: options.fit,
        };
        let brief = |times: &[Time]| {
            let timed = self.timed(&sheet, times.to_vec());
            (self.brief(&timed, session), differs(&timed).unwrap_or_default())
        };
        let left = screen::tapped(&table, &session.look, &brief)?;
        match left {
            Left::Write(times) => {
                let timed = self.timed(&sheet, times);
                self.tell_of_marks(session);
                self.write(&sheet, &timed.times, session);
                self.told(&timed, session)?;
            }
            Left::Quit(times) => self.unwritten(&times, session),
            Left::Broken(times) => {
                self.unwritten(&times, session);
                session.note(Exit::Interrupted);
            }
        }
        Ok(())
    }

    /// Nothing is written, but nothing is lost either.
    fn unwritten(&self, times: &[Time], session: &Session<'_>) {
        let list: Vec<String> = times.iter().map(ToString::to_string).collect();
        session.remark(match list.len() {
            0 => "nothing is written".to_owned(),
            _ => format!("nothing is written; the times were --times {}", list.join(",")),
        });
    }

    /// The record as it would be with these times, and what is to be said of it.
    fn timed(&self, sheet: &Sheet, times: Vec<Time>) -> Timed {
        let record = with_marks(self.study.record, &sheet.marks(&times));
        let study = Study::new(self.study.source, self.study.number, &record);
        let disagreement = self.timer().and_then(|timer| study.clock.disagreement(timer));
        Timed { facts: annotate(&study, self.settings).facts, disagreement, times }
    }

    fn brief(&self, timed: &Timed, session: &Session<'_>) -> String {
        let show = Show { told: Told::Brief, legend: true, setup: false };
        text::render(&timed.facts, show, &session.look)
    }

    /// Prints what the times say.
    fn told(&self, timed: &Timed, session: &mut Session<'_>) -> io::Result<()> {
        if let Some(differs) = differs(timed) {
            let fit = if self.options.fit { "" } else { "; `--fit` stretches them to it" };
            session.remark(format!("{differs}{fit}"));
        }
        let brief = self.brief(timed, session);
        session.say(&brief)
    }

    /// Says that marks are there already, if there are.
    fn tell_of_marks(&self, session: &mut Session<'_>) {
        session.tell(self.chosen.source(), &Vec::from_iter(timing::replaced(self.chosen.record())));
    }

    /// Writes the marks into the record's file, and says so.
    fn write(&self, sheet: &Sheet, times: &[Time], session: &mut Session<'_>) {
        let (source, name) = (self.chosen.source(), self.chosen.name());
        let Some(path) = self.file.place.path() else {
            session.refuse("standard input cannot be written to");
            return;
        };
        let marks = sheet.marks(times);
        let record = self.chosen.record();
        // As it was read: a pasted text in the way that was chosen, where it can be read in several.
        let reading = self.options.messages.reading.map(usize::from);
        let asked = paste::Options { reading, ..paste::Options::default() };
        let read = |source: &Source| paste::read_with(source, &asked).reading;
        let text = match timing::marked(source, self.chosen.index, record, &marks, &read) {
            Ok(text) => text,
            Err(why) => {
                let file = one_line(&source.name);
                let help = format!("save it as a record first: cornerwise read {file} --write");
                session.refuse(format!("{name}: not written: {why}; {help}"));
                return;
            }
        };
        match safe_write::replace(path, &source.text, &text, !self.options.no_backup) {
            Ok(kept) => {
                let n = marks.len();
                let those = if n == 1 { "1 mark".to_owned() } else { format!("{n} marks") };
                let kept = kept.map_or(String::new(), |kept| format!("; the old text is {}", kept.display()));
                session.remark(one_line(&format!("{name}: {those} written{kept}")));
            }
            Err(why) => session.refuse(format!("{name}: not written: {why}")),
        }
    }
}

/// The record with these marks and no others. They have no place in its text.
fn with_marks(record: &Record, marks: &[Marked]) -> Record {
    let mut record = record.clone();
    let span = record.solution.span;
    record.solution.marks =
        marks.iter().map(|mark| Mark { moment: mark.moment, time: mark.time, frame: None, span }).collect();
    record
}

/// The timer's result held against the marks, where they differ.
fn differs(timed: &Timed) -> Option<String> {
    let Disagreement { marked, timer, .. } = timed.disagreement?;
    let (marked, timer) = (marked.seconds(), timer.seconds());
    let apart = (marked - timer).abs();
    let sign = if marked > timer { "more" } else { "less" };
    Some(format!("the times come to {marked:.2} s, {apart:.2} s {sign} than the timer's {timer:.2} s"))
}

#[cfg(test)]
mod tests {
    use cornerwise::record;
    use cornerwise::report::look::Look;

    use super::*;

    /// What is shown before anything is written is what `annotate` says of the written record.
    #[test]
    fn the_brief_is_that_of_the_record_as_it_will_be() {
        let text = include_str!("../../../reconstructions/no-corner-up.yaml");
        let source = Source::new("mine", text);
        let reading = record::read(&source);
        let study = Study::new(&source, 1, &reading.records[0]);
        let sheet = Sheet::new(&study, Way::default());
        let times: Vec<Time> = (0..sheet.cues.len() as u64).map(|n| Time(n * 730_000)).collect();
        let marks: Vec<Marked> = sheet.marks(&times);
        let written =
            timing::marked(&source, 0, &reading.records[0], &marks, &record::read).expect("written");
        let after = Source::new("mine", written);
        let reading = record::read(&after);
        let settings = default::settings();
        let brief = |study: &Study<'_>| {
            let show = Show { told: Told::Brief, legend: true, setup: false };
            text::render(&annotate(study, &settings).facts, show, &Look::plain())
        };
        let shown = brief(&Study::new(&source, 1, &with_marks(study.record, &marks)));
        assert_eq!(shown, brief(&Study::new(&after, 1, &reading.records[0])));
        assert!(shown.contains("stopped"), "{shown}");
    }
}
