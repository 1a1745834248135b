//! Discarding: a loss with its reason.

use super::{Leaving, reason};
use crate::desk::{
    Desk,
    failure::{Failure, invalid},
    perform::Perform,
};
use ellwand_contract::goods::{DiscardGoods, GoodsGone};
use ellwand_domain::{ledger::AccountKind, setting::BookingKind};

impl Perform for DiscardGoods {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<GoodsGone, Failure> {
        let why = reason(Some(&self.reason))?;
        if why.is_empty() {
            let detail = "a loss needs its reason, for example moth holes";
            return Err(invalid("reason", detail));
        }
        let leaving = Leaving::open(desk, &self.goods)?;
        let gone = leaving.take(desk, AccountKind::Discarded, "discarded")?;
        let summary = format!("Discarded {}{why}.", gone.named(desk));
        gone.book(desk, BookingKind::Discarded, summary, None)
    }
}
