//! Taking back a version, the acceptance or the closing of a quotation.

use super::{Case, Effect, cannot, first, first_back};
use crate::{
    desk::{Desk, failure::Done, trace},
    money::quotations::{
        self,
        promised::{self, Ends},
        supplement,
    },
    promises,
};
use ellwand_domain::{
    code::{BookingCode, GarmentCode, QuotationCode},
    setting::{BookingKind, GarmentState, PriceFrom, QuotationState, ReservationState},
};
use ellwand_storage::{Quotation, Trace};

impl Case {
    /// Refuses where something was agreed, paid or given up since that hangs on the quotation.
    pub(super) fn quotation_rules(&self, desk: &mut Desk<'_>, trace: &Trace) -> Done<()> {
        let id = trace.subject_id;
        let row = quotations::row(desk, QuotationCode::new(id))?;
        let accepts = self.kind() == BookingKind::Accepted;
        if accepts && let Some(paid) = desk.tx.payments(id)?.first() {
            let (code, by) = (QuotationCode::new(id), BookingCode::new(paid.booking_id));
            let detail = format!("{code} has a payment, by {by}");
            return Err(first_back(detail, by).naming("quotation", code));
        }
        self.unsupplemented(desk, &row)?;
        if accepts {
            return Ok(());
        }
        supplement::rests(desk, &row)?;
        let garment = GarmentCode::new(row.garment_id);
        let before = trace::was::<Option<(Quotation, Ends)>>(trace)?;
        let accepted = before.is_some_and(|(kept, _)| kept.state == QuotationState::Accepted);
        if accepted
            && let Some(sold) = quotations::of_garment::sold_by(desk, row.garment_id)?
            && row.supplement_to.is_none()
        {
            let sold = QuotationCode::new(sold.id);
            let hint =
                format!("take that acceptance back first: ellwand history --garment {garment}");
            return Err(
                cannot(format!("{garment} has been sold by {sold} since"), &hint)
                    .naming("garment", garment)
                    .naming("quotation", sold),
            );
        }
        if self.garment(desk, row.garment_id)?.state == GarmentState::Cancelled {
            let ended = [BookingKind::Cancelled];
            let by = self.other_bookings(desk, row.garment_id, &ended)?;
            return Err(match by.first() {
                Some(by) => first_back(format!("{garment} is cancelled, by {by}"), *by),
                None => first(format!("{garment} is cancelled")),
            });
        }
        Ok(())
    }

    /// The quotation is as it was; one that was made by this booking is closed. Versions stay as they were made. What was promised
    /// with it is given back, and what it let last longer ends as before.
    pub(super) fn quotation_back(
        &self,
        desk: &mut Desk<'_>,
        id: i64,
        kept: Option<(Quotation, Ends)>,
        effect: &mut Effect,
    ) -> Done<()> {
        let code = QuotationCode::new(id);
        let Some((kept, ends)) = kept else {
            let mut row = quotations::row(desk, code)?;
            let released = promised::release(desk, self.booking, id)?;
            for id in released {
                effect.pieces.insert(promises::row(desk, id)?.piece_id);
            }
            row.state = QuotationState::Closed;
            effect
                .notes
                .push(format!("{code} is closed; its number is not used again"));
            return Ok(desk.tx.update_quotation(&row)?);
        };
        desk.tx.update_quotation(&kept)?;
        self.end_as_before(desk, &ends)
    }

    /// Promises last again as long as they did before, those among them that still stand.
    fn end_as_before(&self, desk: &mut Desk<'_>, ends: &Ends) -> Done<()> {
        for (id, until) in ends {
            let row = promises::row(desk, *id)?;
            let mut row = promises::last_for(desk, row)?;
            if row.state == ReservationState::Active {
                row.until = *until;
                desk.tx.update_reservation(&row)?;
            }
        }
        Ok(())
    }

    /// Refuses while a later quotation rests on what was agreed with this one, or on its not being agreed.
    fn unsupplemented(&self, desk: &mut Desk<'_>, row: &Quotation) -> Done<()> {
        if let Some(later) = supplement::resting_on(desk, row)? {
            let code = QuotationCode::new(row.id);
            let detail =
                format!("{later} was made on top of what was agreed with and since {code}");
            let hint = format!("take back or close that one first: ellwand quote close {later}");
            return Err(cannot(detail, &hint).naming("quotation", later));
        }
        match supplement::open_beside(desk, row)? {
            None => Ok(()),
            Some(open) => {
                let hint = format!("close that one first: ellwand quote close {open}");
                Err(cannot(format!("{open} is open beside it"), &hint).naming("quotation", open))
            }
        }
    }

    /// Refuses while an accepted quotation that was made since rests on the plan, or on what the garment did cost.
    pub(super) fn not_agreed(
        &self,
        desk: &mut Desk<'_>,
        garment: i64,
        from: PriceFrom,
    ) -> Done<()> {
        let since = quotations::of_garment::agreed_since(desk, garment, self.target.id, from)?;
        let Some(quoted) = since else { return Ok(()) };
        let code = GarmentCode::new(garment);
        let what = match from {
            PriceFrom::Plan => "the plan of",
            PriceFrom::Actual => "what was spent on",
        };
        let hint = format!("take the acceptance back first: ellwand history --garment {code}");
        Err(
            cannot(format!("{quoted} was accepted on {what} {code}"), &hint)
                .naming("garment", code)
                .naming("quotation", quoted),
        )
    }
}
