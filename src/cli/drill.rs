//! `drill`: practice positions made to order.

mod from_survey;

use std::collections::hash_map::RandomState;
use std::hash::{BuildHasher, Hasher};
use std::path::PathBuf;

use clap::builder::{PossibleValue, PossibleValuesParser, TypedValueParser};
use clap::{Args, ValueEnum};
use cornerwise::annotate::{Settings, annotate};
use cornerwise::annotation::StepKind;
use cornerwise::cube::{Colour, Face, FaceSet};
use cornerwise::drill::{Drill, Drills, Kind, Like, Unmet, Wish};
use cornerwise::report::{drills, html, json};
use cornerwise::scan::Tier;
use rayon::prelude::*;

use super::exit::{Exit, Failure};
use super::interrupt;
use super::options::{At, Messages, Output, Screen, faces, heading, number, whole};
use super::progress::Drawing;
use super::records::{Chosen, Inputs, WINDOW, listed};
use super::session::{Made, Session};

/// Print scrambles that lead to positions with an exactly known property, each with a question and its answer.
///
/// Positions are drawn at random, each as likely as the others among those that have the property. Practise in short
/// spells: hours of the same turns strain hands and eyes (docs/drill.md).
#[derive(Debug, Args)]
#[command(
    arg_required_else_help = true,
    after_help = "Examples:\n  cornerwise drill find --count 10\n  cornerwise drill edge --from solves.yaml#2 --step \"pair 2\""
)]
pub(super) struct Options {
    /// What the positions have in common [of --from: find].
    #[arg(value_name = "KIND", value_parser = kinds())]
    kind: Option<Kind>,
    /// How many positions.
    #[arg(long, value_name = "N", default_value_t = 5, value_parser = whole::<u16>(1, 1000))]
    count: u16,
    /// The seed: the same one gives the same drill. Without it a new one is taken, and told.
    #[arg(long, value_name = "SEED", value_parser = number::<u64>(7))]
    seed: Option<u64>,
    /// The colour of the cross.
    #[arg(long, value_name = "COLOUR", default_value = "white", value_parser = colour)]
    cross: Colour,
    /// How many pairs are open, from 1 to 4 [default: 4, of `forced` 2].
    #[arg(long, value_name = "PAIRS", conflicts_with = "from", value_parser = whole::<u8>(1, 4))]
    open: Option<u8>,
    /// Where the scan finds the corner that is asked about.
    #[arg(long, value_name = "TIER")]
    tier: Option<TierOption>,
    /// Of `hidden`: the face that, in sight too, shows what is hidden, such as L.
    #[arg(long, value_name = "FACE", value_parser = face)]
    shown_by: Option<Face>,
    /// At most so many turns: each line that is given, the cross, the whole order.
    #[arg(long, value_name = "TURNS", value_parser = whole::<u8>(1, 60))]
    turns: Option<u8>,
    /// Positions like one of a record, `FILE#2`: as many open pairs, with the same tiers and as visible.
    #[arg(long, value_name = "FILE", requires = "step")]
    from: Option<String>,
    /// Of that record: the position from which this step was solved, such as "pair 2".
    #[arg(long, value_name = "STEP", requires = "from")]
    step: Option<At>,
    /// What a survey found to practise: facts that `survey --format json` saved. They say the kind, too.
    #[arg(long, value_name = "FILE", conflicts_with_all = ["kind", "from", "tier", "shown_by"])]
    from_survey: Option<PathBuf>,
    /// Of that survey: the finding, by its number [default: the first that positions can be made for].
    #[arg(long, value_name = "N", requires = "from_survey", value_parser = number::<usize>(1))]
    finding: Option<usize>,
    /// The faces in sight, such as UFRL [default: UFR, with --from those of the record].
    #[arg(long, value_name = "FACES", help_heading = heading::EYES, value_parser = faces)]
    sight: Option<FaceSet>,
    /// Print the answers too; in Markdown they are there behind a fold without it.
    #[arg(long)]
    answers: bool,
    /// What to print [default: what the ending of --output says, else text].
    #[arg(long, value_name = "FORMAT")]
    format: Option<Format>,
    #[command(flatten)]
    output: Output,
    #[command(flatten)]
    messages: Messages,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum TierOption {
    /// In the top layer.
    Top,
    /// In the slot that the given line fills.
    Target,
    /// In another slot, and brought up by the given line.
    Lifted,
    /// In another slot.
    Slot,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Format {
    /// For people.
    Text,
    /// For a training page, with the answers behind a fold.
    Markdown,
    /// A page that needs no network, each answer behind a button.
    Html,
    /// One object a line, one line a position: see docs/drill.schema.json.
    Json,
    /// Records that `annotate` reads, the answer played.
    Records,
}

/// The kinds by their words, each with what it asks.
fn kinds() -> impl TypedValueParser<Value = Kind> {
    let named = Kind::ALL.map(|kind| PossibleValue::new(kind.word()).help(kind.asks()));
    PossibleValuesParser::new(named).map(|word| {
        let named = Kind::ALL.into_iter().find(|kind| kind.word() == word);
        named.expect("only these words are taken")
    })
}

fn colour(text: &str) -> Result<Colour, String> {
    let text = text.trim().to_ascii_lowercase();
    let named = Colour::ALL.into_iter().find(|colour| colour.to_string() == text);
    named.ok_or_else(|| "expected white, yellow, green, blue, red or orange".into())
}

fn face(text: &str) -> Result<Face, String> {
    let text = text.trim().to_ascii_uppercase();
    let named = Face::ALL.into_iter().find(|face| face.to_string() == text);
    named.ok_or_else(|| "expected one face, such as L".into())
}

impl Options {
    /// The format, once [`run`] has made sure that there is one.
    fn format(&self) -> Format {
        self.output.format(self.format).unwrap_or(Format::Text)
    }

    /// The wish for this kind, without what a record says.
    fn wish(&self, kind: Kind) -> Wish {
        let tier = self.tier.map(|tier| match tier {
            TierOption::Top => Tier::Top,
            TierOption::Target => Tier::Target,
            TierOption::Lifted => Tier::Lifted,
            TierOption::Slot => Tier::Slot,
        });
        let wish = Wish::of(kind, self.cross);
        Wish {
            open: self.open.map(usize::from),
            tier,
            shown_by: self.shown_by,
            turns: self.turns.map(usize::from),
            sight: self.sight.unwrap_or(wish.sight),
            ..wish
        }
    }
}

pub(super) fn run(options: &Options, screen: Screen) -> Result<Exit, Failure> {
    options.output.format(options.format)?;
    let mut session = Session::new(screen, &options.messages, &options.output);
    let asked = match (&options.from_survey, options.kind) {
        (Some(path), _) => from_survey::wish(path, options, &session),
        (None, Some(kind)) => Ok(options.wish(kind)),
        (None, None) if options.from.is_none() => {
            let kinds = Kind::ALL.map(Kind::word).join(", ");
            Err(format!(
                "which kind of positions? Write one, as in `cornerwise drill find`; there are {kinds}"
            ))
        }
        (None, None) => Ok(options.wish(Kind::Find)),
    };
    let mut wish = match asked {
        Ok(wish) => wish,
        Err(message) => {
            session.refuse(message);
            return Ok(session.finish(Ok(None), options.from_survey.as_slice())?);
        }
    };
    let inputs = Inputs::of(options.from.as_slice(), &options.messages);
    if let Some(step) = options.step {
        match like(&inputs, step, options.sight, &mut session) {
            Ok((like, sight)) => {
                wish.like = Some(like);
                wish.sight = sight;
            }
            Err(message) => {
                session.refuse(message);
                return Ok(session.finish(Ok(None), &inputs.paths())?);
            }
        }
    }
    // A seed of few digits is one that a person can type again.
    let seed = options.seed.unwrap_or_else(|| RandomState::new().build_hasher().finish() % 1_000_000);
    let made = match Drills::new(wish, seed) {
        Ok(drills) => match made(&drills, usize::from(options.count), &mut session) {
            Err(Unmet::BrokenOff) => return Ok(session.finish(Ok(None), &inputs.paths())?),
            made => made.map_err(|unmet| unmet.to_string()),
        },
        Err(refused) => Err(refused.to_string()),
    };
    let made = match made {
        Ok(made) => made,
        Err(message) => {
            session.refuse(message);
            return Ok(session.finish(Ok(None), &inputs.paths())?);
        }
    };
    let text = match options.format() {
        Format::Text => drills::text(&made, options.answers, &session.look),
        Format::Markdown => drills::markdown(&made, options.answers),
        Format::Html => html::plan::drill(&made),
        Format::Json => made.iter().map(json::any).collect(),
        Format::Records => drills::records(&made),
    };
    Ok(session.finish(Ok(Some(Made::Text(text))), &inputs.paths())?)
}

/// All positions, made side by side; where not all were found, those that were, and that is said. So it is where Ctrl-C broke
/// it off; a file that was asked for is not written then.
fn made(drills: &Drills, count: usize, session: &mut Session<'_>) -> Result<Vec<Drill>, Unmet> {
    let drawing = Drawing::new(count);
    let one = |number| {
        let drill = drills.one(number);
        drawing.one_more();
        drill
    };
    interrupt::note();
    let drawn = || {
        if interrupt::check().is_err() {
            drills.stop();
        }
        drills.drawn()
    };
    let all: Vec<Result<Drill, Unmet>> =
        drawing.watch(drawn, || (1..count + 1).into_par_iter().map(one).collect());
    let broken_off = all.contains(&Err(Unmet::BrokenOff));
    let unmet = all.iter().filter_map(|one| one.as_ref().err().cloned()).reduce(Unmet::nearer);
    let made: Vec<Drill> = all.into_iter().flatten().collect();
    if broken_off {
        session.note(Exit::Interrupted);
        let were = if made.len() == 1 { "was" } else { "were" };
        let but = if session.to_file() && !made.is_empty() { "; nothing was written" } else { "" };
        session.remark(format!("broken off: {} of {count} {were} found{but}", made.len()));
        return if made.is_empty() || session.to_file() { Err(Unmet::BrokenOff) } else { Ok(made) };
    }
    match unmet {
        Some(unmet) if made.is_empty() => Err(unmet),
        Some(unmet) => {
            session.remark(format!("{} of {count} were found; of the others {unmet}", made.len()));
            Ok(made)
        }
        None => Ok(made),
    }
}

/// What the position from which a step of a record was solved is like, and what its solver sees.
fn like(
    inputs: &Inputs,
    step: At,
    sight: Option<FaceSet>,
    session: &mut Session<'_>,
) -> Result<(Like, FaceSet), String> {
    // As many files as are read to say which records there are.
    let mut records: Vec<Chosen> = Vec::new();
    for input in inputs.list.iter().take(WINDOW) {
        let file = inputs.read(input).map_err(|unread| unread.message)?;
        if let [_] = inputs.list.as_slice() {
            session.tell(&file.text.source, &file.text.reading.diagnostics);
        }
        records.extend(file.records());
    }
    let [chosen] = records.as_slice() else {
        let Some(first) = records.first() else { return Err("--from: there is no record in it".into()) };
        let those = listed(records.iter().map(Chosen::entry));
        return Err(format!("--from takes one record, such as `--from {}`; here are{those}", first.name()));
    };
    let study = chosen.study();
    let annotated = annotate(&study, &Settings::default());
    session.tell(chosen.source(), &annotated.diagnostics);
    let no = |message: &str| format!("{}: {message}", chosen.name());
    let end = step.moment(&annotated.facts).map_err(|message| no(&message))?;
    let solved_here = annotated.facts.steps.iter().find(|step| step.kind == StepKind::Pair && step.to == end);
    let from = solved_here.map_or(end, |step| step.from);
    let position = &study.replay.moments[from];
    let cross = study.solve.cross.filter(|&cross| position.state.cross_solved(cross));
    let cross =
        cross.ok_or_else(|| no("the cross is not whole there, so no pair is to be solved from there"))?;
    let sight = sight.unwrap_or(chosen.record().sight);
    let like = Like::of(position, cross, sight);
    if like.open() == 0 {
        return Err(no("all pairs are in there; name the step of a pair, such as --step \"pair 2\""));
    }
    Ok((like, sight))
}
