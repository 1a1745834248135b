//! What stands on a quotation beside its price, typed alike for a new one and for a new version.

use super::stage;
use crate::{command_error::CommandError, typed};
use chrono::NaiveDate;
use ellwand_contract::quotations::StageInput;

#[derive(Debug, clap::Args)]
#[group(skip)]
pub(super) struct Offer {
    /// A stage of payment: 'deposit=40% of gross', 'cloth=100% of materials by 2026-11-01'; the last takes the rest.
    /// Labour and materials are the lines as they are shown, before discounts. A new version names all of them
    #[arg(long, value_name = "NAME=AMOUNT")]
    stage: Vec<String>,
    /// Its date; default today
    #[arg(long, value_parser = typed::date)]
    pub(super) date: Option<NaiveDate>,
    /// Last day on which it may be accepted; default 30 days later, for a new version as long as the one before was valid
    #[arg(long, value_name = "DATE", value_parser = typed::date)]
    pub(super) valid_until: Option<NaiveDate>,
    /// Terms that the customer reads
    #[arg(long, value_name = "TEXT")]
    pub(super) terms: Option<String>,
}

impl Offer {
    /// The stages, in the order they were typed.
    ///
    /// # Errors
    /// A stage without a name, or with a day that is none.
    pub(super) fn stages(&self) -> Result<Vec<StageInput>, CommandError> {
        stage::stages(&self.stage)
    }
}
