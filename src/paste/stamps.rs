//! The times of day that a chat puts before what was said: `[21:03] heron: R U F`, `heron, 27/11/2026 21:03: R U F`.
//!
//! One clock time before turns may be a result, `1:03`. One before most of the lines of a text is a stamp, and no turn and
//! no result is read out of it. Times with hundredths are none: nobody's chat has them.

use std::ops::Range;

/// Fewer lines with one say nothing.
const FEWEST: usize = 3;

/// The stamps of a text, in order; none where they do not stand before most of its lines.
pub(super) fn stamps(text: &str) -> Vec<Range<usize>> {
    let mut at = 0;
    let (mut stamps, mut lines) = (Vec::new(), 0);
    for line in text.split('\n') {
        lines += usize::from(!line.trim().is_empty());
        stamps.extend(stamp(line).map(|stamp| at + stamp.start..at + stamp.end));
        at += line.len() + 1;
    }
    if stamps.len() < FEWEST || stamps.len() * 2 <= lines { Vec::new() } else { stamps }
}

/// Where the stamp of a line stands: a clock time with the day and the brackets around it. Before it is at most a name.
fn stamp(line: &str) -> Option<Range<usize>> {
    let clock = clock(line)?;
    let before = line[..clock.start].trim_end_matches([' ', '[', '(', ',']);
    let day = before
        .rfind(|c: char| !(c.is_ascii_digit() || "/.-".contains(c)))
        .map_or(0, |at| at + before[at..].chars().next().map_or(0, char::len_utf8));
    let is_day = before.len() - day >= 6 && before[day..].contains(['/', '.', '-']);
    let name = line[..if is_day { day } else { clock.start }].trim_start_matches(['>', ' ', '\t']);
    let name = name.trim_end_matches([' ', '[', '(', ',']);
    // A name has no turns, no label and no sentence before it.
    if name.len() > 40 || name.contains(|c: char| c.is_ascii_digit() || ":/|<".contains(c)) {
        return None;
    }
    let from = if is_day { day } else { clock.start };
    let open = line[..from].trim_end_matches(' ').ends_with(['[', '(']);
    let start = if open { line[..from].rfind(['[', '(']).unwrap_or(from) } else { from };
    let opened = line[start..clock.start].contains(['[', '(']);
    let after = &line[clock.end..];
    let end = clock.end + usize::from(opened && after.starts_with([']', ')']));
    Some(start..end)
}

/// The first clock time of a line: hours and minutes, perhaps seconds, perhaps `am` or `pm`.
fn clock(line: &str) -> Option<Range<usize>> {
    let bytes = line.as_bytes();
    let colon = line.bytes().position(|byte| byte == b':').filter(|&at| at > 0)?;
    // The name may end in a colon of its own.
    let mut candidates = line.match_indices(':').map(|(at, _)| at).skip_while(|&at| at < colon).take(2);
    let digits = |from: usize| bytes[from..].iter().take_while(|byte| byte.is_ascii_digit()).count();
    let colon = candidates.find(|&at| at > 0 && bytes[at - 1].is_ascii_digit() && digits(at + 1) == 2)?;
    let start = colon - bytes[..colon].iter().rev().take_while(|byte| byte.is_ascii_digit()).count();
    let (hours, minutes) =
        (line[start..colon].parse::<u8>().ok()?, line[colon + 1..colon + 3].parse::<u8>().ok()?);
    let mut end = colon + 3;
    if bytes.get(end) == Some(&b':') && digits(end + 1) == 2 {
        end += 3;
    }
    let lower = line.get(end..end + 3).unwrap_or_default().to_ascii_lowercase();
    if matches!(lower.as_str(), " am" | " pm") {
        end += 3;
    }
    let ends = bytes.get(end).is_none_or(|byte| b" ])\t,:-".contains(byte));
    (hours < 24 && minutes < 60 && ends).then_some(start..end)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_clock_before_most_lines_is_a_stamp() {
        let found = |text: &str| stamps(text).into_iter().map(|at| text[at].to_owned()).collect::<Vec<_>>();
        let [a, b, c] = ["[21:02] heron: R U", "[21:03] heron: F", "[21:03] heron: nice"];
        assert_eq!(found(&[a, b, c].join("\n")), ["[21:02]", "[21:03]", "[21:03]"]);
        assert_eq!(found("21:03 R U\n21:04 F\n9:05:10 D\n"), ["21:03", "21:04", "9:05:10"]);
        let day = "heron, 27/11/2026 21:03: R U\nheron, 27/11/2026 21:03: F\n\nheron, 27/11/2026 21:04: D";
        assert_eq!(found(day), ["27/11/2026 21:03", "27/11/2026 21:03", "27/11/2026 21:04"]);
        assert_eq!(found("[27.11.26, 9:03 PM] heron: R\n".repeat(3).as_str())[0], "[27.11.26, 9:03 PM]");
        // A result, twice; a clock of the solve; and most lines without one.
        for none in ["1:03 R U\n1:04 F", "0:01.50 R\n0:02.50 U\n0:03.50 F", "1:01 R\nU\n1:02 F\nU\n1:03 D\nU"]
        {
            assert!(found(none).is_empty(), "{none}");
        }
    }
}
