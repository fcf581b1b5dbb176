//! Why the hands stopped before a pair: one cause for each stop, from what the step before left and what else it had.

use super::turning::tenths;
use crate::annotation::{Cause, Instead, Offer, Step, Tier, Watch};
use crate::cube::FaceSet;

/// How much shorter than the stop the extra price of something better has to be, in seconds; and no more than half of it.
const WORTH: f64 = 0.2;
/// How much shorter that of another pair by other turns has to be: it is another plan.
const WORTH_ANOTHER_PLAN: f64 = 0.35;
/// How much dearer another first pair may be, in seconds, where the one taken can be followed from inspection.
const WORTH_FIRST: f64 = 0.1;
/// How many turns to go are enough to follow what goes out of sight again.
const TO_FOLLOW: usize = 2;

/// What is needed to judge a stop before a pair.
pub(super) struct Before<'a> {
    /// The step before.
    pub(super) step: &'a Step,
    /// Whether that is the cross.
    pub(super) cross: bool,
    /// The faces in sight.
    pub(super) sight: FaceSet,
    /// Seconds a unit of handling cost, where the times tell.
    pub(super) rate: Option<f64>,
    /// How much more than the played step something may cost and still count, in units.
    pub(super) slack: f64,
    /// The lead that is enough, in turns.
    pub(super) lead: usize,
    /// Whether the pair taken had been ready in the step before that one and can be remembered from there.
    pub(super) ready_before: bool,
}

/// A cause, what else is true, and what would have been ready.
pub(super) struct Judged {
    /// `None` where lines are not priced, and nothing else explains it: something better may have been there.
    pub(super) cause: Option<Cause>,
    pub(super) also: Option<Cause>,
    pub(super) instead: Option<Instead>,
}

impl Before<'_> {
    /// The cause of a stop of so many seconds before the pair that the step before left as `taken`.
    pub(super) fn cause(&self, taken: &Offer, stop: f64) -> Judged {
        let plainly = |cause| Judged { cause: Some(cause), also: None, instead: None };
        // What moves much through the cross is found there as it is in any other step.
        let followed = self.cross && taken.can_be_followed(self.step, self.lead);
        if taken.ready {
            let open_at_once = |watch: &Watch| watch.plain == Some(self.step.from);
            return match () {
                // What could be planned in inspection need not be found or worked out while the cross is turned.
                () if followed && !(open_at_once(&taken.corner) && open_at_once(&taken.edge)) => {
                    plainly(Cause::Inspection)
                }
                () if taken.plain_ready => plainly(Cause::Attention),
                () => {
                    let instead = self.other_pair(taken, |other| other.plain_ready && other.corner.up);
                    let instead = instead.filter(|instead| instead.dearer <= 0.0);
                    let cause = if instead.is_some() { Cause::Choice } else { Cause::Deduction };
                    Judged { cause: Some(cause), also: None, instead }
                }
            };
        }
        let by_a_glance = self.ready_before || self.found_at_the_last_moment(taken);
        let instead = if by_a_glance && !followed {
            // That need not be exchanged for something else, unless for what lay open and costs no more.
            self.other_pair(taken, |other| other.plain_ready).filter(|other| other.dearer <= 0.0)
        } else {
            self.instead(taken, stop, followed)
        };
        if let Some(instead) = instead {
            let also = followed.then_some(Cause::Inspection);
            return Judged { cause: Some(Cause::Choice), also, instead: Some(instead) };
        }
        if followed {
            return plainly(Cause::Inspection);
        }
        // A glance in the step before helps with what was not found in time in this one.
        let late = taken.late(self.step, self.lead);
        let glance = !late.is_empty() && late.iter().all(|(_, watch)| watch.kept_in_mind);
        let view = by_a_glance || glance || taken.tilt().is_some();
        let priced = taken.line.is_some() && (self.cross || self.step.choice.is_some());
        let nothing_to_blame = priced.then_some(Cause::Position);
        let cause = if view { Some(Cause::View) } else { nothing_to_blame };
        Judged { cause, also: None, instead: None }
    }

    /// What would have been ready for clearly less than the stop cost: another pair after the turns that were played, for
    /// that asks the least of a solver; else the cheapest that a coach would speak of.
    fn instead(&self, taken: &Offer, stop: f64, followed: bool) -> Option<Instead> {
        let most = (stop - WORTH).min(stop / 2.0).min(if followed { WORTH_FIRST } else { f64::INFINITY });
        let worth = |dearer: f64| match self.rate {
            Some(rate) => dearer * rate <= most,
            None => dearer <= if followed { 0.0 } else { self.slack },
        };
        let other_pair = self.other_pair(taken, |other| other.ready);
        if let Some(instead) = other_pair.filter(|instead| worth(instead.dearer)) {
            return Some(instead);
        }
        let best = self.step.instead().filter(|best| !best.same_turns)?;
        let dearer = -best.saves;
        // For another pair by other turns there has to be more in it.
        let another = best.pairs != self.step.pairs;
        let enough = !another || self.rate.is_none_or(|rate| stop - dearer * rate >= WORTH_ANOTHER_PLAN);
        (enough && worth(dearer)).then(|| Instead {
            pair: best.next.as_ref().map_or(taken.pair, |next| next.pair),
            by_another_line: true,
            dearer,
            // Where it is cheaper the clock bounds what it would have saved, as it does where the line itself is told.
            seconds: if dearer < 0.0 { best.seconds.map(|saved| -saved) } else { self.seconds(dearer) },
        })
    }

    /// Of the other pairs that the turns played left so, the one whose line costs least; one that went down only if it
    /// costs no more, one in a slot only if none lay open on top, and after the cross one that moved less.
    fn other_pair(&self, taken: &Offer, left_so: impl Fn(&Offer) -> bool) -> Option<Instead> {
        let cost = taken.line.as_ref()?.cost;
        let others = || self.step.offers.iter().filter(|offer| !offer.taken);
        let open_on_top = others().any(|offer| offer.tier == Tier::Top && offer.plain_ready);
        let wanted = others().filter(|offer| {
            left_so(offer)
                && !(open_on_top && offer.tier == Tier::Slot)
                && (!self.cross || offer.carried() < taken.carried())
        });
        let priced = wanted.filter_map(|offer| Some((offer.line.as_ref()?.cost, offer)));
        let priced = priced.filter(|&(other, offer)| !offer.buried || other <= cost);
        let (other, offer) = priced.min_by(|a, b| a.0.total_cmp(&b.0))?;
        // As the two figures are printed, so that nobody finds another difference.
        let seconds = self.rate.map(|rate| tenths(other * rate) - tenths(cost * rate));
        Some(Instead { pair: offer.pair, by_another_line: false, dearer: other - cost, seconds })
    }

    /// Found with a turn or two to go: nothing was lost but a glance, if it is in view then, or if there was time to follow
    /// where it goes.
    fn found_at_the_last_moment(&self, taken: &Offer) -> bool {
        let shown =
            |watch: &Watch| watch.to.faces().iter().filter(|&&face| self.sight.contains(face)).count();
        let in_view = || taken.pieces().iter().all(|(_, watch)| shown(watch) >= 2);
        taken.lead.is_some_and(|lead| lead > 0 && lead < self.lead && (lead >= TO_FOLLOW || in_view()))
    }

    fn seconds(&self, dearer: f64) -> Option<f64> {
        self.rate.map(|rate| dearer * rate)
    }
}
