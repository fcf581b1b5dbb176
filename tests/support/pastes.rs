//! Solves written as people paste them: layouts of the steps, heads and tails around them, and what programs do to a
//! text on its way.
//!
//! Works on the solve alone, as a person would write it down; knows nothing of how a paste is read.

use super::random::Random;
use super::solver::{Kind, Rng, Solve};

/// A solve as words: what is to be read of every form of it.
#[derive(Debug, Clone)]
pub struct Written {
    pub scramble: Vec<String>,
    /// The tokens of each step and its name.
    pub steps: Vec<(Vec<String>, String)>,
    /// The result, in hundredths.
    pub time: u32,
}

impl Written {
    pub fn of(solve: &Solve, time: u32) -> Written {
        let tokens =
            |moves: &[cornerwise::cube::Move]| moves.iter().map(ToString::to_string).collect::<Vec<_>>();
        let mut pairs = 0;
        let steps = solve.steps.iter().map(|step| {
            let name = match step.kind {
                Kind::Inspection => "inspection".to_owned(),
                Kind::Cross => "cross".to_owned(),
                Kind::Pair => {
                    pairs += 1;
                    ["1st pair", "2nd pair", "3rd pair", "4th pair"][(pairs - 1).min(3)].to_owned()
                }
                Kind::Orient => "OLL".to_owned(),
                Kind::Permute => "PLL".to_owned(),
                Kind::Adjust => "AUF".to_owned(),
            };
            (tokens(&step.moves), name)
        });
        Written { scramble: tokens(&solve.scramble), steps: steps.collect(), time }
    }

    /// A solve with all four pairs one by one.
    pub fn random(solver: &mut super::solver::Solver, rng: &mut Rng) -> Written {
        loop {
            let solve = solver.random(rng, &super::solver::Options::default());
            let pairs = solve.steps.iter().filter(|step| step.kind == Kind::Pair).count();
            if pairs == 4 {
                return Written::of(&solve, 700 + rng.below(900) as u32);
            }
        }
    }

    pub fn scramble(&self) -> String {
        self.scramble.join(" ")
    }

    /// All tokens of the solution.
    pub fn solution(&self) -> String {
        self.steps.iter().map(|(tokens, _)| tokens.join(" ")).collect::<Vec<_>>().join(" ")
    }

    pub fn clock(&self) -> String {
        format!("{}.{:02}", self.time / 100, self.time % 100)
    }

    fn lines(&self, line: impl Fn(&str, &str, usize) -> String) -> String {
        let lines = self.steps.iter().map(|(tokens, name)| line(&tokens.join(" "), name, tokens.len()));
        lines.collect::<Vec<_>>().join("\n")
    }
}

