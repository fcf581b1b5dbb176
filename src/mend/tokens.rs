//! From a record to the tokens of a search, and from edits back to changes of the record.

use std::collections::HashMap;

use crate::cube::Move;
use crate::diagnostic::{Source, Span};
use crate::notation::{self, Element, Turns};
use crate::record::{Record, Style};

use super::change::{Change, Part, Side};
use super::edit::{Slip, Tokens};
use super::gap::Way;
use super::groups::{self, Written};
use super::search::{EditId, Search};

/// The tokens of scramble and solution, counted through.
pub(super) fn of(source: &Source, record: &Record) -> Tokens {
    let n_scramble = record.scramble.tokens.len();
    let mut tokens = Tokens { elements: vec![], n_scramble, spellings: vec![], runs: vec![], fixed: vec![] };
    let mut origin = Vec::new();
    for (turns, style) in
        [(&record.scramble, record.scramble_style), (&record.solution, record.solution_style)]
    {
        let mut first: HashMap<Span, usize> = HashMap::new();
        let unread: HashMap<Span, &String> = turns.unread.iter().map(|(span, text)| (*span, text)).collect();
        for token in &turns.tokens {
            if token.element == Element::Unreadable {
                let spelling = unread.get(&token.span).map_or_else(String::new, |text| (*text).clone());
                tokens.spellings.push((tokens.elements.len(), spelling));
            }
            tokens.elements.push(token.element);
            tokens.fixed.push(!stands_as_written(source, style, token));
            origin.push(*first.entry(token.span).or_insert(origin.len()));
        }
    }
    tokens.runs = groups::runs(&origin);
    tokens
}

/// Whether the text of a token says what the token is: not so in a group that is played backwards.
fn stands_as_written(source: &Source, style: Style, token: &notation::Token) -> bool {
    let Some(text) = source.text.get(token.span.range()) else { return false };
    let text = if style == Style::SingleQuoted { text.replace("''", "'") } else { text.to_owned() };
    let (turns, _): (Turns, _) = notation::parse_all(&text, &notation::Options::default());
    matches!(turns.tokens[..], [one] if one.element == token.element)
        || !matches!(token.element, Element::Move(_))
}

/// The changes that a set of edits makes, those of the scramble first.
pub(super) fn changes(tokens: &Tokens, search: &Search, ids: &[EditId]) -> Vec<Change> {
    let n_scramble = tokens.n_scramble;
    ids.iter()
        .map(|&id| {
            let edit = &search.edits[usize::from(id)];
            let (part, shift) =
                if edit.in_scramble { (Part::Scramble, 0) } else { (Part::Solution, n_scramble) };
            let moves =
                |numbers: &[u8]| numbers.iter().map(|&number| Move::ALL[usize::from(number)]).collect();
            let mut change = Change {
                part,
                range: edit.range.start - shift..edit.range.end - shift,
                moves: moves(&edit.moves),
                side: Side::Behind,
                slip: edit.slip,
                cost: edit.cost,
                in_group: None,
                count: None,
            };
            match &edit.written {
                None => {}
                Some(Written::Tokens { range, moves: written, behind }) => {
                    change.side = if *behind { Side::Behind } else { Side::InFront };
                    change.in_group = Some((range.start - shift..range.end - shift, moves(written)));
                }
                Some(Written::Count { last, from, to }) => change.count = Some((last - shift, *from, *to)),
            }
            change
        })
        .collect()
}

/// The changes that fill gaps, and other tokens besides.
pub(super) fn changes_with_gaps(tokens: &Tokens, search: &Search, way: &Way) -> Vec<Change> {
    let mut all = changes(tokens, search, &way.edits);
    for (place, moves) in &way.gaps {
        let in_scramble = *place < tokens.n_scramble;
        let at = if in_scramble { *place } else { place - tokens.n_scramble };
        all.push(Change {
            part: if in_scramble { Part::Scramble } else { Part::Solution },
            range: at..at + 1,
            moves: moves.iter().map(|&number| Move::ALL[usize::from(number)]).collect(),
            side: Side::Behind,
            slip: Slip::Gap,
            // Each turn more is a third as likely, each rotation a twentieth.
            cost: moves.iter().map(|&number| if number < 45 { 1.0 } else { 3.0 }).sum(),
            in_group: None,
            count: None,
        });
    }
    all.sort_by_key(|change| (change.part, change.range.start, change.range.end));
    all
}
