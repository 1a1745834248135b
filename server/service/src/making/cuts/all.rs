//! Cutting all that is promised.

use crate::{
    desk::{
        Desk,
        failure::{Done, Failure, all_or_none, invalid},
        perform::Perform,
    },
    garments::need::{NeedRecord, load_garment},
    promises,
};
use ellwand_contract::cuts::{Cut, CutDone, CutPromises, CutsDone};
use ellwand_domain::{
    code::ReservationCode,
    quantity::Millionths,
    setting::{CutReason, End},
};

impl Perform for CutPromises {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<CutsDone, Failure> {
        if self.promises.is_empty() {
            return Err(invalid("promises", "no promise is named to cut from"));
        }
        let (_, needs) = load_garment(desk, self.garment)?;
        let promises = self.promises.iter();
        let cuts = all_or_none(promises.map(|promise| cut(self, desk, &needs, *promise)))?;
        let costs = cuts.iter().map(|cut| cut.cost.0);
        let cost = Millionths::sum(costs)?;
        Ok(CutsDone {
            garment: self.garment,
            cost_printed: desk.context.printed(cost),
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