/// A name, and how a solve (or a text) is written.
pub type Layout = (&'static str, fn(&Written) -> String);
pub type Decoration = (&'static str, fn(&str) -> String);

/// How the steps of a solution stand.
pub const LAYOUTS: [Layout; 32] = [
    ("slashes", |w| w.lines(|t, n, _| format!("{t} // {n}"))),
    ("slashes-aligned", |w| w.lines(|t, n, _| format!("{t:<44}// {n}"))),
    ("label-colon", |w| w.lines(|t, n, _| format!("{}: {t}", capital(n)))),
    ("label-dash", |w| w.lines(|t, n, _| format!("{} - {t}", capital(n)))),
    ("label-bold", |w| w.lines(|t, n, _| format!("**{}:** {t}", capital(n)))),
    ("label-equals", |w| w.lines(|t, n, _| format!("{} = {t}", capital(n)))),
    ("label-brackets", |w| w.lines(|t, n, _| format!("({n}) {t}"))),
    ("label-square", |w| w.lines(|t, n, _| format!("[{n}] {t}"))),
    ("label-bare", |w| w.lines(|t, n, _| format!("{n} {t}"))),
    ("brackets", |w| w.lines(|t, n, _| format!("{t} ({n})"))),
    ("square", |w| w.lines(|t, n, _| format!("{t} [{n}]"))),
    ("curly", |w| w.lines(|t, n, _| format!("{t} {{{n}}}"))),
    ("dash", |w| w.lines(|t, n, _| format!("{t} - {n}"))),
    ("dashes", |w| w.lines(|t, n, _| format!("{t} -- {n}"))),
    ("long-dash", |w| w.lines(|t, n, _| format!("{t} — {n}"))),
    ("semicolon", |w| w.lines(|t, n, _| format!("{t} ; {n}"))),
    ("hash", |w| w.lines(|t, n, _| format!("{t} # {n}"))),
    ("slash", |w| w.lines(|t, n, _| format!("{t} / {n}"))),
    ("bar", |w| w.lines(|t, n, _| format!("{t} | {n}"))),
    ("arrow", |w| w.lines(|t, n, _| format!("{t} <- {n}"))),
    ("bare", |w| w.lines(|t, n, _| format!("{t} {n}"))),
    ("above", |w| w.lines(|t, n, _| format!("// {n}\n{t}"))),
    ("above-brackets", |w| w.lines(|t, n, _| format!("({n})\n{t}"))),
    ("above-heading", |w| w.lines(|t, n, _| format!("### {}\n{t}", capital(n)))),
    ("below", |w| w.lines(|t, n, _| format!("{t}\n({n})"))),
    ("table", |w| {
        let rows = w.lines(|t, n, k| format!("| {t} | {n} | {k} |"));
        format!("| turns | step | count |\n|---|---|---|\n{rows}")
    }),
    ("table-step-first", |w| {
        let rows = w.lines(|t, n, k| format!("| {n} | {t} | {k} |"));
        format!("| step | turns | count |\n|---|---|--:|\n{rows}")
    }),
    ("tabs", |w| w.lines(|t, n, k| format!("{n}\t{t}\t{k}"))),
    ("figures", |w| {
        let mut so_far = 0;
        let rows = w.steps.iter().map(|(tokens, name)| {
            so_far += tokens.len();
            format!("{} // {name} ({}/{so_far})", tokens.join(" "), tokens.len())
        });
        rows.collect::<Vec<_>>().join("\n")
    }),
    ("lines", |w| w.lines(|t, _, _| t.to_owned())),
    ("one-line", |w| w.solution()),
    ("glued", |w| w.lines(|t, n, _| format!("{} // {n}", t.replace(' ', "")))),
];

/// What stands before the solution: scramble and whatever people put there.
pub const HEADS: [Layout; 24] = [
    ("bare", |w| format!("{}\n\n", w.scramble())),
    ("scramble", |w| format!("Scramble: {}\n\n", w.scramble())),
    ("scramble-small", |w| format!("scramble: {}\n", w.scramble())),
    ("scramble-number", |w| format!("Scramble #3: {}\n\n", w.scramble())),
    ("scramble-dash", |w| format!("Scramble - {}\n\n", w.scramble())),
    ("scr", |w| format!("scr: {}\n\n", w.scramble())),
    ("scramble-line", |w| format!("Scramble:\n{}\n\n", w.scramble())),
    ("scramble-solution", |w| format!("Scramble: {}\nSolution:\n", w.scramble())),
    ("scramble-solve", |w| format!("SCRAMBLE\n{}\n\nSOLVE\n", w.scramble())),
    ("bold", |w| format!("**Scramble:** {}\n\n**Solution**\n\n", w.scramble())),
    ("heading", |w| format!("## Scramble\n\n{}\n\n## Reconstruction\n\n", w.scramble())),
    ("number-time", |w| format!("1. {} {}\n\n", w.clock(), w.scramble())),
    ("time-line", |w| format!("{}\n{}\n\n", w.clock(), w.scramble())),
    ("time-brackets", |w| format!("({})\n{}\n\n", w.clock(), w.scramble())),
    ("time-label", |w| format!("Time: {}\nScramble: {}\n\n", w.clock(), w.scramble())),
    ("title", |w| format!("Quay Practice, the long pier\n{}\n\n", w.scramble())),
    ("title-blank", |w| format!("Quay Practice, the long pier\n\n{}\n\n", w.scramble())),
    ("event", |w| format!("3x3x3 Cube, round 2\n\nScramble: {}\n\n", w.scramble())),
    ("date-solver", |w| format!("Date: 2026-04-01\nSolver: heron\nScramble: {}\n\n", w.scramble())),
    ("words", |w| format!("This is how it went, from the noticeboard:\n\nScramble: {}\n\n", w.scramble())),
    ("one-line-bar", |w| format!("{} | ", w.scramble())),
    ("one-line-slash", |w| format!("{} / ", w.scramble())),
    ("divider", |w| format!("Scramble: {}\n---\n", w.scramble())),
    ("wrapped", |w| {
        let half = w.scramble.len() / 2;
        format!("{}\n{}\n\n", w.scramble[..half].join(" "), w.scramble[half..].join(" "))
    }),
];

/// What stands behind the solution.
pub const TAILS: [Layout; 12] = [
    ("nothing", |_| String::new()),
    ("line-end", |_| "\n".to_owned()),
    ("metrics", |w| format!("\n\n{} HTM, 4.1 TPS\n", w.steps.len() * 7)),
    ("metrics-slash", |_| "\n57 HTM / 5.9 TPS\n".to_owned()),
    ("turns", |_| "\n\n58 turns\n".to_owned()),
    ("time", |w| format!("\n\nTime: {}\n", w.clock())),
    ("time-bare", |w| format!("\n\n{}\n", w.clock())),
    ("smiley", |_| " xD\n".to_owned()),
    ("praise", |_| "\n\n// what a scramble\n".to_owned()),
    ("prose", |_| "\n\nI should have played R U R' there, then U' and done\n".to_owned()),
    ("total", |_| "\n\nTotal: 57 moves in 9.82 seconds (5.8 tps)\n".to_owned()),
    ("average", |_| "\n\navg of 5: 10.21\n".to_owned()),
];

/// What programs and habits do to a text.
pub const DECORATIONS: [Decoration; 42] = [
    ("quoted", |t| each_line(t, |l| format!("> {l}"))),
    ("quoted-close", |t| each_line(t, |l| format!(">{l}"))),
    ("quoted-twice", |t| each_line(t, |l| format!(">> {l}"))),
    ("bullets", |t| full_lines(t, |l| format!("- {l}"))),
    ("dots", |t| full_lines(t, |l| format!("• {l}"))),
    ("fence", |t| format!("```\n{t}\n```\n")),
    ("fence-text", |t| format!("```text\n{t}\n```\n")),
    ("tildes", |t| format!("~~~\n{t}\n~~~\n")),
    ("indent", |t| full_lines(t, |l| format!("    {l}"))),
    ("crlf", |t| t.replace('\n', "\r\n")),
    ("cr", |t| t.replace("\r\n", "\n").replace('\n', "\r")),
    ("mark-at-front", |t| format!("\u{FEFF}{t}")),
    ("trailing-blanks", |t| each_line(t, |l| format!("{l}  "))),
    ("no-break", |t| t.replace(' ', "\u{A0}")),
    ("thin-blanks", |t| t.replace(' ', "\u{2009}")),
    ("wide-blanks", |t| t.replace(' ', "\u{3000}")),
    ("zero-width", |t| t.replace(' ', " \u{200B}")),
    ("zero-width-front", |t| each_line(t, |l| format!("\u{200E}{l}"))),
    ("two-blanks", |t| t.replace(' ', "  ")),
    ("curly-primes", |t| t.replace('\'', "’")),
    ("opening-primes", |t| t.replace('\'', "‘")),
    ("true-primes", |t| t.replace('\'', "′")),
    ("acute", |t| t.replace('\'', "´")),
    ("letter-primes", |t| t.replace('\'', "ʹ")),
    ("apostrophe-letter", |t| t.replace('\'', "ʼ")),
    ("full-width-primes", |t| t.replace('\'', "＇")),
    ("reversed-primes", |t| t.replace('\'', "‵")),
    ("entity-number", |t| t.replace('\'', "&#39;")),
    ("entity-hex", |t| t.replace('\'', "&#x27;")),
    ("entity-name", |t| t.replace('\'', "&apos;")),
    ("entity-curly", |t| t.replace('\'', "&rsquo;")),
    ("entity-blank", |t| t.replace(' ', "&nbsp;")),
    ("break-tags", |t| t.replace("\r\n", "\n").replace('\n', "<br>\n")),
    ("wrong-encoding", |t| t.replace('\'', "â€™")),
    ("full-width-brackets", |t| t.replace('(', "（").replace(')', "）")),
    ("blank-lines-front", |t| format!("\n\n\n{t}")),
    ("blank-lines-end", |t| format!("{t}\n\n\n")),
    ("line-separators", |t| t.replace("\r\n", "\n").replace('\n', "\u{2028}")),
    ("tag-around", |t| format!("<pre>{t}</pre>")),
    ("bold-whole-lines", |t| full_lines(t, |l| format!("<b>{l}</b>"))),
    ("superscript", |t| t.replace("2 ", "² ")),
    ("rule-front", |t| format!("=====\n{t}")),
];

fn capital(name: &str) -> String {
    let mut letters = name.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

fn each_line(text: &str, line: impl Fn(&str) -> String) -> String {
    text.split('\n').map(line).collect::<Vec<_>>().join("\n")
}

fn full_lines(text: &str, line: impl Fn(&str) -> String) -> String {
    each_line(text, |l| if l.trim().is_empty() { l.to_owned() } else { line(l) })
}

/// A paste: its name and text.
pub fn paste(
    written: &Written,
    head: Layout,
    layout: Layout,
    tail: Layout,
    decorations: &[Decoration],
) -> (String, String) {
    let mut text = format!("{}{}{}", head.1(written), layout.1(written), tail.1(written));
    let mut name = format!("{}+{}+{}", head.0, layout.0, tail.0);
    for decoration in decorations {
        text = decoration.1(&text);
        name = format!("{name}+{}", decoration.0);
    }
    (name, text)
}

/// A paste at random.
pub fn random(written: &Written, random: &mut Random) -> (String, String) {
    let head = random.pick(&HEADS);
    let mut layout = random.pick(&LAYOUTS);
    // On the line of the scramble there is no table.
    while head.0.starts_with("one-line")
        && (layout.0.contains("table") || layout.0.contains("tabs") || layout.0.contains("above"))
    {
        layout = random.pick(&LAYOUTS);
    }
    let mut tail = random.pick(&TAILS);
    while tail.0 == "smiley" && layout.0 != "lines" && layout.0 != "one-line" {
        tail = random.pick(&TAILS);
    }
    let decorations = random.sequence(&DECORATIONS, 0, 4);
    paste(written, head, layout, tail, &decorations)
}
