//! Cutting all that is promised.

use crate::{
    desk::{
        Desk,
        failure::{Done, Failure, all_or_none, invalid, wrong_state},
        perform::Perform,
    },
    garments::need::{NeedRecord, load_garment},
    money::costs::internal,
    promises::{self, reservations::check_open},
};
use ellwand_contract::cuts::{Cut, CutDone, CutPromises, CutsDone};
use ellwand_domain::{
    allocation::round_to_total,
    code::ReservationCode,
    quantity::Millionths,
    setting::{CutReason, End},
};

impl Perform for CutPromises {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<CutsDone, Failure> {
        let (garment, needs) = load_garment(desk, self.garment)?;
        check_open(&garment)?;
        if self.promises.is_empty() {
            let detail = format!("{} has no active promise to cut from", self.garment);
            let hint = format!("reserve first, with ellwand reserve {} --all", self.garment);
            return Err(wrong_state(detail, &hint).naming("garment", self.garment));
        }
        let promises = self.promises.iter();
        let mut cuts = all_or_none(promises.map(|promise| cut(self, desk, &needs, *promise)))?;
        let costs: Vec<Millionths> = cuts
            .iter()
            .filter_map(|cut| cut.cost.map(|cost| cost.0))
            .collect();
        let currency = desk.context.currency;
        // What is printed of each adds up to what is printed of all.
        let (each, all) = round_to_total(&costs, currency.digits()).map_err(internal)?;
        for (cut, minor) in cuts.iter_mut().zip(each) {
            cut.cost_printed = Some(currency.money(minor).decimal());
        }
        Ok(CutsDone {
            garment: self.garment,
            cost_printed: Some(currency.money(all).decimal()),
            cuts,
        })
    }
}

/// Cuts one of them.
fn cut(
    asked: &CutPromises,
    desk: &mut Desk<'_>,
    needs: &[NeedRecord],
    promise: ReservationCode,
) -> Done<CutDone> {
    let row = promises::row(desk, promise.get())?;
    let need = needs.iter().find(|need| need.row.id == row.need_id);
    let need = need.ok_or_else(|| {
        let detail = format!("{promise} is not a promise of {}", asked.garment);
        invalid("promises", detail).naming("reservation", promise)
    })?;
    let cut = Cut {
        id: asked.id,
        garment: asked.garment,
        need: need.row.role.clone(),
        reservation: Some(promise),
        piece: None,
        amount: None,
        panel_width: None,
        reason: CutReason::Planned,
        end: End::default(),
        at: None,
        keep_strip: None,
        keep_rest: None,
        piece_was: None,
        break_promises: Vec::new(),
        last: false,
        units: None,
        really: asked.really,
        date: asked.date,
    };
    cut.perform(desk)
}
