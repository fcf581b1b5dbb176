//! What was rewritten as a unified diff.

/// The unified diff from `old` to `new`, as `patch` and version control read it; empty if they are equal.
#[must_use]
pub fn patch(name: &str, old: &str, new: &str) -> String {
    if old == new {
        return String::new();
    }
    // Lines end with a line feed only, as `patch` sees it: a lone carriage return stands inside a line.
    let lines = |text: &str| text.split_inclusive('\n').map(str::to_owned).collect::<Vec<_>>();
    let (old, new) = (lines(old), lines(new));
    let (old, new): (Vec<&str>, Vec<&str>) =
        (old.iter().map(String::as_str).collect(), new.iter().map(String::as_str).collect());
    let diff = similar::TextDiff::configure().newline_terminated(true).diff_slices(&old, &new);
    // A path from the root or from above would not be taken; a name with a blank ends at a tab.
    let mut name = name.trim_start_matches('/');
    while let Some(rest) = name.strip_prefix("../").or_else(|| name.strip_prefix("./")) {
        name = rest;
    }
    let end = if name.contains(' ') { "\t" } else { "" };
    let header = |side: &str| format!("{side}/{name}{end}");
    diff.unified_diff().context_radius(3).header(&header("a"), &header("b")).to_string()
}
