//! Showing and listing quotations.

use crate::money::quotations::{cash, internal, show, supplement, version_of};
use crate::{
    desk::{
        Desk,
        failure::{Done, Failure},
        page,
        perform::Perform,
    },
    garments::need::load_head,
};
use ellwand_contract::quotations::{
    GetQuotation, ListQuotations, Quotation as View, QuotationHead, Quotations,
};
use ellwand_domain::{
    code::{CustomerCode, GarmentCode, QuotationCode},
    quantity::Currency,
};
use ellwand_storage::{Quotation, Tx};

/// Rows a page, when none are asked for and at most.
const LIMIT: (u32, u32) = (50, 200);

impl Perform for GetQuotation {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<View, Failure> {
        show::view(desk, self.quotation, self.version, None)
    }
}

impl Perform for ListQuotations {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<Quotations, Failure> {
        let limit = page::rows(self.limit, LIMIT.0, LIMIT.1)?;
        let before = self.before.map_or(i64::MAX, QuotationCode::get);
        let garment = self.garment.map(GarmentCode::get);
        let mut rows = desk.tx.quotations(
            self.state,
            garment,
            before,
            i64::from(limit).saturating_add(1),
        )?;
        let limit = usize::try_from(limit).unwrap_or(usize::MAX);
        let more = rows.len() > limit;
        rows.truncate(limit);
        let mut quotations = Vec::with_capacity(rows.len());
        for row in rows {
            quotations.push(head(desk, &row)?);
        }
        Ok(Quotations { quotations, more })
    }
}

/// A quotation in a list.
pub(in crate::money::quotations) fn head(tx: &mut Tx<'_>, row: &Quotation) -> Done<QuotationHead> {
    let newest = version_of(tx, row, row.version)?;
    let currency: Currency = newest.currency.parse().map_err(internal)?;
    let sheet = show::frozen(tx, row, row.version)?.sheet;
    let mut gross = currency.money(newest.gross_minor).decimal();
    if row.accepted_option.is_some() && row.accepted == Some(row.version) {
        gross = sheet.gross;
    }
    let customer = match row.customer_id {
        Some(id) => tx.customer(id)?,
        None => None,
    };
    let payments = cash::sums(&tx.payments(row.id)?);
    let owed = supplement::owed_on(tx, row)?;
    Ok(QuotationHead {
        quotation: QuotationCode::new(row.id),
        version: row.version,
        state: row.state,
        garment: GarmentCode::new(row.garment_id),
        name: load_head(tx, GarmentCode::new(row.garment_id))?.name,
        customer: row.customer_id.map(CustomerCode::new),
        customer_name: customer.map(|customer| customer.name),
        date: newest.on_date,
        valid_until: newest.valid_until,
        currency: newest.currency,
        gross,
        is_offer: sheet.to_be_priced.is_empty(),
        paid: currency.money(payments.paid).decimal(),
        owed: currency.money(owed).decimal(),
        supplement_to: row.supplement_to.map(QuotationCode::new),
    })
}
