//! Pricing: hourly rates, estimates of time, prices, tax, rounding, payment in stages.
//!
//! A price is net, in millionths, until it stands on a quotation; there it is rounded once to the minor unit, then taxed.
//! Markup is a share of the cost, margin a share of the price; both are always shown.

mod added;
mod cash;
mod charm;
mod check;
mod earned;
mod error;
mod estimate;
mod markup;
mod offer;
mod paid;
mod parts;
mod rounding;
mod rule;
mod sale;
mod stage;
mod supplement;
mod tax;
mod terms;
mod workshop;
mod worth;

pub use crate::costing::{Extent, PriceGroup};
pub use crate::setting::{PricesShown, Rounding, ShareOf, TaxPlace};
pub use cash::CashStep;
pub use charm::{Charm, Charmed};
pub use earned::earned_by_good;
pub use error::PricingError;
pub use estimate::{MIN_FOR_RANGE, PastWork, TimeEstimate};
pub use markup::{Profit, discounted, price_by_margin, price_by_markup};
pub use offer::{OfferDifference, OfferFigures};
pub use paid::{Paid, PaidSums, owed};
pub use parts::{PriceLine, PriceLineOf, PriceParts};
pub use rule::{Earnings, PriceBase, PriceRule};
pub use sale::{GoodsSold, SoldSum};
pub use stage::{
    Cancelled, PaidFor, Payable, Schedule, Stage, StagePlan, StageStanding, Standing, Term,
    stages_reached,
};
pub use supplement::{ChangedLine, Difference, PlanChange, PlanLine, plan_change};
pub use tax::{Amounts, RateTotal, TaxLine, TaxRate, TaxRules, Taxed, TaxedLine, tax};
pub use terms::{Terms, lines_more};
pub use workshop::{WorkshopFigures, WorkshopRates};
pub use worth::{PastDetail, Spread, Worth, rated_tenths};
