//! Taking back a version, the acceptance or the closing of a quotation; and a plan that one was accepted on.

use super::{Case, Effect, cannot};
use crate::{
    detail::PlanChange,
    failure::Done,
    promises,
    quotations::{
        self,
        promised::{self, Ends},
        supplement,
    },
};
use ellwand_domain::{
    code::{BookingCode, GarmentCode, QuotationCode},
    setting::{GarmentState, PriceFrom, QuotationState, ReservationState},
};
use ellwand_storage::{Quotation, QuotationVersion, Tx, Word};

impl Case<'_, '_> {
    /// The version before counts again; a quotation whose first version is taken back is closed. Versions stay as they were
    /// made. What was promised with it is given back, and what it let last longer ends as before.
    pub(super) fn quoted(
        &self,
        tx: &mut Tx<'_>,
        quotation: i64,
        version: i64,
        promised: Vec<i64>,
        moved: &Ends,
    ) -> Done<Effect> {
        let code = QuotationCode::new(quotation);
        let mut row = quotations::row(tx, code)?;
        if row.state.0 != QuotationState::Open {
            let by = row
                .accepted_in
                .map(|id| format!(", by {}", BookingCode::new(id)))
                .unwrap_or_default();
            let detail = format!("{code} is {}{by}", row.state.0);
            return Err(cannot(detail, "take that back first"));
        }
        if row.version != version {
            let detail = format!(
                "version {version} of {code} was replaced by version {}",
                row.version
            );
            return Err(cannot(detail, "take that one back first"));
        }
        let versions = tx.quotation_versions(quotation)?;
        let standing =
            |made: &&QuotationVersion| made.version < version && made.undone_by.is_none();
        let former = versions.iter().rfind(standing).map(|made| made.version);
        match former {
            Some(former) => {
                let effect = self.reserved(tx, promised)?;
                row.version = former;
                tx.update_quotation(&row)?;
                self.end_as_before(tx, moved)?;
                Ok(effect)
            }
            None => {
                let released = promised::release(tx, self.context, self.booking, quotation)?;
                row.state = Word(QuotationState::Closed);
                tx.update_quotation(&row)?;
                let note = format!("{code} is closed; its number is not given again");
                let mut effect = Effect {
                    notes: vec![note],
                    ..Effect::default()
                };
                self.given_room_back(tx, &released, &mut effect)?;
                Ok(effect)
            }
        }
    }

    /// Promises last again as long as they did before, those among them that still stand.
    fn end_as_before(&self, tx: &mut Tx<'_>, ends: &Ends) -> Done<()> {
        for (id, until) in ends {
            let row = promises::row(tx, *id)?;
            let mut row = promises::last_for(tx, row)?;
            if row.state.0 == ReservationState::Active {
                row.until = *until;
                tx.update_reservation(&row)?;
            }
        }
        Ok(())
    }

    /// The quotation is open again; what was promised with the acceptance is given back, and what was promised before it ends
    /// with the quotation's last day again. The plan is what it was before an option changed it.
    pub(super) fn accepted(
        &self,
        tx: &mut Tx<'_>,
        quotation: i64,
        promised: Vec<i64>,
        (plan, kept): (Option<&PlanChange>, &Ends),
    ) -> Done<Effect> {
        let mut row = quotations::row(tx, QuotationCode::new(quotation))?;
        if row.state.0 != QuotationState::Accepted {
            let detail = format!("{} is {} since", QuotationCode::new(quotation), row.state.0);
            return Err(cannot(detail, "take that back first"));
        }
        if let Some(paid) = tx.payments(quotation)?.first() {
            let (code, by) = (
                QuotationCode::new(quotation),
                BookingCode::new(paid.booking_id),
            );
            let detail = format!("{code} was paid on, by {by}");
            return Err(cannot(detail, "take the payments back first"));
        }
        self.unsupplemented(tx, &row)?;
        if let Some(open) = supplement::open_beside(tx, &row)? {
            return Err(cannot(
                format!("{open} is open beside it"),
                "close that one first",
            ));
        }
        let mut effect = self.reserved(tx, promised)?;
        row.state = Word(QuotationState::Open);
        (row.accepted, row.accepted_in, row.accepted_option) = (None, None, None);
        tx.update_quotation(&row)?;
        if let Some(plan) = plan {
            effect.absorb(self.replanned(tx, row.garment_id, &plan.before, &plan.after)?);
        }
        self.end_as_before(tx, kept)?;
        Ok(effect)
    }

