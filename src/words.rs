//! Lists in words, as every sentence here writes them: `a`, `a and b`, `a, b and c`.

/// The items in words; nothing of none.
///
/// ```
/// assert_eq!(cornerwise::words::and(&["cross", "pair 1", "OLL"]), "cross, pair 1 and OLL");
/// ```
#[must_use]
pub fn and<T: ToString>(items: &[T]) -> String {
    let words: Vec<String> = items.iter().map(T::to_string).collect();
    match words.as_slice() {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}
