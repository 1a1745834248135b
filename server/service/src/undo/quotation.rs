//! Taking back the acceptance of a quotation; and a plan that one was accepted on.

use super::{Case, Effect, cannot};
use crate::{detail::PlanChange, failure::Done};
use ellwand_domain::{
    code::{GarmentCode, QuotationCode},
    setting::QuotationState,
};
use ellwand_storage::{Tx, Word};

impl Case<'_, '_> {
    /// The quotation is open again, what was promised with the acceptance is given back, and the plan is what it was before
    /// an option changed it.
    pub(super) fn accepted(
        &self,
        tx: &mut Tx<'_>,
        quotation: i64,
        promised: Vec<i64>,
        plan: Option<&PlanChange>,
    ) -> Done<Effect> {
        let mut row = crate::quotations::row(tx, QuotationCode::new(quotation))?;
        if !tx.payments(quotation)?.is_empty() {
            let detail = format!("{} was paid on", QuotationCode::new(quotation));
            return Err(cannot(detail, "take the payments back first"));
        }
        let mut effect = self.reserved(tx, promised)?;
        row.state = Word(QuotationState::Open);
        (row.accepted, row.accepted_in, row.accepted_option) = (None, None, None);
        tx.update_quotation(&row)?;
        if let Some(plan) = plan {
            effect.absorb(self.replanned(tx, row.garment_id, &plan.before, &plan.after)?);
        }
        Ok(effect)
    }

    /// The quotation is as it was before it was closed or cancelled.
    pub(super) fn dropped(&self, tx: &mut Tx<'_>, quotation: i64, before: QuotationState) -> Done<Effect> {
        let mut row = crate::quotations::row(tx, QuotationCode::new(quotation))?;
        (row.state, row.keep) = (Word(before), None);
        tx.update_quotation(&row)?;
        Ok(Effect::default())
    }

    /// Refuses while an accepted quotation rests on the plan.
    pub(super) fn not_agreed(&self, tx: &mut Tx<'_>, garment: i64) -> Done<()> {
        match tx.quotations(Some(QuotationState::Accepted), Some(garment), i64::MAX, 1)?.first() {
            None => Ok(()),
            Some(row) => {
                let (code, quoted) = (GarmentCode::new(garment), QuotationCode::new(row.id));
                let detail = format!("{quoted} was accepted on the plan of {code}");
                Err(cannot(detail, "take the acceptance back first"))
            }
        }
    }
}
