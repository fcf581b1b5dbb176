//! A moment of a solve, named.

use cornerwise::plan::At;

/// Reads `cross`, `pair 2`, `end`, or a number of tokens.
pub(in crate::cli) fn moment(text: &str) -> Result<At, String> {
    let words = text.trim().to_ascii_lowercase();
    let number = |text: &str| text.trim().parse::<usize>().ok();
    match words.as_str() {
        "cross" | "the cross" => return Ok(At::Cross),
        "end" => return Ok(At::End),
        _ => {}
    }
    if let Some(tokens) = number(&words) {
        return Ok(At::Token(tokens));
    }
    let pair = words.strip_prefix("pair").and_then(number).filter(|pair| (1..=4).contains(pair));
    pair.map(At::Pair).ok_or_else(|| {
        "expected `cross`, `pair 1` to `pair 4`, `end`, or how many tokens have been played".into()
    })
}
