//! The false discovery rate: of all that is named, how much may be chance.

/// The p-values as Benjamini and Hochberg adjust them (Y. Benjamini, Y. Hochberg, "Controlling the false discovery rate",
/// Journal of the Royal Statistical Society B 57, 1995): whoever names all that come out at or below `q` names, of all
/// that is named, at most the share `q` by chance, on average.
#[must_use]
pub fn adjusted(p_values: &[f64]) -> Vec<f64> {
    let n = p_values.len();
    let mut order: Vec<usize> = (0..n).collect();
    order.sort_by(|&a, &b| p_values[b].total_cmp(&p_values[a]));
    let mut out = vec![1.0; n];
    let mut least: f64 = 1.0;
    for (above, &at) in order.iter().enumerate() {
        least = least.min(p_values[at] * n as f64 / (n - above) as f64);
        out[at] = least;
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The example of the 1995 paper: fifteen p-values, of which four are named at 0.05 (from memory).
    #[test]
    fn the_papers_example_names_four() {
        let p = [
            0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344, 0.0459, 0.3240, 0.4262, 0.5719,
            0.6528, 0.7590, 1.0,
        ];
        let named = adjusted(&p).into_iter().filter(|&p| p <= 0.05).count();
        assert_eq!(named, 4);
    }

    #[test]
    fn order_does_not_matter_and_none_becomes_smaller() {
        let p = [0.2, 0.01, 0.03, 0.01, 0.8];
        let out = adjusted(&p);
        assert!(out.iter().zip(&p).all(|(adjusted, p)| adjusted >= p));
        let expected = [0.25, 0.025, 0.05, 0.025, 0.8];
        assert!(out.iter().zip(expected).all(|(a, b)| (a - b).abs() < 1e-12), "{out:?}");
        assert!(adjusted(&[]).is_empty());
    }
}
