//! Giving away, and taking for own use.

use super::{Leaving, reason};
use crate::desk::{Desk, failure::Failure, perform::Perform};
use ellwand_contract::goods::{GiveGoods, GoodsGone};
use ellwand_domain::{ledger::AccountKind, setting::BookingKind};

impl Perform for GiveGoods {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<GoodsGone, Failure> {
        let why = reason(self.reason.as_ref())?;
        let (to, done) = match self.own_use {
            true => (AccountKind::OwnUse, "taken for own use"),
            false => (AccountKind::Given, "given away"),
        };
        let gone = Leaving::open(desk, &self.goods)?.take(desk, to, done)?;
        let goods = gone.named(desk);
        let summary = match self.own_use {
            true => format!("Took {goods} for own use{why}."),
            false => format!("Gave away {goods}{why}."),
        };
        gone.book(desk, BookingKind::Given, summary, None)
    }
}
