//! From when on a gap is a stop.

use super::Figure;

/// The shortest gap that counts as a stop.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StopFrom {
    /// At least this many seconds.
    pub seconds: f64,
    /// And at least this many times the pace.
    pub paces: f64,
}

impl Default for StopFrom {
    /// 0.3 s and twice the pace (common practice, no source).
    fn default() -> StopFrom {
        StopFrom { seconds: 0.3, paces: 2.0 }
    }
}

/// Whether a gap is a stop.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Judged {
    /// Judged by the figures as they stand.
    pub stop: bool,
    /// Whether the answer holds however far off the marks and the pace may be.
    pub certain: bool,
}

impl StopFrom {
    /// The shortest gap that is a stop at this pace, in seconds.
    #[must_use]
    pub fn threshold(self, pace: Figure) -> f64 {
        self.seconds.max(self.paces * pace.seconds)
    }

    /// Whether a gap of this length is a stop; `None` if the pace is not known and it depends on that.
    #[must_use]
    pub fn judge(self, gap: impl Into<Figure>, pace: Option<Figure>) -> Option<Judged> {
        let gap = gap.into();
        let Some(pace) = pace else {
            let certain = gap.seconds + gap.within < self.seconds;
            return (gap.seconds < self.seconds).then_some(Judged { stop: false, certain });
        };
        let threshold = |seconds: f64| self.seconds.max(self.paces * seconds);
        let stop = gap.seconds >= threshold(pace.seconds);
        let certain = if stop {
            gap.seconds - gap.within >= threshold(pace.seconds + pace.within)
        } else {
            gap.seconds + gap.within < threshold((pace.seconds - pace.within).max(0.0))
        };
        Some(Judged { stop, certain })
    }
}
