//! The contingency that holds: the plan's own, or the one that the pack has for the class of the
//! estimate.

use super::Pricing;
use crate::contract::CONTINGENCY;
use parge_base::{Code, Diagnostic, Factor};
use rust_decimal::Decimal;
use std::sync::Arc;

/// A contingency, and where it comes from.
#[derive(Debug, Clone, Default)]
pub struct Contingency {
    /// The share of the cost with overhead.
    pub rate: Decimal,
    /// The row of the pack that it was read from; none where the plan states it, or nothing does.
    pub by_class: Option<Arc<Factor>>,
}

impl Pricing<'_> {
    /// The contingency of the bid. A class without one is warned about.
    pub(super) fn contingency(&mut self) -> Contingency {
        let bid = &self.job.bid;
        if let Some(rate) = bid.contingency {
            let by_class = None;
            return Contingency { rate, by_class };
        }
        let Some(class) = bid.class else {
            return Contingency::default();
        };
        let class = class.number().to_string();
        match self.pack.tables().factor(CONTINGENCY, &[&class]) {
            Some(factor) => self.of_class(Arc::clone(factor)),
            None => {
                self.no_contingency(&class);
                Contingency::default()
            }
        }
    }

    fn of_class(&mut self, factor: Arc<Factor>) -> Contingency {
        let share = factor.quantity.to_plain().ok();
        let share = share.filter(|share| (0.0..=1.0).contains(share));
        let rate = share.and_then(|share| Decimal::try_from(share).ok());
        match rate {
            Some(rate) => Contingency {
                rate: rate.round_dp(9),
                by_class: Some(factor),
            },
            None => {
                let message = "a contingency is a share of the cost between 0% and 100%";
                let help = "write a row such as `3,10,%,company`";
                let diagnostic = Diagnostic::new(Code::BadTable, message, help);
                self.diagnostics.push(diagnostic.at(factor.span, ""));
                Contingency::default()
            }
        }
    }

    fn no_contingency(&mut self, class: &str) {
        let message = format!(
            "the estimate is of class {class}, and no contingency is stated: counted as nothing"
        );
        let help = "state it in the block `bid`, such as `contingency 10%`, or `contingency 0%` \
                    where it is in the other figures";
        let place = self.job.bid_places.class.unwrap_or(self.job.span);
        let diagnostic = Diagnostic::new(Code::BidTermMissing, message, help);
        self.diagnostics.push(diagnostic.at(place, ""));
    }
}