    /// The quotation is as it was before it was closed or cancelled, and what was given back is promised again.
    pub(super) fn dropped(
        &self,
        tx: &mut Tx<'_>,
        quotation: i64,
        before: QuotationState,
        released: &[i64],
    ) -> Done<Effect> {
        let mut row = quotations::row(tx, QuotationCode::new(quotation))?;
        self.unsupplemented(tx, &row)?;
        if let Some(open) = supplement::open_beside(tx, &row)? {
            return Err(cannot(
                format!("{open} is open beside it"),
                "close that one first",
            ));
        }
        supplement::rests(tx, &row)?;
        if before == QuotationState::Accepted
            && let Some(sold) = quotations::of_garment::sold_by(tx, row.garment_id)?
            && row.supplement_to.is_none()
        {
            let (garment, sold) = (
                GarmentCode::new(row.garment_id),
                QuotationCode::new(sold.id),
            );
            return Err(cannot(
                format!("{garment} is sold by {sold} since"),
                "take that acceptance back first",
            ));
        }
        let garment = GarmentCode::new(row.garment_id);
        if tx
            .garment(row.garment_id)?
            .is_some_and(|row| row.state.0 == GarmentState::Cancelled)
        {
            return Err(cannot(
                format!("{garment} is cancelled"),
                "take that back first",
            ));
        }
        (row.state, row.keep) = (Word(before), None);
        tx.update_quotation(&row)?;
        let mut effect = Effect::default();
        self.promised_again(tx, &row, released, &mut effect)?;
        Ok(effect)
    }

    /// Refuses while a later quotation rests on what was agreed with this one, or on its not being agreed.
    fn unsupplemented(&self, tx: &mut Tx<'_>, row: &Quotation) -> Done<()> {
        let Some(later) = supplement::resting_on(tx, row)? else {
            return Ok(());
        };
        let code = QuotationCode::new(row.id);
        let detail = format!("{later} was made on top of what was agreed with and since {code}");
        Err(cannot(detail, "take back or close that one first"))
    }

    /// Makes the promises of a quotation again, as far as its garment still takes material.
    fn promised_again(
        &self,
        tx: &mut Tx<'_>,
        quotation: &Quotation,
        released: &[i64],
        effect: &mut Effect,
    ) -> Done<()> {
        let open = tx.garment(quotation.garment_id)?.is_some_and(|garment| {
            matches!(
                garment.state.0,
                GarmentState::Planned | GarmentState::CutInto
            )
        });
        for id in released {
            let ended = promises::row(tx, *id)?;
            let again = if open {
                self.promise_again(tx, &ended)?
            } else {
                None
            };
            effect.made_again(&ended, again);
        }
        Ok(())
    }

    /// Refuses while an accepted quotation that was made since rests on the plan, or on what the garment did cost.
    pub(super) fn not_agreed(&self, tx: &mut Tx<'_>, garment: i64, from: PriceFrom) -> Done<()> {
        let since = quotations::of_garment::agreed_since(tx, garment, self.target.id, from)?;
        let Some(quoted) = since else { return Ok(()) };
        let code = GarmentCode::new(garment);
        let what = match from {
            PriceFrom::Plan => "the plan of",
            PriceFrom::Actual => "what was spent on",
        };
        Err(cannot(
            format!("{quoted} was accepted on {what} {code}"),
            "take the acceptance back first",
        ))
    }
}
